"""Files are written aside and put in place; nothing older is lost, and nothing that is not ours is touched."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path

import pytest

from storyrod.adapters.output._write import MANIFEST, OutFile, write_plan
from storyrod.faults import JobError


def file(name: str, text: str = "new") -> OutFile:
    """Return one file with fixed text."""
    return OutFile(name=name, make=text.encode)


def full_disk() -> bytes:
    """Behave as a write to a full disk does."""
    raise OSError(errno.ENOSPC, "No space left on device")


def test_files_and_folders_are_made(tmp_path: Path) -> None:
    written = write_plan([file("panels/A.top.dxf"), file("plan.json")], tmp_path / "out")

    assert (tmp_path / "out" / "panels" / "A.top.dxf").read_text() == "new"
    assert written.files == ("panels/A.top.dxf", "plan.json")
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == [MANIFEST, "panels", "plan.json"]


def test_what_the_newer_plan_no_longer_has_is_taken_away(tmp_path: Path) -> None:
    write_plan([file("a.csv"), file("old/b.csv"), file("plan.json")], tmp_path)
    written = write_plan([file("a.csv", "newer"), file("plan.json")], tmp_path)

    assert written.removed == ("old/b.csv",)
    assert not (tmp_path / "old" / "b.csv").exists()
    assert (tmp_path / "a.csv").read_text() == "newer"


def test_a_file_the_maker_changed_is_left_alone(tmp_path: Path) -> None:
    write_plan([file("notes.csv"), file("plan.json")], tmp_path)
    (tmp_path / "notes.csv").write_text("my own words")
    (tmp_path / "mine.txt").write_text("mine")
    write_plan([file("plan.json")], tmp_path)

    assert (tmp_path / "notes.csv").read_text() == "my own words"
    assert (tmp_path / "mine.txt").read_text() == "mine"


def test_a_disk_that_fills_leaves_the_older_plan_whole(tmp_path: Path) -> None:
    write_plan([file("a.csv", "old"), file("plan.json", "old")], tmp_path)

    with pytest.raises(JobError) as caught:
        write_plan([file("a.csv"), OutFile(name="plan.json", make=full_disk)], tmp_path)

    (fault,) = caught.value.faults
    assert fault.code == "disk-full"
    assert fault.do
    assert {p.name: p.read_text() for p in tmp_path.glob("*.[cj]*") if p.name != MANIFEST} == {
        "a.csv": "old",
        "plan.json": "old",
    }
    assert not list(tmp_path.glob(".storyrod-*"))


def test_a_folder_that_is_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")

    with pytest.raises(JobError) as caught:
        write_plan([file("plan.json")], tmp_path / "out")

    assert caught.value.faults[0].code == "output-folder"


def test_a_contents_list_that_names_a_path_outside_is_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "precious.txt"
    outside.write_text("precious")
    out = tmp_path / "out"
    write_plan([file("plan.json")], out)
    told = json.loads((out / MANIFEST).read_text())
    import hashlib

    told["files"]["../precious.txt"] = hashlib.sha256(b"precious").hexdigest()
    (out / MANIFEST).write_text(json.dumps(told))
    write_plan([file("plan.json")], out)

    assert outside.read_text() == "precious"


def test_plan_json_is_put_in_place_last(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    order: list[str] = []
    real = os.replace

    def watched(source: Path, target: Path) -> None:
        order.append(Path(target).name)
        real(source, target)

    monkeypatch.setattr(os, "replace", watched)
    monkeypatch.chdir(tmp_path)  # so that the folder is not exchanged as a whole
    write_plan([file("plan.json"), file("packet.pdf"), file("z.csv")], tmp_path)

    assert order == [MANIFEST, "packet.pdf", "z.csv", "plan.json", MANIFEST]  # first it says that it is not whole


def test_a_folder_in_the_place_of_a_file_is_told_before_anything_is_replaced(tmp_path: Path) -> None:
    write_plan([file("a.csv", "old"), file("plan.json", "old")], tmp_path)
    (tmp_path / "packet.pdf").mkdir()

    with pytest.raises(JobError) as caught:
        write_plan([file("a.csv"), file("packet.pdf"), file("plan.json")], tmp_path)

    assert "a folder stands in the place of packet.pdf" in caught.value.faults[0].found
    assert (tmp_path / "a.csv").read_text() == "old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.csv", MANIFEST, "packet.pdf", "plan.json"]


@pytest.mark.parametrize("links", [True, False])
def test_a_file_held_by_another_program_leaves_the_older_plan_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    """Some systems refuse to replace a file that a viewer has open: those replaced before it are put back."""
    write_plan([file("a.csv", "old"), file("packet.pdf", "old"), file("plan.json", "old")], tmp_path)
    replace = os.replace

    def held(source: Path, place: Path) -> None:
        if place.name == "packet.pdf":
            raise PermissionError(errno.EACCES, "held by another program", str(place))
        replace(source, place)

    def no_links(*_: object) -> None:
        raise OSError(errno.EPERM, "no second names here")

    monkeypatch.setattr(os, "replace", held)
    monkeypatch.chdir(tmp_path)  # so that the folder is not exchanged as a whole
    if not links:
        monkeypatch.setattr(Path, "hardlink_to", no_links)
    with pytest.raises(JobError) as caught:
        write_plan([file("a.csv"), file("b.csv"), file("packet.pdf"), file("plan.json")], tmp_path)

    assert "held by another program" in caught.value.faults[0].found
    assert {p.name: p.read_text() for p in tmp_path.iterdir() if p.name != MANIFEST} == {
        "a.csv": "old",
        "packet.pdf": "old",
        "plan.json": "old",
    }
