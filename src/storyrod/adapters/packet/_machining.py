"""Set-up cards, jigs, the run and the count sheet, as parts of the packet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from storyrod.adapters.packet._blocks import Block, Row, Section
from storyrod.adapters.packet._page_room import height_of
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
_SECTION_ROOM = (165.0, 92.0)  # mm on the card
_LEAST_SECTION = 50.0  # mm of height that it has at least, where a smaller one keeps the card on one page
_CARD_TITLE = 9.0
_BESIDE_PLAN = (1.45, 1.0)  # shares of the width: what is set, and the plan of the feed
_BETWEEN = 3.0  # mm between two blocks of a card


def machining_sections(plan: Plan) -> tuple[Section, ...]:
    """Return the run, a section for each jig and each set-up card, and the count sheet."""
    work = plan.machining
    figures = Figures.of_job(plan.job)
    jigs = [_jig_section(jig, figures) for jig in work.jigs]
    room = room_on(plan.job.paper.value)
    cards = [_card(s, work, figures, room, plan.job.lengths) for s in work.set_ups if s.is_cut]
    return (_run_section(work), *jigs, *cards, count_section(plan))


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
    blocks += [Words(text=a.text, quiet=True) for a in work.stations]
    return Section(title="Order of work", head="order of work", blocks=tuple(blocks))


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
        blocks=tuple(filter(_filled, blocks)),
    )


def _thick(mm: float, figures: Figures) -> str:
    """Return the thickness of a jig's piece: the trade size of a board that is bought, or the figure to plane to."""
    is_bought = abs(mm * 2 - round(mm * 2)) < 1e-6
    return figures.lengths.bought_n(mm) if is_bought else figures.lengths.n(mm)


def _filled(block: Block) -> bool:
    return not isinstance(block, Bullets) or bool(block.items)


# --- set-up cards ----------------------------------------------------------------------------------------------------


def _card(set_up: SetUp, work: WorkPlan, figures: Figures, room: tuple[float, float], lengths: LengthWriter) -> Section:
    """Return the card of a set-up: setting, section, trial, cautions, then the work in order.

    The cautions stand before the work. The section is made smaller where that keeps the card on one page.
    """
    setting = set_up.setting
    assert setting is not None  # noqa: S101  # machining always has one
    facts: tuple[Block, ...] = (
        _facts(set_up, setting_facts(setting, work, figures.lengths)),
        *((Words(text=set_up.why, quiet=True),) if set_up.why else ()),
    )
    below: list[Block] = []
    if set_up.trial:
        below.append(Bullets(items=(f"Trial: {set_up.trial}",), ticks=True))
    below += [warned(set_up.cautions), _work_table(set_up, work, lengths)]
    blocks: list[Block] = [*facts]
    if set_up.section is not None:
        width, height = room
        taken = _CARD_TITLE + sum(height_of(b, width) for b in (*facts, *below)) + _BETWEEN * (len(facts) + len(below))
        high = height - taken if height - taken >= _LEAST_SECTION else _SECTION_ROOM[1]
        drawing = set_up_section(
            set_up.section,
            id=f"section-{set_up.id}",
            title=set_up.title,
            figures=figures,
            room=(_SECTION_ROOM[0], min(high, _SECTION_ROOM[1])),
        )
        blocks.append(Picture(drawing=drawing))
    blocks += below
    return Section(
        title=f"{set_up.id}: {set_up.title}",
        short=set_up.id,
        head=f"set-up {set_up.id}",
        group="Set-up cards",
        blocks=tuple(blocks),
    )


def warned(lines: Sequence[BenchLine], title: str = "Caution") -> Warning_:
    """Return lines of caution in their frame: the tool's own each by itself, what every card has as one paragraph."""
    own = tuple(c.text for c in lines if not c.is_on_every_card)
    return Warning_(items=own, text=" ".join(c.text for c in lines if c.is_on_every_card), title=title)


def _facts(set_up: SetUp, facts: list[list[str]]) -> Block:
    """Return what is set and to what, and which way to feed, in words and as a plan beside it."""
    told = table(["set", wide("to")], facts, small=False)
    feed = set_up.setting.feed if set_up.setting else None
    if feed is None:
        return told
    picture = Picture(drawing=feed_plan(feed, set_up.stops), notes=False)
    words = [Words(text=f"Direction: {feed.text}", strong=True), Words(text=feed.more)]
    words += [Words(text=text) for text in stop_words(set_up)]
    return Row(cells=((told, *words), (picture,)), shares=_BESIDE_PLAN)


def _work_table(set_up: SetUp, work: WorkPlan, lengths: LengthWriter) -> Table:
    rows: list[list[str]] = []
    groups: list[tuple[int, str]] = []
    both = len({o.hand for o in set_up.operations}) > 1
    changes = changes_over(set_up, work)
    group = ""
    for o in set_up.operations:
        words = f"case {o.case}, jig {o.hand.value}" if both else f"case {o.case}"
        if words != group:
            groups.append((len(rows), ": ".join(filter(None, (words, changes.get(o.id))))))
            group = words
        place = placed_from(o, lengths, hand_said=both)
        rows.append([o.panel_mark, o.panel_name, place, mark_numbers(o), f"{o.copies} x {o.count}", _ticks(o.copies)])
    by_walls = any(o.places for o in set_up.operations)
    panel, placed, marks = (1.0, 4.2, 0.8) if by_walls else (1.0, 2.2, 0.9)
    heads: list[Column | str] = [
        "mark",
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
        groups=tuple(groups),
    )


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


def count_section(plan: Plan) -> Section:
    """Return the count sheet, with which the packet ends: every cut, and everything that is fixed by hand."""
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
