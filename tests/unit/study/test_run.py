"""A study in its folder: killed and begun again it goes on where it was; nothing twice, nothing lost."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import pyarrow.dataset as parquet
import pytest

import storyrod
from storyrod.adapters.cli import main
from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study import Alone, Going, columns_in, run_study, span_words
from storyrod.adapters.study._engines import Piece
from storyrod.adapters.study._store import Store, numbers_in, pieces_of
from storyrod.faults import JobError
from storyrod.model.account import show_money
from storyrod.model.study import Row
from tests.unit.study.shared import JOB, STUDY, study_in, variants_in

LONG = STUDY.replace("step = 100", "step = 4").replace('"dowels", "biscuits", ', "")
"""Seventy-six variants, none of which can be made: quickly done, in four pieces."""


class Stopping(Alone):
    """Works out so many pieces, then is stopped as by a key; counts what it works out."""

    def __init__(self, pieces: int) -> None:
        self.left = pieces
        self.made: list[int] = []

    def run(self, variants: Variants, pieces: Sequence[int]) -> Iterator[Piece]:
        for piece in super().run(variants, pieces):
            if self.left == 0:
                raise KeyboardInterrupt
            self.left -= 1
            self.made.append(piece[0])
            yield piece


def table(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as opened:
        return list(csv.reader(opened))


def test_pieces_hold_every_variant_once() -> None:
    for rows in (1, 19, 20, 21, 60):
        assert [n for piece in pieces_of(rows) for n in numbers_in(piece, rows)] == list(range(rows))


def test_stopped_and_begun_again_it_goes_on(tmp_path: Path) -> None:
    variants = variants_in(tmp_path, LONG)
    whole = run_study(variants, tmp_path / "at once")
    first, second = Stopping(1), Stopping(9)

    with pytest.raises(KeyboardInterrupt):
        run_study(variants, tmp_path / "in two", first)
    assert len(table(tmp_path / "in two" / "rows.csv")) == 1 + 20
    again = run_study(variants, tmp_path / "in two", second)

    assert (first.made, second.made) == ([0], [1, 2, 3])
    assert (whole.taken, again.taken, again.rows, again.faulty) == (0, 20, 76, 76)
    assert (tmp_path / "in two" / "rows.csv").read_bytes() == (tmp_path / "at once" / "rows.csv").read_bytes()


def test_killed_at_any_moment_the_rows_are_the_same(tmp_path: Path) -> None:
    """The process is killed as soon as some piece is there: once in the midst of the next, wherever that is."""
    study = study_in(tmp_path, LONG.replace("step = 4", "step = 1"))
    words = [sys.executable, "-m", "storyrod", "study", str(study), "--workers", "1", "--out", str(tmp_path / "out")]
    with subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=tmp_path) as running:
        while running.poll() is None and len(list(tmp_path.glob("out/pieces-*/*.json"))) < 2:
            time.sleep(0.002)
        running.send_signal(signal.SIGKILL if os.name != "nt" else signal.SIGTERM)
    there = len(list(tmp_path.glob("out/pieces-*/*.json")))
    variants = variants_in(tmp_path, LONG.replace("step = 4", "step = 1"))

    again = run_study(variants, tmp_path / "out")

    assert 2 <= there < len(pieces_of(len(variants)))
    assert again.taken == there * 20
    assert [float(r[0]) for r in table(tmp_path / "out" / "rows.csv")[1:]] == [float(400 + n) for n in range(301)]


def test_rows_of_another_job_are_not_taken(tmp_path: Path) -> None:
    run_study(variants_in(tmp_path, LONG), tmp_path / "out")

    other = run_study(variants_in(tmp_path, LONG, JOB.replace("30.00", "31.00")), tmp_path / "out")

    assert other.taken == 0


@pytest.mark.parametrize("spoilt", ["", "[[20, [4", "[]", "[[1, [], null]]", "7"])
def test_a_piece_that_was_spoilt_is_made_again(tmp_path: Path, spoilt: str) -> None:
    variants = variants_in(tmp_path, LONG)
    run_study(variants, tmp_path / "out")
    whole = (tmp_path / "out" / "rows.csv").read_bytes()
    (piece,) = tmp_path.glob("out/pieces-*/0000001.json")
    piece.write_text(spoilt, encoding="utf-8")

    assert run_study(variants, tmp_path / "out").taken == 56
    assert (tmp_path / "out" / "rows.csv").read_bytes() == whole


def test_what_comes_twice_counts_once(tmp_path: Path) -> None:
    """An engine that lost a worker may do a piece again."""

    class Twice(Alone):
        def run(self, variants: Variants, pieces: Sequence[int]) -> Iterator[Piece]:
            for piece in super().run(variants, pieces):
                yield piece
                yield piece

    going: list[Going] = []
    found = run_study(variants_in(tmp_path, LONG), tmp_path / "out", Twice(), going.append)

    assert found.faulty == 76
    assert [g.done for g in going] == [20, 40, 60, 76]
    assert going[-1].left_s == 0


def test_tables_have_money_with_two_digits_and_numbers_as_numbers(tmp_path: Path) -> None:
    variants = variants_in(tmp_path)
    store = Store(tmp_path / "out", columns_in(variants), 2, variants.digest)
    width = len(columns_in(variants))
    cells = (400, "=dowels", 123456, "", 99, 12.5, *(None,) * (width - 6))
    store.keep(0, [Row(number=0, cells=cells, rank=1.0), Row(number=1, cells=(None,) * width, rank=None)])
    store.close()

    heads, first, second = table(store.csv)
    assert first[:6] == ["400", "'=dowels", "1234.56", "", "0.99", "12.5"]
    assert set(second) == {""}
    assert store.parquet is not None
    rows = parquet.dataset(store.parquet).to_table().to_pylist()
    assert list(rows[0]) == heads
    assert (str(rows[0]["price"]), str(rows[0]["cost"]), rows[0]["cases[0].width"]) == ("1234.56", "0.99", 400.0)
    assert rows[1]["price"] is None


def test_a_million_by_mistake_is_told_with_how_long_it_takes(tmp_path: Path) -> None:
    ticks = iter(range(0, 100, 6))
    variants = variants_in(tmp_path, STUDY.replace("step = 100", "step = 0.001").replace('"dowels", "biscuits", ', ""))

    with pytest.raises(JobError) as caught:
        run_study(variants, tmp_path / "out", clock=lambda: float(next(ticks)))

    assert caught.value.faults[0].found == "300,001 variants, about 7 days on one core"
    assert caught.value.faults[0].field == "variants_most"
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(3, "less than a minute"), (60, "about a minute"), (200, "about 3 minutes"), (7200, "about 2 hours")],
)
def test_times_are_told_as_one_says_them(seconds: float, words: str) -> None:
    assert span_words(seconds) == words


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file", encoding="utf-8")

    with pytest.raises(JobError) as caught:
        run_study(variants_in(tmp_path, LONG), tmp_path / "out")

    assert caught.value.faults[0].code == "study-folder"


def test_the_command_tells_the_best_and_where_the_table_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    study = study_in(tmp_path, STUDY.replace("to = 700", "to = 500").replace('"biscuits", ', ""))

    assert main(["study", str(study), "--out", str(tmp_path / "out")]) == 0

    said = capsys.readouterr().out.splitlines()
    assert said[:2] == ["4 variants", "  2 cannot be made: the column `fault` says why"]
    least = min(storyrod.study(study).rows, key=lambda r: r.rank or 1e9)
    assert said[4] == f"  price {show_money(least.rank or 0)} with cases[0].width 400, methods.corner dowels"
    assert "variant that nothing beats on price, minutes and yield: unbeaten.csv" in said[-4]
    assert said[-2] == "Drawn, with its numbers: unbeaten.svg"
    assert len(table(tmp_path / "out" / "unbeaten.csv")) == 2
    assert said[-1].startswith(f"Written to {tmp_path / 'out'}: rows.csv, parquet-")
    assert main(["study", str(study), "--out", str(tmp_path / "out"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["taken"], told["best"][0]["methods.corner"]) == (4, "dowels")


def test_from_python_it_is_a_table(tmp_path: Path) -> None:
    found = storyrod.study(study_in(tmp_path, STUDY.replace("to = 700", "to = 500").replace('"biscuits", ', "")))

    assert len(found.rows) == 4
    assert found.best is found.rows[0]
    assert found.named(found.rows[0])["cases[0].width"] == 400
