"""What a job file says becomes the job that the stages read."""

from __future__ import annotations

import subprocess
import sys

import pytest

from storyrod.adapters.files import job_from_text, new_job_text, read_job
from storyrod.adapters.files.editing import NewJob
from storyrod.measure.length import Unit
from storyrod.model.job import (
    BackKind,
    BetweenOrOver,
    BoardKind,
    Case,
    FrontKind,
    HandHoldKind,
    Holds,
    Job,
    Opening,
    Split,
    Spread,
)
from storyrod.planning import Plan
from tests.places import EXAMPLES

JOBS = sorted(p for p in EXAMPLES.glob("*.toml") if p.name != "choir-workshop.toml")


def read(text: str) -> Job:
    return job_from_text(text, name="robes-and_hats.toml").job


def a_case(more: str) -> Case:
    """Return the case of a small job with more in its table."""
    text = f'[boards.b]\nkind = "mdf"\nthickness = 18\n[[cases]]\ncode = "A"\nheight = 720\ndepth = 400\n{more}\n'
    return read(text).cases[0]


@pytest.mark.parametrize("path", JOBS, ids=lambda p: p.name)
def test_every_example_is_read(path: object) -> None:
    assert read_job(str(path)).job.cases


def test_the_examples_show_the_whole_vocabulary() -> None:
    jobs = [read_job(p) for p in JOBS]
    cases = [c for j in jobs for c in j.job.cases]

    assert {c.back.kind for c in cases} == set(BackKind)
    assert {c.fronts.kind for c in cases} == set(FrontKind)
    assert {c.fronts.hand_hold.kind for c in cases} == set(HandHoldKind)
    assert {c.top for c in cases} >= {BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.OVER_SIDES, BetweenOrOver.RAILS}
    assert {o.holds for c in cases for o in _all(c.inside)} == set(Holds)
    assert {j.job.unit for j in jobs} == set(Unit)
    assert {j.job.spread for j in jobs} == {Spread.LADDER, Spread.SHARED}
    assert {s for j in jobs for o in j.job.overrides if (s := o.spread)} == {Spread.EVEN}
    assert any(c.count > 1 for c in cases)
    assert any(c.fits for c in cases)
    assert any(c.methods for c in cases)
    assert any(j.workshop_path for j in jobs)


def _all(opening: Opening) -> list[Opening]:
    return [opening, *(o for i in opening.inside for o in _all(i))]


def test_the_folder_cabinet_is_two_columns_on_a_plinth() -> None:
    (cabinet,) = read_job(EXAMPLES / "rehearsal-room.toml").job.cases

    left, right = cabinet.inside.inside
    assert cabinet.inside.split is Split.COLUMNS
    assert cabinet.plinth is not None
    assert [r.holds for r in left.inside] == [Holds.DRAWER] * 4
    assert [r.size for r in left.inside] == [110.0, 150.0, 200.0, None]
    assert (right.holds, right.loose_shelves) == (Holds.DOOR, 2)


def test_every_part_knows_where_it_was_written() -> None:
    (cabinet,) = read_job(EXAMPLES / "rehearsal-room.toml").job.cases

    assert cabinet.inside.inside[0].inside[3].field == "cases[0].inside.columns[0].rows[3]"
    assert cabinet.back.field == "cases[0].back"
    assert cabinet.fronts.hand_hold.field == "cases[0].fronts.hand_hold"


def test_what_is_left_out_has_its_usual_value() -> None:
    job = read(
        '[boards.b]\nkind = "plywood"\nthickness = 18\n[[cases]]\ncode = "A"\nwidth=600\nheight=720\ndepth=400\n'
    )

    (board,), (case,) = job.boards, job.cases
    assert job.title == "robes and hats"
    assert (job.unit, job.mark_to, job.fraction) == (Unit.MM, 0.5, 32)
    assert (board.name, board.measured, board.measured_given) == ("18 mm plywood", 18.0, False)
    assert (board.grain, board.density_kg_m3) == (True, 680.0)
    assert [(s.length, s.width) for s in board.sheets] == [(2440.0, 1220.0)]
    assert board.named_figures == ("density_kg_m3", "stiffness_n_mm2", "stiffness_across_n_mm2")
    assert (case.board, case.name, case.count, case.edged) == ("b", "case A", 1, True)
    assert (case.back.kind, case.plinth, case.inside.holds) == (BackKind.NONE, None, Holds.OPEN)


def test_a_missing_size_follows_from_the_place_less_the_clearance() -> None:
    case = a_case("fits = { width = 900, height = 725, clearance = 5 }")

    assert case.width == 895.0
    assert case.height == 720.0


def test_sizes_may_be_written_in_any_way() -> None:
    assert a_case('width = "60 cm"').width == 600.0
    assert a_case("width = '23 5/8\"'").width == pytest.approx(600.075)
    assert a_case('width = "590,5"').width == 590.5


def test_a_word_alone_stands_for_a_table_of_that_kind() -> None:
    case = a_case('width = 600\nback = "applied"\nfronts = { hand_hold = "slot" }')

    assert case.back.kind is BackKind.APPLIED
    assert (case.fronts.hand_hold.kind, case.fronts.hand_hold.length) == (HandHoldKind.SLOT, 100.0)


def test_choices_are_read_without_regard_to_capitals_and_spaces() -> None:
    assert a_case('width = 600\ntop = " Over  Sides "').top is BetweenOrOver.OVER_SIDES


def test_loose_shelves_alone_say_what_an_opening_holds() -> None:
    assert a_case("width = 600\ninside = { loose_shelves = 2 }").inside.holds is Holds.LOOSE_SHELVES


def test_a_share_is_parts_of_what_the_others_leave() -> None:
    inside = a_case('width = 600\ninside = { rows = [{ height = "1,5 parts" }, {}, { height = 140 }] }').inside

    assert [(o.size, o.parts) for o in inside.inside] == [(None, 1.5), (None, 1.0), (140.0, 1.0)]


def test_money_is_kept_in_whole_cents() -> None:
    text = '[boards.b]\nkind = "mdf"\nthickness = 18\nsheets = [{ length = 2440, width = 1220, price = PRICE }]\n'
    text += '[[cases]]\ncode = "A"\nwidth=600\nheight=720\ndepth=400\n'

    for written, cents in (("62.50", 6250), ("0.29", 29), ("1.1", 110), ('"62,5"', 6250), ("78", 7800)):
        assert read(text.replace("PRICE", written)).boards[0].sheets[0].price_cents == cents


def test_the_maker_s_own_figures_go_before_the_usual_ones() -> None:
    text = '[boards.b]\nkind = "solid wood"\nthickness = 20\ndensity_kg_m3 = 720\ngrain = false\n'
    (board,) = read(text + '[[cases]]\ncode = "A"\nwidth=600\nheight=720\ndepth=400\n').boards

    assert (board.density_kg_m3, board.stiffness_n_mm2, board.grain) == (720.0, None, False)
    assert board.named_figures == ()


@pytest.mark.parametrize("holds", list(Holds))
@pytest.mark.parametrize("unit", list(Unit))
def test_a_new_job_is_a_good_job(holds: Holds, unit: Unit) -> None:
    text = new_job_text(
        NewJob(
            title='The "little" one',
            unit=unit,
            width=600.0,
            height=720.0,
            depth=400.0,
            kind=BoardKind.OTHER,
            thickness=18.0,
            measured=17.7,
            holds=holds,
            how_many=2,
            plinth=80.0,
            back=BackKind.GROOVED,
            count=3,
        )
    )
    (case,) = job_from_text(text, name="new.toml").job.cases

    assert (case.width, case.height, case.depth, case.count) == pytest.approx((600.0, 720.0, 400.0, 3))
    assert case.plinth is not None
    assert case.back.kind is BackKind.GROOVED
    assert [o.holds for o in (case.inside.inside or (case.inside,))] == [holds] * (2 if holds is Holds.DRAWER else 1)


def test_the_smallest_new_job_asks_for_the_measured_thickness() -> None:
    text = new_job_text(NewJob(width=600.0, height=720.0, depth=400.0))

    assert "# measured = 17.7" in text
    assert job_from_text(text, name="new.toml").job.cases[0].inside.holds is Holds.OPEN


@pytest.mark.parametrize("width", [300.0, 500.0, 501.0, 560.0, 900.0])
def test_a_new_job_is_not_cautioned_about_its_own_drawer_bottoms(width: float) -> None:
    text = new_job_text(NewJob(width=width, height=720.0, depth=400.0, holds=Holds.DRAWER, how_many=3))
    told = job_from_text(text, name="new.toml")
    carcass = Plan(told.job, told.workshop).carcass

    assert [c.code for c in carcass.cautions if c.code == "thin-drawer-bottom"] == []


def test_reading_loads_nothing_heavy() -> None:
    """`storyrod check` must start at once: what only writing needs stays unloaded."""
    code = (
        "import sys; from storyrod.adapters.files import read_job; read_job(sys.argv[1]); "
        "print([m for m in ('tomlkit', 'numpy', 'jsonschema', 'hashlib_x', 'ortools', 'ezdxf') if m in sys.modules])"
    )
    path = str(EXAMPLES / "first-box.toml")
    done = subprocess.run([sys.executable, "-c", code, path], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"


def test_a_board_of_an_inch_job_is_bought_in_sheets_of_96_by_48_inches() -> None:
    told = 'units = "in"\n[boards.b]\nkind = "plywood"\nthickness = "3/4"\n'
    job = read(told + '[[cases]]\ncode = "A"\nwidth = 24\nheight = 30\ndepth = 12\n')

    assert [job.lengths.size(s.length, s.width) for s in job.boards[0].sheets] == ['96" × 48"']
