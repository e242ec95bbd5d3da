"""A file that cannot be read at all is told in plain words, and a job tells both its own faults and its workshop's."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.files import read_job, read_workshop
from storyrod.faults import Fault, JobError

JOB = """\
[boards.ply]
kind = "plywood"
thickness = 18

[[cases]]
code = "A"
width = 600
height = 720
depth = 400
"""


def told(path: Path) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as caught:
        read_job(path)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return caught.value.faults


def test_a_missing_file_is_told_with_the_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "choir-cabinet.toml").write_text(JOB)

    (fault,) = told(tmp_path / "choir-cabinett.toml")

    assert fault.code == "file-missing"
    assert fault.do == 'Did you mean "choir-cabinet.toml"?'


def test_a_folder_is_no_job_file(tmp_path: Path) -> None:
    (fault,) = told(tmp_path)

    assert fault.code == "file-folder"


def test_a_file_without_leave_to_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "job.toml"
    path.write_text(JOB)

    def refused(self: Path) -> bytes:
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr("storyrod.adapters.files._open.plain_bytes", refused)

    (fault,) = told(path)

    assert fault.code == "file-permission"


def test_a_name_that_no_file_can_have_is_told() -> None:
    (fault,) = told(Path("a\0b.toml"))

    assert fault.code == "file-unreadable"


def test_twenty_megabytes_of_rubbish_are_not_even_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xa7?=[" * 5_000_000)
    monkeypatch.setattr("storyrod.adapters.files._open.plain_bytes", lambda _: pytest.fail("it was read"))

    (fault,) = told(path)

    assert fault.code == "file-size"
    assert fault.found == "20.0 MB"


def test_the_largest_file_of_rubbish_that_is_read_is_turned_away(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"a = [ 1, 2\n" * 450_000)

    (fault,) = told(path)

    assert (fault.code, fault.line) == ("file-toml", 61)  # where it is nested deeper than any job


@pytest.mark.parametrize(
    ("data", "line", "found"),
    [
        (b'title = "caf\xe9"\n', 1, "byte 0xe9 at place 13"),
        (b'# one\ntitle = "\xff"\n', 2, "byte 0xff at place 16"),
        ('title = "x"\n'.encode("utf-16"), 1, "UTF-16"),
    ],
)
def test_wrong_encoding_says_which_byte(tmp_path: Path, data: bytes, line: int, found: str) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(data)

    (fault,) = told(path)

    assert (fault.code, fault.line) == ("file-encoding", line)
    assert found in fault.found


def test_a_byte_order_mark_and_other_line_ends_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode())

    assert read_job(path).job.cases[0].width == 600


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("width = 23 5/8\n", 1, "quote the text"),
        ('a = 1\nwidth = 23"\n', 2, "width = 23"),
        ('a = 1\nb = "open\nc = 2\n', 2, "Close the text"),
        ("a = 1\na = 2\n", 2, "twice"),
        ("[a]\n[a]\n", 2, "twice"),
        ("a = {b = 1, b = 2}\n", 1, "twice"),
        ("a = [1, 2\n", 2, "Close it with ]"),
        ("a = {b = 1\n", 1, "Close it with }"),
        ("width 600\n", 1, "name = value"),
        ("width = \n", 1, "Write text in quotes"),
        ("width = six\n", 1, "Write text in quotes"),
        ('a = "C:\\new\\jobs"\n', 1, "backslash"),
        ("a" + ".a" * 80 + " = 1\n", 1, "nested too deep"),
        ("a = " + "[" * 5000 + "]" * 5000 + "\n", 1, "nested too deep"),
        ("a = " + "9" * 5000 + "\n", 1, "a figure of 5000 digits"),
        ("\0", 1, "TOML"),
        ("PK\x03\x04 not text at all", 1, "TOML"),
    ],
)  # fmt: skip
def test_what_is_not_toml_is_told_with_its_line(tmp_path: Path, text: str, line: int | None, says: str) -> None:
    path = tmp_path / "job.toml"
    path.write_text(text)

    (fault,) = told(path)

    assert (fault.code, fault.line) == ("file-toml", line)
    assert says in str(fault)


def test_an_empty_file_lacks_boards_and_cases(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text("# nothing yet\n")

    assert {(f.field, f.code) for f in told(path)} == {("boards", "missing"), ("cases", "missing")}


def test_lists_where_tables_should_be_are_told(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text('boards = "ply"\ncases = { code = "A" }\nmethods = 3\njoints = [1]\n')

    assert [(f.field, f.code, f.line) for f in told(path)] == [
        ("boards", "type", 1),
        ("cases", "type", 2),
        ("methods", "type", 3),
        ("joints[0]", "type", 4),
    ]


def _with_workshop(folder: Path, workshop: bytes | None) -> Path:
    path = folder / "job.toml"
    path.write_text('workshop = "shed.toml"\nmark_to = -1\n' + JOB)
    if workshop is not None:
        (folder / "shed.toml").write_bytes(workshop)
    return path


@pytest.mark.parametrize(
    ("workshop", "code", "field", "line", "file"),
    [
        (None, "file-missing", "workshop", 1, ""),
        (b"\xa7" * 6_000_000, "file-size", "workshop", 1, ""),
        (b"name = \xff", "file-encoding", "", 1, "shed.toml"),
        (b"name = 1 2", "file-toml", "", 1, "shed.toml"),
        (b"\nnmae = 'x'", "unknown-field", "nmae", 2, "shed.toml"),
        (b"[runners.mine]\nmount = 'side'", "missing", "runners.mine.lengths", 1, "shed.toml"),
        (b"[methods.dowels]\nmotion = 'jump'", "choice", "methods.dowels.motion", 2, "shed.toml"),
    ],
)
def test_both_files_faults_are_told_at_once(
    tmp_path: Path, workshop: bytes | None, code: str, field: str, line: int, file: str
) -> None:
    faults = told(_with_workshop(tmp_path, workshop))

    assert ("mark_to", 2, "") in {(f.field, f.line, f.file) for f in faults}
    assert (code, field, line, file) in {(f.code, f.field, f.line, f.file) for f in faults}


def test_a_workshop_that_is_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "shed.toml").mkdir()

    faults = told(_with_workshop(tmp_path, None))

    assert [(f.code, f.field, f.line) for f in faults] == [("file-folder", "workshop", 1), ("range", "mark_to", 2)]


def test_a_workshop_file_alone_is_told_with_its_name(tmp_path: Path) -> None:
    path = tmp_path / "shed.toml"
    path.write_text("\n[saw]\nkerf = 300\n")

    with pytest.raises(JobError) as caught:
        read_workshop(path)

    (fault,) = caught.value.faults
    assert (fault.file, fault.field, fault.line) == ("shed.toml", "saw.kerf", 3)
