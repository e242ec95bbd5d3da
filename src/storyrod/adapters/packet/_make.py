"""The order of the packet's parts, and the papers that are made of them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Final

from storyrod.adapters.packet._assembly import assembly_sections
from storyrod.adapters.packet._blocks import AS_IT_IS, AT_FULL_SIZE, Section, packet_of
from storyrod.adapters.packet._cover import case_sections, caution_section, cover_section, proof_section
from storyrod.adapters.packet._jig_tiles import jig_tile_sections
from storyrod.adapters.packet._ledger import ledger_sections
from storyrod.adapters.packet._lists import cutting_section, hardware_section, joint_section
from storyrod.adapters.packet._machining import (
    count_section,
    expected_section,
    jig_sections,
    machining_sections,
    run_section,
    why_section,
)
from storyrod.adapters.packet._rods import rod_sections
from storyrod.adapters.packet._set_out import set_out_sections
from storyrod.adapters.packet._sheets import sheet_reasons, sheet_sections
from storyrod.adapters.packet._soundness import soundness_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import Fault, raise_if_any
from storyrod.planning import Plan
from storyrod.telling.purposes import Tell, unheard

Parts = Mapping[str, Callable[[Plan], tuple[Section, ...]]]

BENCH: Final[Parts] = {
    "cover": lambda plan: (cover_section(plan),),
    "cases": case_sections,
    "order of work": lambda plan: (run_section(plan),),
    "cutting list": lambda plan: (cutting_section(plan),),
    "hardware": lambda plan: (hardware_section(plan),),
    "sheets": sheet_sections,
    "joints": lambda plan: (joint_section(plan),),
    "set-out": set_out_sections,
    "set-ups": machining_sections,
    "assembly": assembly_sections,
    "cautions": lambda plan: (caution_section(plan),),
}
"""The parts of the bench packet, in the order in which the work needs them."""

REASONS: Final[Parts] = {
    "proof": lambda plan: (proof_section(plan),),
    "how flush": lambda plan: (expected_section(plan), why_section(plan)),
    "soundness": soundness_sections,
    "layouts": sheet_reasons,
    "count sheet": lambda plan: (count_section(plan),),
    "costs": ledger_sections,
}
"""Why the plan is as it is: nothing of it is needed in the hand."""

FULL_SIZE: Final[Parts] = {"jigs": lambda plan: (*jig_sections(plan), *jig_tile_sections(plan)), "rods": rod_sections}

PARTS: Final[Parts] = {**BENCH, **FULL_SIZE, **REASONS}
"""The parts of the whole book."""


def make_packet(plan: Plan, *, date: str = "", tell: Tell = unheard) -> bytes:
    """Return the bench packet of a plan as PDF, on the job's paper; `date` is printed in the head of each page.

    `tell` hears how many of its parts are drawn, here as in the papers below.

    Raises:
        JobError: the plan has faults, or was not proven; such a plan is not printed.
    """
    return _made(plan, tuple(BENCH), date, tell)


def make_reasons(plan: Plan, *, date: str = "", tell: Tell = unheard) -> bytes:
    """Return what was proven, how flush joints come, what the cases carry, and what they cost, as PDF.

    Comparing works the job out by every method of the workshop, which takes its time.

    Raises:
        JobError: the plan has faults, or was not proven.
    """
    return _made(plan, tuple(REASONS), date, tell)


def make_rods(plan: Plan, *, date: str = "", marks: Collection[str] = ()) -> bytes:
    """Return the rods at full size as PDF: those of the panels with these marks, all where none is named.

    Raises:
        JobError: the plan has faults, or there is no panel with such a mark.
    """
    raise_if_any(plan.faults)
    return typeset(packet_of(plan, rod_sections(plan, marks), date=date))


def make_jigs(plan: Plan, *, date: str = "", tell: Tell = unheard) -> bytes:
    """Return how each jig is made, checked and held, and those that are to be made at full size, as PDF.

    Raises:
        JobError: the plan has faults, or was not proven.
    """
    return _made(plan, ("jigs",), date, tell)


def make_book(plan: Plan, *, date: str = "", parts: Collection[str] | None = None, tell: Tell = unheard) -> bytes:
    """Return the whole book of a plan as PDF, or those of its `PARTS` that are named.

    Raises:
        JobError: the plan has faults, or was not proven. Or a part is not known.
    """
    raise_if_any(_unknown(parts))
    return _made(plan, parts, date, tell)


def packet_sections(plan: Plan, parts: Collection[str] | None = None, tell: Tell = unheard) -> tuple[Section, ...]:
    """Return all parts of the bench packet, or parts of the book by name, in the order in which they are needed."""
    wanted = [(n, made) for n, made in PARTS.items() if n in (BENCH if parts is None else parts)]
    sections: list[Section] = []
    for done, (_, made) in enumerate(wanted):
        tell(done, len(wanted) + 1)  # the last is to set them in type
        sections += made(plan)
    tell(len(wanted), len(wanted) + 1)
    return tuple(sections)


def _made(plan: Plan, parts: Collection[str] | None, date: str, tell: Tell) -> bytes:
    raise_if_any(plan.faults)
    wanted = tuple(PARTS) if parts is None else parts
    foot = AT_FULL_SIZE if FULL_SIZE.keys() & set(wanted) else AS_IT_IS
    return typeset(packet_of(plan, packet_sections(plan, wanted, tell), date=date, foot=foot))


def _unknown(parts: Collection[str] | None) -> Iterator[Fault]:
    for name in parts or ():
        if name not in PARTS:
            yield Fault(
                code="packet-part",
                field="parts",
                found=f'"{name}"',
                allowed=", ".join(PARTS),
                do="Use one of these names.",
            )
