"""The outer box: sides, top, base, rails and plinth, and the clear room inside them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from storyrod.carcass._making import FACING, Blank, Making, box_of
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Box
from storyrod.measure.tolerance import EXACT
from storyrod.model.job import BackKind, BetweenOrOver, Board, Case, RailsStand
from storyrod.model.panel import Role, Scribed, Surface

_COUNTS = {2: "two", 3: "three"}

LEAST_INSIDE = 20.0
"""No case or opening smaller than this (mm) is taken for meant; common practice, no source."""

LEAST_GROOVED = 9.0
"""No board thinner than this (mm) takes a groove for its back: a third of it would be under 3 mm deep."""

BACK_RAIL_IN = 50.0
"""A plinth's back rail stands this far in front of the back (mm), clear of its fixings and of a skirting board; less
where the case is too shallow for that. Common practice, no source."""

_FULL = frozenset({BackKind.APPLIED, BackKind.BETWEEN, BackKind.NONE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Shell:
    """The outer box in figures.

    Attributes:
        t: measured thickness of its board.
        floor: height of the base's underside, which is the plinth's or the feet's height.
        side_low, side_high: where the sides stand.
        side_depth: depth of the sides; an applied back is behind them.
        back_board, back_t: of the back; thickness 0 without a back.
        inset: how far a grooved or between back stands in.
        behind_back: least room between the back and the rear edges, for the rail of a case that hangs or a skirting.
        clear_rear: where a skirting board begins (case y) that reaches higher than the base; the rear of the case else.
        top_rear, base_rear: rear edges of the top and base (or their back rails).
        inside: the clear room.
    """

    board: Board
    t: float
    floor: float
    side_low: float
    side_high: float
    side_depth: float
    back_board: Board
    back_t: float
    inset: float
    behind_back: float
    clear_rear: float
    top_rear: float
    base_rear: float
    inside: Box


def plan_shell(making: Making) -> Shell | None:
    """Return the outer box in figures, or None after noting why there can be none."""
    case, told_so_far = making.case, len(making.faults)
    board, back_board = making.board(), making.board(case.back.board)
    t = board.measured
    back_t = 0.0 if case.back.kind is BackKind.NONE else back_board.measured
    floor = case.plinth.height if case.plinth else case.raised
    met = case.skirting is not None and case.skirting.top > floor + EXACT
    clear_rear = case.depth - (case.clear_of_wall if met else 0.0)
    behind = max(_behind_back(making), _before_skirting(making, case.depth - clear_rear))
    inset = case.back.inset if case.back.kind in {BackKind.GROOVED, BackKind.BETWEEN} else 0.0
    inset = inset or behind
    above = case.rail_width if rails_are_upright(making) else t * (case.top is not BetweenOrOver.NONE)
    closed_below = case.base is not BetweenOrOver.NONE
    rear = case.depth - back_t - inset
    side_depth = case.depth - back_t if case.back.kind is BackKind.APPLIED else case.depth
    inside = box_of((t, case.width - t), (0.0, rear), (floor + t * closed_below, case.height - above))
    shell = Shell(
        board=board,
        t=t,
        floor=floor,
        side_low=case.raised + (t if case.base is BetweenOrOver.UNDER_SIDES else 0.0),
        side_high=case.height - t if case.top is BetweenOrOver.OVER_SIDES else case.height,
        side_depth=side_depth,
        back_board=back_board,
        back_t=back_t,
        inset=inset,
        behind_back=behind,
        clear_rear=clear_rear,
        top_rear=side_depth if case.back.kind in _FULL or case.back.in_top else rear,
        base_rear=min(side_depth if case.back.kind in _FULL or case.back.in_base else rear, clear_rear),
        inside=inside,
    )
    _check_kinds(making)
    _check_sizes(making, shell)
    _check_plinth(making, shell)
    _check_back(making, shell)
    return shell if len(making.faults) == told_so_far else None


def rails_are_upright(making: Making) -> bool:
    """Return whether upright rails stand in place of a top: what is inside ends below them, the back runs past them."""
    return making.case.top is BetweenOrOver.RAILS and making.case.rails_stand is RailsStand.UPRIGHT


def _behind_back(making: Making) -> float:
    """Return how far the back is set in for a rail behind it: its groove, too, is clear of the rail."""
    case = making.case
    if (case.hung is None and case.back_rail is None) or case.back.kind in {BackKind.APPLIED, BackKind.REBATED}:
        return 0.0
    return making.board(case.hung.board if case.hung else None).measured + (
        GROOVE_SLACK if case.back.kind is BackKind.GROOVED else 0.0
    )


def _before_skirting(making: Making, reach: float) -> float:
    """Return how far a back is set in that stands clear of a skirting board, its groove's board included."""
    kind = making.case.back.kind
    if not reach or kind in {BackKind.APPLIED, BackKind.REBATED}:
        return 0.0
    return reach + (making.job.limits.skin + GROOVE_SLACK if kind is BackKind.GROOVED else 0.0)


def _check_kinds(making: Making) -> None:
    case = making.case
    if case.top is BetweenOrOver.UNDER_SIDES:
        making.fault(
            "top-kind",
            making.path("top"),
            found='"under sides"',
            allowed='"between sides", "over sides", "rails" or "none"',
            do="A top goes over the sides or between them.",
        )
    if case.base is BetweenOrOver.OVER_SIDES:
        making.fault(
            "base-kind",
            making.path("base"),
            found='"over sides"',
            allowed='"between sides", "under sides" or "none"',
            do="A base goes under the sides or between them.",
        )
    if case.plinth and case.base is BetweenOrOver.UNDER_SIDES:
        making.fault(
            "base-kind",
            making.path("base"),
            found='"under sides" together with a plinth',
            allowed='"between sides" or "none" where there is a plinth',
            do="The plinth stands between sides that run to the floor: put the base between the sides, or leave "
            "the plinth out.",
        )


def _check_sizes(making: Making, shell: Shell) -> None:
    case, t, inside = making.case, shell.t, shell.inside
    if inside.high.x - inside.low.x < LEAST_INSIDE:
        making.fault(
            "case-too-small",
            making.path("width"),
            found=f"{making.mm(case.width)} with two sides of {making.mm(t)}",
            allowed=f"at least {making.least(2 * t + LEAST_INSIDE)}",
            do="Make the case wider, or choose a thinner board.",
        )
    if inside.high.z - inside.low.z < LEAST_INSIDE and shell.floor < case.height:
        making.fault(
            "case-too-small",
            making.path("height"),
            found=f"{making.mm(case.height)}, of which plinth, base and top take "
            f"{making.mm(case.height - inside.high.z + inside.low.z)}",
            allowed=f"at least {making.least(case.height - inside.high.z + inside.low.z + LEAST_INSIDE)}",
            do="Make the case higher, the plinth lower, or choose a thinner board.",
            ways=(making.at_least(case.height - inside.high.z + inside.low.z + LEAST_INSIDE),),
        )
    rails = case.top is BetweenOrOver.RAILS and not rails_are_upright(making)
    room = min(shell.top_rear, shell.base_rear)
    if rails and not 0 < case.rail_count * case.rail_width <= room + EXACT:
        making.fault(
            "rails-too-wide",
            making.path("rail_width"),
            found=f"{_COUNTS[case.rail_count]} rails of {making.mm(case.rail_width)}",
            allowed=f"at most {making.most(room / case.rail_count)} each",
            do="Make the rails narrower, or use a full top or base.",
            ways=(making.at_most(room / case.rail_count),) if room > 0 else (),
        )


def _check_plinth(making: Making, shell: Shell) -> None:
    case, plinth = making.case, making.case.plinth
    if plinth is None:
        return
    if plinth.height >= case.height:
        making.fault(
            "plinth-height",
            f"{plinth.field}.height",
            found=f"{making.mm(plinth.height)} in a case {making.mm(case.height)} high",
            allowed=f"less than {making.most(case.height - 2 * shell.t - LEAST_INSIDE)}",
            do="Make the plinth lower or the case higher.",
            ways=(making.at_most(case.height - 2 * shell.t - LEAST_INSIDE),),
        )
    thick = making.board(plinth.board).measured
    room = min(shell.base_rear, case.depth - case.clear_of_wall) - thick * (2 if plinth.back_rail else 1)
    if not 0 <= plinth.setback <= room + EXACT:
        making.fault(
            "plinth-setback",
            f"{plinth.field}.setback",
            found=making.mm(plinth.setback),
            allowed=f"0 to {making.mm(max(0.0, room))}",
            do="Keep the plinth under the base.",
            ways=(making.at_most(max(0.0, room)),),
        )


def _check_back(making: Making, shell: Shell) -> None:
    case, back = making.case, making.case.back
    if shell.inside.high.y < LEAST_INSIDE:
        takes = shell.back_t + shell.inset
        making.fault(
            "back-leaves-nothing",
            f"{back.field}.inset" if shell.inset else making.path("depth"),
            found=f"a depth of {making.mm(case.depth)}, of which the back takes {making.mm(takes)}",
            allowed=f"at least {making.least(LEAST_INSIDE)} left inside",
            do="Make the case deeper, the back's board thinner or its inset less.",
            ways=(making.at_least(takes + LEAST_INSIDE, making.path("depth")),),
        )
    if back.inset < 0:
        making.fault(
            "back-inset",
            f"{back.field}.inset",
            found=making.mm(back.inset),
            allowed="0 or more",
            do="The inset is counted forward from the rear edge.",
            ways=(making.at_least(0.0),),
        )
    if back.kind is BackKind.GROOVED:
        _check_groove(making, shell)


def _check_groove(making: Making, shell: Shell) -> None:
    back, skin = making.case.back, making.job.limits.skin
    if shell.t < LEAST_GROOVED:
        making.fault(
            "back-groove",
            f"{back.field}.kind",
            found=f'"grooved" in a board of {making.mm(shell.t)}',
            allowed=f"boards of {making.mm(LEAST_GROOVED)} or more for a groove one third deep",
            do="Choose an applied back or a thicker board.",
            ways=(WayOut(field="", value=BackKind.APPLIED.value),),
        )
    if 0 <= shell.inset < skin + GROOVE_SLACK - EXACT:
        making.fault(
            "back-inset",
            f"{back.field}.inset",
            found=making.mm(shell.inset),
            allowed=f"at least {making.least(skin + GROOVE_SLACK)}, so that {making.mm(skin)} of board stays behind "
            "the groove",
            do="Set the back further in, or choose a rebated or applied back.",
            ways=(
                making.at_least(skin + GROOVE_SLACK),
                WayOut(field=f"{back.field}.kind", value=BackKind.REBATED.value),
            ),
        )


GROOVE_SLACK = 0.2
"""A groove is this much wider than the panel in it (mm), toward the rear or top; common practice, no source."""


def add_shell(making: Making, shell: Shell) -> None:
    """Put the sides, top, base, rails and plinth in their places."""
    _add_sides(making, shell)
    _add_level(making, shell, top=True)
    _add_level(making, shell, top=False)
    _add_plinth(making, shell)


def _showing_ends(case: Case, shell: Shell) -> Iterator[Surface]:
    """Yield the ends of the sides that are to be edged: they show on a low case, and under one that hangs."""
    if not case.edged_ends:
        return
    if shell.side_high >= case.height - EXACT and case.worktop is None:
        yield Surface.FAR_END
    if case.hung is not None and shell.side_low <= EXACT:
        yield Surface.DATUM_END


def _add_sides(making: Making, shell: Shell) -> None:
    case, t, unit = making.case, shell.t, making.job.unit
    whole = making.case.height
    length = told(unit, whole, Term(-1, whole - shell.side_high), Term(-1, shell.side_low))
    edged = (Surface.FACE_EDGE, *_showing_ends(case, shell))
    left, right = (case.scribe.left, case.scribe.right) if case.scribe is not None else (0.0, 0.0)
    for role, word, other, x, more in (
        (Role.SIDE_LEFT, "left", "right", (0.0, t), left),
        (Role.SIDE_RIGHT, "right", "left", (case.width - t, case.width), right),
    ):
        making.add(
            Blank(
                suffix=f"side-{word}",
                role=role,
                name=f"{word} side",
                board=shell.board,
                box=box_of(x, (0.0, shell.side_depth + more), (shell.side_low, shell.side_high)),
                sums=(length, told(unit, case.depth, Term(-1, case.depth - shell.side_depth), Term(1, more))),
                cause=case.field,
                twin=f"side-{other}" if left == right else None,
                edged=edged,
                scribed=Scribed(edge=Surface.FAR_EDGE, allowance=more) if more else None,
            )
        )


def _add_level(making: Making, shell: Shell, *, top: bool) -> None:
    """Put in what closes the case above or below."""
    case, t, unit = making.case, shell.t, making.job.unit
    kind, word = (case.top, "top") if top else (case.base, "base")
    if kind is BetweenOrOver.NONE:
        return
    z = (case.height - t, case.height) if top else (shell.floor, shell.floor + t)
    rear = shell.top_rear if top else shell.base_rear
    if kind is BetweenOrOver.RAILS:
        _add_rails(making, shell, word, z, rear)
        return
    whole = kind in {BetweenOrOver.OVER_SIDES, BetweenOrOver.UNDER_SIDES}
    ends = (Surface.DATUM_END, Surface.FAR_END) if whole else ()
    making.add(
        Blank(
            suffix=word,
            role=Role.TOP if top else Role.BASE,
            name=word,
            board=shell.board,
            box=box_of((0.0, case.width) if whole else (t, case.width - t), (0.0, rear), z),
            sums=(
                told(unit, case.width) if whole else told(unit, case.width, Term(-2, t)),
                told(unit, case.depth, *room_of_back(shell, case.depth - rear)),
            ),
            cause=making.path(word),
            edged=(Surface.FACE_EDGE, *ends),
        )
    )


def room_of_back(shell: Shell, lost: float) -> tuple[Term, ...]:
    """Return how a panel comes to lose the back's room: its inset and its thickness."""
    if lost < EXACT:
        return ()
    if abs(lost - shell.back_t) < EXACT:
        return (Term(-1, shell.back_t),)
    if abs(lost - shell.inset - shell.back_t) > EXACT:
        return (Term(-1, lost),)  # a base that ends before a skirting board
    return (Term(-1, shell.inset), Term(-1, shell.back_t))


def _add_rails(making: Making, shell: Shell, word: str, z: tuple[float, float], rear: float) -> None:
    """Put two rails or three in place of a top: flat to its rear edge, or upright with the back one before the back."""
    case, t, unit = making.case, shell.t, making.job.unit
    upright = rails_are_upright(making)
    deep = t if upright else case.rail_width
    behind = shell.inside.high.y if upright else rear
    middle = ((behind - deep) / 2, (behind + deep) / 2)
    places = [("front", (0.0, deep), (Surface.FACE_EDGE,)), ("back", (behind - deep, behind), ())]
    if case.rail_count > 2:
        places.insert(1, ("middle", middle, ()))
    for i, (place, y, edged) in enumerate(places, start=1):
        making.add(
            Blank(
                suffix=f"rail-{i}",
                role=Role.RAIL,
                name=f"{word} {place} rail",
                board=shell.board,
                box=box_of((t, case.width - t), y, (case.height - case.rail_width, case.height) if upright else z),
                sums=(told(unit, case.width, Term(-2, t)), told(unit, case.rail_width)),
                cause=making.path(word),
                edged=() if upright else edged,
                frame=FACING if upright else None,
            )
        )


def _add_plinth(making: Making, shell: Shell) -> None:
    case, plinth, t, unit = making.case, making.case.plinth, shell.t, making.job.unit
    if plinth is None:
        return
    board = making.board(plinth.board)
    thick = board.measured
    places = [("plinth", "plinth", (plinth.setback, plinth.setback + thick))]
    if plinth.back_rail:
        rear = max(shell.inside.high.y - BACK_RAIL_IN, min(shell.base_rear, plinth.setback + 2 * thick))
        rear = min(rear, case.depth - case.clear_of_wall)
        places.append(("plinth-back", "plinth back rail", (rear - thick, rear)))
    for suffix, name, y in places:
        making.add(
            Blank(
                suffix=suffix,
                role=Role.PLINTH,
                name=name,
                board=board,
                box=box_of((t, case.width - t), y, (0.0, plinth.height)),
                sums=(told(unit, case.width, Term(-2, t)), told(unit, plinth.height)),
                cause=plinth.field,
            )
        )
