"""Operations gathered into set-ups: machining by setting, and what comes before and after it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from storyrod.faults import Fault, JobError
from storyrod.machining._cautions import cautions_for
from storyrod.machining._choose import describe
from storyrod.machining._feed import feed_like
from storyrod.machining._jigs import Jigs
from storyrod.machining._minutes import MAKING, minutes_of, place_and_cut
from storyrod.machining._needs import Need
from storyrod.machining._place import places_of
from storyrod.machining._reference import hand_of
from storyrod.machining._settings import BY_LINE, Placed, line_of, section_of, setting_key
from storyrod.machining._setup_words import DURING, IN_PLACE, title_of, trial_of, why_of
from storyrod.machining._turns import Turns
from storyrod.model.act import Act
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, CutOut
from storyrod.model.feed import FeedKind
from storyrod.model.job import BoardKind
from storyrod.model.machining import (
    Hand,
    JigKind,
    Operation,
    Setting,
    SetUp,
    WorkStage,
)
from storyrod.model.panel import Panel, Surface, surface_at
from storyrod.model.workshop import CutterKind, Registration, Workshop


@dataclass(slots=True)
class Group:
    """Needs that share one setting, before they are told as a set-up.

    `rank` orders what must be so on one panel: channels and cut-outs, then bores, then what follows from bores.
    """

    key: tuple[object, ...]
    setting: Setting
    placed: list[Placed] = field(default_factory=list)
    rank: int = 1
    finishing: bool = False


def gather(placed: Iterable[Placed], workshop: Workshop) -> tuple[Group, ...]:
    """Return the groups of machining, countersinks after the holes they finish."""
    groups: dict[tuple[object, ...], Group] = {}
    for p in placed:
        key = (setting_key(p.setting, p.made.need.lengths), p.mode if p.setting.reference_to_centre is not None else "")
        groups.setdefault(key, Group(key, p.setting, rank=_rank(p))).placed.append(p)
        sink = getattr(p.made.need.first, "countersink", None)
        if sink is not None:
            setting = _countersink(p, sink, workshop)
            last = ("countersink", setting_key(setting, p.made.need.lengths))
            groups.setdefault(last, Group(last, setting, rank=2, finishing=True)).placed.append(p)
    return tuple(groups.values())


def _rank(p: Placed) -> int:
    if isinstance(p.made.need.first, Channel | CutOut):
        return 0
    return 2 if p.setting.registration is Registration.MATE else 1


def _countersink(p: Placed, diameter: float, workshop: Workshop) -> Setting:
    ways = [w for w in workshop.ways if "countersink" in w.makes]
    cutters = [c for c in workshop.cutters if c.kind is CutterKind.COUNTERSINK and c.diameter >= diameter - 0.05]
    tools = [t for t in workshop.tools if any(w.tool is t.kind for w in ways)]
    if not ways or not cutters or not tools:
        lack = f"a countersink of {p.made.need.lengths.bought(diameter)} or more" if not cutters else "a hand drill"
        raise JobError(
            Fault(
                code="no-way",
                field="cutters",
                found=f"nothing that countersinks {describe(p.made.need)}",
                allowed="a countersink in a hand drill",
                do=f"Get {lack}.",
            )
        )
    cutter, tool = min(cutters, key=lambda c: c.diameter), tools[0]
    way = next(w for w in ways if w.tool is tool.kind)
    return Setting(
        way=way.code,
        way_name=way.name,
        tool=tool.code,
        tool_name=tool.name,
        tool_kind=tool.kind,
        registration=way.registration,
        along=way.along,
        cutter=cutter.code,
        cutter_name=f"countersink {p.made.need.lengths.bought_n(cutter.diameter)}",
        cutter_diameter=cutter.diameter,
        depth=round(diameter / 2, 2),
        plunge=round(diameter / 2, 2),
        feed=feed_like(FeedKind.DRILL),
    )


class Writer:
    """Tells groups as set-ups, with their operations."""

    def __init__(self, details: Details, workshop: Workshop, jigs: Jigs) -> None:
        self.details = details
        self.workshop = workshop
        self.jigs = jigs
        self.boards = {b.code: b.kind for b in details.job.boards}

    def set_up(
        self, group: Group, number: str, turns: Turns, *, earlier: tuple[str, ...] | None = None, in_place: bool = False
    ) -> SetUp:
        """Return a group as a set-up; `earlier` names those whose halves its trial joint tests, None for no trial.

        What is bored `in_place` waits until the assembly holds its joint closed.
        """
        setting = group.setting
        make = self._finish if group.finishing else self._operation
        ordered = sorted(
            group.placed,
            key=lambda p: (p.made.need.panel.case, _mark_number(p.made.need.panel), p.made.need.marks[0].number),
        )
        operations = tuple(make(p, f"{number}.{n}") for n, p in enumerate(ordered, start=1))
        kinds: set[BoardKind] = {self.boards[p.made.need.panel.board] for p in group.placed}
        first = group.placed[0].made.need.first
        none = ("", "")
        trial, trial_kind = none if group.finishing else trial_of(group.placed[0], number, earlier)
        on_page, _ = none if group.finishing else trial_of(group.placed[0], number, earlier, by_page=True)
        why = "" if group.finishing else why_of(group.placed)
        return SetUp(
            id=number,
            stage=WorkStage.IN_PLACE if in_place else WorkStage.MACHINE,
            title=title_of(group.placed, finishing=group.finishing) + (DURING if in_place else ""),
            setting=setting,
            operations=operations,
            why=why if not in_place else f"{IN_PLACE} {why}".rstrip(),
            hands=turns.hands,
            turns=turns.count,
            trial=trial,
            trial_kind=trial_kind,
            trial_on_page=on_page,
            cautions=cautions_for(setting, kinds, first, self.details.job.lengths, cap=self.workshop.deepest_pass),
            section=None if group.finishing else section_of(group.placed[0]),
        )

    def _operation(self, placed: Placed, number: str) -> Operation:
        made = placed.made
        need, reference = made.need, made.reference
        place, cut = place_and_cut(made.choice, len(need.marks), need.first, _length(need), self.workshop)
        use = self.jigs.uses.get(id(need))
        line, line_at = line_of(placed)
        template = placed.jig is not None and placed.jig.kind is JigKind.TEMPLATE
        by_reference = placed.setting.registration not in (Registration.MARK, Registration.PROGRAM, Registration.MATE)
        return Operation(
            id=number,
            case=need.panel.case,
            panel=need.panel.id,
            panel_mark=need.panel.mark,
            panel_name=need.panel.name,
            copies=need.copies,
            what=need.marks[0].what,
            surface=need.surface,
            features=tuple(m.feature.id for m in need.marks),
            marks=tuple(m.number for m in need.marks),
            joint=need.joint.id if need.joint else None,
            joint_number=need.joint.number if need.joint else "",
            reference=_reference_words(placed, by_reference=by_reference and not template),
            reference_why=reference.why,
            line=line,
            line_at=line_at,
            line_from="" if line_at is None else surface_at(need.across, far=False).value,
            stop=_stop_surface(need).value if use and not template else "",
            stop_label=use.stop if use and not template else "",
            stop_offset=use.offset if use else 0.0,
            places=tuple(places_of(placed)),
            stations=need.from_stop if use and not template else need.stations,
            hand=hand_of(need, reference.toward) if placed.jig is not None and not template else Hand.AS_DRAWN,
            same_face=reference.same_face and by_reference,
            hold=use.hold if use else "",
            held_in=made.choice.hold if use and made.choice.hold in MAKING else None,
            place_min=place,
            cut_min=cut,
            count=len(need.marks),
        )

    def _finish(self, placed: Placed, number: str) -> Operation:
        need = placed.made.need
        sink = getattr(need.first, "countersink", 0.0)
        return Operation(
            id=number,
            case=need.panel.case,
            panel=need.panel.id,
            panel_mark=need.panel.mark,
            panel_name=need.panel.name,
            copies=need.copies,
            what=f"countersink to {need.lengths.n(sink)} wide",
            surface=need.surface,
            finishes=tuple(m.feature.id for m in need.marks),
            marks=tuple(m.number for m in need.marks),
            joint=need.joint.id if need.joint else None,
            joint_number=need.joint.number if need.joint else "",
            reference="the holes themselves",
            stations=need.stations,
            cut_min=len(need.marks) * minutes_of(self.workshop, Act.COUNTERSINK_HOLE),
            count=len(need.marks),
        )


def _reference_words(placed: Placed, *, by_reference: bool) -> str:
    """Return what a placing is set to: a surface, a line, or marks. Walls and ends are in the places of its cuts."""
    need, setting = placed.made.need, placed.setting
    if setting.registration is Registration.LINE and isinstance(need.first, Channel):
        return surface_at(need.across, far=False).value
    if setting.tool_kind in BY_LINE:
        return "lines on its face and edges"
    return placed.made.reference.words if by_reference else _by(setting)


def _by(setting: Setting) -> str:
    return {
        Registration.MARK: "centre marks",
        Registration.MATE: "holes of the mate",
        Registration.PROGRAM: "datum corner of the machine",
    }.get(setting.registration, "centre marks")


def _stop_surface(need: Need) -> Surface:
    return surface_at(need.along, far=need.from_far)


def _length(need: Need) -> float:
    return float(getattr(need.first, "length", 0.0))


def _mark_number(panel: Panel) -> int:
    digits = "".join(c for c in panel.mark if c.isdigit())
    return int(digits or 0)
