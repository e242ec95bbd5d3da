"""Source: ISO 216:2007 (A series), ISO 269:2017 (envelopes), IEC 60098 (records), IEC 60908 and ECMA-267 (discs),
EN 631-1 (trays of kitchens) and ISO 3394 (boxes).

Where: the A series is worked out here: A0 has 1 m2 and sides as 1 to sqrt 2, each next one is half of it, rounded down.
All else from memory: C4 229 x 324, C5 162 x 229, DL 110 x 220; a disc of 12 in is 301 mm, one of 7 in 175 mm, a compact
disc 120 mm; GN 1/1 530 x 325; 600 x 400 and its parts.
"""

from __future__ import annotations

import math

import pytest

from storyrod.adapters.files.wishing import catalogue


def a_size(number: int) -> tuple[int, int]:
    long, short = round(1000 * 2**0.25), round(1000 / 2**0.25)
    for _ in range(number):
        long, short = short, math.floor(long / 2)
    return short, long


def test_the_a_series_halves_itself() -> None:
    assert [a_size(n) for n in (3, 4, 5, 6)] == [(297, 420), (210, 297), (148, 210), (105, 148)]


@pytest.mark.parametrize(("code", "number"), [("a3-ream", 3), ("a4-ream", 4), ("a5-pad", 5)])
def test_paper_lies_as_the_a_series_is_cut(code: str, number: int) -> None:
    thing = catalogue()[code]

    assert (thing.width, thing.depth) == a_size(number)


def test_a_ream_weighs_what_its_sheets_do() -> None:
    short, long = a_size(4)

    assert catalogue()["a4-ream"].kg == pytest.approx(500 * 0.080 * short * long / 1e6, abs=0.01)


@pytest.mark.parametrize(
    ("code", "size"),
    [("c4-envelopes", {229, 324}), ("c5-envelopes", {162, 229}), ("dl-envelopes", {110, 220})],
)
def test_envelopes(code: str, size: set[int]) -> None:
    thing = catalogue()[code]

    assert {thing.width, thing.depth} == size


@pytest.mark.parametrize(
    ("code", "disc"), [("record-12", 301), ("record-7", 175), ("compact-disc", 120), ("film-disc", 120)]
)
def test_a_sleeve_or_case_holds_its_disc_and_little_more(code: str, disc: float) -> None:
    thing = catalogue()[code]

    assert disc < min(thing.height, thing.depth)
    assert min(thing.height, thing.depth) < disc + 20


@pytest.mark.parametrize("code", ["folder", "ring-binder", "document-box", "choir-folder", "magazine-box"])
def test_what_holds_a4_is_larger_than_it(code: str) -> None:
    thing = catalogue()[code]

    assert thing.height > 297
    assert thing.depth > 210


@pytest.mark.parametrize(
    ("code", "plan"),
    [
        ("gn-1-1", {530, 325}),
        ("gn-1-2", {265, 325}),
        ("box-600", {600, 400}),
        ("box-400", {400, 300}),
        ("box-300", {300, 200}),
    ],
)
def test_trays_and_boxes_of_standard_plan_sizes(code: str, plan: set[int]) -> None:
    thing = catalogue()[code]

    assert {thing.width, thing.depth} == plan
