"""Set-up cards, jigs, the run and the count sheet, as parts of the packet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from storyrod.adapters.packet._blocks import Block, Row, Section, Together
from storyrod.adapters.packet._page_room import GUTTER, height_of
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Figures
from storyrod.drawing.feed_plan import feed_plan
from storyrod.drawing.hold_drawing import hold_drawing, is_drawn
from storyrod.drawing.jig_drawing import ROOM, jig_drawing
from storyrod.drawing.set_up_section import set_up_section
from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import AssemblyPlan, ByHand
from storyrod.model.bench_lines import BenchLine
from storyrod.model.machining import (
    Count,
    ExpectedStep,
    JigKind,
    JigPlan,
    Operation,
    SetUp,
    WorkPlan,
)
from storyrod.planning import Plan
from storyrod.telling.blocks import TICK, Bullets, Column, Heading, Picture, Table, Warning_, Words, right, table, wide
from storyrod.telling.placing import changes_over, placed_from
from storyrod.telling.set_ups import (
    FLUSH,
    hold_title,
    jig_words,
    mark_numbers,
    minute_words,
    placed_together,
    run_words,
    setting_facts,
    stop_words,
    tally_words,
    told_of_jig,
)

_MOST_TICKS = 6
_TEMPLATE_ROOM = (150.0, 70.0)  # mm; smaller than other jigs, so that all about a plain template is on one page
_SECTION_ROOM = (62.0, 46.0)  # mm for the section on the card, beside direction, trial and cautions
_BESIDE_PLAN = (1.7, 1.0)  # shares of the width: what is set, and the plan of the feed
_AT_FOOT = "Read the foot of this page too."
_FOOT_INSET = 12.0  # mm that the frame takes of a line, and the words "At every tool" of the first


def machining_sections(plan: Plan) -> tuple[Section, ...]:
    """Return the run, and a section for each set-up card."""
    work = plan.machining
    figures = Figures.of_job(plan.job)
    width, _ = room_on(plan.job.paper.value)
    cards = _cards(work, figures, width, plan.job.lengths)
    return (_run_section(work), *cards)


# --- the run ---------------------------------------------------------------------------------------------------------


def _run_section(work: WorkPlan) -> Section:
    run = work.run
    rows = [
        [
            *(s.set_up, work.set_up(s.set_up).title, str(work.set_up(s.set_up).cuts)),
            *map(minute_words, (s.change_min + s.trial_min, s.place_min + s.cut_min + s.handle_min)),
            TICK,
        ]
        for s in run.steps
    ]
    blocks: list[Block] = [
        Words(text=run_words(work)),
        table(["set-up", wide("what"), right("cuts"), right("change, min"), right("work, min"), "done"], rows),
    ]
    if len(run.lot_table) > 1:
        lots = [
            [
                *(str(lot.size), str(lot.lots)),
                *map(minute_words, (lot.changes_min, lot.handling_min, lot.minutes)),
                "taken" if lot.size == run.lot.size else "",
            ]
            for lot in run.lot_table
        ]
        heads = [right(h) for h in ("carcasses a lot", "lots", "changing, min", "fetching, min", "all, min")]
        blocks += [Heading(text="In lots"), table([*heads, ""], lots, small=True)]
    blocks += [Words(text=words) for words in tally_words(work)]
    if work.jigs:
        named = "; ".join(f"{j.id} {j.name}" for j in work.jigs)
        blocks.append(Words(text=f"How to make, check and hold them is on a paper of its own, Jigs: {named}."))
    blocks += [Words(text=a.text, quiet=True) for a in work.stations]
    return Section(title="Order of work", head="order of work", blocks=tuple(blocks), flows=True)


def jig_sections(plan: Plan) -> tuple[Section, ...]:
    """Return how each jig is made, checked and held."""
    figures = Figures.of_job(plan.job)
    return tuple(_jig_section(jig, figures) for jig in plan.machining.jigs)


# --- jigs ------------------------------------------------------------------------------------------------------------


def _jig_section(jig: JigPlan, figures: Figures) -> Section:
    room = _TEMPLATE_ROOM if jig.kind is JigKind.TEMPLATE else ROOM
    words = jig_words(jig, figures.lengths)
    blocks: list[Block] = [Words(text=words), Picture(drawing=jig_drawing(jig, figures=figures, room=room))]
    if jig.pieces:
        rows = [
            [p.name, str(p.count), *map(figures.lengths.n, (p.length, p.width)), _thick(p.thickness, figures), TICK]
            for p in jig.pieces
        ]
        heads: list[Column | str] = [
            wide("piece"),
            right("how many"),
            right("length"),
            right("width"),
            right("thickness"),
            "cut",
        ]
        blocks.append(table(heads, rows, title="Cutting list of the jig"))
    if jig.stops:
        rows = [[s.label, figures.lengths.n(s.at), ", ".join(s.used_by)] for s in jig.stops]
        blocks.append(table(["stop", right("at"), wide("for")], rows, title="Stops"))
    told = told_of_jig(jig, figures.lengths)
    if told.steps:
        blocks += [Heading(text="Make it"), Bullets(items=told.steps, ticks=True)]
    blocks += [Heading(text="Check it before you trust it"), Bullets(items=told.checks, ticks=True)]
    for hold, steps in zip(jig.holds, told.holds, strict=True):
        blocks += [Heading(text=hold_title(jig, hold)), Bullets(items=steps)]
        if is_drawn(hold):
            blocks.append(Picture(drawing=hold_drawing(jig, hold, figures=figures)))
    blocks += [Heading(text="Mind, in use"), Bullets(items=told.notes)]
    return Section(
        title=f"Jig {jig.id}: {jig.name}",
        short=f"Jig {jig.id}",
        head=f"jig {jig.id}",
        group="Jigs",
        flows=True,
        blocks=tuple(filter(_filled, blocks)),
    )


def _thick(mm: float, figures: Figures) -> str:
    """Return the thickness of a jig's piece: the trade size of a board that is bought, or the figure to plane to."""
    is_bought = abs(mm * 2 - round(mm * 2)) < 1e-6
    return figures.lengths.bought_n(mm) if is_bought else figures.lengths.n(mm)


def _filled(block: Block) -> bool:
    return not isinstance(block, Bullets) or bool(block.items)


# --- set-up cards ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Foot:
    """What every card warns of, which stands once at the foot of each of their pages."""

    shared: tuple[str, ...]
    high: float

    @property
    def text(self) -> str:
        return " ".join(self.shared)


def _cards(work: WorkPlan, figures: Figures, width: float, lengths: LengthWriter) -> Iterator[Section]:
    """Yield the card of each set-up that cuts."""
    set_ups = [s for s in work.set_ups if s.is_cut]
    every = [[c.text for c in s.cautions if c.is_on_every_card] for s in set_ups]
    shared = tuple(text for text in every[0] if all(text in own for own in every)) if every else ()
    foot = _Foot(shared, height_of(Words(text=" ".join(shared)), width - _FOOT_INSET) if shared else 0.0)
    for set_up in set_ups:
        yield _card(set_up, work, figures, lengths, foot, width)


def _card(set_up: SetUp, work: WorkPlan, figures: Figures, lengths: LengthWriter, foot: _Foot, width: float) -> Section:
    """Return the card of a set-up: what is set, the feed beside it, section, trial and cautions, then the work.

    The cautions stand before the work.
    """
    setting = set_up.setting
    assert setting is not None  # noqa: S101  # machining always has one
    facts = setting_facts(setting, work, figures.lengths)
    top: list[Block] = [table(["set", wide("to")], facts, small=True)]
    beside: list[Block] = []
    if setting.feed is not None:
        plan_of_feed = Picture(drawing=feed_plan(setting.feed, set_up.stops), notes=False)
        top.append(Words(text=f"Direction: {setting.feed.text}", strong=True))
        top.append(Words(text=" ".join((setting.feed.more, *stop_words(set_up)))))
        top = [Row(cells=(tuple(top), (plan_of_feed,)), shares=_BESIDE_PLAN)]
    if set_up.trial:
        beside.append(Bullets(items=(f"Trial: {set_up.trial}",), ticks=True))
    own = [c for c in set_up.cautions if c.text not in foot.shared]
    beside.append(warned(own, more=_AT_FOOT if foot.shared else ""))
    if set_up.section is not None:
        drawing = set_up_section(
            set_up.section, id=f"section-{set_up.id}", title=set_up.title, figures=figures, room=_SECTION_ROOM
        )
        across = drawing.paper_size[0]
        top.append(Row(cells=((Picture(drawing=drawing),), tuple(beside)), shares=(across, width - GUTTER - across)))
    else:
        top += beside
    return Section(
        title=f"{set_up.id}: {set_up.title}",
        short=set_up.id,
        head=f"set-up {set_up.id}",
        group="Set-up cards",
        flows=True,
        foot=foot.text,
        foot_high=foot.high,
        blocks=(Together(blocks=tuple(top)), _work_table(set_up, work, lengths)),
    )


def warned(lines: Sequence[BenchLine], title: str = "Caution", *, more: str = "") -> Warning_:
    """Return lines of caution in their frame: the tool's own each by itself, what every card has as one paragraph."""
    own = tuple(c.text for c in lines if not c.is_on_every_card)
    shared = [c.text for c in lines if c.is_on_every_card]
    if len(own) == 1 and more:
        return Warning_(text=" ".join(filter(None, (*own, *shared, more))), title=title)
    return Warning_(items=own, text=" ".join(filter(None, (*shared, more))), title=title)


def _work_table(set_up: SetUp, work: WorkPlan, lengths: LengthWriter) -> Table:
    """Return the work in order; what follows each other at one place of a panel, or alike on several, is one row."""
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    both = len({o.hand for o in set_up.operations}) > 1
    changes = changes_over(set_up, work)
    by_group = groupby(set_up.operations, key=lambda o: f"case {o.case}" + (f", jig {o.hand.value}" if both else ""))
    for words, operations in by_group:
        own = list(operations)
        groups.append((len(rows), ": ".join(filter(None, (words, changes.get(own[0].id))))))
        at = {o.id: placed_from(o, lengths, hand_said=both) for o in own}
        on_panels = [list(g) for _, g in groupby(own, key=lambda o: (o.panel_mark, at[o.id]))]
        for _, alike in groupby(on_panels, key=lambda g: (at[g[0].id], _marks_of(g))):
            rows.append(_work_row(list(alike), lengths, both=both))
    by_walls = any(o.places for o in set_up.operations)
    panel, placed, marks = (1.0, 3.0, 0.9) if by_walls else (1.2, 1.7, 1.3)
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
        title=f"Work in this order: {set_up.cuts} cut{'s' if set_up.cuts != 1 else ''}, lengths in {lengths.named}",
        groups=tuple(groups) if len(groups) > 1 or changes else (),
    )


def _marks_of(operations: Sequence[Operation]) -> str:
    return "; ".join(mark_numbers(o) for o in operations)


def _work_row(alike: Sequence[Sequence[Operation]], lengths: LengthWriter, *, both: bool) -> tuple[str, ...]:
    """Return the row of one panel's operations at one place, or of those of several panels that are the same."""
    first = alike[0]
    cuts = sum(o.copies * o.count for own in alike for o in own)
    return (
        ", ".join(own[0].panel_mark for own in alike),
        _names_of([own[0].panel_name for own in alike]),
        placed_from(first[0], lengths, hand_said=both),
        _marks_of(first),
        str(cuts),
        _ticks(sum(o.copies for own in alike for o in own)),
    )


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


# --- errors and counts -----------------------------------------------------------------------------------------------


def expected_section(plan: Plan) -> Section:
    """Return how flush each joint is expected to come."""
    work, lengths = plan.machining, plan.job.lengths
    rows = [_expected_row(e, lengths) for e in work.steps_expected]
    heads = [wide("joint"), right("step, usual"), right("step, worst"), right("along, usual"), right("along, worst"),
             right("from centre lines"), wide("placed from")]  # fmt: skip
    blocks: tuple[Block, ...] = (Words(text=f"{FLUSH} {lengths.said}"), table(heads, rows, small=True))
    if not rows:
        blocks = (Words(text="No joint here hangs on where its cuts are."),)
    return Section(title="How flush to expect", head="how flush", blocks=blocks)


def _expected_row(e: ExpectedStep, lengths: LengthWriter) -> list[str]:
    return [
        f"{e.name} ({len(e.joints)})",
        *map(lengths.n, (e.across.rss, e.across.worst, e.along.rss, e.along.worst, e.centre_line.rss)),
        placed_together(e),
    ]


def why_section(plan: Plan) -> Section:
    """Return why each set-up is as it is, where there is anything to be said."""
    rows = [(s.id, s.title, s.why) for s in plan.machining.set_ups if s.why]
    blocks: tuple[Block, ...] = (table(["set-up", wide("what"), wide("why", 2.0)], rows, small=True),)
    return Section(title="Why the set-ups are as they are", head="why", flows=True, blocks=blocks)


def count_section(plan: Plan) -> Section:
    """Return the count sheet: every cut, and everything that is fixed by hand."""
    count = plan.machining.reconciliation
    fitted = _fitted(plan.assembly)
    blocks: tuple[Block, ...] = (
        Words(
            text=f"{count.wanted} cuts are wanted and planned. Count them again at the bench, and write what you find."
        ),
        Heading(text="By set-up"),
        _counts(count.set_ups, numbered=True),
        Heading(text="By panel"),
        _counts(count.panels),
        Heading(text="By joint"),
        _counts(count.joints),
        *((Heading(text="By fitting"), _counts(fitted)) if fitted else ()),
    )
    return Section(title="Count sheet", head="count sheet", blocks=blocks)


def _fitted(assembly: AssemblyPlan) -> list[Count]:
    """Return what the steps of assembly fix, drive, turn and set, each by its name."""
    return [
        Count(about="", name=f"{one.name}{_taken(one)}", wanted=case.count, planned=case.count)
        for case in assembly.cases
        for step in case.steps
        for one in step.by_hand
    ]


def _taken(one: ByHand) -> str:
    """Return what something done by hand takes, after its name: `: 4 x pan-head screw 3.5 x 16`."""
    taken = "; ".join(f"{u.count} \u00d7 {u.item}" for u in one.uses)
    return f": {taken}" if taken else ""


def _counts(counts: Iterable[Count], *, numbered: bool = False) -> Table:
    rows = [[c.about if numbered else "", c.name, str(c.wanted), str(c.planned), ""] for c in counts]
    return table(["", wide("what"), right("wanted"), right("planned"), "counted"], rows, small=True)
