"""The cover, each case drawn assembled and pulled apart, and the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from storyrod.adapters.packet._blocks import Block, Row, Section
from storyrod.adapters.packet._letters import missing, told
from storyrod.adapters.packet._sheets import bought_sheets
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Figures, case_elevation, case_exploded, case_view
from storyrod.drawing import Shown as Look
from storyrod.faults import Caution
from storyrod.model.detail import DetailedCase
from storyrod.model.job import Case, Fits
from storyrod.model.panel import Panel
from storyrod.planning import Plan
from storyrod.telling.blocks import Bullets, Heading, Picture, Table, Warning_, Words, table, wide
from storyrod.telling.panels import panels_of
from storyrod.telling.set_ups import run_words
from storyrod.telling.shown import Shown

CLOSING = (
    "These are reminders, not training. Your tool's manual, the law and codes where you work, and a licensed or "
    "trained person's word come before this page."
)
"""Every page of cautions ends with this; common practice, no source."""

ALWAYS = (
    "Router: unplug to change cutter or height; shank well in; clamp the work; feed against rotation.",
    "Eyes, ears and lungs protected at every machine.",
    "Drill and jig: jig clamped, stop collar tight and tried in scrap; clear the chips; no gloves.",
    "Saw: guard and riving knife on, push stick at hand, both parts held up; never reach over.",
    "Dust: extraction at every tool, a mask to sand or cut MDF; look up today's limit where you work.",
    "Lifting: sheets and cases are heavier than they look. Break sheets down; turn cases with help.",
    "Tipping: fix tall or shallow cases, and all cases with drawers, to the wall; heavy things low.",
)
"""The usual cautions of a workshop (common practice, no source, but for dust: HSE woodworking pages)."""

_MOST_LETTERS = 8  # that are named one by one

_VIEW_SHARE = (0.5, 0.2)  # of the page's width and height for the picture on the first page
_FALLS = ("tip", "hung-on", "hung-over")  # how the codes of what falls on somebody begin
_WATCH = 3  # things to watch that the first page names


def cover_section(plan: Plan) -> Section:
    """Return the summary: the first case drawn, sizes, pieces by board, the run's minutes, what to watch."""
    shown = Shown.of(plan.job)
    width, height = room_on(plan.job.paper.value)
    first = plan.details.cases[0]
    look = Look(boards=tuple(b.code for b in plan.job.boards), figures=Figures.of_job(plan.job))
    room = (width * _VIEW_SHARE[0], height * _VIEW_SHARE[1])
    beside: list[Block] = [Words(text=_FOR)]
    if plan.job.customer:
        beside.append(Words(text=f"For {plan.job.customer}"))
    if plan.job.note:
        beside.append(Words(text=plan.job.note))
    made = f"Made by {plan.job.maker}. " if plan.job.maker else ""
    beside.append(Words(text=f"{made}Plan version {plan.version}. {shown.lengths.explained}", quiet=True))
    picture = Picture(drawing=case_view(first, look, room=room), notes=False)
    blocks: list[Block] = [
        Row(cells=((picture,), tuple(beside)), shares=(1.1, 1.0)),
        _cases_table(plan, shown),
        _pieces_table(plan, shown),
        Words(text=f"Work: {run_words(plan.machining)}"),
        Heading(text="Watch"),
        *(Warning_(text=f"{c.about}: {c.text} {c.do}".strip()) for c in _watched(plan)),
    ]
    return Section(title=plan.job.title, part="cover", listed=False, blocks=tuple(blocks))


_FOR = (
    "The bench packet: all you need at the bench, in the order of the work. Checks and reasons, full-size rods and "
    "jigs, labels and the buying list are separate papers."
)


def _pieces_table(plan: Plan, shown: Shown) -> Table:
    """Return the pieces of each board, those of one size gathered: `2 off 860 x 450 (A1, A2)`."""
    rows = []
    for board in plan.job.boards:
        sizes: dict[str, list[tuple[Panel, int]]] = {}
        for panel, count in panels_of(plan):
            if panel.board == board.code:
                sizes.setdefault(f"{shown.n(panel.length)} \u00d7 {shown.n(panel.width)}", []).append((panel, count))
        pieces = [
            f"{sum(n for _, n in own)} off {size} ({', '.join(p.mark for p, _ in own)})" for size, own in sizes.items()
        ]
        if pieces:
            rows.append((board.name, "; ".join(pieces), _sheets_of(plan, board.code)))
    return table((wide("board", 0.6), wide("pieces, finished", 2.4), wide("sheets", 0.7)), rows, small=True)


def _sheets_of(plan: Plan, code: str) -> str:
    board = next((b for b in plan.sheets.boards if b.board == code), None)
    return "no sheet size given" if board is None else bought_sheets(plan, board.figures)


def _watched(plan: Plan) -> list[Caution]:
    """Return the cautions that come first: those of tipping, and the first of the rest."""
    tips = tipping_cautions(plan)
    rest = [c for c in plan.cautions if not c.code.startswith(_FALLS)]
    return [*tips, *rest[: max(0, _WATCH - len(tips))]]


def tipping_cautions(plan: Plan) -> list[Caution]:
    """Return a caution for each case that can tip, with figures where there is such a one, and those of what hangs."""
    told = [c for c in plan.cautions if c.code.startswith(_FALLS)]
    with_figures = {c.about for c in told if c.code == "tip-fix-to-wall"}
    return [c for c in told if c.code == "tip-fix-to-wall" or c.about not in with_figures]


def _cases_table(plan: Plan, shown: Shown) -> Table:
    rows = []
    for case in plan.details.cases:
        c = case.built.case
        size = shown.lengths.seen_size(c.width, c.height, c.depth)
        rows.append((c.code, c.name, str(c.count), size, str(len(case.panels)), str(len(case.joints))))
    columns = ("case", wide("name"), "how many", "wide \u00d7 high \u00d7 deep", "panels", "joints")
    return table(columns, rows)


def proof_section(plan: Plan) -> Section:
    """Return what was proven, with figures."""
    intro = Words(
        text="Each line was checked by arithmetic of its own, apart from the part of the program that placed the "
        "joints. A plan that fails one of them is not printed."
    )
    return Section(
        title="What was proven",
        head="proof",
        blocks=(intro, Bullets(items=plan.proven)),
    )


def case_sections(plan: Plan) -> tuple[Section, ...]:
    """Return a section for each case: its front with dimensions, and the case pulled apart with every mark."""
    drawn = zip(plan.details.cases, plan.set_out.cases, strict=True)
    # Openings are drawn as they come out between the lines as marked, so that their sizes are those of the set-out.
    return tuple(
        _case_section(plan, replace(case, built=replace(case.built, openings=marked.openings)))
        for case, marked in drawn
    )


def _case_section(plan: Plan, case: DetailedCase) -> Section:
    shown = Shown.of(plan.job)
    figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)
    width, height = room_on(plan.job.paper.value)
    c = case.built.case
    boards = tuple(b.code for b in plan.job.boards)
    look = Look(boards=boards, names=True, figures=figures)
    blocks: list[Block] = [
        Picture(drawing=case_elevation(case, figures=figures, boards=boards, room=(width, height * 0.34))),
        Heading(text="Pulled apart"),
        Picture(drawing=case_exploded(case, look, room=(width, height * 0.44))),
    ]
    if c.fits is not None:
        blocks.append(Words(text=_fits_words(c, c.fits, shown)))
    return Section(title=f"{c.code}: {c.name}", head=f"{c.code}", blocks=tuple(blocks))


def _fits_words(c: Case, fits: Fits, shown: Shown) -> str:
    parts = [
        f"{name} {shown.n(place)} leaves {shown.n(place - size)}"
        for name, place, size in (
            ("width", fits.width, c.width),
            ("height", fits.height, c.height),
            ("depth", fits.depth, c.depth),
        )
        if place is not None
    ]
    return f"The place it goes into: {'; '.join(parts)} (at least {shown.n(fits.clearance)} needed)."


def caution_section(plan: Plan) -> Section:
    """Return the cautions of this plan, and those of every workshop."""
    first = _watched(plan)
    own = [*_told_once([c for c in plan.cautions if c not in first]), *_letters_missing(plan)]
    watched = " The first page says what to watch first." if first else ""
    blocks: list[Block] = [Words(text=f"{CLOSING}{watched}", strong=True), *own]
    if own or first:
        blocks.append(Heading(text="In every workshop"))
    blocks.append(Bullets(items=ALWAYS))
    return Section(title="Cautions", head="cautions", blocks=tuple(blocks), flows=True)


def _told_once(cautions: Sequence[Caution]) -> list[Warning_]:
    """Return each caution, those that say the same of several things as one."""
    about: dict[str, list[str]] = {}
    for caution in cautions:
        about.setdefault(f"{caution.text} {caution.do}".strip(), []).append(caution.about)
    return [Warning_(text=text, title="; ".join(things)) for text, things in about.items()]


def _letters_missing(plan: Plan) -> list[Warning_]:
    """Return a word about letters of the maker's own names that the packet cannot print."""
    job = plan.job
    cases = (c.built for c in plan.details.cases)
    names = [n for c in cases for n in (c.case.code, c.case.name, *(o.name for o in c.openings))]
    texts = (job.title, job.maker, job.customer, job.note, *(b.name for b in job.boards), *names)
    lost = missing(texts)
    if not lost:
        return []
    named = ", ".join(told(c) for c in lost[:_MOST_LETTERS]) + (", and more" if len(lost) > _MOST_LETTERS else "")
    text = f"This packet cannot print these letters, and prints a question mark: {named}. Write such names "
    return [
        Warning_(
            title="Names", text=text + "in other letters where you must tell them apart; the files have them whole."
        )
    ]
