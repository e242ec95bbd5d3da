"""Job files under a full disk, two servers, editors, and things in the folder that are no job files."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from storyrod.adapters.files import _write
from storyrod.adapters.files.editing import exchanged
from storyrod.adapters.web._shelf import Shelf, StaleError
from storyrod.adapters.web._worked import version_of
from storyrod.adapters.web._workshops import WorkshopShelf
from storyrod.faults import JobError
from tests.unit.web.conftest import Asked

TEXT = 'title = "Choir"\n# 0\n'


def shelf_in(folder: Path) -> Shelf:
    jobs = folder / "jobs"
    jobs.mkdir(exist_ok=True)
    path = jobs / "choir.toml"
    if not path.exists():
        path.write_text(TEXT, encoding="utf-8")
    return Shelf(jobs, folder / "home")


# A full disk ---------------------------------------------------------------------------------------------------------


class Disk:
    """A disk that is full from a given write on."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.left = 10**9
        self.real = os.fsync
        monkeypatch.setattr("storyrod.adapters.files._write.os.fsync", self.fsync)

    def fsync(self, handle: int) -> None:
        if Path(f"/proc/self/fd/{handle}").is_dir():
            return
        self.left -= 1
        if self.left < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self.real(handle)


@pytest.mark.parametrize("what", ["save", "back", "forward", "mend"])
@pytest.mark.parametrize("room", range(6))
def test_what_is_told_of_a_full_disk_is_true(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, what: str, room: int
) -> None:
    """Whichever write is the first that finds no room: told as not done, it was not done; else it was."""
    shelf = shelf_in(tmp_path)
    before = shelf.text("choir")
    for n in (1, 2, 3):
        now = f'title = "Choir"\n# {n}\n'
        shelf.save("choir", now, base=version_of(before))
        before = now
    shelf.step("choir", -1)
    before = shelf.text("choir")
    disk = Disk(monkeypatch)
    disk.left = room
    acts: dict[str, Callable[[], object]] = {
        "save": lambda: shelf.save("choir", "# other\n", base=version_of(before)),
        "mend": lambda: shelf.mend("choir", "# other\n", base=version_of(before)),
        "back": lambda: shelf.step("choir", -1),
        "forward": lambda: shelf.step("choir", 1),
    }
    wanted = {"back": "# 1\n", "forward": "# 3\n"}.get(what, "# other\n")
    told = ""
    try:
        acts[what]()
    except JobError as error:
        told = str(error)
    if told:
        assert "Nothing there was changed" in told
    now = shelf.path("choir").read_text(encoding="utf-8")
    assert now == before if told else now.endswith(wanted)
    assert shelf.text("choir")  # a full disk hides no job
    disk.left = 10**9
    assert shelf.text("choir") == now
    assert shelf.text_of("choir", version_of(before)) == before
    assert shelf.text_of("choir", version_of(now)) == now
    assert not list(shelf.folder.glob(".*"))


# Two servers, and an editor ------------------------------------------------------------------------------------------

HAMMER = """
import sys
from collections.abc import Callable
from pathlib import Path
from storyrod.adapters.web._shelf import Shelf, StaleError
from storyrod.adapters.web._worked import version_of

shelf, accepted = Shelf(Path(sys.argv[1]), Path(sys.argv[2])), 0
for n in range(40):
    text = shelf.text("choir")
    try:
        shelf.save("choir", text + f"# {sys.argv[3]} {n}\\n", base=version_of(text))
        accepted += 1
        print(f"# {sys.argv[3]} {n}")
    except StaleError:
        pass
"""


@pytest.mark.parametrize("homes", [("home", "home"), ("home", "other")])
def test_two_servers_on_one_folder_lose_no_accepted_change(tmp_path: Path, homes: tuple[str, str]) -> None:
    """Each adds lines to one file at once; every line of which a server was told that it is kept is there."""
    shelf = shelf_in(tmp_path)
    running = [
        subprocess.Popen(
            [sys.executable, "-c", HAMMER, str(shelf.folder), str(tmp_path / home), str(n)],
            stdout=subprocess.PIPE,
            text=True,
        )
        for n, home in enumerate(homes)
    ]
    told = [process.communicate(timeout=600)[0].splitlines() for process in running]

    assert all(told)
    lines = shelf.path("choir").read_text(encoding="utf-8").splitlines()
    assert sorted(lines[2:]) == sorted(line for lines in told for line in lines)


@pytest.mark.parametrize("in_one_step", [True, False])
def test_what_an_editor_writes_in_the_very_moment_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, in_one_step: bool
) -> None:
    shelf = shelf_in(tmp_path)
    text = shelf.text("choir")
    real, one = _write._exchange, exchanged

    def late(aside: Path, target: Path) -> None:
        target.write_text("# from the editor\n", encoding="utf-8")
        real(aside, target)

    monkeypatch.setattr(_write, "_exchange", late)
    monkeypatch.setattr(_write, "exchanged", one if in_one_step else lambda *_: False)
    with pytest.raises(StaleError):
        shelf.save("choir", "# from the page\n", base=version_of(text))
    monkeypatch.undo()

    assert shelf.text("choir") == "# from the editor\n"
    assert text in list(shelf.earlier("choir", 9))
    shelf.save("choir", "# from the page\n", base=version_of("# from the editor\n"))
    assert shelf.step("choir", -1) == "# from the editor\n"
    assert not list(shelf.folder.glob(".*"))


def test_an_editor_in_the_midst_of_writing_ends_in_the_right_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It has emptied the file and not yet written when the page looks: what it then writes is what the file says."""
    shelf = shelf_in(tmp_path)
    text, real = shelf.text("choir"), _write._exchange
    opened = []

    def late(aside: Path, target: Path) -> None:
        opened.append(target.open("w", encoding="utf-8"))
        real(aside, target)

    monkeypatch.setattr(_write, "_exchange", late)
    with pytest.raises(StaleError):
        shelf.save("choir", "# from the page\n", base=version_of(text))
    opened[0].write("# from the editor\n")
    opened[0].close()

    assert shelf.text("choir") == "# from the editor\n"


# What else lies in the folder ----------------------------------------------------------------------------------------


@pytest.mark.skipif(os.name == "nt", reason="pipes and names of any bytes are of other systems")
def test_what_is_no_plain_file_of_the_folder_is_passed_over(asked: Asked, tmp_path: Path) -> None:
    asked.take("first-box")
    jobs = asked.settings.jobs
    secret = tmp_path / "secret.toml"
    secret.write_text('title = "Not for the page"\n[[cases]]\n', encoding="utf-8")
    os.mkfifo(jobs / "pipe.toml")
    os.mkfifo(jobs / "my-workshop.toml")
    (jobs / "out.toml").symlink_to(secret)
    (jobs / "workshop.toml").symlink_to(secret)
    (jobs / "device.toml").symlink_to("/dev/zero")
    (jobs / "ring.toml").symlink_to(jobs / "ring.toml")
    (jobs / "folder.toml").mkdir()
    Path(os.fsdecode(os.fsencode(jobs) + b"/\xff\xfe.toml")).write_text("title = 'x'\n", encoding="utf-8")

    listed = asked.client.get("/")

    assert listed.status_code == 200
    assert "Not for the page" not in listed.text
    assert asked.desk.shelf.names() == ("first-box",)
    for name in ("pipe", "out", "device", "ring", "folder", "%FF%FE"):
        assert asked.client.get(f"/job/{name}/text").status_code == 404, name
    assert asked.client.get("/workshop").status_code < 500
    with pytest.raises(JobError):
        WorkshopShelf(jobs, tmp_path / "home").text("workshop")
    assert secret.read_text(encoding="utf-8").startswith('title = "Not')


def test_a_link_within_the_folder_is_a_job(asked: Asked) -> None:
    asked.take("first-box")
    (asked.settings.jobs / "other.toml").symlink_to(asked.job_file("first-box"))

    assert set(asked.desk.shelf.names()) == {"first-box", "other"}


@pytest.mark.parametrize("there", [True, False])
@pytest.mark.parametrize(
    "named",
    ["../secret.toml", "{outside}/secret.toml", "sub/secret.toml", "./secret.toml", "..\\\\secret.toml",
     "\\\\\\\\server\\\\share\\\\x.toml", "//server/share/x.toml", "C:secret.toml", "link.toml"],
)  # fmt: skip
def test_over_the_page_only_a_workshop_file_of_the_folder_is_read(
    asked: Asked, tmp_path: Path, named: str, *, there: bool
) -> None:
    """The answer is the same whether such a file is there or not, and says nothing of what is in it or beside it."""
    asked.take("first-box")
    secret = tmp_path / "secret.toml"
    (asked.settings.jobs / "sub").mkdir()
    if there:
        for place in (secret, asked.settings.jobs / "sub" / "secret.toml"):
            place.write_text('[saw]\nkerf = "a secret of mine"\n', encoding="utf-8")
        (asked.settings.jobs / "link.toml").symlink_to(secret)
    text = asked.job_file("first-box").read_text(encoding="utf-8")
    line = f'workshop = "{named.format(outside=tmp_path)}"\n'
    asked.job_file("first-box").write_text(line + text, encoding="utf-8")

    worked = asked.desk.job("first-box")
    page = asked.client.get("/job/first-box/brief").text

    assert [f.code for f in worked.faults] == (
        ["file-missing"] if named == "link.toml" and not there else ["workshop-name"]
    )
    assert "a secret of mine" not in page
    assert asked.desk.shelf.path("first-box").exists()


def test_a_workshop_file_beside_the_job_is_read(asked: Asked) -> None:
    asked.take("low-units")

    assert asked.desk.job("low-units").faults == ()
