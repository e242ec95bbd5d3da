"""What a rescue says: what was recorded, what it breaks, the ways out, and the sheet of the one that is taken."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from storyrod.measure.space import PANEL_AXES
from storyrod.model.as_built import Slip, SlipKind
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.mark import Mark, PanelSetOut
from storyrod.model.panel import Panel, PanelId
from storyrod.model.rescue import Break, Cost, MoveKind, Plug, Rescue, Way
from storyrod.planning import Plan, cautions_anew, set_out_anew, weaker_anew
from storyrod.rescue import cut_as_it_lies
from storyrod.telling.blocks import Block, Bullets, Heading, Words, right, table, wide

if TYPE_CHECKING:
    from storyrod.measure.writing import LengthWriter

LINES_TOLD: Final = 8
"""Lines of what the proof says that are told one by one."""

BY_TWO: Final = 2
"""Moves together that are always tried; three only where two do not do."""

BY: Final = ("all", "minutes", "money", "risk", "seen")
"""What ways can be put in order by."""

SEEN: Final = ("nothing is seen", "hardly seen", "seen from the side", "seen from the front")
RISK: Final = ("no risk", "small risk", "some risk", "high risk")


def slip_words(slip: Slip, lengths: LengthWriter) -> str:
    """Return a slip as one sentence."""
    told = lengths.told
    cuts = f"cuts {', '.join(slip.cuts)}" if slip.cuts else ""
    copy = f" (copy {slip.copy})" if slip.copy > 1 else ""
    words = ""
    match slip.kind:
        case SlipKind.SIZE:
            names = ("length", "width", "thickness", "out_of_square")
            words = ", ".join(f"{n.replace('_', ' ')} {told(v)}" for n in names if (v := getattr(slip, n)) is not None)
        case SlipKind.ELSEWHERE | SlipKind.TWICE:
            off = " and ".join(f"{told(v)} {n}" for n in ("along", "across") if (v := getattr(slip, n)) is not None)
            words = f"{cuts} {'off by' if slip.kind is SlipKind.ELSEWHERE else 'once more, off by'} {off}"
        case SlipKind.WRONG_END:
            words = f"{cuts} measured from the wrong end"
        case SlipKind.OTHER_FACE:
            words = f"{cuts} in the opposite surface"
        case SlipKind.DEPTH | SlipKind.WIDTH:
            size = slip.depth if slip.kind is SlipKind.DEPTH else slip.cut_width
            words = f"{cuts} {told(size or 0.0)} {'deep' if slip.kind is SlipKind.DEPTH else 'wide'}"
        case SlipKind.NOT_CUT:
            words = f"{cuts} not cut"
        case SlipKind.DAMAGE:
            words = f"damage of {told(slip.size or 0.0)} on the {slip.surface}"
        case SlipKind.LOST:
            words = "lost"
        case SlipKind.GLUED:
            joints = f" at {', '.join(slip.joints)}" if slip.joints else ""
            words = f"glued in{joints}" + (f", {told(slip.off)} off its lines" if slip.off else "")
    return f"{slip.panel}{copy}: {words}."


def break_lines(breaks: Sequence[Break]) -> tuple[str, ...]:
    """Return what no longer holds, a line each; of very many the first, and how many more."""
    lines = tuple(dict.fromkeys(f"{b.found}; wanted: {b.allowed}." for b in breaks))
    if len(lines) <= LINES_TOLD:
        return lines
    return (*lines[:LINES_TOLD], f"{len(lines) - LINES_TOLD} more that follow from these.")


def cost_words(cost: Cost, currency: str) -> str:
    """Return what a way costs: minutes, money, waiting, risk and what is seen."""
    parts = [f"{cost.minutes:,.0f} min"]
    if cost.wait_min:
        parts.append(f"{cost.wait_min:,.0f} min in the clamps")
    parts.append("money not known" if cost.cents is None else f"{cost.cents / 100:.2f} {currency}".rstrip())
    return ", ".join((*parts, RISK[min(cost.risk, 3)], SEEN[min(cost.seen, 3)]))


def way_lines(way: Way) -> tuple[str, ...]:
    """Return what is done on a way, a sentence each."""
    if not way.moves:
        again = " What is not cut yet is cut as marked." if way.again or way.to_cut else ""
        return (f"Nothing needs to change: what is cut will do as it is.{again}",)
    lines = [m.text for m in way.moves]
    if way.again:
        many = f"{len(way.again)} cuts" if len(way.again) > 1 else "1 cut"
        lines.append(f"Make {many} again.")
    return tuple(lines)


def found_words(told: Rescue) -> str:
    """Return in a sentence how sure it is that the first way is the best."""
    most = "two" if told.most_moves == BY_TWO else "three"
    tried = f"{told.tried} combinations of up to {most} moves that come right on paper, {told.proven} of them proven"
    if not told.ways:
        return (
            f"No way out was found among {tried}. Where glue holds it, make both panels of the joint again, or change "
            f"the brief."
        )
    three = "No two moves do. " if told.most_moves > BY_TWO else ""
    if told.only_remaking:
        return f"{three}Only remaking helps. Weighed up: {tried}."
    if told.is_best:
        return f"{three}The first way is the best. Weighed up: {tried}."
    return f"{three}The first way is the best found, though a better one may exist. Weighed up: {tried}."


def in_order(ways: tuple[Way, ...], by: str) -> tuple[Way, ...]:
    """Return the ways with the least of something first."""
    keys: dict[str, Callable[[Way], tuple[float, float]]] = {
        "all": lambda w: (0.0, w.cost.score),
        "minutes": lambda w: (w.cost.minutes, w.cost.score),
        "money": lambda w: (float("inf") if w.cost.cents is None else w.cost.cents, w.cost.score),
        "risk": lambda w: (w.cost.risk, w.cost.score),
        "seen": lambda w: (w.cost.seen, w.cost.score),
    }
    return tuple(sorted(ways, key=keys[by]))


# --- The sheet --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A panel that a way changes.

    Attributes:
        set_out: its marks as they now are: a figure that did not change is the one on the page it replaces.
        old: cuts in it that serve nothing, in its frame, with the plug of each.
        new: marks that are new, moved, or to be cut once more.
    """

    panel: Panel
    set_out: PanelSetOut
    old: tuple[tuple[Feature, Plug | None], ...]
    new: tuple[Mark, ...]


class Sheet:
    """The rescue sheet of one way: only what changed."""

    def __init__(self, plan: Plan, way: Way) -> None:
        self.plan, self.way = plan, way
        self.lengths = plan.job.lengths
        self.planned = next(c for c in plan.details.cases if c.built.case.code == way.case.built.case.code)
        self._before = {f.id: f for f in self.planned.features}
        self._marks = {m.feature.id: m for c in plan.set_out.cases for p in c.panels for m in p.marks}
        self._out = set_out_anew(plan, way.case)

    def changed(self) -> tuple[Changed, ...]:
        """Return the panels that are marked otherwise, or have old cuts, plugs or another piece."""
        found = []
        outs = {p.panel.id: p for p in self._out.panels}
        for panel in self.way.case.panels:
            set_out = self._marked(outs[panel.id])
            new = tuple(m for m in set_out.marks if self._is_new(m.feature))
            old = tuple(self._old(panel))
            if new or old or self._is_seated_anew(panel.id):
                found.append(Changed(panel=panel, set_out=set_out, old=old, new=new))
        return tuple(found)

    def _is_new(self, feature: Feature) -> bool:
        before = self._before.get(feature.id)
        if before is None or (feature.id in self.way.again and not self._is_remade(feature.panel)):
            return True
        return _apart(before, feature) > 1e-6 or before.shape != feature.shape

    def _is_remade(self, panel: PanelId) -> bool:
        """Return whether a panel is made anew: its own page then still holds, but for what is moved."""
        return self.way.pieces[self.way.seats[panel].piece].is_new

    def _is_seated_anew(self, panel: PanelId) -> bool:
        seat = self.way.seats[panel]
        if self._is_remade(panel):
            return False
        return str(seat.piece) != str(panel) or seat.signs != (1, 1, 1)

    def _marked(self, out: PanelSetOut) -> PanelSetOut:
        """Return marks with the figures of the page they replace, moved as the cut is; new ones as they are rounded."""
        marks = []
        for mark in out.marks:
            before, printed = self._before.get(mark.feature.id), self._marks.get(mark.feature.id)
            if before is not None and printed is not None and before.surface is mark.feature.surface:
                by = {a.value: mark.feature.at.along(a) - before.at.along(a) for a in PANEL_AXES}
                mark = replace(mark, **{a: getattr(printed, a) + by[a] for a in "uvw"})  # noqa: PLW2901
            marks.append(mark)
        return replace(out, marks=tuple(marks))

    def _old(self, panel: Panel) -> Iterator[tuple[Feature, Plug | None]]:
        seat = self.way.seats[panel.id]
        piece = self.way.pieces[seat.piece]
        plugs: Mapping[int, Plug] = {p.cut: p for p in self.way.plugs if p.piece == piece.id}
        for owner, number in self.way.old:
            if owner == piece.id:
                yield cut_as_it_lies(self._as_printed(piece.cuts[number]), piece, seat.signs, panel), plugs.get(number)

    def _as_printed(self, cut: Feature) -> Feature:
        """Return an old cut where the figures on paper say it is: as its mark was rounded, and as far off."""
        before, mark = self._before.get(cut.id), self._marks.get(cut.id)
        if before is None or mark is None or before.surface is not cut.surface:
            return cut
        at = cut.at
        for axis in PANEL_AXES:
            at = at.moved(axis, getattr(mark, axis.value) - before.at.along(axis))
        return replace(cut, at=at)

    def replaced(self) -> tuple[str, ...]:
        """Return which pages of the packet no longer hold, and what stays true."""
        changed = self.changed()
        lines = []
        if changed:
            marks = ", ".join(c.panel.mark for c in changed)
            lines.append(f"Set-out of {marks}: this sheet replaces it.")
        remade = ", ".join(p.mark for p in self.way.case.panels if self._is_remade(p.id))
        if remade:
            lines.append(f"Make the new {remade} by its own pages, except where this sheet says otherwise.")
        cards = self._cards([c.panel.id for c in changed])
        if cards:
            lines.append(f"Set-up cards {', '.join(cards)}: strike out these panels, and go by this sheet.")
        lines += self._counts()
        lines.append("All other pages of the packet still hold.")
        return tuple(lines)

    def _cards(self, panels: Sequence[PanelId]) -> tuple[str, ...]:
        """Return the set-ups of the packet that cut what is now cut otherwise."""
        changed = {m.feature.id for c in self.changed() for m in c.new} | self._gone()
        found = []
        for set_up in self.plan.machining.set_ups:
            if not set_up.is_cut:
                continue
            cut = {f for o in set_up.operations if o.panel in panels for f in o.features}
            if cut & changed:
                found.append(set_up.id)
        return tuple(found)

    def _gone(self) -> frozenset[FeatureId]:
        return frozenset(self._before) - frozenset(f.id for f in self.way.case.features)

    def _counts(self) -> Iterator[str]:
        """Yield how many more or fewer connectors are bought."""
        before = {c.item: 0 for c in (*self.planned.connectors, *self.way.case.connectors)}
        now = dict(before)
        for one in self.planned.connectors:
            before[one.item] += one.count
        for one in self.way.case.connectors:
            now[one.item] += one.count
        for item, count in before.items():
            if now[item] != count:
                yield f"Buying list: {now[item]} × {item}, not {count}."

    def blocks(self, slips: Sequence[Slip]) -> Iterator[Block]:
        """Yield the sheet's words and tables, without its drawings."""
        yield Heading(text="What happened")
        yield Bullets(items=tuple(slip_words(s, self.lengths) for s in slips))
        yield Heading(text="What to do, in this order")
        yield Bullets(items=tuple(self._steps()), ticks=True)
        watch = self.watch()
        if watch:
            yield Heading(text="What to watch")
            yield Bullets(items=watch)
        yield Heading(text="Pages of the packet")
        yield Bullets(items=self.replaced())

    def watch(self) -> tuple[str, ...]:
        """Return what to watch for on the way, and what is weaker, sags or stands less well for it."""
        told = (w for m in self.way.moves for w in (m.watch, m.weaker) if w)
        real = replace(self.way.case, panels=self.way.as_stands.panels, _by_panel={})
        more = (*weaker_anew(self.plan, real), *map(str, cautions_anew(self.plan, real)))
        return tuple(dict.fromkeys((*told, *more)))

    def _steps(self) -> Iterator[str]:
        yield from way_lines(self.way)
        if any(m.kind in {MoveKind.METHOD, MoveKind.REMAKE} for m in self.way.moves):
            yield "Mark and cut it as the tables below say."

    def tables_of(self, one: Changed) -> Iterator[Block]:
        """Yield the new marks and the old cuts of a panel."""
        n = self.lengths.n
        if one.new:
            figures = right("datum end"), right("face edge"), right("face side")
            yield table((wide("mark"), wide("what"), "surface", *figures, "cut"), [self._row(m) for m in one.new])
        if one.old:
            head = (wide("strike out"), wide("surface"), right("datum end"), right("face edge"), wide("then"))
            old = [(c.kind, c.surface.value, n(c.at.u), n(c.at.v), self._becomes(plug)) for c, plug in one.old]
            yield table(head, old)
        if not one.new and not one.old:
            yield Words(text="Leave its cuts as they are; strike out its marks and mark it again.")

    def _row(self, mark: Mark) -> tuple[str, ...]:
        name = f"{mark.label} ({mark.joint})" if mark.joint else mark.label
        n, feature = self.lengths.n, mark.feature.id
        then = "again" if feature in self.way.again else "cut" if feature in self.way.to_cut else "there"
        return name, mark.what, mark.surface.value, n(mark.u), n(mark.v), n(mark.w), then

    def _becomes(self, plug: Plug | None) -> str:
        if plug is None:
            return "stays open"
        return f"strip {self.lengths.told(plug.size)} wide" if plug.is_strip else f"plug {self.lengths.told(plug.size)}"


def _apart(one: Feature, other: Feature) -> float:
    return max(abs(one.at.along(a) - other.at.along(a)) for a in PANEL_AXES)
