"""Set-up cards: what is set, its pictures, what to watch for, then the work in order.

Cards that follow each other and differ only in drill, depth and packer are one card with a row for each: the tool stays
in the hand.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from storyrod.adapters.packet._blocks import Block, Section, Together
from storyrod.adapters.packet._card_room import arranged, strip
from storyrod.adapters.packet._page_room import height_of
from storyrod.drawing import Figures
from storyrod.drawing.feed_plan import feed_plan
from storyrod.drawing.set_up_section import set_up_section
from storyrod.measure.writing import LengthWriter
from storyrod.model.bench_lines import BenchLine
from storyrod.model.machining import Operation, Setting, SetUp, WorkPlan
from storyrod.model.panel import Panel, PanelId
from storyrod.model.workshop import ToolKind
from storyrod.telling.blocks import TICK, Bullets, Column, Picture, Table, Warning_, Words, right, table, wide
from storyrod.telling.lies import laid_for
from storyrod.telling.placing import changes_over, placed_from
from storyrod.telling.set_ups import bare_numbers, depth_name, setting_facts, stop_words

_APART = frozenset({"cutter", "packer", *map(depth_name, ToolKind)})
"""What may differ from set-up to set-up of one card."""
_READ_ONCE = frozenset({"tool", "cutter", "bush", "jig", "passes", "speed"})
"""What is fetched or switched on, not set by a figure: it is as large as the words beside it."""
_MOST_TICKS = 6
_WIDE = (120.0, 46.0)  # mm for each section of a card for several set-ups
_WITH_JIG = (84.0, 46.0)  # the same where a jig with its figures stands on the work
_SECTION_ROOM = (62.0, 46.0)  # mm for the section on the card, beside direction, trial and cautions
_KEPT = 0.25  # of its height that the block which no page may part counts besides
_MOST = 0.6  # of the cards, from which on what they warn of alike stands at the foot of all
_FOOT_INSET = 12.0  # mm that the frame takes of a line, and the words "At every tool" of the first
THEN = ", then "
"""Between the places of one row, and between their marks."""


@dataclass(frozen=True, slots=True)
class _Foot:
    """What every card warns of, which stands once at the foot of each of their pages."""

    shared: tuple[str, ...]
    high: float

    @property
    def text(self) -> str:
        return " ".join(self.shared)


def cards_of(
    work: WorkPlan,
    panels: Mapping[PanelId, Panel],
    figures: Figures,
    width: float,
    lengths: LengthWriter,
    before: Mapping[str, str],
) -> Iterator[Section]:
    """Yield the card of each set-up that cuts; `before` is what to watch for before its cuts, by the set-up's id."""
    set_ups = [s for s in work.set_ups if s.is_cut]
    shared = _at_foot(set_ups)
    foot = _Foot(shared, height_of(Words(text=" ".join(shared)), width - _FOOT_INSET) if shared else 0.0)
    maker = _Cards(work, panels, figures, lengths, foot, width, before)
    for _, alike in groupby(set_ups, key=maker.sort_of):
        yield maker.card(list(alike))


def _at_foot(set_ups: Sequence[SetUp]) -> tuple[str, ...]:
    """Return what most cards warn of alike: it is at the foot of all, also of the few that use no motor."""
    warned_of = Counter(c.text for s in set_ups for c in s.cautions if c.is_on_every_card)
    return tuple(text for text, cards in warned_of.items() if cards >= _MOST * len(set_ups))


@dataclass(frozen=True, slots=True)
class _Cards:
    """Makes the cards of a run."""

    work: WorkPlan
    panels: Mapping[PanelId, Panel]
    figures: Figures
    lengths: LengthWriter
    foot: _Foot
    width: float
    before: Mapping[str, str]

    def sort_of(self, set_up: SetUp) -> object:
        """Return what set-ups of one card have in common; one with a trial of its own has a card of its own."""
        if set_up.trial:
            return set_up.id
        facts = self._facts(set_up)
        same = tuple(tuple(row) for row in facts if row[0] not in _APART)
        mind = tuple(c.text for c in set_up.cautions)
        return same, tuple(row[0] for row in facts), _setting(set_up).feed, mind, tuple(stop_words(set_up))

    def card(self, alike: Sequence[SetUp]) -> Section:
        """Return the card of set-ups of one sort. Cautions stand before the work."""
        first = alike[0]
        facts = self._facts(first)
        several = len(alike) > 1
        shared = [f for f in facts if not (several and f[0] in _APART)]
        told: list[Block] = [_told(shared)]
        drawn: list[Picture] = []
        feed = _setting(first).feed
        if feed is not None:
            drawn.append(Picture(drawing=feed_plan(feed, first.stops), notes=False))
            told.append(Words(text=f"Direction: {feed.text}", strong=True))
            told.append(Words(text=" ".join((feed.more, *stop_words(first)))))
        sections = [picture for s in alike if (picture := self._section(s, several=several)) is not None]
        if not several:
            drawn += sections
        trial = (Bullets(items=(f"Trial: {first.trial}",), ticks=True),) if first.trial else ()
        own = [c for c in first.cautions if c.text not in self.foot.shared]
        mind: tuple[Block, ...] = (*trial, warned(own))
        lies = [Picture(drawing=d, notes=False) for d in laid_for(alike, self.panels)]
        ways = arranged(told, drawn, mind, lies, self.width)
        top = _lowest(ways, self.width)
        if several:
            top = (*top, self._settings(alike), *strip(sections, self.width))
        ids = " + ".join(s.id for s in alike)
        mind_first = next((words for s in alike if (words := self.before.get(s.id))), "")
        return Section(
            title=f"{ids}: {_setting(first).way_name if several else first.title}",
            short=ids,
            head=f"set-up {ids}",
            group="Set-up cards",
            flows=True,
            foot=self.foot.text,
            foot_high=self.foot.high,
            blocks=(*_held(top), _work_table(alike, self.work, self.lengths, mind_first)),
        )

    def _facts(self, set_up: SetUp) -> list[list[str]]:
        return setting_facts(_setting(set_up), self.work, self.lengths)

    def _section(self, set_up: SetUp, *, several: bool) -> Picture | None:
        """Return the section of a set-up; of several that are only drilled to a depth, their table says it all."""
        setting = _setting(set_up)
        if set_up.section is None or (several and not setting.guide and setting.fence is None):
            return None
        room = _WIDE if several else _WITH_JIG if setting.guide else _SECTION_ROOM
        drawing = set_up_section(
            set_up.section, id=f"section-{set_up.id}", title=set_up.title, figures=self.figures, room=room
        )
        return Picture(drawing=drawing)

    def _settings(self, alike: Sequence[SetUp]) -> Table:
        """Return a row for each set-up of a card: what is changed from one to the next."""
        heads = [name for name, _ in self._facts(alike[0]) if name in _APART]
        rows = [(s.id, s.title, *(dict(self._facts(s))[name] for name in heads)) for s in alike]
        apart = (Column(head=name, share=1.0, working=True) for name in heads)
        return table(
            ("set-up", wide("makes"), *apart), rows, title=f"Set for each, in {self.lengths.named}", small=True
        )


def _lowest(ways: Iterator[tuple[Block, ...]], width: float) -> tuple[Block, ...]:
    """Return the lowest way, what must stay on one page counted somewhat more: so a card begins at a page's foot."""

    def height(blocks: tuple[Block, ...]) -> float:
        heights = [height_of(b, width) for b in blocks]
        return sum(heights) + _KEPT * heights[0]

    return min(ways, key=height)


def _held(top: Sequence[Block]) -> Iterator[Together]:
    """Yield what is set, then cautions and pictures: no page parts one of these, the next may be overleaf."""
    for block in top:
        yield Together(blocks=(block,))


def _told(facts: Sequence[Sequence[str]]) -> Table:
    """Return what is set and to what: what is set by a figure is large enough to be read at arm's length."""
    plain = tuple(n for n, (name, _) in enumerate(facts) if name in _READ_ONCE)
    return table(["set", Column(head="to", share=1.0, working=True)], facts, small=True, plain=plain)


def _setting(set_up: SetUp) -> Setting:
    assert set_up.setting is not None  # noqa: S101  # machining always has one
    return set_up.setting


def warned(lines: Sequence[BenchLine], title: str = "Caution", *, more: str = "") -> Warning_:
    """Return lines of caution in their frame: the tool's own each by itself, what every card has as one paragraph."""
    own = tuple(c.text for c in lines if not c.is_on_every_card)
    shared = [c.text for c in lines if c.is_on_every_card]
    if len(own) == 1 and more:
        return Warning_(text=" ".join(filter(None, (*own, *shared, more))), title=title)
    return Warning_(items=own, text=" ".join(filter(None, (*shared, more))), title=title)


def _work_table(alike: Sequence[SetUp], work: WorkPlan, lengths: LengthWriter, before: str) -> Table:
    """Return the work in order; what follows each other at one place of a panel, or alike on several, is one row.

    What to mind before it stands in the line of its title, so that it takes no room of its own.
    """
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    for set_up in alike:
        at = len(rows)
        own_rows, own_groups = _work_of(set_up, work, lengths, named=len(alike) > 1)
        rows += own_rows
        groups += [(at + n, words) for n, words in own_groups]
    operations = [o for s in alike for o in s.operations]
    cuts = sum(s.cuts for s in alike)
    by_walls = any(o.places for o in operations)
    panel, placed, marks = (0.9, 4.0, 0.7) if by_walls else (1.2, 1.7, 1.3)
    heads: list[Column | str] = [
        wide("mark", 0.55),
        wide("panel", panel),
        wide("placed from", placed),
        wide("marks", marks),
        right("cuts"),
        "done",
    ]
    return table(
        heads,
        rows,
        title=f"Work in this order: {cuts} cut{'s' if cuts != 1 else ''}." + (f" {before}" if before else ""),
        small=True,
        groups=tuple(groups),
    )


def _work_of(
    set_up: SetUp, work: WorkPlan, lengths: LengthWriter, *, named: bool
) -> tuple[list[tuple[str, ...]], list[tuple[int, str]]]:
    """Return the rows of a set-up, and what stands over them: its name where a card has several, case, way round."""
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    both = len({o.hand for o in set_up.operations}) > 1
    changes = changes_over(set_up, work)
    by_group = groupby(set_up.operations, key=lambda o: f"case {o.case}" + (f", jig {o.hand.value}" if both else ""))
    for words, operations in by_group:
        own = list(operations)
        groups.append((len(rows), ": ".join(filter(None, (words, changes.get(own[0].id))))))
        at = {o.id: placed_from(o, lengths, hand_said=both) for o in own}
        for alike in _alike_panels(own, at):
            rows += _work_rows(alike, at)
    if len(groups) == 1 and not changes:
        groups = []
    if named:
        groups = [(n, f"{set_up.id}, {words}") for n, words in groups] or [(0, f"{set_up.id}, {set_up.title}")]
    return rows, groups


Places = list[list[Operation]]
"""The operations of one panel, those at one place together."""


def _alike_panels(own: Sequence[Operation], at: Mapping[str, str]) -> Iterator[list[Places]]:
    """Yield panels that follow each other with the same marks at the same places; as many as a row has ticks for."""
    panels = [
        [list(same) for _, same in groupby(one, key=lambda o: at[o.id])]
        for _, one in groupby(own, key=lambda o: o.panel_mark)
    ]
    for _, alike in groupby(panels, key=lambda places: [(at[p[0].id], [bare_numbers(o) for o in p]) for p in places]):
        every = list(alike)
        most = max(1, _MOST_TICKS // sum(o.copies for place in every[0] for o in place))
        parts = -(-len(every) // most)
        size = -(-len(every) // parts)
        size += size % 2 if 1 < size < most else 0  # pairs stay together
        yield from (every[n : n + size] for n in range(0, len(every), size))


def _work_rows(alike: Sequence[Places], at: Mapping[str, str]) -> Iterator[tuple[str, ...]]:
    """Yield the row of panels that are worked alike, at one place after the other; of one panel, a row a place."""
    if len(alike) == 1:
        for place in alike[0]:
            yield _work_row([[place]], at)
        return
    yield _work_row(alike, at)


def _work_row(alike: Sequence[Places], at: Mapping[str, str]) -> tuple[str, ...]:
    first = alike[0]
    every = [o for places in alike for place in places for o in place]
    marks = [_marks_of([places[n] for places in alike]) for n in range(len(first))]
    return (
        ", ".join(places[0][0].panel_mark for places in alike),
        _names_of([places[0][0].panel_name for places in alike]),
        THEN.join(at[place[0].id] for place in first),
        THEN.join(marks),
        str(sum(o.copies * o.count for o in every)),
        _ticks(sum(o.copies for o in every)),
    )


def _marks_of(places: Sequence[Sequence[Operation]]) -> str:
    """Return the marks at one place, the same on all panels, with the joints that they are for on each."""
    told = []
    for same in zip(*places, strict=True):
        joints = ", ".join(dict.fromkeys(o.joint_number for o in same if o.joint_number))
        told.append(f"{bare_numbers(same[0])} ({joints})" if joints else bare_numbers(same[0]))
    return "; ".join(told)


def _names_of(names: Sequence[str]) -> str:
    """Return the names of panels, what they begin with in common said once: `drawer 1 left side, right side`."""
    if len(names) == 1:
        return names[0]
    words = [n.split() for n in names]
    shared = 0
    while all(len(w) > shared + 1 and w[shared] == words[0][shared] for w in words):
        shared += 1
    return " ".join([*words[0][:shared], ", ".join(" ".join(w[shared:]) for w in words)])


def _ticks(copies: int) -> str:
    return TICK * copies if copies <= _MOST_TICKS else f"{TICK} x {copies}"
