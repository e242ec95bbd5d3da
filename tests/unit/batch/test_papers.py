"""What comes of a batch: papers, tables, drawings, and what the command line says."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader

from storyrod.adapters.batching import batch_files
from storyrod.adapters.cli import main
from storyrod.adapters.output import batch_buying_csv, batch_document, batch_paid_csv, batch_traces_csv
from storyrod.adapters.packet import make_batch_buying, make_batch_packet
from storyrod.adapters.packet._machining import machining_sections
from storyrod.adapters.packet._sheets import sheet_sections
from storyrod.drawing import Hatch
from storyrod.drawing.pattern_key import PATTERNS, KeyRow, pattern_key, pattern_of_job
from storyrod.planning import Batch
from storyrod.telling.batch import patterns_of, savings, to_pay
from storyrod.telling.sheets import sheet_drawing
from tests.unit.batch.conftest import batch_of, job_text
from tests.unit.drawing.reading import faults_of, marks_too_near, too_small
from tests.unit.packet.drawn import drawn


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def words(pdf: bytes) -> str:
    return " ".join(re.sub(r"\s+", " ", p.extract_text()) for p in PdfReader(io.BytesIO(pdf)).pages)


def test_the_tables_say_who_pays_what_and_where_it_goes(two: Batch) -> None:
    paid, bought, where = rows(batch_paid_csv(two)), rows(batch_buying_csv(two)), rows(batch_traces_csv(two))

    for row in paid:
        assert round(float(row["job 1"]) + float(row["job 2"]) - float(row["together"]), 2) == 0
    dowels = next(r for r in bought if r["what"].startswith("dowel"))
    assert dowels["jobs"] == "1, 2"
    assert sum(float(r["amount"]) for r in where if r["what"] == dowels["what"]) == float(dowels["used"])
    assert {r["job"] for r in where} == {"1", "2"}


def test_the_packet_has_the_saving_the_run_the_sheets_and_the_cards(two: Batch) -> None:
    told = words(make_batch_packet(two, date="1 December 2026"))

    for line in savings(two):
        assert line in told
    for set_up in two.together.machining.set_ups:
        assert f"{set_up.id}" in told
    assert "2-A1" in told
    assert "Peg box" in told
    assert "Score box" in told


def test_every_drawing_of_a_batch_is_read_at_arms_length(two: Batch) -> None:
    plan = two.together
    sections = (*sheet_sections(plan, patterns_of(two)), *machining_sections(plan))
    shown = [(d, times) for s in sections for d, times in drawn(s.blocks)]

    assert len(shown) > 3
    assert [(d.id, *faults_of(d), *too_small(d, times), *marks_too_near(d)) for d, times in shown] == [
        (d.id,) for d, _ in shown
    ]


def test_the_buying_list_names_the_joints_behind_a_line(two: Batch) -> None:
    told = words(make_batch_buying(two))

    assert to_pay(two) in told
    assert "2-A, J1:" in told


def test_a_batch_with_a_fault_is_not_printed(two: Batch, monkeypatch: pytest.MonkeyPatch) -> None:
    from storyrod.faults import Fault, JobError

    fault = Fault(code="half-missing", field="run", found="", allowed="", do="")
    monkeypatch.setattr(Batch, "faults", (fault,))
    with pytest.raises(JobError):
        make_batch_packet(two)


def test_parts_of_each_job_have_their_pattern_and_no_word_stands_on_it(two: Batch) -> None:
    patterns = patterns_of(two)
    sheet = two.together.sheets.sheets[0]
    drawing = sheet_drawing(two.together, sheet, patterns=patterns)
    plain = sheet_drawing(two.together, sheet)

    assert {patterns[p.part] for p in sheet.placements} == {Hatch.NONE, Hatch.LEVEL}
    second = sum(patterns[p.part] is Hatch.LEVEL for p in sheet.placements)
    assert len(drawing.items) >= len(plain.items) + second, "each patterned part has clear ground under its words"


def test_patterns_are_told_apart_from_offcuts_and_waste_and_begin_anew() -> None:
    from storyrod.drawing._sheet_layout import KEPT, LOST

    assert not {KEPT.hatch, LOST.hatch} & set(PATTERNS)
    assert len(set(PATTERNS)) == len(PATTERNS)
    assert pattern_of_job(len(PATTERNS)) is PATTERNS[0]
    key = pattern_key([KeyRow(mark="1", title="One", pattern=Hatch.DOTS)])
    assert "1 One" in key.alt


def test_where_machining_job_by_job_is_quicker_it_is_said(two: Batch) -> None:
    from dataclasses import replace

    slow = replace(two, run=replace(two.run, minutes=sum(two.run.alone_min) + 30))

    assert any("machine them one at a time" in line for line in savings(slow))


def test_equal_jobs_make_an_equal_batch(two: Batch) -> None:
    again = batch_of(job_text("Peg box"), job_text("Score box", width=500, depth=320))

    assert again.version == two.version
    assert batch_document(again) == batch_document(two)


def test_every_file_is_named_once(two: Batch) -> None:
    names = [f.name for f in batch_files(two)]

    assert names[-1] == "plan.json"
    assert len(set(names)) == len(names)
    assert "jigs.pdf" not in names, "two jobs by hand-held tools need none"


def test_the_command_plans_job_files_together(
    tmp_path: Path, job_files: Callable[..., list[Path]], capsys: pytest.CaptureFixture[str]
) -> None:
    one, two = job_files(job_text("Peg box"), job_text("Score box"))

    assert main(["batch", str(one), str(two), "--no-print", "--out", str(tmp_path / "made")]) == 0
    told = capsys.readouterr().out
    assert "1 sheet together, 2 job by job: 80.01 EUR saved." in told
    document = json.loads((tmp_path / "made" / "plan.json").read_text(encoding="utf-8"))
    assert [j["mark"] for j in document["jobs"]] == ["1", "2"]
    assert (tmp_path / "made" / "sheets").is_dir()


def test_the_command_tells_faults_of_every_job_with_its_file(
    job_files: Callable[..., list[Path]], capsys: pytest.CaptureFixture[str]
) -> None:
    deep = "dowels", "no such method"
    one, two = job_files(job_text("One").replace(*deep), job_text("Two").replace(*deep))

    assert main(["batch", str(one), str(two)]) == 1
    told = capsys.readouterr().err
    assert "job-1.toml: methods.corner" in told
    assert "job-2.toml: methods.corner" in told


def test_a_fault_found_while_planning_names_its_file(
    job_files: Callable[..., list[Path]], capsys: pytest.CaptureFixture[str]
) -> None:
    large = job_text("Two", height=2300, depth=1300)
    one, two = job_files(job_text("One"), large)

    assert main(["batch", str(one), str(two)]) == 1
    assert "job-2.toml: cases[0]" in capsys.readouterr().err
