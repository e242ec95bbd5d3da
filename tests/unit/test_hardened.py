"""Job files by mutation: told their faults or planned whole, never a mistake of ours. `run.py harden` does more."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest

from benchmarks.harden import doors, harden, kills, power
from storyrod.adapters.output._write import OutFile
from storyrod.faults import Fault
from storyrod.planning import Plan
from tests.places import ROOT


@pytest.mark.slow
@pytest.mark.parametrize("_half", [1, 2])
def test_files_by_mutation_break_nothing(_half: int) -> None:
    """In a process whose memory is counted; the seed is drawn, and printed: a failure is made again by it."""
    command = [sys.executable, "-m", "benchmarks.harden.harden", "--files", "130", "--quick"]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    counts = {what: int(n) for n, what in re.findall(r"^ +(\d+)  (.+)$", told.stdout, re.MULTILINE)}

    assert told.returncode == 0, told.stdout + told.stderr
    assert told.stdout.startswith("seed ")
    assert counts["failed"] == 0
    assert counts["planned whole"] > 10
    assert counts["told its faults"] > 10
    assert counts["MB of memory at the most"] < harden.MOST_MB


def test_memory_is_told_of_the_process_alone() -> None:
    """Linux hands the most memory of a large process on to what it starts; the tests themselves are large."""
    small = "from benchmarks.harden.harden import memory_mb; print(memory_mb())"
    large = f"import subprocess, sys; kept = bytearray(400_000_000); subprocess.run([sys.executable, '-c', {small!r}])"
    told = subprocess.run([sys.executable, "-c", large], cwd=ROOT, capture_output=True, text=True, check=True)

    assert 0 < float(told.stdout) < 300


def test_a_file_is_the_same_whenever_it_is_made_again() -> None:
    assert [harden.made(5, n) for n in range(20)] == [harden.made(5, n) for n in range(20)]
    assert len({harden.made(5, n) for n in range(20)}) == 20
    assert harden.made(5, 1) != harden.made(6, 1)


def test_what_breaks_is_found_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(_: Plan) -> None:
        raise IndexError("tuple index out of range")

    monkeypatch.setattr(harden, "plan_document", breaks)
    monkeypatch.setattr(harden, "made", lambda *_: (harden.EXAMPLES / "first-box.toml").read_text(encoding="utf-8"))
    tally = harden.run([3], 1)

    assert len(tally.failed) == 1
    assert tally.failed[0].startswith("number 3: IndexError: tuple index out of range at File")
    assert "       1  failed" in list(harden.rows(tally, 1))


def test_what_only_a_check_of_the_plan_tells_is_counted_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """The maker of such a job is told nothing that mends it: the plan was wrong, and is to be looked into."""
    slip = Fault(code="proof-marks", field="cases[0]", found="two figures", allowed="one", do="Report it.")
    monkeypatch.setattr(Plan, "faults", (slip,))
    monkeypatch.setattr(harden, "made", lambda *_: (harden.EXAMPLES / "first-box.toml").read_text(encoding="utf-8"))
    said: list[str] = []

    tally = harden.run([3], 1, say=said.append)

    assert tally.counts == {harden.BY_THE_PLAN: 1}
    assert said == [f"number 3: {harden.BY_THE_PLAN}"]


def test_several_processes_try_the_same_files_as_one() -> None:
    alone = harden.run(range(6), 5, quick=True, say=lambda _: None)
    beside = harden.run_beside(range(6), 5, {"quick": True}, workers=2, say=lambda _: None)
    assert (beside.counts, beside.failed) == (alone.counts, alone.failed)
    assert sum(beside.counts.values()) == 6
    assert beside.most_mb > 0


def test_a_workshop_file_is_the_same_whenever_it_is_made_again() -> None:
    assert [harden.made_workshop(5, n) for n in range(9)] == [harden.made_workshop(5, n) for n in range(9)]
    assert len({harden.made_workshop(5, n) for n in range(9)}) == 9
    assert harden.try_workshop(
        (harden.EXAMPLES / harden.WORKSHOP).read_text(encoding="utf-8")[:-40] + "x", packet=False
    )


def test_nothing_is_let_through_from_the_wrong_side(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every route and socket of the app, at both gates, at real sockets."""
    monkeypatch.setattr(doors, "HELD_UP_S", 60.0)  # how long is measured by `run.py harden doors`, on a quiet machine
    assert doors.main([]) == 0
    told = capsys.readouterr().out
    tried = {what: int(n) for what, n in re.findall(r"^(\w.*?)  +(\d+) +0$", told, re.MULTILINE)}
    assert tried["local: no key"] > 60
    assert tried["network: no code"] > 60
    assert tried["local: foreign Origin, with the key"] > 20


def test_what_is_let_through_is_found(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr("storyrod.adapters.web._key.Key.admits", lambda *_: True)
    monkeypatch.setattr(doors, "_slow", lambda *_: 0)
    monkeypatch.setattr(doors, "_deaf", lambda *_: 0)
    monkeypatch.setattr(doors, "table_of", lambda *_: [("GET", "/"), ("GET", "/jobs")])
    every = doors.attacks
    monkeypatch.setattr(doors, "attacks", lambda page: list(every(page))[:1])

    assert doors.main([]) == 1
    assert "let through: local: no key: GET /" in capsys.readouterr().out


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills are made by a fork")
def test_kills_and_power_cuts_are_seen(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    files = [[OutFile(name=n, make=f"{text} {n}".encode) for n in ("a.csv", "b/c.svg")] for text in ("old", "new")]
    for module in (kills, power):
        monkeypatch.setattr(module, "plans", lambda: files)
    assert kills.main(["--kills", "8"]) == 0
    assert power.main(["--cuts", "8"]) == 0
    monkeypatch.setattr(power, "dropped", lambda root, *_: [p.write_bytes(b"") for p in root.rglob("*.toml")])
    assert power.main(["--cuts", "8"]) == 1
    assert "no whole text" in capsys.readouterr().out
