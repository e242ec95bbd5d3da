"""An export holds the whole log, and an import adds what is not there yet, once."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from storyrod.adapters.log import Offcut, export_log, import_log, open_log
from storyrod.faults import JobError
from storyrod.telling.things import Thing

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


def exported(tmp_path: Path) -> Path:
    with open_log(tmp_path / "one.db") as log:
        log.tick("job", "v1", Thing(id="cut \u00e9", name="caf\u00e9", content="8"))
        log.add_span("job", "saw", 3.5)
        export_log(log, tmp_path / "out")
    return tmp_path / "out"


HOSTILE: dict[str, Callable[[bytes], bytes]] = {
    "another code page": lambda b: b.decode().encode("latin-1"),
    "UTF-16": lambda b: b.decode().encode("utf-16"),
    "a null": lambda b: b.replace("caf\u00e9".encode(), b"caf\0"),
    "a big field": lambda b: b.replace("caf\u00e9".encode(), b"x" * 300_000),
    "a big number": lambda b: b.replace(b",1,", b"," + b"9" * 6000 + b","),
    "a number beyond the database": lambda b: b.replace(b",1,", b",99999999999999999999,"),
    "no number": lambda b: b.replace(b",1,", b",one,"),
    "half a character": lambda b: b.replace("caf\u00e9".encode(), b"\xed\xa0\x80"),
    "nothing": lambda _: b"",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_an_export_that_was_spoilt_is_told_with_its_file_and_nothing_is_added(tmp_path: Path, name: str) -> None:
    folder = exported(tmp_path)
    path = folder / "ticks.csv"
    path.write_bytes(HOSTILE[name](path.read_bytes()))
    with open_log(tmp_path / "two.db") as log:
        with pytest.raises(JobError) as told:
            import_log(log, folder)
        assert {(f.code, f.field) for f in told.value.faults} == {("log-import", "ticks.csv")}
        assert all(f.line for f in told.value.faults)
        assert log.ticks("job") == ()
        assert log.spans() == ()


@pytest.mark.parametrize("value", ["inf", "-inf", "nan", "1e999"])
def test_minutes_without_end_are_refused(tmp_path: Path, value: str) -> None:
    folder = exported(tmp_path)
    path = folder / "spans.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("3.5", value), encoding="utf-8")
    with open_log(tmp_path / "two.db") as log, pytest.raises(JobError, match="in the column minutes"):
        import_log(log, folder)


def test_a_folder_in_the_place_of_a_table_is_told(tmp_path: Path) -> None:
    folder = exported(tmp_path)
    (folder / "ticks.csv").unlink()
    (folder / "ticks.csv").mkdir()
    with open_log(tmp_path / "two.db") as log, pytest.raises(JobError, match="cannot be read"):
        import_log(log, folder)


def test_a_mark_of_utf8_at_the_beginning_is_no_part_of_the_table(tmp_path: Path) -> None:
    folder = exported(tmp_path)
    for path in folder.iterdir():
        path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    with open_log(tmp_path / "two.db") as log:
        assert import_log(log, folder) > 0
        assert [t.thing.name for t in log.ticks("job")] == ["caf\u00e9"]


def test_of_very_many_wrong_rows_the_first_are_told(tmp_path: Path) -> None:
    folder = exported(tmp_path)
    path = folder / "ticks.csv"
    head, row = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join([head, *([row.replace(",1,", ",one,")] * 5000)]), encoding="utf-8")
    with open_log(tmp_path / "two.db") as log, pytest.raises(JobError) as told:
        import_log(log, folder)
    assert len(told.value.faults) < 300


NAMES = ["=1+1", "x;=1+1", "'=1", "''@x", "-5", "+x", "@x", "'tis", "a\t=b", "plain", "x;'-1", " =1", "' =1", "\uff1d1"]


def test_no_word_of_a_tablet_is_a_formula_and_each_comes_back(tmp_path: Path) -> None:
    with open_log(tmp_path / "one.db") as log:
        for n, name in enumerate(NAMES):
            log.tick("job", "v1", Thing(id=f"{n}", name=name, content="8"), who=name)
        export_log(log, tmp_path / "out")
    text = (tmp_path / "out" / "ticks.csv").read_text(encoding="utf-8")
    cells = [c for row in csv.reader(text.splitlines()) for c in row]
    assert not [p for c in cells for p in re.split(r"[;\t]", c) if p[:1] in {"=", "+", "-", "@"}]
    with open_log(tmp_path / "two.db") as log:
        import_log(log, tmp_path / "out")
        assert [t.who for t in log.ticks("job")] == NAMES
