"""What stood there is never lost: a file is written aside, then put in its place, or not at all."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from storyrod.adapters.files import write_text_safely
from storyrod.faults import Fault, JobError


def refused(path: Path, text: str = 'title = "new"\n') -> Fault:
    with pytest.raises(JobError) as caught:
        write_text_safely(path, text)
    (fault,) = caught.value.faults
    assert fault.found
    assert fault.do
    return fault


def test_a_file_is_written_and_written_over(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    write_text_safely(path, 'title = "é"\n')
    write_text_safely(path, 'title = "new"\n')

    assert path.read_bytes() == b'title = "new"\n'
    assert [p.name for p in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.parametrize(
    ("number", "says"),
    [(errno.ENOSPC, "a disk that is full"), (errno.EROFS, "read-only"), (errno.EIO, "trouble with the disk")],
)
def test_a_disk_that_fails_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, says: str
) -> None:
    path = tmp_path / "job.toml"
    path.write_text('title = "old"\n')

    def fails(file: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", fails)

    fault = refused(path)

    assert fault.code == "write"
    assert says in fault.found
    assert path.read_text() == 'title = "old"\n'
    assert [p.name for p in tmp_path.iterdir()] == ["job.toml"]


def test_a_place_without_leave_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*arguments: object, **more: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", fails)

    assert "you may not write to" in refused(tmp_path / "job.toml").found


def test_a_folder_that_is_not_there_and_a_folder_of_that_name_are_told(tmp_path: Path) -> None:
    assert "not there" in refused(tmp_path / "nowhere" / "job.toml").found
    assert "a folder of that name" in refused(tmp_path).found


def test_a_file_that_can_not_be_understood_is_left_alone_unless_told(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text('title = "half written\n')

    assert refused(path).code == "write-unreadable"
    assert path.read_text() == 'title = "half written\n'

    write_text_safely(path, 'title = "new"\n', over_unreadable=True)
    assert path.read_text() == 'title = "new"\n'


def test_a_link_stays_a_link_and_the_rights_stay(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_text("a = 1\n")
    real.chmod(0o640)
    link.symlink_to(real)

    write_text_safely(link, "a = 2\n")

    assert link.is_symlink()
    assert real.read_text() == "a = 2\n"
    assert real.stat().st_mode & 0o777 == 0o640
