"""Source: common practice, no source: every figure of the packaged methods that a cutter, a jig or a line is set by.

Where: no book: none changes unseen. Tenons, keyhole and clip connectors are invented; the 32 mm between cam and dowel
is the 32 mm system's. By hand: a slot or hole for a connector is as wide as its name says, and both halves together are
2 mm deeper than it is long.
"""

from __future__ import annotations

import re

import pytest

from storyrod.adapters.files.methods import packaged_methods
from storyrod.model.method import Cut, Method
from tests.reference.packaged import size_of

METHODS = {m.code: m for m in packaged_methods()}


HOUSED = (11.0, 14.0, 15.5, 17.0, 20.5, 23.5, 40.0)


BOARDS = {
    # Each size is for boards from one of these to under the next.
    "glued butt": (2.5, 60.0),
    "dowels": (11.0, 12.0, 14.0, 15.5, 17.0, 18.5, 20.5, 23.5, 40.0),
    "biscuits": (11.0, 15.5, 17.0, 40.0),
    "loose tenons": (11.0, 12.0, 14.0, 15.5, 17.0, 18.5, 20.5, 23.5, 40.0),
    "carcass screws": (14.6, 20.5, 30.0),
    "plain screws": (8.5, 13.5, 20.5, 30.0),
    "pocket screws": (11.0, 12.5, 14.0, 15.5, 17.0, 18.75, 20.5, 23.0, 27.0),
    "cam and bolt": (15.5, 17.0, 20.5, 30.0),
    "housing": HOUSED,
    "stopped housing": HOUSED,
    "rebate": HOUSED,
    "groove": (2.5, 40.0),
    "screwed back": (2.5, 7.5, 13.5, 20.5),
    "one-part keyhole connector": (14.6, 17.0, 40.0),
    "two-part clip connector": (14.6, 40.0),
}


RULES = {
    # First from the end, least from an end, pitch, least gap, how many at least.
    "dowels": (50, 25, 160, 32, 2),
    "biscuits": (50, 36, 160, 76, 2),
    "loose tenons": (50, 25, 160, 45, 2),
    "carcass screws": (50, 30, 200, 60, 2),
    "plain screws": (50, 25, 175, 40, 2),
    "pocket screws": (50, 25, 175, 40, 2),
    "cam and bolt": (60, 60, 320, 64, 2),
    "screwed back": (50, 20, 180, 40, 2),
    "one-part keyhole connector": (50, 25, 160, 40, 2),
    "two-part clip connector": (50, 30, 160, 56, 2),
}


def told(cut: Cut) -> str:
    """Return a cut's figures in a fixed order, those alone that it has."""
    named = (
        ("d", cut.diameter), ("cs", cut.countersink), ("l", cut.length), ("w", cut.width),
        ("under", cut.undercut_width),
        ("lip", cut.lip), ("deep", cut.depth), ("travel", cut.travel), ("angle", cut.angle_deg), ("in", cut.inset),
        ("along", cut.along or None), ("across", cut.across or None),
    )  # fmt: skip
    return " ".join(f"{name} {value:g}" for name, value in named if value is not None)


def cuts(code: str) -> list[tuple[str, str]]:
    """Return what every size of a method cuts in the receiving and in the entering panel."""
    return [
        ("; ".join(told(c) for c in s.receiving), "; ".join(told(c) for c in s.entering)) for s in METHODS[code].sizes
    ]


@pytest.mark.parametrize("code", METHODS)
def test_each_size_is_for_its_boards_and_no_board_falls_between_two(code: str) -> None:
    sizes, ends = METHODS[code].sizes, BOARDS[code]

    assert tuple(s.low for s in sizes) == ends[:-1]
    assert tuple(s.high for s in sizes) == ends[1:]


def test_where_connectors_stand() -> None:
    def rules_of(method: Method) -> tuple[float, ...] | None:
        r = method.rules
        return None if r is None else (r.end, r.end_min, r.pitch, r.gap_min, r.least)

    assert {code: rules for code, m in METHODS.items() if (rules := rules_of(m))} == RULES


def test_holes_for_dowels_and_slots_for_tenons_fit_what_goes_in_them() -> None:
    patterns = {"dowels": r"dowel () ?(\d+) x (\d+)", "loose tenons": r"loose tenon (\d+) x (\d+) x (\d+)"}
    for code, pattern in patterns.items():
        for size in METHODS[code].sizes:
            match = re.fullmatch(pattern, size.consumes[0].item)
            assert match is not None
            thick, wide, long = match.groups()
            receiving, entering = size.receiving[0], size.entering[0]
            both = (receiving.depth or 0) + (entering.depth or 0)
            assert both == float(long) + 2, (code, size.low)
            for cut in (receiving, entering):
                if thick:
                    assert (cut.width, cut.length) == (float(thick), float(wide)), size.low
                else:
                    assert cut.diameter == float(wide), size.low


def test_how_deep_dowels_and_tenons_go_into_the_face() -> None:
    assert [s.receiving[0].depth for s in METHODS["dowels"].sizes] == [8, 9, 11, 12, 13, 14, 16, 17]
    assert [s.receiving[0].depth for s in METHODS["loose tenons"].sizes] == [8, 8, 10, 12, 12, 13, 15, 15]


def test_screws() -> None:
    assert cuts("carcass screws") == [("d 7 cs 10", "d 5 deep 37"), ("d 7 cs 10", "d 5 deep 50")]
    assert cuts("plain screws") == [
        ("d 4 cs 7.5", "d 2 deep 28"),
        ("d 4.5 cs 8.5", "d 2.5 deep 37"),
        ("d 5 cs 9.5", "d 3 deep 40"),
    ]
    assert cuts("screwed back") == [
        ("d 3.5", "d 2 deep 22"),
        ("d 4", "d 2 deep 28"),
        ("d 4.5 cs 8.5", "d 2.5 deep 37"),
    ]


def test_pockets() -> None:
    lengths = (9.5, 8.5, 13, 16.5, 15, 19, 19, 27)

    assert cuts("pocket screws") == [("", f"d 9.5 l {n:g} w 4 angle 15") for n in lengths]


def test_cams_bolts_and_the_dowels_32_behind_them() -> None:
    assert cuts("cam and bolt") == [
        ("d 5 deep 11; d 8 deep 12 along 32", "d 8 deep 24; d 8 deep 20 along 32; d 15 deep 12.5 in 24"),
        ("d 5 deep 12; d 8 deep 13 along 32", "d 8 deep 24; d 8 deep 24 along 32; d 15 deep 13.5 in 24"),
        ("d 5 deep 12; d 8 deep 13 along 32", "d 8 deep 34; d 8 deep 24 along 32; d 15 deep 16 in 34"),
    ]


def test_housings_and_rebates() -> None:
    for code in ("housing", "stopped housing"):
        assert [(s.enters, s.width_slack) for s in METHODS[code].sizes] == [(n, 0.1) for n in (3, 4, 5, 6, 7, 8)]
    assert {s.stop_short for s in METHODS["stopped housing"].sizes} == {10}
    assert [s.enters for s in METHODS["rebate"].sizes] == [6, 7, 8, 9, 11, 12]


def test_connectors_with_invented_figures() -> None:
    assert cuts("one-part keyhole connector") == [
        ("d 12 w 6 under 11.5 lip 5 deep 10 travel 10", "d 7 deep 30"),
        ("d 12 w 6 under 11.5 lip 6 deep 11 travel 10", "d 8 deep 32"),
    ]
    assert METHODS["one-part keyhole connector"].slide_travel == 10
    clip = "l 46 w 5.5 under 8 lip 5 deep 10.5"
    assert cuts("two-part clip connector") == [(clip, clip)]


@pytest.mark.parametrize(("board", "depth"), [(12, 6), (15, 7), (16, 8), (18, 9), (19, 9), (22, 11), (25, 12)])
def test_rebates(board: float, depth: float) -> None:
    assert size_of("rebate", board).enters == depth


@pytest.mark.parametrize(
    ("board", "number", "skin"),
    [(12, "0", 4), (15, "0", 7), (16, "10", 6), (18, "20", 5.5), (19, "20", 6.5), (22, "20", 9.5)],
)
def test_biscuits_in_a_face(board: float, number: str, skin: float) -> None:
    found = size_of("biscuits", board)

    assert found.consumes[0].item == f"biscuit no. {number}"
    assert found.receiving[0].depth is not None
    assert board - found.receiving[0].depth == pytest.approx(skin, abs=0.3)


def test_cams() -> None:
    found = size_of("cam and bolt", 18)
    cam = next(c for c in found.entering if c.name == "cam")

    assert cam.diameter == 15
    assert cam.depth is not None
    assert 12.5 <= cam.depth <= 14
    assert cam.inset in {24, 34}
