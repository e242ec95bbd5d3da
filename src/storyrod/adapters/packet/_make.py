"""The order of the packet's parts."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Final

from storyrod.adapters.packet._assembly import assembly_sections
from storyrod.adapters.packet._blocks import Section, packet_of
from storyrod.adapters.packet._cover import case_sections, caution_section, cover_section, proof_section
from storyrod.adapters.packet._ledger import ledger_sections
from storyrod.adapters.packet._lists import cutting_section, hardware_section, joint_section
from storyrod.adapters.packet._machining import machining_sections
from storyrod.adapters.packet._rods import rod_sections
from storyrod.adapters.packet._set_out import set_out_sections
from storyrod.adapters.packet._sheets import sheet_sections
from storyrod.adapters.packet._soundness import soundness_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import Fault, raise_if_any
from storyrod.plan import Plan

PARTS: Final[Mapping[str, Callable[[Plan], tuple[Section, ...]]]] = {
    "cover": lambda plan: (cover_section(plan), proof_section(plan)),
    "cases": lambda plan: tuple(case_sections(plan)),
    "cutting list": lambda plan: (cutting_section(plan),),
    "sheets": lambda plan: tuple(sheet_sections(plan)),
    "hardware": lambda plan: (hardware_section(plan),),
    "joints": lambda plan: (joint_section(plan),),
    "set-out": lambda plan: tuple(set_out_sections(plan)),
    "rods": lambda plan: tuple(rod_sections(plan)),
    "set-ups": lambda plan: tuple(machining_sections(plan)),
    "assembly": lambda plan: tuple(assembly_sections(plan)),
    "soundness": lambda plan: tuple(soundness_sections(plan)),
    "cautions": lambda plan: (caution_section(plan),),
}
"""The parts of a packet by name, in the order in which the work needs them."""


def make_packet(
    plan: Plan,
    *,
    date: str = "",
    costs: bool = False,
    parts: Collection[str] | None = None,
    quote_without: bool = False,
) -> bytes:
    """Return the packet of a plan as PDF, on the job's paper; `date` is printed in the head of each page.

    With `costs`, the cost sheet, the comparison of methods and the quotation stand at the end; comparing works the
    job out by every method of the workshop, which takes its time. There is no quotation in it while something has no
    price, unless `quote_without` allows it. `parts` names those of `PARTS` that are wanted, all
    unless said.

    Raises:
        JobError: the plan has faults, or was not proven; such a plan is not printed. Or a part is not known.
    """
    raise_if_any(plan.faults)
    raise_if_any(_unknown(parts))
    inside = ledger_sections(plan, quote_without=quote_without) if costs else ()
    return typeset(packet_of(plan, (*packet_sections(plan, parts), *inside), date=date))


def packet_sections(plan: Plan, parts: Collection[str] | None = None) -> tuple[Section, ...]:
    """Return every part of the packet, or those wanted, in the order in which the work needs them."""
    return tuple(s for name, made in PARTS.items() if parts is None or name in parts for s in made(plan))


def _unknown(parts: Collection[str] | None) -> Iterator[Fault]:
    for name in parts or ():
        if name not in PARTS:
            yield Fault(
                code="packet-part",
                field="parts",
                found=f'"{name}"',
                allowed=", ".join(PARTS),
                do="Name a part as it is written here.",
            )
