"""Depths of biscuits, tenons, housings, rebates, screws and pockets by board thickness.

Sources:
- A forum's thread on dado depth in plywood carcasses, and "How deep to cut a dado in plywood": a quarter to a third of
  the board, never over half; 6 mm (1/4 in) in 18 to 19.
- A magazine's preview of tenons: a tenon is one third of the stock.
- "Influence of feed rate during pilot hole drilling on screw withdrawal resistance in particleboard", European Journal
  of Wood and Wood Products, 2023: 5 mm pilot.
- A tutorial on pocket-hole cabinets: pockets at 15 degrees.
- "Keyhole slots", a magazine's page on routing: at least 5 mm (3/16 in) of shoulder above the head.
- "MDF joints that last": screws 50 mm (2 in) from an MDF end.
The other figures are common practice, from memory, and are checked as the defaults that they are.
"""

from __future__ import annotations

import math

import pytest

from storyrod.adapters.files.methods import packaged_methods
from storyrod.model.method import CutKind, Method, SizeForBoard


def method(code: str) -> Method:
    return next(m for m in packaged_methods() if m.code == code)


def size(code: str, board: float) -> SizeForBoard:
    found = method(code).size_for(board)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("board", "low", "high"), [(12, 3, 4), (15, 4, 5), (16, 4, 5), (18, 6, 6), (19, 6, 6), (22, 7, 7), (25, 8, 8)]
)
def test_housings(board: float, low: float, high: float) -> None:
    for code in ("housing", "stopped housing"):
        assert low <= size(code, board).enters <= high


def test_a_housing_is_about_a_quarter_to_a_third_and_never_over_half() -> None:
    for tenths in range(110, 300):
        board = tenths / 10
        assert 0.2 <= size("housing", board).enters / board <= 0.36, board


@pytest.mark.parametrize(("board", "depth"), [(12, 6), (15, 7), (16, 8), (18, 9), (19, 9), (22, 11), (25, 12)])
def test_rebates(board: float, depth: float) -> None:
    assert size("rebate", board).enters == depth


@pytest.mark.parametrize(
    ("board", "thick", "low", "high"),
    [
        (12, (4,), 12, 20),
        (15, (5,), 15, 20),
        (16, (5,), 18, 20),
        (18, (5, 6), 18, 28),
        (19, (6,), 20, 28),
        (22, (8,), 25, 25),
        (25, (8,), 25, 30),
    ],
)
def test_loose_tenons(board: float, thick: tuple[int, ...], low: float, high: float) -> None:
    face, edge = size("loose tenons", board).receiving[0], size("loose tenons", board).entering[0]

    assert face.width in thick
    assert edge.depth is not None
    assert low <= edge.depth <= high
    assert face.width is not None
    assert face.width / board == pytest.approx(1 / 3, abs=0.06)


@pytest.mark.parametrize(
    ("board", "number", "skin"),
    [(12, "0", 4), (15, "0", 7), (16, "10", 6), (18, "20", 5.5), (19, "20", 6.5), (22, "20", 9.5)],
)
def test_biscuits_in_a_face(board: float, number: str, skin: float) -> None:
    found = size("biscuits", board)

    assert found.consumes[0].item == f"biscuit no. {number}"
    assert found.receiving[0].depth is not None
    assert board - found.receiving[0].depth == pytest.approx(skin, abs=0.3)


def test_carcass_screws() -> None:
    face, edge = size("carcass screws", 18).receiving[0], size("carcass screws", 18).entering[0]

    assert (face.diameter, face.countersink, face.through) == (7, 10, True)
    assert edge.diameter == 5
    assert edge.depth is not None
    assert edge.depth >= 50 - 18  # a screw of 50 through a board of 18
    assert method("carcass screws").size_for(12) is None


@pytest.mark.parametrize(("code", "length"), [("carcass screws", 50), ("plain screws", 50)])
@pytest.mark.parametrize("board", [15, 16, 18, 19])
def test_a_pilot_is_at_least_as_deep_as_the_screw_reaches(code: str, length: float, board: float) -> None:
    pilot = size(code, board).entering[0].depth

    assert pilot is not None
    assert pilot >= length - board


def test_plain_screws_stand_50_from_an_end() -> None:
    rules = method("plain screws").rules

    assert rules is not None
    assert rules.end == 50.0


@pytest.mark.parametrize("board", [12, 15, 16, 18, 19, 22])
def test_pockets_are_bored_at_15_degrees_and_leave_skin(board: float) -> None:
    pocket = size("pocket screws", board).entering[0]

    assert (pocket.kind, pocket.angle_deg) == (CutKind.ANGLED_POCKET, 15)
    slope = math.radians(15)
    deepest = (pocket.length or 0) * math.sin(slope) + (pocket.diameter or 0) / 2 * math.cos(slope)
    assert board - deepest >= 3.0


def test_cams() -> None:
    found = size("cam and bolt", 18)
    cam = next(c for c in found.entering if c.name == "cam")

    assert cam.diameter == 15
    assert cam.depth is not None
    assert 12.5 <= cam.depth <= 14
    assert cam.inset in {24, 34}


@pytest.mark.parametrize("board", [15, 16, 18, 19, 22, 25])
def test_a_keyhole_keeps_its_shoulder_and_its_first_entry_stays_inside(board: float) -> None:
    keyhole = size("one-part keyhole connector", board).receiving[0]
    rules = method("one-part keyhole connector").rules

    assert keyhole.lip is not None
    assert keyhole.lip >= 5.0
    assert rules is not None
    assert rules.end_min >= (keyhole.travel or 0) + (keyhole.diameter or 0) / 2 + 8  # common practice, from memory
