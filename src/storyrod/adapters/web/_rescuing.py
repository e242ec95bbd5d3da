"""What the page asks of a rescue: the ways out, looked for behind the page, and what a form sends as a slip."""

from __future__ import annotations

import copy
import threading
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from storyrod.adapters.files.as_built import as_built_text
from storyrod.adapters.web._errands import Errand
from storyrod.faults import Fault, JobError
from storyrod.measure.length import parse_length
from storyrod.model.as_built import ALL_CUTS, AsBuilt, Slip, SlipKind
from storyrod.model.feature import FeatureId
from storyrod.model.panel import Surface
from storyrod.model.rescue import Rescue, Way
from storyrod.model.written import Length, fields_of
from storyrod.rescue import FIELDS

if TYPE_CHECKING:
    from storyrod.measure.writing import LengthWriter
    from storyrod.model.mark import PanelSetOut
    from storyrod.planning import Plan

KINDS: Final[Mapping[SlipKind, str]] = {
    SlipKind.OTHER_FACE: "Cut in the wrong face or edge",
    SlipKind.WRONG_END: "Measured from the wrong end",
    SlipKind.ELSEWHERE: "Cut beside its place",
    SlipKind.DEPTH: "Too deep, or not deep enough",
    SlipKind.WIDTH: "Too wide, or too narrow",
    SlipKind.TWICE: "Cut once too often",
    SlipKind.NOT_CUT: "Ticked, but not cut",
    SlipKind.SIZE: "The panel measures otherwise",
    SlipKind.DAMAGE: "Damage",
    SlipKind.LOST: "Lost, or past use",
    SlipKind.GLUED: "Glued in",
}
"""Kinds of slip as the page asks for them, those met most first."""

_TITLES: Final = {
    "along": "How much farther from the datum end (below 0: nearer)",
    "across": "How much farther from the face edge (below 0: nearer); in an edge or end, from the face side",
    "off": "How far off its lines (right, back or up above 0)",
    "depth": "How deep it is",
    "cut_width": "How wide it is, or its diameter",
    "out_of_square": "By how much the diagonals differ",
    "from_end": "From the datum end",
    "from_edge": "From the face edge",
    "size": "How wide it is",
}


class Rescuing(Errand):
    """Looks for ways out; `ways` fills as they are proven, the first of them soon."""

    def __init__(self, plan: Plan, facts: AsBuilt, case: str, number: int, ticked: frozenset[FeatureId]) -> None:
        super().__init__()
        self.plan = copy.copy(plan)  # of our own, so that the page need not wait for us
        self.facts, self.case, self.number, self.ticked = facts, case, number, ticked
        self.first: Way | None = None
        self.told: Rescue | None = None
        self.faults: tuple[Fault, ...] = ()
        self.is_stopped = False
        self.has_some = threading.Event()
        """Set once a way is found, or there is none."""

    def work(self) -> Iterator[None]:
        """Look for them all; between two of them it can be stopped."""
        from storyrod.planning import rescue

        def found(way: Way) -> None:
            self.first = self.first or way
            self.has_some.set()

        try:
            self.told = rescue(
                self.plan,
                self.facts,
                self.case,
                self.number,
                self.ticked,
                told=found,
                stop=lambda: self.is_stopped,
            )
        except JobError as error:
            self.faults = error.faults
        finally:
            self.has_some.set()
        yield


def key_of(job: str, version: str, errand_of: tuple[AsBuilt, str, int, frozenset[FeatureId]]) -> tuple[str, ...]:
    """Return the key of an errand: all that its answer hangs on."""
    from storyrod.measure.length import Unit

    facts, case, number, ticked = errand_of
    return ("rescue", job, version, as_built_text(facts, Unit.MM), case, str(number), *sorted(ticked))


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A length that a form asks for."""

    name: str
    title: str
    value: str


def lengths_asked(kind: SlipKind, sent: Mapping[str, str]) -> tuple[Asked, ...]:
    """Return the lengths that a slip of a kind is told by, in the order of the file's."""
    fields = fields_of(Slip).values()
    names = [f.name for f in fields if f.name in FIELDS[kind] and isinstance(f.rule, Length)]
    return tuple(
        Asked(name=n, title=_TITLES.get(n, n.replace("_", " ").capitalize()), value=sent.get(n, "")) for n in names
    )


def cuts_asked(out: PanelSetOut) -> tuple[tuple[str, str], ...]:
    """Return what a slip can be about on a panel, each with its words: all, joint by joint, cut by cut."""
    joints = dict.fromkeys(m.joint for m in out.marks if m.joint)
    return (
        *(((ALL_CUTS, "all of them"),) if out.marks else ()),
        *((j, f"all of {j}") for j in joints),
        *((str(m.number), f"{m.number}: {m.what}") for m in out.marks),
    )


def slip_sent(
    sent: Mapping[str, str], picked: tuple[tuple[str, ...], tuple[str, ...]], lengths: LengthWriter, when: str
) -> Slip:
    """Return the slip that a form sent; `picked` are the cuts and the joints that were ticked.

    Raises:
        JobError: it is of no kind, or a length is none.
    """
    kind = _one(SlipKind, sent.get("what", ""), "what")
    own, (cuts, joints) = FIELDS[kind], picked
    measured = {a.name: _length(a.name, a.value, lengths) for a in lengths_asked(kind, sent) if a.value.strip()}
    surface = _one(Surface, sent.get("surface", ""), "surface") if "surface" in own else None
    slip = Slip(
        panel=sent.get("panel", "")[:60],
        kind=kind,
        copy=_number(sent.get("copy", "1")),
        cuts=cuts if "cuts" in own else (),
        joints=joints if "joints" in own else (),
        surface=surface,
        note=" ".join(sent.get("note", "").split())[:500],
        when=when,
    )
    return replace(slip, **measured)  # type: ignore[arg-type]  # names of its lengths


def _one[K: (SlipKind, Surface)](kind: type[K], word: str, field: str) -> K:
    try:
        return kind(word)
    except ValueError:
        raise JobError(_sent(field, word, ", ".join(k.value for k in kind))) from None


def _number(word: str) -> int:
    if not (word.isascii() and word.isdigit() and 1 <= int(word) <= 999):  # as the file has it
        raise JobError(_sent("copy", word, "a whole number, 1 to 999"))
    return int(word)


def _length(name: str, word: str, lengths: LengthWriter) -> float:
    try:
        return parse_length(word, lengths.unit)
    except JobError as error:
        raise error.under(name) from None


def _sent(field: str, found: str, allowed: str) -> Fault:
    return Fault(
        code="sent", field=field, found=f'"{found[:40]}"', allowed=allowed, do="Choose one, and send it again."
    )
