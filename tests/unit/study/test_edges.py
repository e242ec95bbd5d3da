"""Sizes near a job's own at which something comes in: by halving, as by looking at every half millimetre."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.cli import main
from storyrod.adapters.files import JobFile, job_from_text
from storyrod.adapters.files.studying import resized
from storyrod.adapters.study import edges
from storyrod.adapters.study.edges import EdgeSearch, edges_of
from storyrod.planning import Plan
from storyrod.telling.turns import Counted, Counts, Thing, changes, counts_of
from tests.unit.study.shared import JOB, study_in

SHEET = Counted(thing=Thing.SHEET, name="birch")
HINGE = Counted(thing=Thing.HINGE)


def pegs(text: str = JOB) -> JobFile:
    return job_from_text(text, name="pegs.toml")


class Drawn(EdgeSearch):
    """Sizes at which a sheet comes in, as drawn: nothing is planned."""

    def __init__(self, steps: frozenset[int]) -> None:
        super().__init__(pegs())
        self.steps = steps

    def _base(self) -> edges._Seen:
        return self.at(0)

    def _seen(self, line: edges._Line, at: int) -> edges._Seen:
        return self.at(at)

    def at(self, at: int) -> edges._Seen:
        sheets = 1 + sum(step <= at for step in self.steps)
        return edges._Seen({SHEET: sheets}, 1000 * sheets)


@settings(max_examples=60)
@given(st.frozensets(st.integers(-119, 120), max_size=6))
def test_halving_finds_what_every_half_millimetre_would(steps: frozenset[int]) -> None:
    search = Drawn(steps)
    for _ in search.work():
        pass

    own = 500.0
    told = {e.mm for e in search.edges if e.size == "width"}
    scan = {
        own + 0.5 * (at if at > 0 else at - 1)
        for at in range(-119, 121)
        if search.at(at).counts != search.at(at - 1).counts
    }
    assert told == scan


def test_a_sheet_comes_in_where_the_sum_of_the_widths_says(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a sheet of 1250 x 600 with 10 trimmed off each edge and a kerf of 3, strips 200 deep lie two and two: with a
    case of 500, five boards (two of 300, three of 464.6) do not all fit on one sheet from some width on; at every half
    millimetre beside the edge that is told, the plan itself is asked.
    """
    monkeypatch.setattr(edges, "STRIDES", 1)
    monkeypatch.setattr(edges, "_TURNS", {"width": ("narrower", "wider")})
    own = pegs(JOB.replace("width = 500", "width = 610"))
    found = edges_of(own)

    for edge in found.edges:
        beside = edge.mm + (0.5 if edge.mm < edge.own else -0.5)
        there, before = (_counts(own, mm) for mm in (edge.mm, beside))
        assert there != before
        assert edge.changes == changes(before, there)
    assert found.looked <= 2 + 2 * 5 * 3
    assert found.whole


def _counts(job: JobFile, mm: float) -> Counts:
    return counts_of(Plan(resized(job, 0, "width", mm), job.workshop))


def test_no_more_sizes_are_looked_at_than_allowed() -> None:
    class Few(Drawn):
        def __init__(self) -> None:
            super().__init__(frozenset({-50, -3, 7, 90}))
            self._most = 5

    search = Few()
    steps: Iterator[None] = search.work()
    assert len(list(steps)) == search.looked == 5
    assert not search.whole


def test_a_job_of_many_parts_has_fewer_sizes_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five parts: ten parts in all are two sizes."""
    monkeypatch.setattr(edges, "MOST_PARTS", 11)

    found = edges_of(pegs())

    assert (found.looked, found.in_all, found.whole) == (2, 2, False)


def test_changes_are_told_in_whole_things() -> None:
    assert changes({SHEET: 2, HINGE: 2}, {SHEET: 1, HINGE: 3}) == ("1 sheet of birch fewer", "1 hinge more")
    assert changes({}, {SHEET: 2}) == ("2 sheets of birch more",)
    assert changes({SHEET: 2}, {SHEET: 2}) == ()


def test_a_few_connectors_are_a_trifle_where_they_cost_hardly_anything() -> None:
    screw, search = Counted(thing=Thing.CONNECTOR, name="screw"), Drawn(frozenset())
    line = edges._Line(0, "width", 500.0, 0.5, {0: edges._Seen({SHEET: 1}, 10_000)})
    told = []
    for counts, cents in (({SHEET: 1, screw: 1}, 10_049), ({SHEET: 1, screw: 1}, 10_060), ({SHEET: 2}, 10_000)):
        line.seen[1] = edges._Seen(counts, cents)
        told += [e.is_trifle for e in search._edges_of(line)]

    assert told == [True, False, False]


def test_the_sentence_says_how_far_and_what_it_saves() -> None:
    search = Drawn(frozenset({-9, 4}))
    for _ in search.work():
        pass

    assert [e.words for e in search.edges if e.size == "width"] == [
        "A 2 mm wider (width 502 mm) costs 10.00 EUR more. From there on: 1 sheet of birch more.",
        "A 5 mm narrower (width 495 mm) saves 10.00 EUR. From there on: 1 sheet of birch fewer.",
    ]


def test_the_command_tells_the_edges(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(edges, "STRIDES", 0)
    study_in(tmp_path)

    assert main(["edges", str(tmp_path / "pegs.toml")]) == 0
    assert capsys.readouterr().out.splitlines()[:2] == [
        "Peg rack: sizes near its own",
        "  Nothing is added or dropped near these sizes.",
    ]
    assert main(["edges", str(tmp_path / "nothing.toml")]) == 1
