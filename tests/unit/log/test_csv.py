"""An export holds the whole log, and an import adds what is not there yet, once."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.log import Offcut, Thing, export_log, import_log, open_log
from storyrod.faults import JobError

JOB = 'low units, "under the windows"\nsecond line'


def fill(path: Path) -> None:
    with open_log(path) as log:
        log.note_plan(JOB, "v1")
        log.tick(JOB, "v1", Thing(id="a", name="Ø8, mark 1", content="hole, 13 deep"), copy=2, who="Ångström")
        log.add_span(JOB, "drill a hole", 0.1 + 0.2, count=3, method="dowels")
        log.start(JOB, "edge")
        log.add_trial(JOB, "S1", "step", -0.15)
        log.put_offcut(Offcut(code="R1", board="birch18", length=900.5, width=420))
        log.move("dowel", -3, "used")


def test_what_is_exported_comes_back_digit_for_digit(tmp_path: Path) -> None:
    fill(tmp_path / "one.db")
    with open_log(tmp_path / "one.db") as one, open_log(tmp_path / "two.db") as two:
        written = export_log(one, tmp_path / "out")
        added = import_log(two, tmp_path / "out")

        assert added == 8
        assert len(written) == 7
        assert two.ticks(JOB) == one.ticks(JOB)
        assert two.spans() == one.spans()
        assert two.trials(JOB) == one.trials(JOB)
        assert (two.rack(), two.on_hand(), two.jobs(), two.versions(JOB)) == (
            one.rack(),
            one.on_hand(),
            one.jobs(),
            one.versions(JOB),
        )


def test_an_import_adds_nothing_twice(tmp_path: Path) -> None:
    fill(tmp_path / "one.db")
    with open_log(tmp_path / "one.db") as log:
        export_log(log, tmp_path / "out")

        assert import_log(log, tmp_path / "out") == 0
    with open_log(tmp_path / "two.db") as two:
        two.note_plan(JOB, "v1")  # The same job and plan, noted here by itself.
        import_log(two, tmp_path / "out")
        assert two.jobs() == (JOB,)
        assert import_log(two, tmp_path / "out") == 0


def test_bad_rows_are_told_with_their_line_and_nothing_is_added(tmp_path: Path) -> None:
    fill(tmp_path / "one.db")
    with open_log(tmp_path / "one.db") as one:
        export_log(one, tmp_path / "out")
    ticks, moves = tmp_path / "out" / "ticks.csv", tmp_path / "out" / "movements.csv"
    ticks.write_text(ticks.read_text(encoding="utf-8").replace("yes", "perhaps"), encoding="utf-8")
    moves.write_text(moves.read_text(encoding="utf-8").replace("-3", "three"), encoding="utf-8")

    with open_log(tmp_path / "two.db") as two, pytest.raises(JobError) as caught:
        import_log(two, tmp_path / "out")

    assert {(f.field, f.found) for f in caught.value.faults} == {
        ("ticks.csv", '"perhaps" in the column done'),
        ("movements.csv", '"three" in the column change'),
    }
    with open_log(tmp_path / "two.db") as two:
        assert two.spans() == ()


def test_a_folder_without_an_export_is_told(tmp_path: Path) -> None:
    (tmp_path / "ticks.csv").write_text("name,done\nhole,yes\n", encoding="utf-8")
    with open_log(tmp_path / "one.db") as log:
        with pytest.raises(JobError, match="no column uid"):
            import_log(log, tmp_path)
        with pytest.raises(JobError, match="no file of an export"):
            import_log(log, tmp_path / "nowhere")
