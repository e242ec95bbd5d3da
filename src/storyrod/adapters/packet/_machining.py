"""Set-up cards, jigs, the run and the count sheet, as parts of the packet."""

from __future__ import annotations

from collections.abc import Iterable

from storyrod.adapters.packet._blocks import (
    TICK,
    Block,
    Bullets,
    Column,
    Heading,
    Picture,
    Section,
    Table,
    Warning_,
    Words,
    right,
    table,
    wide,
)
from storyrod.drawing import Figures
from storyrod.drawing.jig_drawing import jig_drawing
from storyrod.drawing.set_up_section import set_up_section
from storyrod.measure.length import show_mm
from storyrod.model.machining import (
    Count,
    ExpectedStep,
    Hand,
    JigPlan,
    LineToMark,
    Operation,
    PackerSide,
    PackerStack,
    Setting,
    SetUp,
    Sureness,
    WorkPlan,
    WorkStage,
)
from storyrod.model.workshop import Registration
from storyrod.plan import Plan

_MOST_TICKS = 6
_SECTION_ROOM = (165.0, 92.0)  # mm on the card


def machining_sections(plan: Plan) -> tuple[Section, ...]:
    """Return the run, a section for each jig and each set-up card, the errors to expect and the count sheet."""
    work = plan.machining
    figures = Figures.of_job(plan.job)
    jigs = [_jig_section(jig, figures) for jig in work.jigs]
    cards = [_card(s, work, figures) for s in work.set_ups if s.stage is WorkStage.MACHINE]
    return (_run_section(work), *jigs, *cards, _expected_section(work), count_section(work))


# --- the run ---------------------------------------------------------------------------------------------------------


def _run_section(work: WorkPlan) -> Section:
    run = work.run
    rows = [
        [s.set_up, work.set_up(s.set_up).title, str(work.set_up(s.set_up).cuts), _minutes(s.change_min + s.trial_min),
         _minutes(s.place_min + s.cut_min + s.handle_min), TICK]
        for s in run.steps
    ]  # fmt: skip
    blocks: list[Block] = [
        Words(text=_run_words(work)),
        table(["set-up", wide("what"), right("cuts"), right("change, min"), right("work, min"), "done"], rows),
    ]
    if len(run.lot_table) > 1:
        lots = [
            [str(lot.size), str(lot.lots), _minutes(lot.changes_min), _minutes(lot.handling_min), _minutes(lot.minutes),
             "taken" if lot.size == run.lot.size else ""]
            for lot in run.lot_table
        ]  # fmt: skip
        heads = [right(h) for h in ("carcasses a lot", "lots", "changing, min", "fetching, min", "all, min")]
        blocks += [Heading(text="In lots"), table([*heads, ""], lots, small=True)]
    blocks += [Words(text=a.text, quiet=True) for a in work.stations]
    return Section(title="Order of work", head="order of work", blocks=tuple(blocks))


def _run_words(work: WorkPlan) -> str:
    run = work.run
    if run.sureness is Sureness.PROVEN_BEST:
        sure = "No order changes in less: this is proven."
    else:
        sure = f"It may be up to {run.gap * 100:.0f} % above the best: no proof was found in the time given."
    lots = "" if run.lot.lots == 1 else f" in {run.lot.lots} lots of up to {run.lot.size}"
    return (
        f"{_minutes(run.minutes)} minutes for the batch{lots}. Changing takes {_minutes(run.changes_min)} min a lot, "
        f"against {_minutes(run.panel_by_panel_min)} if each panel were finished before the next. {sure}"
    )


# --- jigs ------------------------------------------------------------------------------------------------------------


def _jig_section(jig: JigPlan, figures: Figures) -> Section:
    blocks: list[Block] = [Words(text=_jig_words(jig)), Picture(drawing=jig_drawing(jig, figures=figures))]
    if jig.pieces:
        rows = [
            [p.name, str(p.count), show_mm(p.length), show_mm(p.width), show_mm(p.thickness), TICK] for p in jig.pieces
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
        rows = [[s.label, show_mm(s.at, 2), ", ".join(s.used_by)] for s in jig.stops]
        blocks.append(table(["stop", right("at"), wide("for")], rows, title="Stops"))
    blocks.append(Bullets(items=jig.notes))
    blocks += [Heading(text="Check it before you trust it"), Bullets(items=jig.checks, ticks=True)]
    return Section(title=f"Jig {jig.id}: {jig.name}", head=f"jig {jig.id}", blocks=tuple(filter(_filled, blocks)))


def _filled(block: Block) -> bool:
    return not isinstance(block, Bullets) or bool(block.items)


def _jig_words(jig: JigPlan) -> str:
    run = f"a {show_mm(jig.bush)} mm bush with {jig.cutter}" if jig.bush is not None else jig.cutter
    hands = "both hands" if len(jig.hands) > 1 else "one hand"
    words = f"For {', '.join(jig.serves)}; {jig.placings} placings, {hands}. {run[:1].upper()}{run[1:]} runs in it."
    if jig.owned:
        return f"{words} You own it already."
    made = f" About {_minutes(jig.making_min)} minutes to make"
    saves = f", saves {_minutes(jig.saves)} against setting the tool to every mark" if jig.saves > 0.5 else ""
    least = " No jig with fewer stations would serve." if jig.proven_least and len(jig.stations) > 1 else ""
    return f"{words}{made}{saves}.{least}"


# --- set-up cards ----------------------------------------------------------------------------------------------------


def _card(set_up: SetUp, work: WorkPlan, figures: Figures) -> Section:
    setting = set_up.setting
    assert setting is not None  # noqa: S101  # machining always has one
    facts: tuple[Block, ...] = (
        table(["set", wide("to")], _facts(setting, work), small=False),
        *((Words(text=set_up.why, quiet=True),) if set_up.why else ()),
    )
    blocks: list[Block] = []
    if set_up.section is not None:
        drawing = set_up_section(
            set_up.section, id=f"section-{set_up.id}", title=set_up.title, figures=figures, room=_SECTION_ROOM
        )
        blocks += [*facts, Picture(drawing=drawing)]
    else:
        blocks.extend(facts)
    if set_up.trial:
        blocks.append(Bullets(items=(f"Trial: {set_up.trial}",), ticks=True))
    blocks.append(_work_table(set_up))
    blocks.append(Warning_(text=" ".join(set_up.cautions)))
    return Section(title=f"{set_up.id}: {set_up.title}", head=f"set-up {set_up.id}", blocks=tuple(blocks))


def _facts(s: Setting, work: WorkPlan) -> list[list[str]]:
    rows = [["tool", f"{s.tool_name}: {s.way_name}"]]
    if s.cutter:
        rows.append(["cutter", s.cutter_name])
    if s.bush is not None:
        rows.append(["bush", f"{show_mm(s.bush)} (offset {show_mm(s.bush_offset, 2)})"])
    if s.jig:
        rows.append(["jig", f"{s.jig}, {work.jig(s.jig).name}"])
    rows.append(["depth stop", _depth(s)])
    if s.passes[0] > 1 or s.passes[1] > 1:
        beside = f", {s.passes[1]} beside each other" if s.passes[1] > 1 else ""
        rows.append(["passes", f"{s.passes[0]} under each other{beside}"])
    if s.fence is not None:
        rows.append(
            [
                _fence_name(s),
                f"{show_mm(s.fence, 2)} to the near wall" if _to_wall(s) else f"{show_mm(s.fence, 2)} to the centre",
            ]
        )
    if s.packer is not None:
        side = "" if s.packer_side is PackerSide.NONE else f", {s.packer_side.value}"
        rows.append(["packer", f"{_packer(s.packer)}{side}"])
    if s.speed_rpm:
        rows.append(["speed", f"not above {s.speed_rpm} a minute"])
    return rows


def _depth(s: Setting) -> str:
    if s.through:
        return f"through, {show_mm(s.plunge)} and into a spoil board" if s.guide else "through, into a spoil board"
    return f"{show_mm(s.plunge)} = {show_mm(s.guide)} + {show_mm(s.depth)}" if s.guide else show_mm(s.depth)


def _fence_name(s: Setting) -> str:
    return "straight edge" if s.registration is Registration.LINE else "fence"


def _to_wall(s: Setting) -> bool:
    return "drill" not in s.cutter_name


def _packer(stack: PackerStack) -> str:
    if stack.mill is not None:
        return f"mill one to {show_mm(stack.mill)} (wanted {show_mm(stack.wanted, 2)})"
    pieces = " + ".join(show_mm(p, 2) for p in stack.pieces)
    return f"{pieces} (wanted {show_mm(stack.wanted, 2)})" if pieces else "none"


def _work_table(set_up: SetUp) -> Table:
    rows: list[list[str]] = []
    groups: list[tuple[int, str]] = []
    case = ""
    for o in set_up.operations:
        if o.case != case:
            groups.append((len(rows), f"case {o.case}"))
            case = o.case
        rows.append([o.panel_mark, o.panel_name, _from(o), _marks(o), f"{o.copies} x {o.count}", _ticks(o.copies)])
    heads: list[Column | str] = ["mark", wide("panel"), wide("placed from", 1.6), wide("marks"), right("cuts"), "done"]
    return table(
        heads,
        rows,
        title=f"Work in this order: {set_up.cuts} cut{'s' if set_up.cuts != 1 else ''}",
        groups=tuple(groups),
    )


def _from(o: Operation) -> str:
    parts = [o.reference]
    if o.line is LineToMark.FACE_LINE and o.line_at is not None:
        parts.append(f"line at {show_mm(o.line_at, 1)}")
    if o.stop:
        parts.append(f"stop {o.stop_label} on the {o.stop}")
    if o.hand is Hand.TURNED:
        parts.append("jig turned over")
    return ", ".join(p for p in parts if p)


def _marks(o: Operation) -> str:
    runs: list[list[int]] = []
    for number in o.marks:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = ", ".join(f"{r[0]}\u2013{r[-1]}" if len(r) > 1 else str(r[0]) for r in runs)
    return f"{told} ({o.joint_number})" if o.joint_number else told


def _ticks(copies: int) -> str:
    return TICK * copies if copies <= _MOST_TICKS else f"{TICK} x {copies}"


# --- errors and counts -----------------------------------------------------------------------------------------------


def _expected_section(work: WorkPlan) -> Section:
    rows = [_expected_row(e) for e in work.steps_expected]
    heads = [wide("joint"), right("step, usual"), right("step, worst"), right("along, usual"), right("along, worst"),
             right("from centre lines"), wide("placed from")]  # fmt: skip
    words = (
        "Usual: root of the sum of squares, which 997 joints in 1000 keep. Worst: all errors one way. "
        "From centre lines: the usual step if both halves were set to the middle of the board."
    )
    blocks: tuple[Block, ...] = (Words(text=words), table(heads, rows, small=True))
    if not rows:
        blocks = (Words(text="No joint here hangs on where its cuts are."),)
    return Section(title="Errors to expect", head="errors to expect", blocks=blocks)


def _expected_row(e: ExpectedStep) -> list[str]:
    return [
        f"{e.name} ({len(e.joints)})",
        *(show_mm(v, 2) for v in (e.across.rss, e.across.worst, e.along.rss, e.along.worst, e.centre_line.rss)),
        "the same face" if e.same_face else "each half by itself",
    ]


def count_section(work: WorkPlan) -> Section:
    """Return the count sheet, with which the packet ends."""
    count = work.reconciliation
    blocks: tuple[Block, ...] = (
        Words(
            text=f"{count.wanted} cuts are wanted and planned. Count them again at the bench, and write what you find."
        ),
        Heading(text="By set-up"),
        _counts(count.set_ups),
        Heading(text="By panel"),
        _counts(count.panels),
        Heading(text="By joint"),
        _counts(count.joints),
    )
    return Section(title="Count sheet", head="count sheet", blocks=blocks)


def _counts(counts: Iterable[Count]) -> Table:
    rows = [[c.about if c.about.startswith("S") else "", c.name, str(c.wanted), str(c.planned), ""] for c in counts]
    return table(["", wide("what"), right("wanted"), right("planned"), "counted"], rows, small=True)


def _minutes(value: float) -> str:
    return f"{value:.0f}" if value >= 10 else f"{value:.1f}"
