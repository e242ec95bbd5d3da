"""Two ways on one clock: worked by hand, and for a real job by two methods."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from storyrod.adapters.cli import main
from storyrod.adapters.log import open_log
from storyrod.ledger import taken_by_stage
from storyrod.ledger._two_ways import ORDER, _overtakings, place_at
from storyrod.model.learning import Timing
from storyrod.model.two_ways import OneWay, StageSpan, TwoWays
from storyrod.model.work import Minutes, Stage, WorkItem
from storyrod.telling.two_ways import at_words, clock_rows, overtaking_words, taken_words
from tests.places import EXAMPLES

BOX = EXAMPLES / "first-box.toml"


def way(name: str, **minutes: float) -> OneWay:
    """A way with the minutes of some stages, by the names of the stages in short."""
    stages = {"cut": Stage.CUT, "mark": Stage.MARK, "machine": Stage.MACHINE, "assemble": Stage.ASSEMBLE}
    spans, now = [], 0.0
    for short, taken in minutes.items():
        stage = stages[short].value
        even = Minutes(low=taken, usual=taken, high=taken)
        spans.append(StageSpan(stage=stage, place=ORDER.index(stage), start=now, end=now + taken, minutes=even))
        now += taken
    return OneWay(name=name, spans=tuple(spans))


MARKED = way("dowels", cut=20, mark=40, machine=10, assemble=10)
JIGGED = way("keyholes", cut=20, mark=10, machine=40, assemble=30)


def test_one_overtakes_the_other_where_the_clock_says_so() -> None:
    """By hand: keyholes is ahead from 20 on (marks in 10). It machines from 30 to 70; dowels begins machining at 60.

    At 60 keyholes has 3/4 of its machining done, dowels none; the one goes 1/40 a minute, the other 1/10: they meet
    where 0.75 + x/40 = x/10, after 10 minutes, just when both are through. At assembling from 70 on dowels goes three
    times as fast, so it is ahead.
    """
    found = list(_overtakings(MARKED, JIGGED))

    assert [(round(o.at_min, 6), o.ahead, o.stage) for o in found] == [(70.0, "dowels", "assembling")]
    assert place_at(JIGGED, 60) - ORDER.index("machining joints") == pytest.approx(0.75)


def test_a_meeting_within_a_stage_is_found_between_its_ends() -> None:
    """Machining 40 from 30 on, against 5 from 60 on: 0.75 + x/40 = x/5 at x = 30/7."""
    (one,) = _overtakings(way("quick", cut=20, mark=40, machine=5), way("slow", cut=20, mark=10, machine=40))

    assert one.at_min == pytest.approx(60 + 30 / 7)
    assert (one.ahead, one.stage) == ("quick", "machining joints")


def test_equal_ways_never_overtake() -> None:
    assert list(_overtakings(MARKED, way("twin", cut=20, mark=40, machine=10, assemble=10))) == []


def test_the_clock_tells_every_ten_minutes_until_both_are_done() -> None:
    two = TwoWays(ways=(MARKED, JIGGED), overtakings=tuple(_overtakings(MARKED, JIGGED)))
    rows = list(clock_rows(two))

    assert len(rows) == 11
    assert rows[3] == ("0:30", "marking out, 25%", "machining joints, 0%", "keyholes")
    assert rows[10] == ("1:40", "done", "done", "")
    assert at_words(MARKED, 65) == "machining joints, 50%"
    assert overtaking_words(two)[-1] == "dowels is done after 1 hour 20 minutes, keyholes 20 minutes later."


def test_one_run_gives_no_verdict_and_many_tell_chance_from_change() -> None:
    each = Minutes(low=1, usual=2, high=3)
    items = [
        WorkItem(act="drill", stage=Stage.MACHINE, each=each, set_up="S1"),
        WorkItem(act="close", stage=Stage.ASSEMBLE, each=each),
        WorkItem(act="mark", stage=Stage.MARK, each=each),
    ]
    timings = [
        *(("S1", Timing(act="drill", minutes=m, count=2)) for m in (3.8, 4.3, 4.0)),
        *(("", Timing(act="close", minutes=m, count=1)) for m in (3.9, 4.1, 4.0, 4.05)),
        ("", Timing(act="mark", minutes=9.0, count=1)),
        ("", Timing(act="unknown", minutes=9.0, count=1)),
    ]

    found = {t.stage: t for t in taken_by_stage(items, timings)}

    assert found["machining joints"].planned_min == 12.0
    assert found["machining joints"].taken_min == pytest.approx(12.1)
    assert found["machining joints"].may_be_chance is True
    assert found["assembling"].may_be_chance is False
    assert found["marking out"].may_be_chance is None
    told = list(taken_words(tuple(found.values())))
    assert [t.rsplit(". ", 1)[1] for t in told] == [
        "One run says nothing yet.",
        "Chance alone may make the difference.",
        "It takes you longer than planned.",
    ]


def test_the_command_sets_two_methods_side_by_side(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page, where = tmp_path / "beside.pdf", tmp_path / "bench.sqlite"
    with open_log(where) as log:
        log.add_span("first-box", "check the diagonals", minutes=1.5)
    words = ["beside", str(BOX), "--methods", "dowels,carcass screws", "--log", str(where), "--out", str(page)]

    assert main(words) == 0

    told = capsys.readouterr().out
    for line in ("cutting sheets", "0:10", "is done after", "One run says nothing yet."):
        assert line in told
    text = " ".join(" ".join(p.extract_text().split()) for p in PdfReader(page).pages)
    assert "Side by side" in text
    assert "The clock" in text


@pytest.mark.parametrize(
    ("more", "code"),
    [
        (["--methods", "dowels"], "beside-two"),
        ([], "beside-two"),
        (["--methods", "dowels,nails"], "unknown-method"),
        (["--methods", "dowels,groove"], "beside-misfit"),
    ],
)
def test_what_cannot_be_set_side_by_side_says_why(
    more: list[str], code: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["beside", str(BOX), *more]) == 1
    assert code in capsys.readouterr().err
