"""How far back a front stands and how much of a door is over its panel are figures of the paper, which are built by."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import (
    BetweenOrOver,
    Case,
    FrontKind,
    Fronts,
    GraduatedBy,
    Graduation,
    Holds,
    RailsStand,
)
from storyrod.planning import Plan
from storyrod_blind import Finding
from storyrod_blind._finding import FindingKind as K
from storyrod_blind._frame import Aim
from storyrod_blind._fronts import check_fronts
from storyrod_blind._hung import check_hung
from storyrod_blind._page import read_pages
from storyrod_blind._paper import Paper
from storyrod_blind._poses import build_bodies
from storyrod_blind._read import read_paper
from storyrod_blind._seats import seats_of
from tests.builders import case, door, drawer, job, rows
from tests.unit.blind.papers import printed

_CASES: dict[str, Case] = {
    "a drawer behind a door": case(height=400, depth=500, inside=rows(drawer(), holds=Holds.DOOR)),
    "a drawer behind a door between the sides": case(
        height=400,
        depth=500,
        inside=rows(drawer(), holds=Holds.DOOR),
        fronts=Fronts(kind=FrontKind.INSET, board="b18", gap=2.0),
    ),
    "a door under a drawer, below a rail on edge": case(
        height=900,
        depth=500,
        top=BetweenOrOver.RAILS,
        rails_stand=RailsStand.UPRIGHT,
        inside=rows(drawer(250.0, parted=False), door()),
    ),
    "strips that differ round graduated fronts, an inset one under them": case(
        height=900,
        depth=500,
        fronts=Fronts(board="b18", gap=3.0, at_top=6.0, at_bottom=2.0, at_left=1.0, at_right=4.0),
        inside=rows(
            drawer(),
            drawer(),
            drawer(front_height=160.0, front_kind=FrontKind.INSET),
            graduated=Graduation(by=GraduatedBy.RATIO, ratio=1.3),
        ),
    ),
    "gaps that differ round inset fronts": case(
        height=900,
        depth=500,
        fronts=Fronts(kind=FrontKind.INSET, board="b18", gap=2.0, at_top=3.0, at_left=1.0),
        inside=rows(drawer(), door()),
    ),
}


@cache
def read_once(name: str) -> Paper:
    return read_paper(read_pages(printed(Plan(job(_CASES[name]), packaged_workshop()))))


def found(name: str, change: Callable[[Paper], None]) -> list[Finding]:
    """Return what is found of fronts after a change of the paper."""
    read = read_once(name)
    paper = replace(read, panels=dict(read.panels), steps=list(read.steps))
    change(paper)
    bodies, _ = build_bodies(paper, seats_of(paper))
    return [*check_fronts(paper, bodies), *check_hung(paper, bodies)]


def worded(old: str, new: str) -> Callable[[Paper], None]:
    def change(paper: Paper) -> None:
        assert any(old in s.words for s in paper.steps)
        paper.steps[:] = [replace(s, words=s.words.replace(old, new)) for s in paper.steps]

    return change


def higher(name: str, by: int) -> Callable[[Paper], None]:
    def change(paper: Paper) -> None:
        mark, panel = next((m, p) for m, p in paper.panels.items() if p.name == name)
        paper.panels[mark] = replace(panel, width=panel.width + by)

    return change


@pytest.mark.parametrize("name", _CASES)
def test_as_printed_all_fits(name: str) -> None:
    assert not found(name, lambda _: None)


_FACE = ", its face 2 mm behind the front edges of the sides"
_OVER = ", a lap of 16.5 mm over the panel that it hangs on"
_BEHIND, _BETWEEN, _UNDER, _STRIPS, _UNEVEN = _CASES
_CHANGES: dict[str, tuple[str, Callable[[Paper], None], K, str]] = {
    "a front not far enough behind a door": (
        _BETWEEN,
        worded("its face 20 mm behind", "its face 15 mm behind"),
        K.ROOM_SHARED,
        "they share room",
    ),
    "a front whose depth nobody says": (_BEHIND, worded(_FACE, ""), K.DEPTH_UNSAID, "drawer 1 front"),
    "a door that laps by another figure": (
        _BEHIND,
        worded("lap of 16.5 mm", "lap of 12 mm"),
        K.FRONT_OFF,
        "over the pan",
    ),
    "a door whose lap nobody says": (_BEHIND, worded(_OVER, ""), K.LAP_UNSAID, "door 1"),
    "a door too high under a drawer's front": (_UNDER, higher("door 1", 5), K.FRONT_OFF, "its upper edge as hung"),
    "another strip at the right": (
        _STRIPS,
        worded("4 mm at the right", "2 mm at the right"),
        K.FRONT_OFF,
        "its right edge",
    ),
    "another strip at the top": (_STRIPS, worded("6 mm at the top", "3 mm at the top"), K.FRONT_OFF, "its upper edge"),
    "another gap under the top": (_UNEVEN, worded("3 mm at the top", "1 mm at the top"), K.FRONT_OFF, "its upper edge"),
    "a drawer's front too high over a door": (_UNDER, higher("drawer 1 front", 5), K.FRONT_OFF, "its upper edge"),
}


@pytest.mark.parametrize("name", _CHANGES)
def test_what_is_told_otherwise_is_noticed(name: str) -> None:
    of, change, kind, words = _CHANGES[name]

    assert [f for f in found(of, change) if f.kind is kind and words in f.words]


def test_a_panel_that_ends_a_last_digit_short_of_the_outside_is_at_the_outside() -> None:
    """A back cut to a last digit more than the top over the sides is high: the front under it is no neighbour's."""
    aim, top = Aim(gap=Fraction(3), reveal=Fraction(1)), (Fraction(700), Fraction(718))

    assert aim.end(top, Fraction(71801, 100), "top") == 717
    assert aim.end(top, Fraction(900), "top") == Fraction(1415, 2)
