"""What all benchmarks share: how they are found and run, timed, and printed."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchmarks import _needs, _timing, run_all
from benchmarks.mutants.data import DATA, data_mutants_of
from benchmarks.mutants.named import RULES, Rule
from benchmarks.pipeline import bench_install
from tests.places import ROOT


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    modules = {
        "speed/bench_good.py": "def main() -> None:\n    print('a table')\n",
        "speed/bench_bad.py": "def main() -> None:\n    raise ValueError('wrong plan')\n",
        "quality/bench_bare.py": (
            "from benchmarks._needs import NotHereError\ndef main() -> None:\n    raise NotHereError('no sets here')\n"
        ),
        "quality/helper.py": "raise SystemExit\n",
    }
    for name, text in modules.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def test_benchmarks_are_found_by_name_in_a_fixed_order(folder: Path) -> None:
    def names(*words: str) -> list[str]:
        return [path.relative_to(folder).as_posix() for path in run_all.find_benchmarks(folder, words)]

    assert names() == ["quality/bench_bare.py", "speed/bench_bad.py", "speed/bench_good.py"]
    assert names("speed/") == ["speed/bench_bad.py", "speed/bench_good.py"]
    assert names("bare", "good") == ["quality/bench_bare.py", "speed/bench_good.py"]
    assert names("nothing") == []


def test_one_that_fails_does_not_stop_the_others(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(run_all, "HERE", folder)

    assert run_all.main([]) == 1
    told = capsys.readouterr()
    assert "Left out: no sets here" in told.out
    assert "a table" in told.out
    assert told.out.endswith("1 done, 1 left out, 1 failed\n")
    assert "ValueError: wrong plan" in told.err

    assert run_all.main(["good", "bare"]) == 0
    assert run_all.main(["bare"]) == 1, "a run in which nothing was measured is no success"
    assert run_all.main(["nothing"]) == 1


def test_benchmark_sets_are_looked_for_where_the_variable_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "cutting").mkdir()
    monkeypatch.setenv("STORYROD_DATA", str(tmp_path))

    assert _needs.shared_data("cutting") == tmp_path / "cutting"
    with pytest.raises(_needs.NotHereError, match=r"shared/data/cutting/gone.json"):
        _needs.shared_data("cutting", "gone.json")

    monkeypatch.setenv("STORYROD_DATA", str(tmp_path / "nowhere"))
    assert _needs.find_shared_data() is None


def test_works_are_timed_in_turns_after_warming_up() -> None:
    order: list[str] = []

    ours, peer = _timing.time_in_turns(
        {"ours": lambda: order.append("ours"), "peer": lambda: order.append("peer")}, repeats=2, warm_up=1
    )

    assert order == ["ours", "peer"] * 3
    assert (ours.name, ours.repeats, peer.name) == ("ours", 2, "peer")
    assert 0 <= ours.least_ms <= ours.median_ms <= ours.most_ms


def test_the_processor_s_time_counts_children_and_no_waiting() -> None:
    """A child that works is counted where the system tells of it; a sleep is not."""
    busy = _timing.time_command("works", [sys.executable, "-c", "sum(range(2_000_000))"], repeats=1)
    asleep = _timing.time_work("sleeps", lambda: time.sleep(0.05), repeats=1, warm_up=0)

    assert asleep.processor_ms < 50 <= asleep.median_ms
    assert busy.processor_ms > 0 or os.name == "nt"
    assert busy.work_ratio_to(busy) == 1


def test_peak_memory_sees_what_is_held_at_one_time() -> None:
    assert _timing.peak_memory_mib(lambda: bytearray(8 * 2**20)) == pytest.approx(8, abs=0.2)


def test_a_command_that_fails_is_not_timed() -> None:
    with pytest.raises(subprocess.CalledProcessError):
        _timing.time_command("fails", [sys.executable, "-c", "raise SystemExit(3)"], repeats=1)


def test_timings_are_printed_with_their_ratio_to_the_peer(capsys: pytest.CaptureFixture[str]) -> None:
    ours = _timing.Timing(name="ours", median_ms=2.5, least_ms=2.0, most_ms=1234.5, repeats=7, processor_ms=2.0)
    peer = _timing.Timing(name="the peer", median_ms=50.0, least_ms=49.0, most_ms=51.0, repeats=7, processor_ms=8.0)

    _timing.show_timings("Set-out", [ours, peer], peer=peer)

    assert capsys.readouterr().out.splitlines() == [
        "",
        "Set-out",
        "what      median ms  least  most   repeats  processor ms  of the peer's time  and processor time",
        "--------  ---------  -----  -----  -------  ------------  ------------------  ------------------",
        "ours            2.5      2  1,234        7             2                0.05                0.25",
        "the peer         50     49     51        7             8                   1                   1",
    ]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="each figure is changed in a fork")
def test_a_figure_of_the_packaged_data_is_changed_and_noticed() -> None:
    """Some eight of seven hundred; `benchmarks.mutants` tries them all."""
    command = [sys.executable, "-m", "benchmarks.mutants.mutants", "--only", "toml", "--share", "5/97"]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)

    assert told.returncode == 0, told.stdout + told.stderr
    assert re.search(r"^[4-9] changed, 0 unnoticed$", told.stdout, re.MULTILINE), told.stdout


def test_minutes_prices_and_words_are_no_figures_to_change() -> None:
    changed = {(m.was, m.line) for m in data_mutants_of("methods.toml")}
    lines = (DATA / "methods.toml").read_text(encoding="utf-8").splitlines()
    told = [lines[n - 1] for _, n in changed]

    assert not [line for line in told if line.startswith(("work", "step_mm", "along_mm", "consumes", "note", "#"))]
    (rules,) = {n for _, n in changed if lines[n - 1].startswith("rules = { end = 60, end_min = 60")}
    assert {was for was, n in changed if n == rules} == {60, 320, 64, 2}


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.name)
def test_a_rule_that_is_taken_out_is_in_the_code_once_and_the_code_without_it_is_python(rule: Rule) -> None:
    mutant = rule.mutant

    assert mutant.path.read_text(encoding="utf-8").count(rule.was) == 1
    compile(mutant.source, str(mutant.path), "exec")
    assert all((ROOT / test).exists() for test in rule.tests)


def test_the_room_of_a_base_install_is_counted_by_the_list_of_pins() -> None:
    """Names of the list, each installed here and with a size; what only tests need is not among them."""
    names = bench_install.pinned((ROOT / "pins.txt").read_text(encoding="utf-8"))

    assert {"typst", "ezdxf", "sqlalchemy"} <= set(names)
    assert not {"pytest", "hypothesis", "ruff"} & set(names)
    assert bench_install.size_mb("ezdxf") > 1


def test_the_machine_s_measure_is_time_of_the_processor() -> None:
    assert 0.01 < _timing.machine_s() < 60
