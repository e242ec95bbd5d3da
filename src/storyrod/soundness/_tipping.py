"""Whether a case tips forward, by published test conditions; worked out, not tested, and never a certificate.

Drawers come out by their runner, doors stand at right angles, loads hang where the tests hang them. Conditions: ASTM
F2057-23 and 16 CFR 1261 as a test laboratory and the regulator's guidance explain them, its pull from memory; ISO
7171:1988 (excerpt); 75 N on one open part of EN 14749, from memory and uncertain.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.model.carcass import DoorPlace, DrawerPlace
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import CutOut
from storyrod.model.job import Floor
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.model.soundness import ENDLESS, Carried, Tipping, TipTest
from storyrod.model.thresholds import Thresholds
from storyrod.model.weight import panel_weight, together
from storyrod.soundness._balance import (
    Balance,
    Body,
    anchor_force,
    balance,
    greatest_force,
    is_clothing_storage_size,
    tilt,
)
from storyrod.soundness._overhang import EDGE_IN, PERSON_N
from storyrod.soundness._wall import seat_of, wall_fixing

ON_FLOOR: Final = 1.0
PART_FORCE_N: Final = 75.0
ISO_SHARE: Final = 2 / 3

_US: Final = "ASTM F2057-23, as a test laboratory and the regulator's guidance explain it"
_US_M: Final = "ASTM F2057-23, from memory"
_ISO: Final = "ISO 7171:1988, excerpt"
_TABLES: Final = "an edge loaded as in tests of tables, from memory"
_EN: Final = "EN 14749, from memory, uncertain"


def tipping_of(
    case: DetailedCase, details: Details, loads: dict[PanelId, tuple[Carried, ...]], thresholds: Thresholds
) -> Tipping:
    """Return how a case stands in every condition, and whether it wants fixing to the wall."""
    return _Stand(case, details, loads, thresholds).tipping()


class _Stand:
    """A case on its feet: where it meets the floor, and where its masses are."""

    def __init__(
        self, case: DetailedCase, details: Details, loads: dict[PanelId, tuple[Carried, ...]], thresholds: Thresholds
    ) -> None:
        self.case = case
        self.use = details.job.use
        self.skin = details.job.limits.skin
        self.unit = details.job.unit
        self.limits = thresholds
        boards = {b.code: b for b in details.job.boards}
        self.weights = {p.id: panel_weight(p, boards[p.board], case.on(p.id)) for p in case.panels}
        self.panels = {p.id: p for p in case.panels}
        lowest = min(p.box.low.z for p in case.panels if p.body == "carcass")
        feet = [p for p in case.panels if p.body == "carcass" and p.box.low.z <= lowest + ON_FLOOR]
        self.pivot = min(p.box.low.y for p in feet)
        self.rear = max(p.box.high.y for p in feet)
        if case.built.feet:
            self.pivot, self.rear = min(f.y for f in case.built.feet), max(f.y for f in case.built.feet)
        self.loads = loads
        self.boxes = {d.id: together(self.weights[p] for p in self._parts(d)) for d in case.built.drawers}
        self.angle = tilt(thresholds.block, self.rear - self.pivot)
        moving = {p for d in case.built.drawers for p in self._parts(d)} | {d.panel for d in case.built.doors}
        self.still = [p.id for p in case.panels if p.id not in moving]

    def _parts(self, drawer: DrawerPlace) -> tuple[PanelId, ...]:
        return (*drawer.panels, *([drawer.front] if drawer.front else ()))

    def _body(self, kg: float, y: float, z: float) -> Body:
        return Body(kg, y - self.pivot, z)

    def _bodies(self, *, out: dict[str, float], doors: bool, filled: bool, stacked: bool = False) -> list[Body]:
        """All masses: drawers pulled out as told, doors open or shut, drawers filled, shelves loaded."""
        bodies = [self._body(w.mass_kg, w.centre.y, w.centre.z) for w in (self.weights[i] for i in self.still)]
        for drawer in self.case.built.drawers:
            by = out.get(drawer.id, 0.0)
            whole = self.boxes[drawer.id]
            bodies.append(self._body(whole.mass_kg, whole.centre.y - by, whole.centre.z))
            if filled:
                middle = drawer.inside.centre
                kg = drawer.inside.volume * 1e-9 * self.limits.fill_kg_m3
                bodies.append(self._body(kg, middle.y - by, middle.z))
        bodies += [self._door(door, wide=doors) for door in self.case.built.doors]
        if stacked:
            for panel_id, carried in self.loads.items():
                box = self.panels[panel_id].box
                bodies += [self._body(c.kg, box.centre.y, box.high.z) for c in carried]
            bodies += [self._body(r.load_kg, r.box.centre.y, r.box.centre.z) for r in self.case.built.rails]
        return bodies

    def _door(self, door: DoorPlace, *, wide: bool) -> Body:
        weight, box = self.weights[door.panel], self.panels[door.panel].box
        y = box.centre.y - box.size(Axis.X) / 2 if wide else box.centre.y
        return self._body(weight.mass_kg, y, box.centre.z)

    def _front(self, drawer: DrawerPlace, by: float) -> float:
        """Where the outer face of an open drawer's front is (case y)."""
        front = self.panels[drawer.front].box.low.y if drawer.front else drawer.box.low.y
        return front - by

    @property
    def _opens(self) -> bool:
        return bool(self.case.built.drawers or self.case.built.doors)

    def tipping(self) -> Tipping:
        """Return the whole finding."""
        shut = self._bodies(out={}, doors=False, filled=False)
        whole = together(self.weights.values())
        seat = seat_of(self.case, self.unit)
        tests = tuple(self._tests(seat.height))
        counted = [t.ratio for t in tests if t.counts]
        margin = min(counted)
        case = self.case.built.case
        high = case.height > min(self.limits.anchor_above, 2 * case.depth)
        always = high or bool(self.case.built.drawers)
        fix = always or margin < self.limits.tip_margin
        enclosed = sum(o.box.volume for o in self.case.built.openings if not o.children) / 1e6
        return Tipping(
            pivot=self.pivot,
            rear=self.rear,
            centre=whole.centre,
            body_kg=sum(b.kg for b in shut),
            tests=tests,
            margin=margin,
            wanted=self.limits.tip_margin,
            fix_to_wall=fix,
            fixed=self.use.fixed_to_wall,
            fixing=wall_fixing(self.case, seat, tests, self.limits, self.skin, self.unit) if fix else None,
            tilt_deg=math.degrees(self.angle),
            floor=self.use.floor,
            in_scope=self._opens and is_clothing_storage_size(case.height, sum(b.kg for b in shut), enclosed),
        )

    def _tests(self, anchor: float) -> Iterator[TipTest]:
        for angle, where in ((0.0, "hard floor"), (self.angle, "carpet")):
            counts = angle == 0.0 or self.use.floor is Floor.CARPET
            for code, what, found, source, opened, left in self._standings(angle):
                yield TipTest(
                    code=f"{code}-{where.replace(' ', '-')}",
                    what=f"{what}, on a {'hard floor' if angle == 0.0 else 'carpet (block under the rear)'}",
                    ratio=min(found.ratio, ENDLESS),
                    source=source,
                    counts=counts,
                    anchor_n=anchor_force(left, anchor),
                    opened=opened,
                    doors=code.startswith("all-open"),
                )
        yield self._pull(anchor)
        if self._opens:
            yield self._press(anchor)
        top = next((p for p in self.case.panels if p.role is Role.WORKTOP), None)
        if top is not None and top.box.low.y + EDGE_IN < self.pivot:
            yield self._sat_on(top, anchor)

    def _standings(self, angle: float) -> Iterator[tuple[str, str, Balance, str, tuple[str, ...], float]]:
        """The conditions that hang masses on the case, on a floor that tilts it by `angle`.

        The last figure is the least moment left over, of all drawers that were tried: the case that stands worst by
        its ratio need not be the one that pulls most at a wall fixing.
        """
        drawers = self.case.built.drawers
        stood = self._bodies(out={}, doors=False, filled=False)
        found = balance(stood, angle=angle)
        yield "empty", "empty and shut", found, "plain statics", (), found.left
        if self._opens:
            out = {d.id: d.extension for d in drawers}
            bodies = self._bodies(out=out, doors=True, filled=False)
            found = balance(bodies, angle=angle)
            yield "all-open", "empty, everything open", found, _US, tuple(out), found.left
        if drawers:
            out = {d.id: d.extension for d in drawers}
            full = self._bodies(out=out, doors=True, filled=True)
            what = f"every drawer filled ({self.limits.fill_kg_m3:.0f} kg/m3) and open"
            found = balance(full, angle=angle)
            yield "all-open-full", what, found, _US, tuple(out), found.left
            one, found, left = _worst_of(self._child(drawers, angle))
            what = f"empty, {one.name} open, {self.limits.child_kg:g} kg on its front"
            yield "child", what, found, _US, (one.id,), left
            one, found, left = _worst_of(self._one_full(drawers, angle))
            what = f"all drawers filled, {one.name} open, the rest shut"
            yield "one-open-full", what, found, "plain statics", (one.id,), left

    def _child(self, drawers: Iterable[DrawerPlace], angle: float) -> list[tuple[DrawerPlace, Balance]]:
        """A child's weight on the front of each drawer in turn."""
        found = []
        for drawer in drawers:
            bodies = self._bodies(out={drawer.id: drawer.extension}, doors=False, filled=False)
            at = self._front(drawer, drawer.extension)
            bodies.append(self._body(self.limits.child_kg, at, drawer.box.high.z))
            found.append((drawer, balance(bodies, angle=angle)))
        return found

    def _one_full(self, drawers: Iterable[DrawerPlace], angle: float) -> list[tuple[DrawerPlace, Balance]]:
        found = []
        for drawer in drawers:
            bodies = self._bodies(out={drawer.id: drawer.extension}, doors=False, filled=True, stacked=True)
            found.append((drawer, balance(bodies, angle=angle)))
        return found

    def _pull(self, anchor: float) -> TipTest:
        """A pull outward at the highest hold, nothing in the drawers, all of them open."""
        out = {d.id: d.extension for d in self.case.built.drawers}
        bodies = self._bodies(out=out, doors=True, filled=False)
        height = min(self._highest_hold(), self.limits.pull_height)
        still = balance(bodies)
        found = balance(bodies, pull_n=self.limits.pull_n, pull_height=height)
        where = "everything open, " if self._opens else ""
        up = self.limits.lengths.told(round(height))
        return TipTest(
            code="pull",
            what=f"empty, {where}pulled outward with {self.limits.pull_n:g} N {up} up",
            ratio=min(found.ratio, ENDLESS),
            source=_US_M,
            counts=True,
            most_n=greatest_force(still.left, height),
            asked_n=self.limits.pull_n,
            anchor_n=anchor_force(found.left, anchor),
            pull_height=height,
            opened=tuple(out),
            doors=True,
        )

    def _highest_hold(self) -> float:
        """The highest hand hold cut in a front, or the top edge of the highest front, or of the case."""
        fronts = [p for p in self.case.panels if p.role in {Role.DRAWER_FRONT, Role.DOOR}]
        holds = [p.frame.to_case(f.at).z for p in fronts for f in self.case.on(p.id) if isinstance(f.shape, CutOut)]
        return max(holds or [p.box.high.z for p in fronts] or [self.case.built.case.height])

    def _press(self, anchor: float) -> TipTest:
        """The greatest force down on the front of one open part: a drawer out by two thirds, or a door's free edge."""
        found: list[tuple[float, Balance, float, str]] = []
        for drawer in self.case.built.drawers:
            by = ISO_SHARE * drawer.extension
            stood = balance(self._bodies(out={drawer.id: by}, doors=False, filled=False))
            lever = self.pivot - self._front(drawer, by)
            found.append((greatest_force(stood.left, lever), stood, lever, f"{drawer.name} out by two thirds"))
        for door in self.case.built.doors:
            stood = balance(self._bodies(out={}, doors=True, filled=False))
            box = self.panels[door.panel].box
            lever = self.pivot - (box.high.y - box.size(Axis.X))
            found.append((greatest_force(stood.left, lever), stood, lever, f"{self.panels[door.panel].name} wide open"))
        most, stood, lever, what = min(found, key=lambda f: f[0])
        pressed = _pressed(stood, lever)
        return TipTest(
            code="press",
            what=f"empty, {what}, {PART_FORCE_N:g} N down on its front",
            ratio=min(pressed.ratio, ENDLESS),
            source=f"{_ISO}; {_EN}",
            counts=True,
            most_n=None if math.isinf(most) else most,
            asked_n=PART_FORCE_N,
            anchor_n=anchor_force(min(_pressed(by, at).left for _, by, at, _ in found), anchor),
        )

    def _sat_on(self, top: Panel, anchor: float) -> TipTest:
        """Somebody who sits on the front edge of a worktop, with all shut."""
        stood = balance(self._bodies(out={}, doors=False, filled=False))
        lever = self.pivot - top.box.low.y - EDGE_IN
        found = Balance(stood.steadying, stood.tipping + PERSON_N * lever)
        most = greatest_force(stood.left, lever)
        return TipTest(
            code="worktop",
            what=f"empty and shut, {PERSON_N:g} N down on the front edge of the worktop",
            ratio=min(found.ratio, ENDLESS),
            source=_TABLES,
            counts=True,
            most_n=None if math.isinf(most) else most,
            asked_n=PERSON_N,
            anchor_n=anchor_force(found.left, anchor),
        )


def _worst_of(found: Iterable[tuple[DrawerPlace, Balance]]) -> tuple[DrawerPlace, Balance, float]:
    """Return the drawer with which a case stands worst, its balance, and the least moment left over with any."""
    tried = list(found)
    drawer, worst = min(tried, key=lambda f: f[1].ratio)
    return drawer, worst, min(balanced.left for _, balanced in tried)


def _pressed(stood: Balance, lever: float) -> Balance:
    """Return the balance with a hand that presses down on an open part, `lever` before the pivot."""
    return Balance(stood.steadying, stood.tipping + PART_FORCE_N * max(0.0, lever))


def tip_cautions(case_name: str, tipping: Tipping) -> Iterator[Caution]:
    """Return the caution that goes on cover and assembly sheets, where a case is under the margin or tall."""
    if not tipping.fix_to_wall:
        return
    worst = tipping.worst
    stands = f"Its own weight is {worst.ratio:.2f} of what would keep it standing."
    if tipping.margin < 1:
        text = f"It would tip over: {worst.what}. {stands}"
    elif tipping.margin < tipping.wanted:
        text = f"It only just stands: {worst.what}. {stands}"
    else:
        text = f"It does not tip in any of the tests (lowest ratio {worst.ratio:.2f}), but it is tall or has drawers."
    fixing = tipping.fixing
    hold = f" Each of {len(fixing.places)} fixings must hold {fixing.each_n:,.0f} N." if fixing is not None else ""
    do = "Fix it to the wall before it is used"
    if tipping.fixed:
        do = "The job says that it is fixed to the wall: fix it before it is used"
    yield Caution(
        code="tip-fix-to-wall",
        about=case_name,
        text=f"{text}{hold}",
        do=(
            f"{do}, with plugs and screws for that wall; look for hidden cables and pipes first. The last step of its "
            f"assembly says where to fix it, and into what. Calculated, not tested: this is not a certificate, and "
            f"local codes come first."
        ),
    )
