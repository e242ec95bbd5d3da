"""The buying list, checked: what cards, joints and steps use is what is bought and what is here, thing by thing.

Shares no code with the list. Uses are gathered anew: joints and fittings as they are built, operations of the set-up
cards, steps of the assembly. Where these do not agree among themselves, the most that any of them asks for counts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.faults import Fault
from storyrod.model.assembly import AssemblyPlan
from storyrod.model.buying import (
    BRACKET,
    BRACKET_SCREW_MM,
    CLEAT_SCREW,
    DRILL_AS_GOOD,
    FINISH,
    GLUE,
    HANDLE,
    HANGING_PLUG,
    HANGING_SCREW,
    JIG_BOARD,
    WALL_SCREW,
    BuyKind,
    ToBuy,
)
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import HAND_HOLD
from storyrod.model.fixing import FixingKind
from storyrod.model.hung import Hanging, WallKind
from storyrod.model.job import BoardKind
from storyrod.model.machining import WorkPlan
from storyrod.model.panel import Role, Surface
from storyrod.model.sheet import CuttingPlan
from storyrod.model.tool import CutterKind
from storyrod.model.wall import WallFixing
from storyrod.model.workshop import Workshop

_SAME: Final = 1e-6
_LEAST_GLUE_G_M: Final = 4.0
"""A metre of joint line wants at least so much glue (g): under the list's own figure, which is common practice."""

_BY_THE_PIECE: Final = frozenset({FixingKind.SHELF_PIN, FixingKind.WORKTOP, FixingKind.FOOT, FixingKind.CLIP})
"""Fixings whose fitting is bought by the piece: pins, washers, feet, clips."""

_SCREWS_A_BRACKET: Final = 2
_BRACKET_SCREW: Final = "bracket screw"


def check_buying(
    listed: Sequence[ToBuy],
    details: Details,
    workshop: Workshop,
    *,
    run: WorkPlan | None,
    assembly: AssemblyPlan | None,
    sheets: CuttingPlan | None,
    walls: Mapping[str, WallFixing | Hanging],
) -> tuple[Fault, ...]:
    """Return a fault for everything that is used and not on the list, or that is on it and not used."""
    check = _Check(tuple(listed), details, workshop, run, assembly, sheets, walls)
    return tuple(check.faults())


@dataclass(frozen=True, slots=True)
class _Check:
    listed: tuple[ToBuy, ...]
    details: Details
    workshop: Workshop
    run: WorkPlan | None
    assembly: AssemblyPlan | None
    sheets: CuttingPlan | None
    walls: Mapping[str, WallFixing | Hanging]

    def faults(self) -> Iterator[Fault]:
        yield from self._enough()
        yield from self._pieces()
        yield from self._by_measure()
        yield from self._finish()
        yield from self._boards()
        yield from self._kept()

    def _copies(self) -> Iterator[tuple[DetailedCase, int]]:
        for case in self.details.cases:
            yield case, case.built.case.count

    def _on_list(self, item: str) -> float:
        return sum(b.uses for b in self.listed if b.item == item)

    def _enough(self) -> Iterator[Fault]:
        """Yield what is not bought in the amount that is needed, beside what is here."""
        for line in self.listed:
            if line.spare < 0 or line.bought + line.on_hand < line.uses + line.spare - _SAME:
                bought = f"{line.bought:g} bought and {line.on_hand:g} here"
                yield _fault(line.item, bought, f"{line.uses + line.spare:g} {line.unit}")

    def _pieces(self) -> Iterator[Fault]:
        """Yield what is counted by the piece and not on the list as often as it is used, or there and not used."""
        used = Counter({item: float(n) for item, n in (self._as_built() | self._in_steps() | self._on_cards()).items()})
        for case, wall, count in self._fixed():
            if isinstance(wall, Hanging):
                used[self._hung_by(wall)] += len(wall.place.places) * len(wall.place.heights) * count
                if wall.place.cleat is not None and any(p.role is Role.BACK for p in case.panels):
                    used[CLEAT_SCREW] += count
                continue
            used[WALL_SCREW] += len(wall.places) * count
            if wall.straight:
                continue
            used[BRACKET] += len(wall.places) * count
            used[self._bracket_screw(wall)] += _SCREWS_A_BRACKET * len(wall.places) * count
        counted = {BuyKind.CONNECTORS, BuyKind.FITTINGS, BuyKind.HANDLES, BuyKind.WALL}
        for item in {**used, **{b.item: 0 for b in self.listed if b.kind in counted}}:
            if abs(self._on_list(item) - used[item]) > _SAME:
                yield _fault(item, f"{self._on_list(item):g} on the list", f"the {used[item]:g} that the work uses")

    def _fixed(self) -> Iterator[tuple[DetailedCase, WallFixing | Hanging, int]]:
        for case, count in self._copies():
            wall = self.walls.get(case.built.case.code)
            if wall is not None:
                yield case, wall, count

    def _hung_by(self, hanging: Hanging) -> str:
        """Return what a case hangs by: a screw into each stud, else a plug."""
        if hanging.wall is WallKind.MASONRY:
            return HANGING_PLUG
        screw = hanging.screw
        return f"{HANGING_SCREW} {screw.diameter:g} x {screw.length:g}" if screw is not None else ""

    def _bracket_screw(self, wall: WallFixing) -> str:
        """Return the longest pan-head screw of a bracket's size that does not come through the panel."""
        best, name = 0.0, _BRACKET_SCREW
        for kind in self.workshop.screws:
            if kind.code.startswith("pan-head") and abs(kind.diameter - BRACKET_SCREW_MM) < _SAME:
                for length in kind.lengths:
                    if best < length <= wall.screw_most:
                        best, name = length, f"{kind.code} x {length:g}"
        return name

    def _as_built(self) -> Counter[str]:
        """Return what joints, drawers, doors, fronts, clothes rails and loose shelves take."""
        used: Counter[str] = Counter()
        for case, count in self._copies():
            for item, n in (c for joint in case.joints for c in joint.connectors):
                used[item] += n * count
            for drawer in case.built.drawers:
                used[drawer.runner] += count
            for door in case.built.doors:
                used[door.hinge] += door.hinges * count
            for rail in case.built.rails:
                used[rail.kind] += count
            for fixing in case.built.fixings:
                if fixing.screws is not None:
                    used[fixing.screws.item] += fixing.screws.count * count
                if fixing.kind in _BY_THE_PIECE and fixing.item:
                    used[fixing.item] += fixing.count * count
            held = {f.panel for f in case.features if f.item == HAND_HOLD}
            fronts = {p.id for p in case.panels if p.role in {Role.DOOR, Role.DRAWER_FRONT}}
            used[HANDLE] += len(fronts - held) * count
        return used

    def _in_steps(self) -> Counter[str]:
        """Return what the steps of the assembly fit and drive."""
        used: Counter[str] = Counter()
        for case in self.assembly.cases if self.assembly is not None else ():
            for step in case.steps:
                for one in step.fit_first:
                    used[one.item] += one.count * case.count
                for act in step.by_hand:
                    for thing in act.uses:
                        used[thing.item] += thing.count * case.count
        return used

    def _on_cards(self) -> Counter[str]:
        """Return what the set-up cards fit."""
        used: Counter[str] = Counter()
        for set_up in self.run.set_ups if self.run is not None else ():
            for operation in set_up.operations:
                if operation.item:
                    used[operation.item] += operation.count * operation.copies
        return used

    def _by_measure(self) -> Iterator[Fault]:
        """Yield edging that is not as long as the edges it goes on, and glue that no bottle is bought for."""
        metres: Counter[str] = Counter()
        glued, least = 0, 0.0
        for case, count in self._copies():
            for panel in case.panels:
                for strip in panel.edged:
                    across = strip.surface in {Surface.DATUM_END, Surface.FAR_END}
                    metres[strip.edging] += (panel.width if across else panel.length) * count / 1000  # type: ignore[assignment]
            lines = [j.length for j in case.joints if j.glue]
            glued += len(lines) * count
            least += sum(lines) / 1000 * _LEAST_GLUE_G_M * count
        for case_plan in self.assembly.cases if self.assembly is not None else ():
            glued = max(glued, sum(len(s.glue) for s in case_plan.steps) * case_plan.count)
        for code in {**metres, **{b.item: 0 for b in self.listed if b.kind is BuyKind.EDGING}}:
            if abs(self._on_list(code) - metres[code]) > _SAME:
                yield _fault(code, f"{self._on_list(code):.2f} m on the list", f"{metres[code]:.2f} m of edges")
        if self._on_list(GLUE) < least or bool(glued) != bool(self._on_list(GLUE)):
            yield _fault(GLUE, f"{self._on_list(GLUE):g} g on the list", f"glue for {glued} joints")

    def _finish(self) -> Iterator[Fault]:
        """Yield a finish of which less is bought than covers both faces of every bare board."""
        finish, litres = self.details.job.finish, 0.0
        if finish is not None:
            faced = {b.code for b in self.details.job.boards if b.kind is BoardKind.FACED_CHIPBOARD}
            for case, count in self._copies():
                bare = [p for p in case.panels if p.board not in faced]
                faces = sum(2 * p.length * p.width for p in bare) / 1e6
                edges = sum(2 * (p.length + p.width) * p.thickness for p in bare) / 1e6
                litres += (faces + edges) * count * finish.coats / finish.covers_m2
        if abs(self._on_list(FINISH) - litres) > _SAME:
            yield _fault(
                FINISH, f"{self._on_list(FINISH):.2f} l on the list", f"the {litres:.2f} l that its coats take"
            )

    def _boards(self) -> Iterator[Fault]:
        """Yield sheets that are cut up and not on the list, and boards that nothing is bought of."""
        used: Counter[str] = Counter()
        for sheet in self.sheets.sheets if self.sheets is not None else ():
            used[sheet.stock] += 1
        boards = {p.board for c in self.details.cases for p in c.panels}
        laid_out = {s.board for s in self.sheets.sheets} if self.sheets is not None else set()
        for stock, count in used.items():
            if self._on_list(stock) != count:
                yield _fault(stock, f"{self._on_list(stock):g} on the list", f"the {count} that are cut up")
        for board in boards - laid_out:
            area = sum(p.cut_length * p.cut_width * n for c, n in self._copies() for p in c.panels if p.board == board)
            if self._on_list(board) < area / 1e6 - _SAME:
                least = f"at least {area / 1e6:.2f} m\u00b2 of parts"
                yield _fault(board, f"{self._on_list(board):.2f} m\u00b2", least)

    def _kept(self) -> Iterator[Fault]:
        """Yield tools, cutters, bushes and drills that a card asks for, that are neither owned nor on the list."""
        bits = [c.diameter for c in self.workshop.cutters if c.kind is CutterKind.DRILL]
        bits += [float(b.item.removeprefix("drill ")) for b in self.listed if b.kind is BuyKind.CUTTERS]
        for size, why in dict(self._drills()).items():
            if all(abs(size - bit) > DRILL_AS_GOOD for bit in bits):
                yield _fault(f"drill {size:g}", "none here and none on the list", f"one for {why}")
        if self.run is None:
            return
        here = {c.code for c in self.workshop.cutters} | {t.code for t in self.workshop.tools if t.owned}
        here |= {b.item for b in self.listed if b.kind.is_kept}
        bushes = {b.diameter for b in self.workshop.bushes}
        for set_up in self.run.set_ups:
            setting = set_up.setting
            if setting is None:
                continue
            for code in (setting.tool, setting.cutter):
                if code and code not in here:
                    yield _fault(code, "not owned and not on the list", f"what set-up {set_up.id} is done with")
            if setting.bush is not None and setting.bush not in bushes:
                yield _fault("bush", f"none of {setting.bush:g} mm", f"what set-up {set_up.id} is done with")
        pieces = (p for j in self.run.jigs if not j.owned for p in j.pieces)
        area = sum(p.count * p.length * p.width for p in pieces) / 1e6
        if abs(self._on_list(JIG_BOARD) - area) > _SAME:
            yield _fault(JIG_BOARD, f"{self._on_list(JIG_BOARD):.3f} m\u00b2", f"the {area:.3f} m\u00b2 of jigs' parts")

    def _drills(self) -> Iterator[tuple[float, str]]:
        for case, _ in self._copies():
            for fixing in case.built.fixings:
                if fixing.screws is not None and not fixing.screws.marked:
                    yield fixing.screws.pilot, f"pilots of {fixing.name}"
        for jig in self.run.jigs if self.run is not None else ():
            for size in () if jig.owned else jig.bores:
                yield size, f"the openings of {jig.name}"


def _fault(item: str, found: str, allowed: str) -> Fault:
    return Fault(
        code="buying-list",
        field=f"buying list, {item}",
        found=found,
        allowed=allowed,
        do="This is a mistake in storyrod. Please report it with the job file, and count this by hand for now.",
    )
