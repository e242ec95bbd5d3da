"""Boxes, fronts and doors are solids of the built case: one that the paper puts elsewhere is noticed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from storyrod_blind import Finding, FindingKind
from storyrod_blind._finding import FindingKind as K
from storyrod_blind._fronts import check_fronts
from storyrod_blind._length import Length, Span
from storyrod_blind._paper import Cut, Paper
from storyrod_blind._poses import build_bodies
from storyrod_blind._read import read_paper
from storyrod_blind._seats import seats_of
from tests.unit.blind.papers import example_pages


@cache
def read_once(name: str) -> Paper:
    return read_paper(example_pages(name))


def found(name: str, change: Callable[[Paper], None]) -> list[Finding]:
    """Return what is found of boxes and fronts after a change of the paper of an example."""
    read = read_once(name)
    paper = replace(read, panels=dict(read.panels), cuts=dict(read.cuts), steps=list(read.steps))
    change(paper)
    bodies, _ = build_bodies(paper, seats_of(paper))
    return list(check_fronts(paper, bodies))


def moved(paper: Paper, axis: str, by: int, wanted: Callable[[Cut], bool]) -> None:
    """Move the cuts that are wanted along their panel's u or v."""
    chosen = [c for c in paper.cuts.values() if wanted(c)]
    assert chosen
    for cut in chosen:
        span: Span | None = getattr(cut, axis)
        assert span is not None
        low, high = (Length(end.mm + by, end.unit, end.is_said) for end in (span.low, span.high))
        there = Span(low, high)
        paper.cuts[cut.id] = replace(cut, u=there) if axis == "u" else replace(cut, v=there)


def sized(paper: Paper, mark: str, *, wide: int = 0, high: int = 0) -> None:
    panel = paper.panels[mark]
    paper.panels[mark] = replace(panel, length=panel.length + wide, width=panel.width + high)


def worded(paper: Paper, old: str, new: str) -> None:
    """Change words of the steps."""
    assert any(old in s.words for s in paper.steps)
    paper.steps[:] = [replace(s, words=s.words.replace(old, new)) for s in paper.steps]


def unchanged(_: Paper) -> None:
    """Change nothing."""


@pytest.mark.parametrize("name", ["rehearsal-room", "percussion-chest"])
def test_as_printed_all_fits(name: str) -> None:
    assert not found(name, unchanged)


def both_runners(paper: Paper) -> None:
    moved(paper, "u", 60, lambda c: c.use == "runner of drawer 1" and c.id[0] in {"A1", "A7"})


def cups_at_the_other_end(paper: Paper) -> None:
    far = int(paper.panels["A32"].length)
    moved(paper, "u", -far // 2, lambda c: c.id[0] == "A32" and c.use.startswith("hinge "))


CHANGES: dict[str, tuple[str, Callable[[Paper], None], FindingKind, str]] = {
    "both runners of a drawer too high": ("rehearsal-room", both_runners, K.FRONT_OFF, "its box stands out beside it"),
    "a front too wide for its gaps": (
        "rehearsal-room",
        lambda p: sized(p, "A8", wide=4),
        K.FRONT_OFF,
        "its right edge",
    ),
    "a front too narrow for its opening": (
        "rehearsal-room",
        lambda p: sized(p, "A8", wide=-30),
        K.FRONT_OFF,
        "beside its opening",
    ),
    "a front too high": ("rehearsal-room", lambda p: sized(p, "A26", high=5), K.FRONT_OFF, "its upper edge"),
    "a door too wide": ("rehearsal-room", lambda p: sized(p, "A32", wide=8), K.ROOM_SHARED, "they share room"),
    "cups at the other end of a door": ("rehearsal-room", cups_at_the_other_end, K.HINGE_OFF, "hung on the right"),
    "one cup out of line": (
        "rehearsal-room",
        lambda p: moved(p, "u", 3, lambda c: c.id[0] == "A32" and c.use == "hinge 1 of door 1"),
        K.HINGE_OFF,
        "its cups are not in one line",
    ),
    "a plate out of line": (
        "rehearsal-room",
        lambda p: moved(p, "v", 3, lambda c: c.id[0] == "A2" and c.use == "hinge 1 of door 1"),
        K.HINGE_OFF,
        "its plates are not in one line",
    ),
    "a screw beside its front": (
        "rehearsal-room",
        lambda p: moved(p, "u", 600, lambda c: c.use == "holds the front of drawer 2"),
        K.FRONT_OFF,
        "misses it",
    ),
    "a box on its runners too low": (
        "percussion-chest",
        lambda p: worded(p, "lower edge ", "lower edge 1"),
        K.ROOM_SHARED,
        "they share room",
    ),
    "a box on its runners whose height is not said": (
        "percussion-chest",
        lambda p: worded(p, "lower edge ", "edge "),
        K.HEIGHT_UNSAID,
        "how high its box comes",
    ),
}


@pytest.mark.parametrize("name", CHANGES)
def test_what_hangs_elsewhere_than_meant_is_noticed(name: str) -> None:
    example, change, kind, words = CHANGES[name]

    assert [f for f in found(example, change) if f.kind is kind and words in f.words]
