"""Soundness in the packet: a short table and a picture for each question, and what was reckoned with."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.adapters.packet._blocks import Block, Row, Section
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Figures
from storyrod.drawing.soundness import sag_figure, step_figure, tip_figure
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase
from storyrod.model.soundness import CaseSoundness, JointLoad, Sag, Soundness
from storyrod.planning import Plan
from storyrod.telling.blocks import Column, Heading, Picture, Table, Warning_, Words, right, table, wide
from storyrod.telling.hanging import hanging_summary
from storyrod.telling.shown import Shown
from storyrod.telling.soundness import (
    back_words,
    counted_tests,
    overhang_cells,
    overhangs_reckoned_with,
    planks_by_strain,
    rail_cells,
    rails_reckoned_with,
    stiffness_words,
    tipping_sources,
)
from storyrod.telling.wall import wall_summary

_PICTURES = 2  # planks drawn for a case: the worst ones
_JOINTS = 12  # joints told for a case: the most loaded ones


def soundness_sections(plan: Plan) -> tuple[Section, ...]:
    """Return a section for each case: sag, joints, tipping, weights, racking, movement, steps."""
    return tuple(
        _case_section(plan, found, case) for found, case in zip(plan.soundness.cases, plan.details.cases, strict=True)
    )


def _case_section(plan: Plan, found: CaseSoundness, case: DetailedCase) -> Section:
    shown, whole = Shown.of(plan.job), plan.soundness
    figures = Figures.of_job(plan.job)
    width, height = room_on(plan.job.paper.value)
    blocks: list[Block] = [Warning_(text=whole.estimate, title="Estimates")]
    blocks += _sag_blocks(found, case, whole, shown, figures, (width, height * 0.16))
    blocks += _rail_blocks(found, shown)
    blocks += _overhang_blocks(found, shown)
    blocks += _tip_blocks(found, case, whole, shown, figures, (width * 0.48, height * 0.3))
    blocks += _joint_blocks(found)
    blocks += _step_blocks(found, whole, width)
    blocks += _rest_blocks(found, shown.lengths)
    return Section(
        title=f"{found.case}: will it carry, stand and close?", head=f"{found.case} soundness", blocks=tuple(blocks)
    )


# --- Sag --------------------------------------------------------------------------------------------------------------


def _sag_blocks(
    found: CaseSoundness,
    case: DetailedCase,
    whole: Soundness,
    shown: Shown,
    figures: Figures,
    room: tuple[float, float],
) -> list[Block]:
    if not found.sags:
        return []
    columns: tuple[Column | str, ...] = (
        wide("panel"),
        right("span"),
        right("kg on it"),
        right("sags at once"),
        right("in the long run"),
        right("allowed"),
        right("greatest span"),
        "",
    )
    rows = [_sag_row(s, shown) for s in found.sags]
    title = f"Sag. Allowed: span / {whole.thresholds.sag_limit:g} in the long run. {shown.unit_words}"
    blocks: list[Block] = [
        Heading(text="Shelves, top, base, drawer bottoms"),
        table(columns, rows, title=title, small=True),
    ]
    worst = planks_by_strain(found)[:_PICTURES]
    for sag in worst:
        drawing = sag_figure(sag, case.panel(sag.panel).thickness, figures=figures, room=room)
        if drawing is not None and (sag.within_limit is False or sag is worst[0]):
            blocks += [Words(text=drawing.title, strong=True), Picture(drawing=drawing)]
    remedies = [_remedy_words(s, shown) for s in found.sags if s.remedies]
    if remedies:
        blocks.append(Words(text="Any one of these would put it right: " + " ".join(remedies)))
    blocks.append(Words(text=_reckoned_with(found.sags), quiet=True))
    return blocks


def _sag_row(sag: Sag, shown: Shown) -> tuple[str, ...]:
    keeps = {None: "not known", True: "keeps", False: "too much"}[sag.within_limit]
    longest = "" if sag.greatest_span is None else shown.n(round(sag.greatest_span))
    return (
        sag.name,
        shown.n(sag.span),
        f"{sag.load_kg + sag.pressed_kg:.1f}",
        _sag_figure(sag.at_once, shown),
        _sag_figure(sag.lasting, shown),
        shown.lengths.about_n(sag.limit),
        longest,
        keeps,
    )


def _sag_figure(value: float | None, shown: Shown) -> str:
    return "not known" if value is None else shown.lengths.about_n(value)


def _remedy_words(sag: Sag, shown: Shown) -> str:
    told = [
        f"{r.what} leaves {shown.lengths.about_n(r.sag)}{'' if r.enough else ' (not enough)'}" for r in sag.remedies
    ]
    return f"{sag.name}: {'; '.join(told)}."


def _reckoned_with(sags: Sequence[Sag]) -> str:
    stiff = {stiffness_words(s) for s in sags if s.stiffness_n_mm2 is not None}
    creep = {s.creep_from for s in sags}
    loads = {c.by or c.why for s in sags for c in s.carried}
    notes = {n for s in sags for n in s.notes}
    return (
        f"Assumes bending stiffness {', '.join(sorted(stiff))}; creep by {', '.join(sorted(creep))}. "
        f"Loads: {'; '.join(sorted(loads))}. Ends are taken as free to turn: the true sag is less. "
        f"{' '.join(sorted(notes))}"
    ).strip()


# --- Clothes rails ----------------------------------------------------------------------------------------------------


def _rail_blocks(found: CaseSoundness, shown: Shown) -> list[Block]:
    if not found.rails:
        return []
    columns: tuple[Column | str, ...] = (
        wide("rail"),
        right("span"),
        right("kg on it"),
        right("sags"),
        right("allowed"),
        right("on each screw N"),
        right("may carry N"),
        "",
    )
    rows = [rail_cells(rail, shown.lengths) for rail in found.rails]
    return [
        Heading(text="Clothes rails"),
        table(columns, rows, title=f"The tube and the screws of its sockets. {shown.unit_words}", small=True),
        Words(text=rails_reckoned_with(found.rails), quiet=True),
    ]


def _overhang_blocks(found: CaseSoundness, shown: Shown) -> list[Block]:
    if not found.overhangs:
        return []
    columns: tuple[Column | str, ...] = (
        wide("side"),
        right("reach"),
        right("goes down"),
        right("allowed"),
        right("bent to N/mm²"),
        right("may be"),
        right("on a screw N"),
        right("it holds N"),
        "",
    )
    rows = [overhang_cells(one, shown.lengths) for one in found.overhangs]
    title = f"Overhangs of the worktop, with someone sitting on the edge. {shown.unit_words}"
    return [
        Heading(text="Worktop"),
        table(columns, rows, title=title, small=True),
        Words(text=overhangs_reckoned_with(found.overhangs), quiet=True),
    ]


# --- Tipping ----------------------------------------------------------------------------------------------------------


def _tip_blocks(
    found: CaseSoundness,
    case: DetailedCase,
    whole: Soundness,
    shown: Shown,
    figures: Figures,
    room: tuple[float, float],
) -> list[Block]:
    if found.hanging is not None:
        words = hanging_summary(found.hanging, shown)
        return [Heading(text="Hanging on the wall"), Words(text=words, strong=True)]
    tipping = found.tipping
    if tipping is None:
        return []
    drawing = tip_figure(case, tipping, whole.thresholds, figures=figures, room=room)
    rows = [
        (t.what, "no limit" if t.ratio > 99 else f"{t.ratio:.2f}", "stands" if t.stands else "tips")
        for t in counted_tests(tipping)
    ]
    columns = (wide("condition"), right("ratio"), "result")
    told: list[Block] = [
        table(columns, rows, title="What steadies it, divided by what tips it: below 1 it tips.", small=True)
    ]
    verdict = "Fix it to the wall." if tipping.fix_to_wall else "It stands by itself in all of these."
    if tipping.fixing is not None:
        verdict += f" {wall_summary(tipping.fixing, shown)}"
    return [
        Heading(text="Tipping"),
        Words(text=verdict, strong=True),
        Row(cells=((Picture(drawing=drawing),), tuple(told)), shares=(1.0, 1.0)),
        Words(text=f"Conditions from: {'; '.join(tipping_sources(tipping))}. Calculated, not tested.", quiet=True),
    ]


# --- Joints and steps -------------------------------------------------------------------------------------------------


def _joint_blocks(found: CaseSoundness) -> list[Block]:
    loaded = sorted((j for j in found.joints if j.force_n > 0.5), key=lambda j: -j.force_n)
    if not loaded:
        return []
    columns: tuple[Column | str, ...] = (
        wide("joints"),
        right("each carries N"),
        right("connectors"),
        right("on each N"),
        wide("what holds"),
    )
    alike: dict[tuple[str, ...], list[JointLoad]] = {}
    for load in loaded:
        count, each = (str(load.connectors), f"{load.each_n:,.0f}") if load.connectors else ("", "")
        alike.setdefault((f"{load.force_n:,.0f}", count, each, _holds(load)), []).append(load)
    rows = [(_joint_names(loads), *row) for row, loads in list(alike.items())[:_JOINTS]]
    sources = sorted({c.source for j in loaded for c in (j.capacity, j.pull_out) if c is not None})
    title = "Loads come from the panels they hold up; what a connector holds is given only where it is known."
    blocks: list[Block] = [Heading(text="Joints"), table(columns, rows, title=title, small=True)]
    if sources:
        blocks.append(
            Words(
                text=f"What holds: {'; '.join(sources)}. These are the least and most in tests, not loads to use.",
                quiet=True,
            )
        )
    return blocks


def _joint_names(loads: Sequence[JointLoad]) -> str:
    first = f"{loads[0].number} {loads[0].about}"
    return first if len(loads) == 1 else f"{first}, {', '.join(j.number for j in loads[1:])}"


def _holds(load: JointLoad) -> str:
    if load.capacity is not None:
        return f"{load.capacity.low_n:,.0f} to {load.capacity.high_n:,.0f} N"
    if load.connectors and load.pull_out is not None:
        return f"across: not known; pulled out: {load.pull_out.low_n:,.0f} to {load.pull_out.high_n:,.0f} N"
    return "not known" if load.connectors else load.unknown


def _step_blocks(found: CaseSoundness, whole: Soundness, width: float) -> list[Block]:
    lengths = whole.thresholds.lengths
    drawing = step_figure(found.case, found.steps, whole.thresholds.step_shows, width=width, lengths=lengths)
    worst = found.likeliest_step
    if drawing is None or worst is None:
        return []
    words = (
        f"Most likely to show: {worst.number}, {worst.about}, with a step over "
        f"{lengths.told(whole.thresholds.step_shows)} in {worst.chance:.0%} of such joints. To halve it: "
        f"{worst.halved_by}."
    )
    trials = f"{whole.trials} trial joints for each set of errors, seed {whole.seed}."
    quiet = f"{worst.why[:1].upper()}{worst.why[1:]}. {trials}"
    return [
        Heading(text="Steps at the joints"),
        Picture(drawing=drawing),
        Words(text=words),
        Words(text=quiet, quiet=True),
    ]


# --- Weights, racking, movement ---------------------------------------------------------------------------------------


def _rest_blocks(found: CaseSoundness, lengths: LengthWriter) -> list[Block]:
    blocks: list[Block] = [Heading(text="Weights and lifting"), _weight_table(found), Words(text=_turning(found))]
    blocks += [Heading(text="Leaning sideways"), Words(text=_racking(found, lengths))]
    rows = sorted(
        {(m.name, m.what, lengths.about_n(m.grows), _gap(m.gap_left, lengths), m.source) for m in found.movements}
    )
    if rows:
        columns = (wide("part"), wide("what"), right("grows"), right("gap left"), wide("allowed for"))
        title = f"From the driest to the dampest time of the year, in {lengths.named}."
        blocks += [Heading(text="Movement"), table(columns, _alike(rows), title=title, small=True)]
    return blocks


def _alike(rows: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Return the rows with parts that move alike in one."""
    names: dict[tuple[str, ...], list[str]] = {}
    for name, *more in rows:
        names.setdefault(tuple(more), []).append(name)
    return [(", ".join(n), *more) for more, n in names.items()]


def _gap(left: float | None, lengths: LengthWriter) -> str:
    return "" if left is None else lengths.about_n(left)


def _weight_table(found: CaseSoundness) -> Table:
    w = found.weights
    heavy = w.for_two or sorted(w.panels, key=lambda h: -h.kg)[:3]
    rows = [(h.name, f"{h.kg:.1f}", f"{h.recommended_kg:.0f}", str(h.persons)) for h in (w.carcass, *w.drawers, *heavy)]
    columns = (wide("what"), right("kg"), right("advised for one"), right("people"))
    title = "Carcass, drawers, panels for two people (or the heaviest); advised by the NIOSH equation, floor to bench."
    return table(columns, rows, title=title, small=True)


def _turning(found: CaseSoundness) -> str:
    w = found.weights
    return (
        f"Whole case {w.empty_kg:,.0f} kg empty, {w.loaded_kg:,.0f} kg loaded. "
        f"{_on_feet(found)}Pushed at the top with {w.turn_n:,.0f} N the bare carcass begins to turn over its rear "
        "edge: hold it, it gains speed."
    )


def _on_feet(found: CaseSoundness) -> str:
    feet = found.feet
    if feet is None:
        return ""
    return (
        f"It stands on {feet.count} feet, and on an uneven floor half of them may carry it all: "
        f"{feet.each_kg:,.0f} kg each; one carries {feet.may_kg:,.0f} kg. "
    )


def _racking(found: CaseSoundness, lengths: LengthWriter) -> str:
    r = found.racking
    told = back_words(r)
    told += f" A push of {r.push_n:g} N sideways at the top puts {r.corner_nm:,.0f} N m"
    told += " on each corner without the help of a back"
    if r.corner_tests_nm is not None:
        told += (
            f" (in tests they took {r.corner_tests_nm[0]:,.0f} to {r.corner_tests_nm[1]:,.0f} N m: {r.corner_source})"
        )
    told += "."
    if r.lean_back is not None:
        told += f" With the back it leans {lengths.about(r.lean_back)}, as long as its fixings do not slip."
    if r.lean_frame is not None:
        told += f" Without one, and with corners that do not give, it leans {lengths.about(r.lean_frame)}."
    return f"{told} A lean of {lengths.told(1.0)} makes the diagonals differ by {lengths.about(r.diagonals)}."
