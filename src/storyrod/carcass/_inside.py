"""The inside tree: openings whole or cut into rows and columns, and the panels that part them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from storyrod.carcass._front_heights import sized_by_fronts
from storyrod.carcass._making import Blank, Making, box_of
from storyrod.carcass._shares import Share, share_out
from storyrod.carcass._shell import LEAST_INSIDE, Shell, room_of_back
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, Box
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import OpeningPlace
from storyrod.model.job import FrontKind, Holds, Opening, Split
from storyrod.model.panel import PanelId, Role, Surface

DOORS = frozenset({Holds.DOOR, Holds.PAIR_OF_DOORS})

BEHIND_INSET_DOOR = 2.0
"""Room left between an inset door and what stands behind it (mm); common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """What an opening ends at on one side.

    `outside` is the carcass's own side, top or base, or where it would be; then `reach` is from the opening to
    the carcass's outside. Else `panel` is a divider or shelf, `reach` thick; with neither there is no panel at all,
    but a divider beyond it may end there (`has_ends`).
    """

    panel: PanelId | None
    outside: bool
    reach: float
    has_ends: bool = False

    @property
    def is_open(self) -> bool:
        """Whether there is nothing to hang anything on."""
        return self.panel is None and not self.outside


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """One node of the inside tree in its place.

    Attributes:
        cut_as: whether it is a row, a column, or (None) the whole inside.
        box: clear room, from the front edges of the panels inside it to the back.
        sums: how its width and height came about.
        rear: how the case's depth comes to end at the back.
        behind_door: whether a door of an outer node stands before it.
    """

    node: Opening
    id: str
    name: str
    cut_as: Split | None
    box: Box
    depth_order: int
    left: Bound
    right: Bound
    above: Bound
    below: Bound
    sums: tuple[str, str]
    rear: tuple[Term, ...]
    behind_door: bool = False
    children: tuple[Bay, ...] = ()

    @property
    def width(self) -> float:
        """Clear width."""
        return self.box.size(Axis.X)

    @property
    def height(self) -> float:
        """Clear height."""
        return self.box.size(Axis.Z)

    @property
    def height_field(self) -> str:
        """Where the maker would mend its height."""
        return f"{self.node.field}.height" if self.cut_as is Split.ROWS else self.node.field

    @property
    def width_field(self) -> str:
        """Where the maker would mend its width."""
        return f"{self.node.field}.width" if self.cut_as is Split.COLUMNS else self.node.field

    def walk(self) -> Iterator[Bay]:
        """Yield this bay and all inside it, outer ones first."""
        yield self
        for child in self.children:
            yield from child.walk()


def lay_inside(making: Making, shell: Shell) -> tuple[Bay, ...]:
    """Return every opening of the case in its place, outer ones first; parting panels are put in."""
    case, unit, inside = making.case, making.job.unit, shell.inside
    above, below = case.height - inside.high.z, inside.low.z - shell.floor
    root = Bay(
        node=case.inside,
        id=making.id_of("inside"),
        name=case.inside.name or "inside",
        cut_as=None,
        box=inside,
        depth_order=0,
        left=Bound(panel=making.id_of("side-left"), outside=True, reach=shell.t),
        right=Bound(panel=making.id_of("side-right"), outside=True, reach=shell.t),
        above=_level(making, "top", above),
        below=_level(making, "base", below),
        sums=(
            told(unit, case.width, Term(-2, shell.t)),
            told(unit, case.height, Term(-1, shell.floor), Term(-1, above), Term(-1, below)),
        ),
        rear=room_of_back(shell, case.depth - inside.high.y),
    )
    bays = tuple(_filled(making, root).walk())
    making.openings += [_told_place(b) for b in bays]
    return bays


def _level(making: Making, suffix: str, reach: float) -> Bound:
    own = making.id_of(suffix)
    return Bound(panel=own if own in making.panels else None, outside=True, reach=reach)


def _told_place(bay: Bay) -> OpeningPlace:
    node = bay.node
    return OpeningPlace(
        id=bay.id,
        name=bay.name,
        box=bay.box,
        holds=node.holds,
        loose_shelves=node.loose_shelves,
        load_kg=node.load_kg,
        depth_order=bay.depth_order,
        children=tuple(c.id for c in bay.children),
        cause=node.field,
    )


def _filled(making: Making, bay: Bay) -> Bay:
    """Return the bay with all that is inside it."""
    node = bay.node
    if node.split is None or not node.inside:
        return bay
    board = making.board(node.divider_board)
    rows = node.split is Split.ROWS
    thick = board.measured
    shares = _row_shares(making, bay, thick) if rows else share_out(making, node, bay.width, thick)
    if shares is None or not _keeps_depth(making, bay):
        return bay
    room = _behind_door(making, bay)
    laid = (_rows if rows else _columns)(making, room, shares)
    return replace(bay, children=tuple(_filled(making, child) for child in laid))


def _row_shares(making: Making, bay: Bay, thick: float) -> tuple[Share, ...] | None:
    """Return the heights of the rows, or None after noting why they cannot be.

    A shelf whose height is given ends a group of rows: those over it share what there is down to it.
    """
    start, level = 0, bay.box.high.z
    found: list[Share] = []
    by_fronts = sized_by_fronts(making, bay, _row_bounds(making, bay, thick), thick)
    if by_fronts is None:
        return None
    node, sums = by_fronts
    for i, row in enumerate(node.inside):
        last = i == len(node.inside) - 1
        if row.shelf_at is None and not last:
            continue
        low = bay.box.low.z if last or row.shelf_at is None else row.shelf_at
        if row.shelf_at is not None and not _fits_shelf(making, bay, i, level, thick):
            return None
        group = share_out(making, replace(node, inside=node.inside[start : i + 1]), level - low, thick)
        if group is None:
            return None
        found += group
        start, level = i + 1, low - thick
    return tuple(replace(share, told=sums.get(i, share.told)) for i, share in enumerate(found))


def _row_bounds(making: Making, bay: Bay, thick: float) -> list[tuple[Bound, Bound]]:
    """Return what each row ends at above and below, before the panels between them are in their places."""
    rows = bay.node.inside
    shelf = Bound(panel=making.id_of("shelf"), outside=False, reach=thick)
    found: list[tuple[Bound, Bound]] = []
    above = bay.above
    for i, row in enumerate(rows):
        last = i == len(rows) - 1
        below = bay.below if last else shelf
        following = below
        if not last and not row.parted:
            below = _open(has_ends=_has_ends(rows[i + 1], top=True))
            following = _open(has_ends=_has_ends(row, top=False))
        found.append((above, below))
        above = following
    return found


def _fits_shelf(making: Making, bay: Bay, i: int, level: float, thick: float) -> bool:
    """Return whether there can be a shelf where row `i` says, with some room over and under it."""
    row, last = bay.node.inside[i], i == len(bay.node.inside) - 1
    field = f"{row.field}.shelf_at"
    if last or not row.parted:
        making.fault(
            "shelf-height",
            field,
            found="the height of a shelf below the last row" if last else "the height of a shelf that does not exist",
            allowed="a row with a shelf below it",
            do="Leave it out." if last else "Leave `parted` at true, or leave it out.",
            ways=(WayOut(field=field, value=None),),
        )
        return False
    least, most = bay.box.low.z + LEAST_INSIDE + thick, level - LEAST_INSIDE
    at = row.shelf_at or 0.0
    if least - EXACT <= at <= most + EXACT:
        return True
    making.fault(
        "shelf-height",
        field,
        found=f"a shelf {making.mm(at)} above the floor in {bay.name}",
        allowed=f"{making.least(least)} to {making.most(most)}"
        if most >= least
        else "a shelf below whatever is above it, with room under it",
        do="Set it at another height, or leave it out.",
        ways=(WayOut(field=field, value=None),),
    )
    return False


def _keeps_depth(making: Making, bay: Bay) -> bool:
    """Return whether shelves that are set back keep some depth; runners and hinges want dividers at the front."""
    depth, columns = bay.box.size(Axis.Y), bay.node.split is Split.COLUMNS
    most = 0.0 if columns else depth - LEAST_INSIDE
    if bay.node.set_back <= most + EXACT:
        return True
    field = f"{bay.node.field}.set_back"
    making.fault(
        "set-back",
        field,
        found=f"{making.mm(bay.node.set_back)} in {bay.name}, {making.mm(depth)} deep",
        allowed="shelves set back, no dividers" if columns else f"at most {making.most(max(0.0, most))}",
        do="Leave it out." if columns else "Set them back less.",
        ways=(WayOut(field=field, value=None),),
    )
    return False


def _behind_door(making: Making, bay: Bay) -> Bay:
    """Return the room for what is inside the bay: less deep where an inset door stands before it."""
    if bay.node.holds not in DOORS:
        return bay
    return replace(bay, box=bay.box.with_span(Axis.Y, inner_front(making, bay), bay.box.high.y), behind_door=True)


def is_inset(making: Making, bay: Bay) -> bool:
    """Return whether a bay's front stands between the panels: by the job's word, or because a door is before it."""
    return stands_inset(making, bay) or bay.behind_door


def stands_inset(making: Making, bay: Bay) -> bool:
    """Return whether a bay's front is inset by what the job says, whatever stands before it."""
    return (bay.node.front_kind or making.case.fronts.kind) is FrontKind.INSET


def inner_front(making: Making, bay: Bay) -> float:
    """Return how far back (y) the front edges of what stands in the bay are."""
    fronts = making.case.fronts
    if bay.node.holds in DOORS and stands_inset(making, bay):
        return fronts.back + making.board(fronts.board).measured + BEHIND_INSET_DOOR
    return bay.box.low.y


def _child(bay: Bay, i: int, word: str, node: Opening) -> Bay:
    name = f"{word} {i + 1}" if bay.depth_order == 0 else f"{bay.name}, {word} {i + 1}"
    return replace(
        bay,
        node=node,
        id=f"{bay.id}.{i + 1}",
        name=node.name or name,
        cut_as=bay.node.split,
        depth_order=bay.depth_order + 1,
    )


def _rows(making: Making, bay: Bay, shares: tuple[Share, ...]) -> list[Bay]:
    node, board = bay.node, making.board(bay.node.divider_board)
    last, level, above = len(shares) - 1, bay.box.high.z, bay.above
    laid: list[Bay] = []
    for i, (child, share) in enumerate(zip(node.inside, shares, strict=True)):
        low = bay.box.low.z if i == last else level - share.size if child.shelf_at is None else child.shelf_at
        below, next_above, next_level = bay.below, bay.below, low
        if i != last and not child.parted:
            below = _open(has_ends=_has_ends(node.inside[i + 1], top=True))
            next_above = _open(has_ends=_has_ends(child, top=False))
        elif i != last:
            next_level = low - board.measured
            below = next_above = Bound(
                panel=_add_shelf(making, bay, (next_level, low)), outside=False, reach=board.measured
            )
        laid.append(
            replace(
                _child(bay, i, "row", child),
                box=bay.box.with_span(Axis.Z, low, level),
                above=above,
                below=below,
                sums=(bay.sums[0], share.told),
            )
        )
        level, above = next_level, next_above
    return laid


def _open(*, has_ends: bool = False) -> Bound:
    return Bound(panel=None, outside=False, reach=0.0, has_ends=has_ends)


def _has_ends(node: Opening, *, top: bool) -> bool:
    """Whether dividers in the opening end at its top (or bottom)."""
    if node.split is Split.COLUMNS:
        return any(n.parted for n in node.inside[:-1]) or any(_has_ends(n, top=top) for n in node.inside)
    return bool(node.inside) and _has_ends(node.inside[0 if top else -1], top=top)


def _columns(making: Making, bay: Bay, shares: tuple[Share, ...]) -> list[Bay]:
    node, board = bay.node, making.board(bay.node.divider_board)
    last, start, left = len(shares) - 1, bay.box.low.x, bay.left
    laid: list[Bay] = []
    for i, (child, share) in enumerate(zip(node.inside, shares, strict=True)):
        high = bay.box.high.x if i == last else start + share.size
        right, next_start = bay.right, high
        if i != last:
            right = _open()
            if child.parted:
                next_start = high + board.measured
                right = Bound(panel=_add_divider(making, bay, (high, next_start)), outside=False, reach=board.measured)
        laid.append(
            replace(
                _child(bay, i, "column", child),
                box=bay.box.with_span(Axis.X, start, high),
                left=left,
                right=right,
                sums=(share.told, bay.sums[1]),
            )
        )
        start, left = next_start, right
    return laid


def _depth_told(making: Making, bay: Bay) -> str:
    back = bay.node.set_back
    return told(making.job.unit, making.case.depth, *bay.rear, Term(-1, bay.box.low.y), Term(-1, back))


def _add_shelf(making: Making, bay: Bay, z: tuple[float, float]) -> PanelId:
    number = 1 + sum(p.role is Role.SHELF for p in making.panels.values())
    front, rear = bay.box.span(Axis.Y)
    box = bay.box.with_span(Axis.Z, *z).with_span(Axis.Y, front + bay.node.set_back, rear)
    return making.add(
        Blank(
            suffix=f"shelf-{number}",
            role=Role.SHELF,
            name=f"shelf {number}",
            board=making.board(bay.node.divider_board),
            box=box,
            sums=(bay.sums[0], _depth_told(making, bay)),
            cause=f"{bay.node.field}.rows",
            opening=bay.id,
            edged=(Surface.FACE_EDGE,),
        )
    ).id


def _add_divider(making: Making, bay: Bay, x: tuple[float, float]) -> PanelId:
    number = 1 + sum(p.role is Role.DIVIDER for p in making.panels.values())
    box = box_of(x, bay.box.span(Axis.Y), bay.box.span(Axis.Z))
    return making.add(
        Blank(
            suffix=f"divider-{number}",
            role=Role.DIVIDER,
            name=f"divider {number}",
            board=making.board(bay.node.divider_board),
            box=box,
            sums=(bay.sums[1], _depth_told(making, bay)),
            cause=f"{bay.node.field}.columns",
            opening=bay.id,
            edged=(Surface.FACE_EDGE,),
        )
    ).id
