"""The same figure is the same wherever it is written: set-out sheet, bench card, set-out page, rod, plan.json."""

from __future__ import annotations

import pytest

from storyrod.adapters.output._document import _panel
from storyrod.adapters.packet._set_out_tables import set_out_tables
from storyrod.adapters.web._marks import lines_of
from storyrod.drawing import Figures
from storyrod.measure.length import Unit, parse_length
from storyrod.model.mark import Mark, PanelSetOut
from storyrod.planning import Plan
from storyrod.telling.blocks import Table
from storyrod.telling.mark_extent import is_channel
from storyrod.telling.placing import mark_place
from storyrod.telling.shown import Shown
from tests.kept import example_plan
from tests.places import EXAMPLES

NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))
AXES = {"datum end": "u", "face edge": "v", "face side": "w"}


def on_the_sheet(tables: list[Table]) -> dict[int, dict[str, str]]:
    """Return the figures of each mark whose places are told one by one: the column's head without the unit."""
    found: dict[int, dict[str, str]] = {}
    for table in tables:
        heads = [c.head for c in table.columns]
        if heads[0] == "mark":
            for row in table.rows:
                cells = dict(zip(heads, row, strict=True))
                first, _, last = row[0].partition("\u2013")
                numbers = range(int(first), int(last or first) + 1)
                if "every" in cells["what"]:
                    continue
                for head, axis in AXES.items():
                    places = cells.get(head, "").replace("\u00a0", " ").split(", ")
                    for n, number in enumerate(numbers):
                        found.setdefault(number, {})[axis] = places[n] if len(places) > 1 else places[0]
    return found


def figures_of(mark: Mark, plan: Plan) -> dict[str, str]:
    """Return the figures of a mark by the one writer; none across the surface that is worked."""
    across = mark.surface.axis.value
    return {a: plan.job.lengths.n(getattr(mark, a)) if a != across else "" for a in "uvw"}


def told_otherwise(
    plan: Plan, out: PanelSetOut, sheet: dict[int, dict[str, str]], stored: dict[str, dict[str, str]]
) -> list[str]:
    """Return the marks of a panel that any page writes with another figure than the writer of the job."""
    wrong: list[str] = []
    page = {line.mark.number: line for line in lines_of(out, Figures.of_job(plan.job))}
    for mark in out.marks:
        mine = figures_of(mark, plan)
        line = page[mark.number]
        bare = {a: f.rstrip('"') for a, f in mine.items()}
        if {"u": line.from_end, "v": line.from_edge, "w": line.from_face} != bare:
            wrong.append(f"{mark.label} on the page")
        if stored[mark.label] != mine:
            wrong.append(f"{mark.label} in plan.json")
        if is_channel(mark):
            continue  # told from wall to wall on paper
        card = mark_place(mark, out.panel, plan.job.lengths)
        if not all(f"{mine[a]} from the {d}" in card for d, a in AXES.items() if mine[a]):
            wrong.append(f"{mark.label} at the bench")
        if mark.number in sheet and {a: f for a, f in sheet[mark.number].items() if f} != {
            a: f for a, f in mine.items() if f and (a != "w" or sheet[mark.number]["w"])
        }:
            wrong.append(f"{mark.label} on the sheet")
    return wrong


@pytest.mark.parametrize("name", NAMES)
def test_each_mark_has_one_figure_on_sheet_card_page_and_in_plan_json(name: str) -> None:
    plan = example_plan(name)
    n, shown, seen = plan.job.lengths.n, Shown.of(plan.job), 0
    names = {p.panel.id: p.panel.mark for c in plan.set_out.cases for p in c.panels}
    for case, drawn in zip(plan.details.cases, plan.set_out.cases, strict=True):
        for out in drawn.panels:
            stored = {
                f["mark"]: {a: n(f["marked"][a]) if a != f_axis(out, f["mark"]) else "" for a in "uvw"}
                for f in _panel(plan, case, out)["features"]
            }
            sheet = on_the_sheet(set_out_tables([out], names, shown))
            assert told_otherwise(plan, out, sheet, stored) == []
            seen += len(sheet)
    assert seen > 10


def f_axis(out: PanelSetOut, label: str) -> str:
    return next(m.surface.axis.value for m in out.marks if m.label == label)


@pytest.mark.parametrize("name", NAMES)
def test_a_rod_has_the_figures_of_its_panel(name: str) -> None:
    plan = example_plan(name)
    n = plan.job.lengths.n
    for rod, gang in zip(plan.set_out.rods, plan.set_out.gangs, strict=True):
        out = plan.set_out.of(gang.panels[0])
        written = {n(v) for m in out.marks for v in (m.u, m.v)} | {n(e) for li in out.lines for e in (li.near, li.far)}
        assert {n(t.at) for t in (*rod.lengths, *rod.widths)} <= written
        assert (n(rod.length), n(rod.width_length)) == (n(out.panel.length), n(out.panel.width))


def test_a_written_figure_is_read_as_what_is_printed() -> None:
    """`printed` is the writer's own figure read back, in both units."""
    for name in ("rehearsal-room", "music-stand-shelf-inches"):
        lengths = example_plan(name).job.lengths
        for mm in (4.175, 18.0, 9.128125, 600.0799, 344.05, 0.0, 12.7, 1219.2):
            read = parse_length(lengths.told(mm), Unit.MM)
            assert lengths.printed(mm) == pytest.approx(read, abs=2e-6)
            assert abs(lengths.printed(mm) - mm) <= lengths.half_digit + 1e-9
