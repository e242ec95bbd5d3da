"""What may stand in a batch, and what is told of jobs that do not go together."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from storyrod.adapters.files.batching import BatchRead, read_batch
from storyrod.faults import Fault, JobError
from storyrod.model.batch import PaidBy
from tests.unit.batch.conftest import job_text

type Writes = Callable[..., list[Path]]


def faults_of(paths: list[Path]) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as told:
        read_batch(paths)
    return told.value.faults


def batch_file(folder: Path, text: str) -> Path:
    path = folder / "batch.toml"
    path.write_text(text, encoding="utf-8")
    return path


def marks(read: BatchRead) -> list[str]:
    return [m.mark for m in read.members]


def test_job_files_are_marked_by_their_order(job_files: Writes) -> None:
    read = read_batch(job_files(job_text("One"), job_text("Two")))

    assert marks(read) == ["1", "2"]
    assert [m.marked.cases[0].code for m in read.members] == ["1-A", "2-A"]
    assert [m.job.cases[0].code for m in read.members] == ["A", "A"]


def test_a_batch_file_gives_marks_sheets_and_a_rule(job_files: Writes) -> None:
    one, two = job_files(job_text("One"), job_text("Two"))
    text = f"""
title = "Both"
paid_by = "cost alone"
[[jobs]]
job = "{one.name}"
mark = "K"
[[jobs]]
job = "{two.name}"
own_sheets = true
"""
    read = read_batch([batch_file(one.parent, text)])

    assert (read.title, read.paid_by) == ("Both", PaidBy.ALONE)
    assert marks(read) == ["K", "2"]
    assert [m.own_sheets for m in read.members] == [False, True]


def test_a_workshop_for_all_stands_in_for_those_that_the_jobs_name(job_files: Writes) -> None:
    one, two = job_files(job_text("One", more='workshop = "shed.toml"'), job_text("Two"))
    (one.parent / "shed.toml").write_text('format = 1\nname = "Shed"\n', encoding="utf-8")
    lists = f'[[jobs]]\njob = "{one.name}"\n[[jobs]]\njob = "{two.name}"\n'

    told = faults_of([batch_file(one.parent, lists)])
    assert [(f.code, f.file) for f in told] == [("batch-workshops", two.name)]
    assert read_batch([batch_file(one.parent, 'workshop = "shed.toml"\n' + lists)]).workshop.name == "Shed"


def test_the_same_job_twice_is_told_with_the_way_to_make_more_of_it(job_files: Writes) -> None:
    (one,) = job_files(job_text("One"))

    (fault,) = faults_of([one, one.parent / "." / one.name])

    assert fault.code == "batch-twice"
    assert "count" in fault.do


def test_a_file_that_is_gone_and_a_job_with_faults_are_told_at_once(job_files: Writes) -> None:
    one, two = job_files(job_text("One"), job_text("Two").replace("width = 400", "width = 4"))

    told = faults_of([one, one.parent / "gone.toml", two])

    assert [(f.code, f.file) for f in told] == [("file-missing", "gone.toml"), ("range", two.name)]
    assert told[1].line is not None


def test_a_file_that_is_gone_is_told_of_a_batch_file_too(job_files: Writes) -> None:
    (one,) = job_files(job_text("One"))

    (fault,) = faults_of([batch_file(one.parent, f'[[jobs]]\njob = "{one.name}"\n[[jobs]]\njob = "gone.toml"\n')])

    assert (fault.code, fault.file) == ("file-missing", "gone.toml")


@pytest.mark.parametrize(
    ("more", "code"),
    [('units = "in"', "batch-units"), ('workshop = "shed.toml"', "batch-workshops")],
)
def test_jobs_of_other_units_or_workshops_do_not_go_together(job_files: Writes, more: str, code: str) -> None:
    sizes = ("16", "24", "12") if "in" in more and "units" in more else ("400", "600", "300")
    two = job_text("Two", more=more)
    for old, new in zip(("400", "600", "300"), sizes, strict=True):
        two = two.replace(f" = {old}\n", f" = {new}\n")
    if "units" in more:
        two = two.replace("thickness = 18", 'thickness = "18 mm"').replace("17.7", '"17.7 mm"')
        two = two.replace("2440", '"2440 mm"').replace("1220", '"1220 mm"')
    paths = job_files(job_text("One"), two)
    (paths[0].parent / "shed.toml").write_text('format = 1\nname = "Shed"\n', encoding="utf-8")

    (fault,) = faults_of(paths)

    assert (fault.code, fault.file) == (code, paths[1].name)


def test_jobs_of_two_currencies_do_not_go_together_but_one_may_name_none(job_files: Writes) -> None:
    first, other = job_text("One"), job_text("Two")

    (fault,) = faults_of(job_files(first, other.replace("EUR", "GBP")))
    assert fault.code == "batch-currency"
    assert len(read_batch(job_files(first, other.replace('currency = "EUR"', ""))).members) == 2


@pytest.mark.parametrize("mark", ["K-1", "KKKKK", "ä", "1"])
def test_a_mark_is_letters_and_figures_and_no_other_job_has_it(job_files: Writes, mark: str) -> None:
    one, two = job_files(job_text("One"), job_text("Two"))
    text = f'[[jobs]]\njob = "{one.name}"\n[[jobs]]\njob = "{two.name}"\nmark = "{mark}"\n'

    (fault,) = faults_of([batch_file(one.parent, text)])

    assert (fault.field, fault.line) == ("jobs[1].mark", 5)
    assert fault.code == ("batch-mark" if len(mark) < 5 else fault.code)


def test_one_job_is_no_batch(job_files: Writes) -> None:
    (one,) = job_files(job_text("One"))

    assert [f.code for f in faults_of([one])] == ["batch-few"]
    assert [f.code for f in faults_of([batch_file(one.parent, f'[[jobs]]\njob = "{one.name}"\n')])] == ["batch-few"]


def test_only_files_that_end_in_toml_are_read(job_files: Writes, tmp_path: Path) -> None:
    (one,) = job_files(job_text("One"))
    (tmp_path / "secret.txt").write_text("a = 1", encoding="utf-8")

    (fault,) = faults_of([one, tmp_path / "secret.txt"])

    assert fault.code == "batch-job"
