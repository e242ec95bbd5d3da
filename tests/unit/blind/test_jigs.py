"""The jigs' own paper and the passes of the cards: what they say brings the cutter to the marks, or is noticed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest

from storyrod.model.machining import JigKind
from storyrod_blind._build import build_from
from storyrod_blind._finding import FindingKind
from storyrod_blind._jigs import check_jigs, read_jigs
from storyrod_blind._page import Page, read_pages
from storyrod_blind._paper import Paper
from storyrod_blind._passes import check_passes
from storyrod_blind._read import read_paper
from tests.kept import example_plan
from tests.unit.blind.papers import example_pages, printed_jigs
from tests.unit.blind.test_examples import NAMES
from tests.unit.blind.test_sabotage import Sabotage, more_first, swap, words

K = FindingKind


@cache
def jig_pages(name: str) -> tuple[Page, ...]:
    pdf = printed_jigs(example_plan(name))
    return read_pages(pdf) if pdf else ()


@cache
def paper_of(name: str) -> Paper:
    return read_paper(example_pages(name))


@pytest.mark.parametrize("name", NAMES)
def test_every_jig_brings_the_tool_to_the_marks_of_its_cards(name: str) -> None:
    jigs = read_jigs(jig_pages(name))

    assert set(jigs) == {j.id for j in example_plan(name).machining.jigs}
    assert list(check_jigs(paper_of(name), jigs)) == []
    assert list(check_passes(paper_of(name))) == []


@pytest.mark.parametrize("name", NAMES)
def test_each_jig_is_read_whole(name: str) -> None:
    """The builder is no witness of what it passed over."""
    jigs = read_jigs(jig_pages(name))
    for plan in example_plan(name).machining.jigs:
        read = jigs[plan.id]
        assert [float(s.mm) for s in read.stations] == pytest.approx(
            [*plan.stations] if read.stations else [], abs=0.03
        )
        assert bool(read.stations) == (plan.kind is not JigKind.TEMPLATE)
        assert {k: float(v.mm) for k, v in read.stops.items()} == pytest.approx(
            {s.label: s.at for s in plan.stops}, abs=0.03
        )
        assert (read.fence is not None) == plan.has_fence


JIGS: dict[str, tuple[str, Sabotage, FindingKind]] = {
    "a station": ("low-units", words(r"zero: 68\.3", swap("132.3", "133.3"), on="Jig G3"), K.JIG_OFF),
    "a line jig's station": (
        "percussion-chest",
        words(r"Its stations: 50", swap("210", "211"), on="Jig G2"),
        K.JIG_OFF,
    ),
    "a stop": ("percussion-chest", words(r"^-10$", swap("-10", "-11"), on="Jig G1"), K.JIG_OFF),
    "a stop's side": ("percussion-chest", words(r"^-10$", swap("-10", "10"), on="Jig G1"), K.JIG_OFF),
    "a fence": ("percussion-chest", words(r"inner face 9\.1 from", swap("9.1", "9.2"), on="Jig G1"), K.JIG_OFF),
    "line-up marks": ("low-units", words(r"both faces, 8\.85 from", swap("8.85", "8.9"), on="Jig G1"), K.JIG_OFF),
    "an opening": ("low-units", words(r"to 105 x 30 over all", swap("105", "106"), on="Jig G5"), K.JIG_OFF),
    "a jig's number": ("low-units", words(r"^Jig G3", swap("G3", "G8"), on="Jig G3"), K.JIG_UNSAID),
    "a jig's stop": ("percussion-chest", words(r"^B$", swap("B", "E"), on="Jig G1"), K.JIG_UNSAID),
    "a jig's fence": ("percussion-chest", words(r"inner face 9\.1", swap("inner", "outer"), on="Jig G1"), K.JIG_UNSAID),
}


@pytest.mark.parametrize("what", JIGS)
def test_a_jig_made_wrong_is_noticed(what: str) -> None:
    name, sabotage, kind = JIGS[what]
    jigs = read_jigs(sabotage(jig_pages(name)))

    assert kind in {f.kind for f in check_jigs(paper_of(name), jigs)}


CARDS: dict[str, tuple[str, Sabotage]] = {
    "a strip": ("low-units", words(r"a strip of 5\.8", more_first(0.1), on="set-up S")),
    "the fence of a pass": ("percussion-chest", words(r"fence at 14\.3", swap(r"14\.3", "14.4"), on="set-up S")),
    "a wall": ("low-units", words(r"^near wall: base", swap("near wall", "far wall"), on="set-up S")),
    "a pass under another": ("percussion-chest", words(r"13\.55, 18\.1", swap(r"18\.1", "21.9"), on="set-up S")),
    "the last pass": ("percussion-chest", words(r"2\.45 and 4\.9", swap(r"4\.9", "5.9"), on="set-up S")),
    "the sum of a depth stop": ("percussion-chest", words(r"^49 = 25", swap("49", "48"), on="set-up S")),
    "a packer": ("percussion-chest", words(r"^none$", swap("none", "2"), on="set-up S10")),
}


@pytest.mark.parametrize("what", CARDS)
def test_a_card_set_wrong_is_noticed(what: str) -> None:
    name, sabotage = CARDS[what]
    found = build_from(sabotage(example_pages(name)), jigs=jig_pages(name)).findings

    assert {f.kind for f in found} & {K.CARD_OFF, K.JIG_OFF}, found


def test_a_last_pass_that_climbs_is_noticed() -> None:
    far_last = words(r"^near wall: base", swap("near wall", "far wall"), on="set-up S")
    near_first = words(r"^far wall: a strip", swap("far wall", "near wall"), on="set-up S")

    found = check_passes(read_paper(near_first(far_last(example_pages("low-units")))))

    assert [f.words for f in found] == ["its last pass takes the far wall: a climb cut"]


def test_without_their_paper_jigs_are_not_asked_for() -> None:
    paper: Sequence[Page] = example_pages("percussion-chest")

    assert build_from(paper).findings == ()
    assert {f.kind for f in build_from(paper, jigs=()).findings} == {K.JIG_UNSAID}
