"""`storyrod wish` from end to end: proposals told, one taken, the wish kept beside it, and what no longer fits."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from storyrod.adapters.cli import main
from storyrod.adapters.files import read_job
from storyrod.planning import Proposed, weigh
from storyrod.telling.wish import elevation_lines, report_lines
from tests.unit.wish import wishes

SMALL = "width = 500\nheight = 900\ndepth = 400"


@pytest.fixture
def wish(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(wishes.text(wishes.SHELVES, SMALL, "[look]\ncolumns = 1"), encoding="utf-8")
    return path


def test_a_proposal_is_taken_and_the_brief_says_later_what_no_longer_goes_in(
    wish: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(wish.parent)
    assert main(["wish", "small.toml", "--take", "1", "--job", "case.toml", "--pictures", "pictures"]) == 0
    job = wish.parent / "case.toml"
    assert (wish.parent / "case.notes" / "wish.toml").read_text() == wish.read_text()
    assert (wish.parent / "pictures" / "proposal-1.svg").read_text().startswith("<svg")
    capsys.readouterr()

    assert main(["check", "case.toml"]) == 0
    assert "Everything of case.notes/wish.toml still goes in." in capsys.readouterr().out

    width = read_job(job).job.cases[0].width
    job.write_text(job.read_text().replace(f"width = {width:g}", f"width = {width - 100:g}"))
    assert main(["check", "case.toml"]) == 0
    told = capsys.readouterr().out
    assert re.search(r"No longer as case\.notes/wish\.toml asks:\n  \d of 8 folders go in", told)


def test_nothing_is_written_over(
    wish: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(wish.parent)
    (wish.parent / "case.notes").mkdir()
    (wish.parent / "case.notes" / "wish.toml").write_text("mine")

    assert main(["wish", "small.toml", "--take", "1", "--job", "case.toml"]) == 1
    assert "file-exists" in capsys.readouterr().err
    assert not (wish.parent / "case.toml").exists()


def test_a_wish_that_cannot_be_met_says_why(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "much.toml"
    path.write_text(wishes.text(wishes.SHELVES.replace("count = 8", "count = 12"), SMALL, "[look]\ncolumns = 1"))

    assert main(["wish", str(path), "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert told["proposals"] == []
    assert {q["what"] for q in told["why_not"]["quarrels"]} >= {"count", "height"}


def test_every_fault_has_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(wishes.text(wishes.SHELVES.replace("height = 318", "height = 3180"), SMALL))

    assert main(["wish", str(path)]) == 1
    assert "things[0].height, line" in capsys.readouterr().err


def test_the_front_in_letters_names_what_stands_in_every_opening() -> None:
    drawn = "\n".join(elevation_lines(wishes.proposal(), wishes.mixed().goods))

    for stand in wishes.proposal().stands:
        name = wishes.mixed().goods[stand.goods].name
        assert f"{name}: {stand.count}" in " ".join(drawn.split()).replace("| ", "").replace("|", "")
    assert max(map(len, drawn.splitlines())) <= 73
    assert set(drawn.splitlines()[-1]) == {"="}


def test_what_is_told_of_a_proposal_is_what_its_plan_says() -> None:
    file, proposal = wishes.mixed(), wishes.proposal()
    found = Proposed(proposals=weigh([proposal], look=True), dropped=(), goods=file.goods)
    told = "\n".join(report_lines(found, file.base.lengths, "EUR"))

    assert proposal.money_cents == proposal.plan.account.cost_cents
    assert proposal.minutes == proposal.plan.account.minutes.usual
    assert f"{proposal.money_cents / 100:.2f} EUR" in told
    assert "the runner of" in told
