"""A study file: what varies, in which order, and what is told of one that asks for what cannot be."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.files.studying import read_study
from storyrod.faults import JobError
from tests.unit.study.shared import JOB, STUDY, study_in, variants_in

HEAD = 'job = "pegs.toml"\n'


def vary(*lines: str) -> str:
    return "\n".join([HEAD, *(f"[[vary]]\n{line}" for line in lines)])


def values(folder: Path, text: str, job: str = JOB) -> list[tuple[object, ...]]:
    found = variants_in(folder, text, job)
    return [found.values(n) for n in range(len(found))]


def fault(folder: Path, text: str, job: str = JOB) -> tuple[str, str, int | None, str]:
    """Return code, field, line and what was found of the one fault of a study."""
    with pytest.raises(JobError) as caught:
        variants_in(folder, text, job)
    (found,) = caught.value.faults
    return found.code, found.field, found.line, found.found


def test_all_combinations_come_with_what_changes_most_outermost(tmp_path: Path) -> None:
    """Methods are named first, but vary the quickest: a carcass is worked out once for all of them."""
    text = vary(
        'field = "methods.corner"\nvalues = ["dowels", "biscuits"]', 'field = "cases[0].width"\nvalues = [500, 600]'
    )

    assert values(tmp_path, text) == [("dowels", 500), ("biscuits", 500), ("dowels", 600), ("biscuits", 600)]


def test_in_step_takes_the_first_of_each_then_the_second(tmp_path: Path) -> None:
    text = vary('field = "cases[0].width"\nvalues = [500, 600]', 'field = "cases[0].depth"\nvalues = [200, 250]')

    assert values(tmp_path, text.replace(HEAD, f'{HEAD}combine = "in step"')) == [(500, 200), (600, 250)]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('field = "cases[0].width"\nfrom = 300\nto = 301\nstep = 0.3', [300, 300.3, 300.6, 300.9]),
        ('field = "cases[0].width"\nfrom = "30 cm"\nto = 310\nstep = 5', [300, 305, 310]),
        ('field = "cases[0].width"\nnear = 11\nstep = 5', [490, 495, 500, 505, 510]),
        ('field = "cases[0].count"\nfrom = 1\nto = 6\nstep = 2', [1, 3, 5]),
    ],
)
def test_a_range_has_every_step_up_to_its_end(tmp_path: Path, line: str, told: list[float]) -> None:
    assert [v for (v,) in values(tmp_path, vary(line))] == told


def test_a_range_of_an_inch_job_is_written_in_inches(tmp_path: Path) -> None:
    job = 'units = "in"\n' + JOB.replace("= 500", "= 20").replace("= 300", "= 12").replace("= 200", "= 8")
    job = job.replace("thickness = 18", 'thickness = "3/4"').replace(
        "length = 1250, width = 600", "length=49, width=24"
    )

    told = values(tmp_path, vary("field = \"cases[0].width\"\nfrom = '19 3/4'\nto = 20\nstep = '1/8'"), job)

    assert told == [('19 3/4"',), ('19 7/8"',), ('20"',)]


def test_the_job_file_is_left_as_it_is_but_for_what_varies(tmp_path: Path) -> None:
    found = variants_in(tmp_path)
    was = found.job(0)

    assert (was.cases[0].width, was.methods.corner) == (400, "dowels")
    assert found.tables["cases"][0]["width"] == 500
    assert "methods" not in found.tables


def test_a_number_of_rows_stands_for_so_many_like_the_first(tmp_path: Path) -> None:
    job = JOB.replace("rows = [{}, {}]", 'rows = [{ holds = "drawer" }, {}]')

    found = variants_in(tmp_path, vary('field = "cases[0].inside.rows"\nvalues = [3]'), job)

    assert [o.holds.value for o in found.job(0).cases[0].inside.inside] == ["drawer"] * 3


def test_a_table_written_in_short_can_vary_in_one_of_its_fields(tmp_path: Path) -> None:
    job = JOB.replace('back = "none"', 'back = "applied"')

    found = variants_in(tmp_path, vary('field = "cases[0].back.kind"\nvalues = ["none"]'), job)

    assert found.job(0).cases[0].back.kind.value == "none"


PLINTH = 'field = "cases[0].plinth.height"\n'
NOT_IN = ", which is not in the job"
WIDTH = 'field = "cases[0].width"\n'


@pytest.mark.parametrize(
    ("line", "code", "at", "number", "found"),
    [
        (WIDTH.replace("width", "with") + "values = [1]", "field", ".field", 4, f'"cases[0].with"{NOT_IN}'),
        (WIDTH.replace("0", "1") + "values = [1]", "field", ".field", 4, f'"cases[1]"{NOT_IN}'),
        (WIDTH.replace("th", "th.x") + "values = [1]", "field", ".field", 4, f'"cases[0].width.x"{NOT_IN}'),
        ('field = "boards.oak.name"\nvalues = [1]', "field", ".field", 4, f'"boards.oak"{NOT_IN}'),
        (WIDTH + "from = 500\nto = 400\nstep = 5", "backwards", ".to", 6, "400"),
        (WIDTH + "from = 400\nto = 500\nstep = 0", "backwards", ".step", 7, "0"),
        (WIDTH + "from = 400\nto = 500\nstep = -5", "backwards", ".step", 7, "-5"),
        (WIDTH + "near = 20\nstep = 0", "backwards", ".step", 6, "0"),
        (WIDTH + "near = -20\nstep = 5", "backwards", ".near", 5, "-20"),
        (WIDTH + "from = 400\nto = 500", "range", "", 3, "from, to"),
        (WIDTH, "range", "", 3, "no values"),
        (WIDTH + "values = [400]\nstep = 5", "range", "", 3, "values, step"),
        (WIDTH.replace("width", "name") + "near = 1\nstep = 1", "range", "", 3, "a range of cases[0].name"),
        (WIDTH.replace("width", "count") + 'from = "one"\nto = 2\nstep = 1', "range", ".from", 5, '"one"'),
        (PLINTH + "near = 5\nstep = 1", "range", ".near", 5, "no cases[0].plinth.height in the job"),
    ],
)  # fmt: skip
def test_what_cannot_vary_is_told_at_its_line(
    tmp_path: Path, line: str, code: str, at: str, number: int, found: str
) -> None:
    assert fault(tmp_path, vary(line)) == (f"study-{code}", f"vary[0]{at}", number, found)


def test_a_value_that_no_job_can_have_is_left_to_the_variant(tmp_path: Path) -> None:
    assert values(tmp_path, vary('field = "cases"\nvalues = [1]')) == [(1,)]


def test_a_field_twice_and_lists_out_of_step_are_told(tmp_path: Path) -> None:
    line = 'field = "cases[0].width"\nvalues = [500, 600]'
    other = 'field = "cases[0].depth"\nvalues = [200]'

    assert fault(tmp_path, vary(line, line))[1] == "vary[1].field"
    assert fault(tmp_path, vary(line, other).replace(HEAD, f'{HEAD}combine = "in step"'))[1] == "combine"
    assert fault(tmp_path, HEAD)[1] == "vary"


def test_a_wrong_file_is_told_before_anything_else(tmp_path: Path) -> None:
    path = study_in(tmp_path, STUDY.replace("pegs.toml", "passwd"))
    with pytest.raises(JobError, match=r"which ends in \.toml"):
        read_study(path)
    with pytest.raises(JobError, match=r"study-2\.toml"):
        read_study(tmp_path / "study-2.toml")
    with pytest.raises(JobError, match="cheapness"):
        variants_in(tmp_path, STUDY.replace('"price",', '"cheapness",'))


def test_faults_of_the_job_file_name_it(tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        variants_in(tmp_path, STUDY, JOB.replace("depth = 200", "depth = -1"))

    assert caught.value.faults[0].file == "pegs.toml"


def test_another_study_or_job_has_another_digest(tmp_path: Path) -> None:
    digests = {
        variants_in(tmp_path, study, job).digest
        for study in (STUDY, STUDY.replace("700", "800"))
        for job in (JOB, JOB.replace("30.00", "31.00"))
    }

    assert len(digests) == 4
    assert variants_in(tmp_path).digest in digests
