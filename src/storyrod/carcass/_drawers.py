"""Drawers in figures: the box from its opening and its runner, with every reason why it may not fit."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.carcass._fronts import Front
from storyrod.carcass._inside import Bay
from storyrod.carcass._making import Making, box_of
from storyrod.carcass._shell import GROOVE_SLACK
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, Box
from storyrod.measure.tolerance import EXACT
from storyrod.model.job import Board, BottomKind
from storyrod.model.workshop import Runner, RunnerMount

LEAST_BOX = 50.0
"""No drawer box narrower than this inside (mm) is taken for meant; common practice, no source."""

LEAST_BOX_HEIGHT = 20.0
"""Least clear height in a drawer box (mm); common practice, no source."""

GROOVE_DEPTH = 6.0
"""Drawer-bottom grooves are this deep (mm), or a third of the side where that is less."""

UNDER_RUNNER = 12.5
"""An under-mounted runner lies under the bottom, which is let in this far up at the least (mm), as is common
practice (12 to 13, no source)."""

LEAST_UNDER_ROOM = 1.0
"""Least room beside a box on under-mounted runners (mm); common practice, no source."""

LEAST_BITE = 2.0
"""A drawer bottom let in less than this (mm) does not hold; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxPlan:
    """A drawer box in figures.

    Attributes:
        runner_length: nominal, of which the box's depth comes.
        runner_front: where the runner starts (y).
        room: at each side of the box.
        above, below: room over and under it.
        bottom_up: from the sides' lower edge to the bottom's underside (0 for an applied bottom).
        bite: depth of the bottom's grooves (0 for an applied bottom).
    """

    bay: Bay
    number: int
    runner: Runner
    runner_length: float
    runner_front: float
    box: Box
    room: float
    above: float
    below: float
    board: Board
    bottom_board: Board
    bottom_up: float
    bite: float

    @property
    def ts(self) -> float:
        """Measured thickness of the sides."""
        return self.board.measured

    @property
    def tb(self) -> float:
        """Measured thickness of the bottom."""
        return self.bottom_board.measured

    @property
    def grooved(self) -> bool:
        """Whether the bottom runs in grooves."""
        return self.bite > 0

    @property
    def name(self) -> str:
        """What the packet calls it."""
        return f"drawer {self.number}"

    @property
    def inside(self) -> Box:
        """The clear room in it."""
        floor = self.box.low.z + self.bottom_up + self.tb
        return box_of(
            (self.box.low.x + self.ts, self.box.high.x - self.ts),
            (self.box.low.y + self.ts, self.box.high.y - self.ts),
            (floor, self.box.high.z),
        )


def choose_runner(making: Making) -> Runner | None:
    """Return the runner of the case's drawers, or None after noting that the workshop has none of that name."""
    drawers, shop = making.case.drawers, making.workshop
    code = drawers.runner or shop.default_runner
    runner = shop.runner(code)
    if runner is None:
        making.fault(
            "missing-runner",
            f"{drawers.field}.runner",
            found=f'"{code}"' if code else "no runner named, and no default one in the workshop",
            allowed=", ".join(f'"{r.code}"' for r in shop.runners) or "a runner of the workshop, which has none",
            do="Name a runner of the workshop, or add this one to the workshop file.",
            ways=making.runners_of(),
        )
    return runner


def plan_box(making: Making, bay: Bay, front: Front, runner: Runner, number: int) -> BoxPlan | None:
    """Return the drawer box in figures, or None after noting every reason why there can be none."""
    told_so_far = len(making.faults)
    drawers, case = making.case.drawers, making.case
    board, bottom_board = making.board(drawers.board), making.board(drawers.bottom_board, case.back.board)
    ts = board.measured
    under = runner.mount is RunnerMount.UNDER
    room = runner.inside_less / 2 - ts if under else runner.room_each_side
    grooved = drawers.bottom is BottomKind.GROOVED
    start = front.box.high.y
    length = _runner_length(making, bay, runner, start)
    above = runner.room_above if drawers.room_above is None else drawers.room_above
    below = runner.room_below if drawers.room_below is None else drawers.room_below
    x, z = bay.box.span(Axis.X), bay.box.span(Axis.Z)
    plan = BoxPlan(
        bay=bay,
        number=number,
        runner=runner,
        runner_length=length,
        runner_front=start + runner.set_back,
        box=box_of(
            (x[0] + room, x[1] - room), (start, start + length - runner.box_shorter), (z[0] + below, z[1] - above)
        ),
        room=room,
        above=above,
        below=below,
        board=board,
        bottom_board=bottom_board,
        bottom_up=(max(drawers.bottom_up, UNDER_RUNNER) if under else drawers.bottom_up) if grooved else 0.0,
        bite=min(GROOVE_DEPTH, ts / 3) if grooved else 0.0,
    )
    _check_width(making, plan)
    _check_height(making, plan)
    _check_bottom(making, plan)
    return plan if len(making.faults) == told_so_far else None


def _runner_length(making: Making, bay: Bay, runner: Runner, start: float) -> float:
    """Return the longest runner that fits behind the front (0 after noting that none does)."""
    deep = bay.box.high.y - start

    def needs(length: float) -> float:
        return max(runner.set_back + length, length - runner.box_shorter + runner.clear_behind)

    fitting = [n for n in runner.lengths if needs(n) <= deep + EXACT]
    if fitting:
        return max(fitting)
    shortest = min(runner.lengths, default=0.0)
    making.fault(
        "drawer-depth",
        making.path("depth"),
        found=f"{making.mm(max(0.0, deep))} behind the front of {bay.name}",
        allowed=f'at least {making.least(needs(shortest))} for the shortest runner "{runner.code}" of '
        f"{making.mm(shortest)}, with the room it needs in front and behind",
        do="Make the case deeper, or choose a shorter runner.",
        ways=(*making.larger("", "depth", deep, needs(shortest) - deep), *making.runners_of()),
    )
    return 0.0


def _check_width(making: Making, plan: BoxPlan) -> None:
    bay, runner = plan.bay, plan.runner
    if runner.mount is RunnerMount.UNDER and plan.room < LEAST_UNDER_ROOM - EXACT:
        making.fault(
            "drawer-sides",
            f"{making.case.drawers.field}.board",
            found=f"sides of {making.mm(plan.ts)}",
            allowed=f'up to {making.most(runner.inside_less / 2 - LEAST_UNDER_ROOM)} for the runner "{runner.code}"',
            do="Choose a thinner board for the drawers, or a side-mounted runner.",
            ways=(
                *making.boards_of(3 * LEAST_BITE, runner.inside_less / 2 - LEAST_UNDER_ROOM),
                *making.runners_of(RunnerMount.SIDE),
            ),
        )
    inside = plan.box.size(Axis.X) - 2 * plan.ts
    if inside < LEAST_BOX:
        making.fault(
            "drawer-width",
            bay.width_field,
            found=f"{making.mm(bay.width)} clear in {bay.name}, which leaves {making.mm(max(0.0, inside))} inside",
            allowed=f"at least {making.least(bay.width - inside + LEAST_BOX)}",
            do="Make the opening wider, or choose a thinner board for the drawers.",
            ways=making.larger(bay.width_field, "width", bay.width, LEAST_BOX - inside),
        )


def _check_height(making: Making, plan: BoxPlan) -> None:
    bay, runner = plan.bay, plan.runner
    least = plan.bottom_up + plan.tb + LEAST_BOX_HEIGHT + plan.above + plan.below
    if runner.mount is RunnerMount.SIDE:
        least = max(least, runner.screw_up + runner.height / 2 + plan.above)
    if bay.height < least - EXACT:
        making.fault(
            "drawer-height",
            bay.height_field,
            found=f"{making.mm(bay.height)} clear in {bay.name}",
            allowed=f'at least {making.least(least)} with the runner "{runner.code}"',
            do="Give the drawer more height, or leave the opening open.",
            ways=making.larger(bay.height_field, "height", bay.height, least - bay.height),
        )
    if plan.above < 0 or plan.below < 0:
        making.fault(
            "drawer-room",
            f"{making.case.drawers.field}.{'room_above' if plan.above < 0 else 'room_below'}",
            found=making.mm(min(plan.above, plan.below)),
            allowed="0 or more",
            do="Leave the drawer some room, or leave the field out for the runner's own figure.",
            ways=(WayOut(field="", value=None), WayOut(field="", value=0.0, is_length=True)),
        )


def _check_bottom(making: Making, plan: BoxPlan) -> None:
    drawers = making.case.drawers
    if not plan.grooved:
        if plan.runner.mount is RunnerMount.UNDER:
            making.fault(
                "drawer-bottom",
                f"{drawers.field}.bottom",
                found='"applied" with an under-mounted runner',
                allowed='"grooved"',
                do="The runner goes under the bottom: groove the bottom in, or choose a side-mounted runner.",
                ways=(WayOut(field="", value=BottomKind.GROOVED.value), *making.runners_of(RunnerMount.SIDE)),
            )
        return
    if plan.bite < LEAST_BITE:
        making.fault(
            "drawer-bottom",
            f"{drawers.field}.board",
            found=f"sides of {making.mm(plan.ts)}, whose grooves would be {making.mm(plan.bite)} deep",
            allowed=f"boards of {making.mm(3 * LEAST_BITE)} or more for a grooved bottom",
            do="Choose a thicker board for the drawers, or an applied bottom.",
            ways=(
                *making.boards_of(3 * LEAST_BITE),
                WayOut(field=f"{drawers.field}.bottom", value=BottomKind.APPLIED.value),
            ),
        )
    wall = making.job.limits.skin
    if plan.bottom_up < wall:
        making.fault(
            "drawer-bottom",
            f"{drawers.field}.bottom_up",
            found=making.mm(plan.bottom_up),
            allowed=f"at least {making.least(wall)}, so that the groove leaves board under it",
            do="Set the bottom further up, or choose an applied bottom.",
            ways=(WayOut(field="", value=None), making.at_least(wall)),
        )


def groove_width(plan: BoxPlan) -> float:
    """Return the width of the bottom's grooves: the measured bottom and its play."""
    return plan.tb + GROOVE_SLACK
