"""The shelf of jobs: nothing a maker wrote is lost, and no name leads out of the folder."""

from __future__ import annotations

import itertools
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.adapters.web._shelf import Shelf, StaleError, file_name
from storyrod.adapters.web._worked import version_of
from storyrod.faults import JobError

A, B, C = ('title = "a"\ncases = []\n', 'title = "b"\ncases = []\n', 'title = "c"\ncases = []\n')


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "jobs", tmp_path / "home")


def test_a_text_is_undone_and_done_again_without_end(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    texts = [A, *(f'title = "{n}"\ncases = []\n' for n in range(40))]
    for before, after in itertools.pairwise(texts):
        shelf.save(name, after, base=version_of(before))

    assert [shelf.step(name, -1) for _ in texts[1:]] == texts[-2::-1]
    assert shelf.step(name, -1) == A
    assert [shelf.step(name, 1) for _ in texts[1:]] == texts[1:]
    assert shelf.text(name) == texts[-1]


def test_undo_outlives_the_page(shelf: Shelf, tmp_path: Path) -> None:
    name = shelf.add("Music stand", A)
    shelf.save(name, B, base=version_of(A))

    assert Shelf(tmp_path / "jobs", tmp_path / "home").step(name, -1) == A


def test_who_reads_while_another_undoes_changes_nothing(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    texts = [A, *(f'title = "{n}"\ncases = []\n' for n in range(8))]
    for before, after in itertools.pairwise(texts):
        shelf.save(name, after, base=version_of(before))
    stop = threading.Event()

    def read() -> None:
        while not stop.is_set():
            shelf.text(name)

    readers = [threading.Thread(target=read) for _ in range(4)]
    for reader in readers:
        reader.start()
    try:
        undone = [shelf.step(name, -1) for _ in texts[1:]]
    finally:
        stop.set()
        for reader in readers:
            reader.join()

    assert undone == texts[-2::-1]


def test_a_change_on_an_older_text_writes_nothing(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    shelf.save(name, B, base=version_of(A))

    with pytest.raises(StaleError):
        shelf.save(name, C, base=version_of(A))
    assert shelf.text(name) == B


def test_a_change_by_hand_can_be_undone(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    shelf.path(name).write_text(B, encoding="utf-8")

    assert shelf.text(name) == B
    assert shelf.step(name, -1) == A
    assert shelf.step(name, 1) == B


def test_a_change_by_hand_after_an_undo_is_taken_in(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    shelf.save(name, B, base=version_of(A))
    shelf.step(name, -1)
    shelf.path(name).write_text(C, encoding="utf-8")

    assert shelf.step(name, -1) == A
    assert shelf.step(name, 1) == C


def test_a_deleted_job_comes_back_with_its_earlier_texts(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    shelf.save(name, B, base=version_of(A))
    token = shelf.delete(name)

    assert shelf.names() == ()
    assert shelf.deleted() == ((token, name),)
    assert shelf.bring_back(token) == name
    assert shelf.text(name) == B
    assert shelf.step(name, -1) == A


def test_a_job_that_comes_back_never_overwrites_another(shelf: Shelf) -> None:
    token = shelf.delete(shelf.add("Music stand", A))
    other = shelf.add("Music stand", B)

    assert shelf.bring_back(token) == "music-stand-2"
    assert shelf.text(other) == B


def test_two_of_one_title_get_names_of_their_own(shelf: Shelf) -> None:
    assert shelf.add("Music stand", A) == "music-stand"
    assert shelf.add("Music Stand!", B) == "music-stand-2"
    assert shelf.rename("music-stand-2", "Music stand") == "music-stand-3"


def test_a_renamed_job_keeps_its_earlier_texts(shelf: Shelf) -> None:
    name = shelf.add("Music stand", A)
    shelf.save(name, B, base=version_of(A))

    assert shelf.step(shelf.rename(name, "Robe cupboard"), -1) == A


@pytest.mark.parametrize("name", ["../secret", "..", "/etc/passwd", ".hidden", "", "a\0b", "jobs/../x", "*"])
def test_a_name_is_looked_up_and_never_made_into_a_path(shelf: Shelf, name: str) -> None:
    shelf.add("Music stand", A)
    (shelf.folder.parent / "secret.toml").write_text("cases = []", encoding="utf-8")
    (shelf.folder / ".hidden.toml").write_text("cases = []", encoding="utf-8")

    with pytest.raises(JobError, match="no job"):
        shelf.text(name)


@pytest.mark.parametrize("token", ["../x", "", "zz", "1" * 30, "ab"])
def test_a_token_that_was_never_given_brings_nothing_back(shelf: Shelf, token: str) -> None:
    with pytest.raises(JobError, match="nothing that was deleted"):
        shelf.bring_back(token)


def test_a_workshop_file_is_no_job(shelf: Shelf) -> None:
    shelf.add("Music stand", A)
    (shelf.folder / "workshop.toml").write_text('currency = "EUR"\n', encoding="utf-8")

    assert shelf.names() == ("music-stand",)


def test_a_file_that_is_no_toml_stays_in_the_list_to_be_mended(shelf: Shelf) -> None:
    shelf.add("Music stand", A)
    (shelf.folder / "broken.toml").write_text("title = ", encoding="utf-8")

    assert {e.name: e.readable for e in shelf.entries()} == {"music-stand": True, "broken": False}


@given(st.text(max_size=200))
def test_every_title_makes_a_file_name_that_every_system_takes(title: str) -> None:
    name = file_name(title)

    assert name
    assert len(name) <= 70
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert not name.startswith("-")
    assert name not in {"con", "prn", "aux", "nul", "workshop"}
