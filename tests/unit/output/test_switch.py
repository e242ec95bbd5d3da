"""A folder holds one whole plan, whenever a run is killed; and what is the maker's own is never written over."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from storyrod.adapters.files.editing import exchanged
from storyrod.adapters.output import _write
from storyrod.adapters.output._contents import MANIFEST, Contents, digest_in
from storyrod.adapters.output._write import OutFile, write_plan
from storyrod.telling.file_names import RESERVED, file_name, file_names

NAMES = ("cutting-list.csv", "panels/A.top.dxf", "sheets/ply-1.svg", "plan.json")
ONLY_OLD, ONLY_NEW = "jigs/old.svg", "jigs/new.svg"


def files(text: str, *more: str) -> list[OutFile]:
    return [OutFile(name=n, make=f"{text} {n}".encode) for n in (*more, *NAMES)]


def plain(folder: Path) -> dict[str, str]:
    """Return what lies in a folder, the list of contents left out."""
    found = {p.relative_to(folder).as_posix(): p for p in sorted(folder.rglob("*")) if p.is_file()}
    return {name: p.read_text(encoding="utf-8") for name, p in found.items() if name != MANIFEST}


def whole(text: str, *more: str) -> dict[str, str]:
    return {n: f"{text} {n}" for n in (*more, *NAMES)}


# Kills ---------------------------------------------------------------------------------------------------------------

KILLED = """
import os, sys
from pathlib import Path
from storyrod.adapters.output import _left, _place, _write

NAMES = ("cutting-list.csv", "panels/A.top.dxf", "sheets/ply-1.svg", "plan.json")
count = left = 0

def dies(real):
    def call(*a, **k):
        step()
        result = real(*a, **k)
        step()
        return result
    return call

def step():
    global count
    count += 1
    if count == left:
        os._exit(9)

def run(folder):
    for module, name in ((os, "replace"), (os, "rename"), (os, "link"), (os, "fsync"), (os, "unlink"), (os, "rmdir"),
                         (os, "chmod"), (os, "mkdir"), (_write, "exchanged")):
        setattr(module, name, dies(getattr(module, name)))
    if sys.argv[2] == "in place":
        _write._may_be_exchanged = lambda _: False
    _write.write_plan([_write.OutFile(name=n, make=f"new {n}".encode) for n in ("jigs/new.svg", *NAMES)], folder)

for place in sorted(Path(sys.argv[1]).iterdir(), key=lambda p: int(p.name)):
    left = int(place.name)
    child = os.fork()
    if child == 0:
        run(place / "out")
        os._exit(0)
    print(place.name, os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))
"""


def killed(root: Path, way: str, most: int) -> dict[int, int]:
    """Write over an older plan in a folder for each moment, killed before or after that change of the disk.

    Returns how each ended: 9 where it was killed, 0 where it came to its end before that moment.
    """
    for at in range(1, most + 1):
        folder = root / f"{at}" / "out"
        write_plan(files("old", ONLY_OLD), folder)
        (folder / "mine.txt").write_text("mine", encoding="utf-8")
    done = subprocess.run([sys.executable, "-c", KILLED, str(root), way], capture_output=True, text=True, check=True)
    return {int(at): int(code) for at, code in (line.split() for line in done.stdout.splitlines())}


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="folders are exchanged by a call of Linux")
def test_a_run_killed_at_any_moment_leaves_one_whole_plan(tmp_path: Path) -> None:
    old, new = whole("old", ONLY_OLD) | {"mine.txt": "mine"}, whole("new", ONLY_NEW) | {"mine.txt": "mine"}
    seen = set()
    for at, code in killed(tmp_path, "one step", most=130).items():
        folder = tmp_path / f"{at}" / "out"
        found, contents = plain(folder), Contents.of(folder)
        assert found in (old, new), at
        assert contents.whole
        assert all(digest_in(folder / name) in digests for name, digests in contents.files.items())
        seen.add((code, found == new))
        write_plan(files("new", ONLY_NEW), folder)
        assert plain(folder) == new
        assert [p.name for p in folder.parent.iterdir()] == ["out"]  # what the killed run left is cleared
    assert seen == {(9, False), (9, True), (0, True)}


@pytest.mark.skipif(sys.platform == "win32", reason="kills are made by a fork")
def test_a_run_killed_where_folders_can_not_be_exchanged_is_told_and_finished_by_the_next(tmp_path: Path) -> None:
    """File by file: in between, the list of contents says that the plan is not whole, and nothing counts as strange."""
    mine = {"mine.txt": "mine"}
    old, new = whole("old", ONLY_OLD) | mine, whole("new", ONLY_NEW) | mine
    between = 0
    for at in killed(tmp_path, "in place", most=70):
        folder = tmp_path / f"{at}" / "out"
        found = {n: t for n, t in plain(folder).items() if not n.startswith(".storyrod-")}
        if found not in (old, new):
            between += 1
            assert not Contents.of(folder).whole or found == new | {ONLY_OLD: f"old {ONLY_OLD}"}, at
        written = write_plan(files("new", ONLY_NEW), folder)
        assert written.yours == ()
        assert plain(folder).keys() - {ONLY_OLD} == new.keys()
        assert not list(folder.glob(".storyrod-*"))
    assert between > 3


# The maker's own files -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("way", ["one step", "in place", "no links"])
def test_a_file_of_the_makers_own_is_kept_under_another_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    if way == "in place":
        monkeypatch.setattr(_write, "_may_be_exchanged", lambda _: False)
    if way == "no links":
        monkeypatch.setattr(os, "link", lambda *_, **__: (_ for _ in ()).throw(OSError))
    out = tmp_path / "out"
    (out / "panels").mkdir(parents=True)
    (out / "cutting-list.csv").write_text("my own list", encoding="utf-8")
    (out / "cutting-list.yours.csv").write_text("another", encoding="utf-8")
    (out / "panels" / "notes").write_text("mine", encoding="utf-8")
    written = write_plan(files("new"), out)

    assert written.yours == (("cutting-list.csv", "cutting-list.yours-2.csv"),)
    mine = {
        "cutting-list.yours-2.csv": "my own list",
        "cutting-list.yours.csv": "another",
        "panels/notes": "mine",
    }
    assert plain(out) == whole("new") | mine
    (out / "plan.json").write_text("changed by hand", encoding="utf-8")
    again = write_plan(files("newer"), out)
    assert again.yours == (("plan.json", "plan.yours.json"),)
    assert plain(out) == whole("newer") | mine | {"plan.yours.json": "changed by hand"}
    assert write_plan(files("newer"), out).yours == ()


def test_what_is_put_into_the_folder_while_a_plan_is_written_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write_plan(files("old"), out)
    real = exchanged

    def late(one: Path, other: Path) -> bool:
        (out / "late.txt").write_text("late", encoding="utf-8")
        return real(one, other)

    monkeypatch.setattr(_write, "exchanged", late)
    write_plan(files("new"), out)

    assert plain(out) == whole("new") | {"late.txt": "late"}


def test_links_and_modes_of_the_folder_stay(tmp_path: Path) -> None:
    if os.name == "nt":
        pytest.skip("links and modes are of other systems")
    out, other = tmp_path / "out", tmp_path / "other"
    other.mkdir()
    (other / "precious").write_text("precious", encoding="utf-8")
    write_plan(files("old"), out)
    out.chmod(0o750)
    (out / "link").symlink_to(other)
    (tmp_path / "name").symlink_to(out)
    write_plan(files("new"), tmp_path / "name")

    assert out.stat().st_mode & 0o777 == 0o750
    assert (out / "link").is_symlink()
    assert (tmp_path / "name").is_symlink()
    assert plain(out).items() >= whole("new").items()
    assert (other / "precious").read_text(encoding="utf-8") == "precious"


def test_the_folder_in_which_someone_works_stays_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_plan(files("old"), tmp_path)
    before = tmp_path.stat().st_ino
    (tmp_path / "panels" / "in").mkdir()
    monkeypatch.chdir(tmp_path / "panels" / "in")
    write_plan(files("new"), tmp_path)

    assert tmp_path.stat().st_ino == before
    assert plain(tmp_path) == whole("new")


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "null", '{"files": 3}', '{"written by": "storyrod", "files": {"a\\u0000": 1}}']
)
def test_a_list_of_contents_that_is_none_is_taken_for_none(tmp_path: Path, text: str) -> None:
    (tmp_path / MANIFEST).write_text(text, encoding="utf-8")
    write_plan(files("new"), tmp_path)

    assert plain(tmp_path) == whole("new")
    assert json.loads((tmp_path / MANIFEST).read_text(encoding="utf-8"))["written by"] == "storyrod"


# Names ---------------------------------------------------------------------------------------------------------------


def test_no_two_things_have_one_file_name() -> None:
    texts = [
        "a b-1",
        "a-b-1",
        "A-B-1",
        "a/b-1",
        "a-b-1-2",
        "caf\u00e9",
        "cafe\u0301",
        "\ufb01n",
        "fin",
        "..",
        "-",
        "x" * 300,
        "x" * 301,
    ]
    names = file_names(texts)

    assert list(names) == texts
    assert len({n.casefold() for n in names.values()}) == len(texts)
    assert all(len(n.encode()) <= 250 for n in names.values())


@pytest.mark.parametrize("name", sorted(RESERVED))
def test_names_of_devices_are_no_file_names(name: str) -> None:
    for text in (name, name.upper(), f"{name}.top"):
        assert file_name(text).partition(".")[0].casefold() not in RESERVED
