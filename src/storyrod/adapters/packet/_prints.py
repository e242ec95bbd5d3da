"""The papers that a plan is printed as: what each is for, its file, and who makes it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from storyrod.adapters.packet._buying import make_buying_list
from storyrod.adapters.packet._labels import make_labels
from storyrod.adapters.packet._make import make_book, make_jigs, make_packet, make_reasons, make_rods
from storyrod.adapters.packet._quotation import make_quotation
from storyrod.adapters.packet._rods import has_rods
from storyrod.faults import Fault
from storyrod.planning import Plan
from storyrod.telling.label_papers import paper_named
from storyrod.telling.purposes import Purpose, Tell, Wishes
from storyrod.telling.quotation import quotation_faults


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """One paper.

    Attributes:
        file: its name in the folder of a plan.
        about: what it is for, in one line.
        make: makes its PDF, telling how far it is; a plan with faults is never printed.
        why_not: what keeps this plan from being printed so; nothing where all is well.
    """

    purpose: Purpose
    file: str
    about: str
    make: Callable[[Plan, Wishes, Tell], bytes]
    why_not: Callable[[Plan, Wishes], tuple[Fault, ...]] = lambda *_: ()


def prints_of(plan: Plan, wanted: Sequence[Purpose], wishes: Wishes) -> Iterator[tuple[Print, tuple[Fault, ...]]]:
    """Yield each paper that is wanted, with what keeps it from being made."""
    for purpose in wanted:
        one = PRINTS[purpose]
        yield one, one.why_not(plan, wishes)


def _labels(plan: Plan, wishes: Wishes, _: Tell) -> bytes:
    return make_labels(plan, paper_named(wishes.labels) if wishes.labels else None, used=wishes.used)


def _no_labels(plan: Plan, _: Wishes) -> tuple[Fault, ...]:
    """Labels stand in the order in which the sheets give the parts: without sheets there is none."""
    if plan.sheets.boards:
        return ()
    return (
        Fault(
            code="no-labels",
            field="boards",
            found="no board with a sheet size, so no order for parts to come off the saw",
            allowed="at least one board with `sheets`",
            do="Write the size of a sheet at the board in the job file.",
        ),
    )


def _no_rods(plan: Plan, wishes: Wishes) -> tuple[Fault, ...]:
    if wishes.rods or has_rods(plan):
        return ()
    return (
        Fault(
            code="no-rod",
            field="",
            found="no panel with enough marks to make a rod quicker than a rule",
            allowed="a job with such a panel",
            do="Leave `rods` out of the papers you ask for, or name the panels whose rods you want.",
        ),
    )


def _no_jigs(plan: Plan, _: Wishes) -> tuple[Fault, ...]:
    if plan.machining.jigs:
        return ()
    return (
        Fault(
            code="no-jigs",
            field="",
            found="no jig in this job",
            allowed="a job that asks for one",
            do="Leave `jigs` out of the papers you ask for.",
        ),
    )


def _no_quotation(plan: Plan, wishes: Wishes) -> tuple[Fault, ...]:
    return () if wishes.quote_without else quotation_faults(plan.account)


_EACH: Final = (
    Print(
        purpose=Purpose.BENCH,
        file="packet.pdf",
        about="The bench packet: all you need at the bench, in the order of the work",
        make=lambda plan, w, tell: make_packet(plan, date=w.date, tell=tell),
    ),
    Print(
        purpose=Purpose.BUYING,
        file="buying-list.pdf",
        about="The buying list: what to take to the shop, and what it comes to",
        make=lambda plan, w, _: make_buying_list(plan, date=w.date),
    ),
    Print(
        purpose=Purpose.LABELS,
        file="labels.pdf",
        about="Labels: one for every part, in the order it comes off the saw",
        make=_labels,
        why_not=_no_labels,
    ),
    Print(
        purpose=Purpose.QUOTATION,
        file="quotation.pdf",
        about="The quotation: what you send the customer",
        make=lambda plan, w, _: make_quotation(plan, date=w.date, quote_without=w.quote_without),
        why_not=_no_quotation,
    ),
    Print(
        purpose=Purpose.RODS,
        file="rods.pdf",
        about="Rods at full size: to stick on a batten and mark from",
        make=lambda plan, w, _: make_rods(plan, date=w.date, marks=w.rods),
        why_not=_no_rods,
    ),
    Print(
        purpose=Purpose.JIGS,
        file="jigs.pdf",
        about="Jigs: how to make, check and hold each, and tiles at full size to paste on a board",
        make=lambda plan, w, tell: make_jigs(plan, date=w.date, tell=tell),
        why_not=_no_jigs,
    ),
    Print(
        purpose=Purpose.REASONS,
        file="reasons.pdf",
        about="The reasons: what was checked, how flush the joints will be, what it carries, what it costs",
        make=lambda plan, w, tell: make_reasons(plan, date=w.date, tell=tell),
    ),
    Print(
        purpose=Purpose.BOOK,
        file="book.pdf",
        about="The whole book: bench packet, rods, jigs and reasons in one",
        make=lambda plan, w, tell: make_book(plan, date=w.date, parts=w.parts, tell=tell),
    ),
)

PRINTS: Final[Mapping[Purpose, Print]] = MappingProxyType({p.purpose: p for p in _EACH})
"""Every paper by what it is for."""
