"""Rows of a study: each is the plan of that variant alone, whatever was shared on the way."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.files import edit_job, job_from_text
from storyrod.adapters.files.editing import Change
from storyrod.adapters.study import Sharing, columns_in
from storyrod.adapters.study._engines import worked_out
from storyrod.model.study import Asked, Row
from storyrod.planning import Plan
from storyrod.telling.figures import columns_of, figures_of, least_sheets
from tests.unit.study.shared import JOB, STUDY, variants_in


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[str], tuple[Row, ...]]:
    """Return the names of the columns and the rows of the small study."""
    variants = variants_in(tmp_path_factory.mktemp("study"))
    return [c.name for c in columns_in(variants)], worked_out(Sharing(variants), range(len(variants)))


def named(worked: tuple[list[str], tuple[Row, ...]], number: int) -> dict[str, object]:
    return dict(zip(worked[0], worked[1][number].cells, strict=True))


@pytest.mark.parametrize("number", [0, 4, 10])
def test_a_row_is_the_plan_of_that_job_file_alone(worked: tuple[list[str], tuple[Row, ...]], number: int) -> None:
    """The variant is written into the job file, by other code, and planned from the start."""
    row = named(worked, number)
    changes = [
        Change(path="cases[0].width", value=int(str(row["cases[0].width"]))),
        Change(path="methods.corner", value=str(row["methods.corner"])),
    ]
    read = job_from_text(edit_job(JOB, changes), name="pegs.toml")
    plan = Plan(read.job, read.workshop)

    cells = worked[1][number].cells
    assert cells[2:-2] == figures_of(plan, tuple(Asked))
    assert row["price"] == plan.account.price_cents
    assert row["cost"] == plan.account.cost_cents
    assert row["minutes"] == pytest.approx(plan.account.minutes.usual, abs=1e-6)
    assert row["sheets"] == len(plan.sheets.sheets)
    assert (row["not kept"], row["fault"]) == ("", "")
    assert worked[1][number].rank == plan.account.price_cents


def test_a_variant_that_cannot_be_made_is_a_row_with_its_fault(worked: tuple[list[str], tuple[Row, ...]]) -> None:
    row = named(worked, 2)

    assert row["methods.corner"] == "glue and hope"
    assert str(row["fault"]).startswith('methods.corner: "glue and hope"')
    assert row["price"] is None
    assert worked[1][2].rank is None


def test_wider_takes_a_second_sheet_where_the_parts_no_longer_fit(worked: tuple[list[str], tuple[Row, ...]]) -> None:
    """At 400 wide: 2 sides of 300 and 3 boards of 365, all 200 deep, on a sheet of 1250 x 600; at 700 they are 665."""
    sheets = [row.cells[worked[0].index("sheets")] for row in worked[1][::3]]

    assert sheets == sorted(sheets, key=lambda n: int(n or 0))
    assert (sheets[0], sheets[-1]) == (1, 2)


def test_order_does_not_matter(tmp_path: Path, worked: tuple[list[str], tuple[Row, ...]]) -> None:
    sharing = Sharing(variants_in(tmp_path))

    assert worked_out(sharing, (10, 0, 4)) == tuple(worked[1][n] for n in (10, 0, 4))


def test_what_only_another_method_changes_is_not_laid_out_again(tmp_path: Path) -> None:
    sharing = Sharing(variants_in(tmp_path))
    worked_out(sharing, (0, 1))

    assert sharing.shared.layouts == 1


def test_what_needs_too_many_sheets_is_not_laid_out(tmp_path: Path) -> None:
    variants = variants_in(
        tmp_path, STUDY + "\n[only]\nsheets_most = 1\n", JOB.replace("width = 600, p", "width = 400, p")
    )
    sharing = Sharing(variants)
    row = sharing.row(len(variants) - 2)

    assert row.cells[-2] == "at least 2 sheets, at most 1 asked for; not laid out"
    assert row.rank is None
    assert sharing.shared.layouts == 0


@pytest.mark.parametrize(
    ("only", "told"),
    [
        ("sound = true", "A must be fixed to the wall"),
        ("price_most = 10", "dearer than asked for"),
    ],
)
def test_what_does_not_keep_a_condition_is_no_best(tmp_path: Path, only: str, told: str) -> None:
    row = Sharing(variants_in(tmp_path, f"{STUDY}\n[only]\n{only}\n")).row(0)

    assert told in str(row.cells[-2])
    assert row.rank is None
    assert row.cells[2] is not None


def test_the_least_by_area_is_never_more_than_what_is_laid_out(tmp_path: Path) -> None:
    variants = variants_in(tmp_path)
    for number in (0, 9):
        plan = Plan(variants.job(number), variants.workshop)
        assert 1 <= least_sheets(plan) <= len(plan.sheets.sheets)


def test_columns_are_as_many_as_figures(tmp_path: Path) -> None:
    variants = variants_in(tmp_path)
    plan = Plan(variants.job(0), variants.workshop)
    for asked in Asked:
        assert len(columns_of([asked])) == len(figures_of(plan, [asked])), asked
