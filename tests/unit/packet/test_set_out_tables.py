"""The tables of a set-out sheet say all that a maker sets out by: lines, marks, walls, and each panel's mates."""

from __future__ import annotations

from dataclasses import replace

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.packet import make_book
from storyrod.adapters.packet._columns import _TEXT, _WORKING, cell_width, measured, widths_of
from storyrod.adapters.packet._lists import _CUT_COLUMNS, _abreast
from storyrod.adapters.packet._make import packet_sections
from storyrod.adapters.packet._set_out_tables import set_out_tables
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.job import Back, BackKind, BetweenOrOver, MethodChoice
from storyrod.model.mark import PanelSetOut
from storyrod.planning import Plan
from storyrod.telling.blocks import Table, Words, table
from storyrod.telling.shown import Shown
from storyrod_blind import FindingKind, build
from tests.builders import case, drawer, job, opening, rows, shelves

_MM = Shown(LengthWriter())


def plan_of(mid_panel: str, corner: str = "dowels") -> Plan:
    """Return a case with two fixed shelves, held as asked."""
    chosen = MethodChoice(corner=corner, mid_panel=mid_panel)
    return Plan(job(case(inside=rows(opening(), opening(), opening())), methods=chosen), packaged_workshop())


def tables_of(plan: Plan, *names: str, shown: Shown = _MM) -> list[Table]:
    outs = outs_of(plan, *names)
    marks = {p.panel.id: p.panel.mark for c in plan.set_out.cases for p in c.panels}
    return set_out_tables(outs, marks, shown)


def outs_of(plan: Plan, *names: str) -> list[PanelSetOut]:
    by_name = {p.panel.name: p for c in plan.set_out.cases for p in c.panels}
    return [by_name[n] for n in names]


def cells(table: Table, head: str) -> list[str]:
    at = [c.head for c in table.columns].index(head)
    return [row[at] for row in table.rows]


def test_every_line_where_a_mate_stands_is_in_the_table_with_its_extent() -> None:
    plan = plan_of("dowels")
    (out,) = outs_of(plan, "left side")
    lines = tables_of(plan, "left side")[0]

    assert [c.head for c in lines.columns] == [
        "mate",
        "by its",
        "datum end",
        "face edge",
        "face side at",
        "joint",
    ]
    places = zip(cells(lines, "datum end"), cells(lines, "face edge"), strict=True)
    told = dict(zip(cells(lines, "joint"), places, strict=True))
    for line in out.lines:
        across = f"{_MM.n(line.near)} to {_MM.n(line.far)}"
        along = f"{_MM.n(line.start)} to {_MM.n(line.end)}"
        assert told[line.number] == ((across, along) if line.across_length else (along, across))
    assert len(told) == len(out.lines) > 3


def test_a_stopped_housing_is_told_from_wall_to_wall_and_from_end_to_end() -> None:
    """A shelf 17.7 thick in a housing that stops 10 from the front, in a side that is 300 deep or so."""
    plan = plan_of("stopped housing")
    (out,) = outs_of(plan, "left side")
    walls = next(t for t in tables_of(plan, "left side") if t.title.startswith("Marks"))
    housings = [m for m in out.marks if m.feature.kind == "housing"]

    assert len(housings) == 2
    for mark in housings:
        row = cells(walls, "mark").index(str(mark.number))
        low, high = (float(n) for n in cells(walls, "datum end")[row].split(" to "))
        front, rear = (float(n) for n in cells(walls, "face edge")[row].split(" to "))
        shape = mark.feature.shape
        assert abs((low + high) / 2 - mark.u) <= 0.1
        assert abs((high - low) - shape.width) <= 0.1 + 1e-9  # type: ignore[union-attr]
        assert abs((rear - front) - shape.length) <= 0.1 + 1e-9  # type: ignore[union-attr]
        assert front > 0


def test_each_panel_of_a_large_gang_has_its_own_mates() -> None:
    plan = plan_of("dowels")
    names = ("top", "base", "shelf 1", "shelf 2")
    outs = outs_of(plan, *names)
    mates = next(t for t in tables_of(plan, *names) if t.title.startswith("What each mark is for"))

    for out in outs:
        told: dict[int, str] = {}
        for numbers, words in zip(cells(mates, "mark"), cells(mates, out.panel.mark), strict=True):
            joint, _, mated = words.partition(": ")
            panel, _, those = mated.rpartition(".")
            told |= {n: f"{joint}: {panel}.{m}" for n, m in zip(spread(numbers), spread(those), strict=True)}
        assert told == {m.number: f"{m.joint}: {m.mate}" for m in out.marks if m.joint}


def spread(words: str) -> list[int]:
    """Return the numbers of `17–19`, up or down, or of `6, 8, 10`."""
    first, _, last = words.partition("–")
    if not last:
        return [int(w) for w in words.split(", ")]
    step = 1 if int(last) >= int(first) else -1
    return list(range(int(first), int(last) + step, step))


def test_cuts_on_one_line_are_one_row_with_each_place() -> None:
    """Three dowels across a side stand on one line: the line is drawn once, and the places are set out along it."""
    plan = plan_of("dowels")
    (out,) = outs_of(plan, "left side")
    marks = next(t for t in tables_of(plan, "left side") if t.title.startswith("Marks"))
    by_number = {m.number: m for m in out.marks}
    gathered = 0
    for numbers, what, u, v in zip(*(cells(marks, h) for h in ("mark", "what", "datum end", "face edge")), strict=True):
        own = [by_number[n] for n in spread(numbers)]
        assert what.startswith(f"{len(own)} × ") == (len(own) > 1)
        if len(own) > 1 and "every" not in what:
            gathered += 1
            assert len({m.surface for m in own}) == 1
            places = {"u": u.split(", "), "v": v.split(", ")}
            for axis, told in places.items():
                wanted = [_MM.n(getattr(m, axis)) for m in own]
                assert told == (wanted if len(told) > 1 else [wanted[0]]), (numbers, axis)
                assert len(told) in (1, len(own))
    assert gathered >= 3


def test_a_table_says_its_unit() -> None:
    plan = plan_of("dowels")
    inches = tables_of(plan, "left side", shown=Shown(LengthWriter(Unit.INCH)))

    assert all("in inches" in t.title for t in inches)
    assert all("in millimetres" in t.title for t in tables_of(plan, "left side"))


def test_a_keyhole_says_where_its_entry_lies_and_a_pocket_where_it_points() -> None:
    keyed = tables_of(plan_of("one-part keyhole connector", "one-part keyhole connector"), "left side")
    pocketed = tables_of(plan_of("pocket screws"), "shelf 1")

    whats = [w for t in keyed if "what" in [c.head for c in t.columns] for w in cells(t, "what")]
    assert any("marked is the lock, the entry lies" in w and w.endswith(("edge", "end")) for w in whats)
    whats = [w for t in pocketed if "what" in [c.head for c in t.columns] for w in cells(t, "what")]
    assert any("long, toward the far end" in w for w in whats)
    assert any("long, toward the datum end" in w for w in whats)


def test_places_that_take_much_room_may_break_so_that_what_is_cut_keeps_its_own() -> None:
    """Rows of pins in inches, and through holes on two panels at once, leave the words no width else."""
    inside = rows(drawer(200.0), shelves(2))
    chosen = MethodChoice(corner="carcass screws", mid_panel="carcass screws")
    made = job(case(inside=inside), methods=chosen)
    plan = Plan(replace(made, unit=Unit.INCH), packaged_workshop())
    inch = Shown(LengthWriter(Unit.INCH, 32))
    marks = next(t for t in tables_of(plan, "left side", "right side", shown=inch) if t.title.startswith("Marks"))
    shares = {c.head: c.share for c in marks.columns}
    spans = [h for h in ("datum end", "face edge") if any(" to " in c for c in cells(marks, h))]

    assert spans
    assert all(shares[h] > 0 for h in (*spans, "for", "what"))
    for width in (178.0, 182.0, 186.0):
        widths = widths_of(marks, width)
        assert widths is not None
        assert abs(sum(widths) - width) < 1e-6
        for n, column in enumerate(marks.columns):
            for row in marks.rows:  # no word is wider than its column
                assert all(cell_width(w, _WORKING if column.working else _TEXT) <= widths[n] for w in row[n].split(" "))


def test_a_back_that_runs_past_its_grooves_says_at_which_end_and_the_blind_builder_lays_it_so() -> None:
    made = job(
        case(
            back=Back(kind=BackKind.GROOVED, board="b6", in_top=False, in_base=False, inset=12.0),
            top=BetweenOrOver.OVER_SIDES,
        )
    )
    plan = Plan(made, packaged_workshop())
    past = [b.text for s in packet_sections(plan, ["set-out"]) for b in s.blocks if isinstance(b, Words)]
    report = build(make_book(plan, parts=("cover", "cutting list", "hardware", "joints", "set-out")))

    assert [w for w in past if " past the " in w] == [
        "On A1, A5 (J2) runs 18 past the far end.",
        "On A2, A5 (J4) runs 18 past the far end.",
    ]
    assert FindingKind.PANEL_UNPLACED not in report.by_kind


def test_heads_of_a_cutting_list_with_long_fractions_do_not_run_into_each_other() -> None:
    """Sizes in fractions left the column for edgings less than its head is wide: "edging" stood on "kg each"."""
    long = '34.4186"\u00a0\u00d7 21\u00a023/32"'
    rows = [("A15", "drawer 2 front", "1", long, long, "length", "", "5.9", "\u2610")]
    widths = widths_of(table(_CUT_COLUMNS, rows, title="a board", small=True), 180.0)

    assert widths is not None
    assert sum(widths) <= 180.0 + 1e-6
    for own, column in zip(widths, table(_CUT_COLUMNS, rows).columns, strict=True):
        assert own > max(measured(word, 10.5 * 25.4 / 72) for word in column.head.split(" "))


def test_two_joint_tables_stand_side_by_side_only_where_each_has_room_for_its_heads() -> None:
    """Beside lengths in ten-thousandths the head "stations" stood out over the gutter, to the next table's "joint"."""
    rows: list[tuple[str, ...]] = [
        (f"J{n}", f"A{n}", f"A{n + 9}", '15.0591"', '1.9685", 8.8583"') for n in range(1, 21)
    ]
    heads = ["Corner, screws through the face"] * 10 + ["Back, glued butt joint"] * 10
    placed = {width: _abreast("A: a case", rows, heads, 10, width) for width in (150.0, 160.0, 170.0, 182.0, 200.0)}

    assert placed[150.0] is None
    assert placed[200.0] is not None
    for row in filter(None, placed.values()):
        for (made,), share in zip(row.cells, row.shares or (), strict=True):
            assert isinstance(made, Table)
            assert widths_of(made, share) is not None
