"""Set-up cards, jigs, the run and the count sheet, as parts of the packet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from storyrod.adapters.packet._blocks import Block, Section
from storyrod.adapters.packet._cards import cards_of
from storyrod.adapters.packet._lists import settled_words
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Figures
from storyrod.drawing.hold_drawing import hold_drawing, is_drawn
from storyrod.drawing.jig_drawing import ROOM, jig_drawing
from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import AssemblyPlan, ByHand
from storyrod.model.machining import (
    Count,
    ExpectedStep,
    JigKind,
    JigPlan,
)
from storyrod.planning import Plan
from storyrod.telling.before import before_on_paper
from storyrod.telling.blocks import TICK, Bullets, Column, Heading, Picture, Table, Words, right, table, wide
from storyrod.telling.set_ups import (
    FLUSH,
    hold_title,
    jig_words,
    minute_words,
    placed_together,
    run_words,
    tally_words,
    told_of_jig,
)

_TEMPLATE_ROOM = (150.0, 70.0)  # mm; smaller than other jigs, so that all about a plain template is on one page
_RUN_HEADS = ("set-up", wide("what"), right("cuts"), right("change, min"), right("work, min"), "done")


def machining_sections(plan: Plan) -> tuple[Section, ...]:
    """Return a section for each set-up card."""
    width, _ = room_on(plan.job.paper.value)
    panels = {p.id: p for c in plan.details.cases for p in c.panels}
    before = {s.id: before_on_paper(plan, s) for s in plan.machining.set_ups}
    return tuple(cards_of(plan.machining, panels, Figures.of_job(plan.job), width, plan.job.lengths, before))


# --- the run ---------------------------------------------------------------------------------------------------------


def run_section(plan: Plan) -> Section:
    """Return the run: what is done in which order, from the saw to the last set-up."""
    work = plan.machining
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
        table(
            ["set-up", wide("what"), right("cuts"), right("change, min"), right("work, min"), "done"], rows, small=True
        ),
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
        blocks.append(Words(text=f"The jigs paper says how to make, check and hold them: {named}."))
    return Section(title="Order of work", head="order of work", blocks=tuple(blocks), flows=True)


def jig_sections(plan: Plan) -> tuple[Section, ...]:
    """Return how each jig is made, checked and held."""
    figures = Figures.of_job(plan.job)
    return jigs_told(plan.machining.jigs, figures)


def jigs_told(jigs: Sequence[JigPlan], figures: Figures) -> tuple[Section, ...]:
    """Return how each of some jigs is made, checked and held."""
    return tuple(_jig_section(jig, figures) for jig in jigs)


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
    blocks += [Heading(text="When you use it"), Bullets(items=told.notes)]
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


# --- errors and counts -----------------------------------------------------------------------------------------------


def expected_section(plan: Plan) -> Section:
    """Return how flush each joint is expected to come."""
    work, lengths = plan.machining, plan.job.lengths
    rows = [_expected_row(e, lengths) for e in work.steps_expected]
    heads = [wide("joint"), right("step, usual"), right("step, worst"), right("along, usual"), right("along, worst"),
             right("from centre lines"), wide("placed from")]  # fmt: skip
    blocks: tuple[Block, ...] = (Words(text=f"{FLUSH} {lengths.said}"), table(heads, rows, small=True))
    if not rows:
        blocks = (Words(text="Where the cuts are matters to no joint here."),)
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
    stations = (Words(text=words) for words in (*(a.text for a in plan.machining.stations), *settled_words(plan)))
    blocks: tuple[Block, ...] = (table(["set-up", wide("what"), wide("why", 2.0)], rows, small=True), *stations)
    return Section(title="Why the set-ups are as they are", head="why", flows=True, blocks=blocks)


def count_section(plan: Plan) -> Section:
    """Return the count sheet: every cut, and everything that is fixed by hand."""
    count = plan.machining.reconciliation
    fitted = _fitted(plan.assembly)
    blocks: tuple[Block, ...] = (
        Words(
            text=f"{count.wanted} cuts are needed and planned. Count them again at the bench, and write down what you "
            f"find."
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
