"""What a case that hangs asks of its fixings, against figures worked by hand."""

from __future__ import annotations

import pytest

from storyrod.measure.writing import METRIC
from storyrod.model.hung import Hanging
from storyrod.model.study import Asked
from storyrod.model.thresholds import GRAVITY
from storyrod.telling.blocks import Bullets, Warning_
from storyrod.telling.figures import figures_of
from storyrod.telling.hanging import hanging_blocks, hanging_summary
from storyrod.telling.shown import Shown
from tests.unit.soundness.pieces import Found, found, plan_of

BOARDS = """
[boards.b18]
kind = "chipboard"
thickness = 18
measured = 18
density_kg_m3 = 700
"""
CASE = """
[[cases]]
code = "A"
board = "b18"
width = 800
height = 600
depth = 300
inside = { load_kg = 40 }
[cases.hung]
top_at = 2000
wall = "timber studs"
first_stud = 200
"""


def hangs(text: str = CASE) -> tuple[Found, Hanging]:
    it = found(text, BOARDS)
    assert it.case.hanging is not None
    assert it.case.tipping is None
    return it, it.case.hanging


def test_an_open_case_by_hand() -> None:
    """Sides 2 x 0.6 x 0.3 x 0.018 x 700 = 4.536 kg, top and base 2 x 2.888, rail 0.764 x 0.1 x 0.018 x 700 = 0.963.

    With 40 kg on the base: 51.28 kg. The rail's middle is 9 mm from the wall, all else 150: 7555.6 kg mm. The screws
    stand 507 and 557 high, 532 in the middle. Pulled at the top with 44.5 N: (7555.6 x 9.80665 + 44.5 x 600) / 532
    = 189.5 N. Four screws carry it: 47.4 N each, less than 200; 51.28 x 9.80665 / 4 = 125.7 N down, told as 130.
    """
    _, told = hangs()

    assert told.kg == pytest.approx(51.28, rel=2e-3)  # less the holes of dowels
    assert told.lever == pytest.approx(7555.6 / 51.28, rel=2e-3)
    assert list(told.place.heights) == [507, 557]
    assert told.arm == 532
    assert told.pull_n == pytest.approx(189.5, rel=2e-3)
    assert told.down_n == pytest.approx(502.9, rel=2e-3)
    assert (told.each_pull_n, told.each_down_n) == (200, 130)


def test_its_screws_by_hand() -> None:
    """6 mm through 18 and 12.5: 30.5 + 42 asks for 80, of which 49.5 is in the stud.

    It may be pulled with 0.34188 x 0.52 x 6^-0.5 x 49.5^-0.1 x 310^0.8 x 6 x 49.5 x 0.75 = 1077 N and carry
    0.34188 x 557.5 = 190.6 across: (200 / 1077)^2 + (130 / 190.6)^2 = 0.50.
    """
    _, told = hangs()

    assert told.screw is not None
    assert (told.screw.diameter, told.screw.length, told.screw.bite, told.seat) == (6, 80, 49.5, 30.5)
    assert told.screw.may_pull_n == pytest.approx(1077, abs=2)
    assert told.screw.may_across_n == pytest.approx(190.6, abs=0.5)
    assert told.used == pytest.approx(0.50, abs=0.005)


def test_an_open_door_pulls_by_its_own_weight_and_by_a_hand_on_it() -> None:
    """A door of the whole front hangs 391 + 18 from the wall's side of its face; a hand presses 75 N at its edge."""
    _, shut = hangs()
    _, told = hangs(CASE.replace("inside = { load_kg = 40 }", 'inside = { load_kg = 40, holds = "pair of doors" }'))

    door = (800 - 2 * 1.5 - 3) / 2  # two in the opening's width, with the reveals and the gap
    kg = 2 * (600 - 3) * door * 18e-9 * 700
    by_doors = kg * (300 + 9 + door / 2) * GRAVITY + 75 * (300 + door)
    assert told.pull_n - shut.pull_n == pytest.approx(by_doors / 532, rel=5e-3)
    assert told.down_n - shut.down_n == pytest.approx(kg * GRAVITY + 75, rel=1e-2)


def test_a_load_that_no_screw_holds_is_told() -> None:
    it, told = hangs(CASE.replace("load_kg = 40", "load_kg = 400"))

    assert told.screw is not None
    assert told.screw.diameter == 10
    assert told.used is not None
    assert told.used > 1
    assert "hung-over-capacity" in it.codes


def test_a_plug_is_told_what_it_must_allow_and_no_more() -> None:
    it, told = hangs(CASE.replace("timber studs", "masonry").replace("first_stud = 200\n", ""))

    assert told.screw is None
    assert told.used is None
    assert told.each_down_n == 260  # 502.9 / 2, one to a place
    assert "plugs and screws" in it.told("hung-on-wall")


def test_it_never_tips_and_stands_on_no_floor() -> None:
    it, _ = hangs()

    assert not [c for c in it.codes if c.startswith("tip")]
    assert it.sag("base").lasting is not None
    rail = [load for load in it.case.joints if "hanging rail" in load.about]
    assert [load.force_n for load in rail] == pytest.approx([251.4, 251.4], rel=2e-3)


def test_it_is_told_where_it_hangs_and_on_what() -> None:
    plan = plan_of(CASE, BOARDS)
    told = plan.tipping["A"]

    assert isinstance(told, Hanging)
    words = hanging_summary(told, Shown.of(plan.job))
    assert "underside is 1400 and its top 2000 above the floor" in words
    assert f"4 screws {METRIC.bought(6)} \u00d7 {METRIC.bought(80)}" in words


_ALWAYS = (
    "It falls if its screws fail. Hang it empty, on the fixings named here and never on plasterboard alone.",
    "Leave wiring, gas and water to a licensed tradesperson",
    "with a detector before you drill",
    "Do not drill where one runs: ask a licensed tradesperson.",
    "people. Lift the empty case",
    "nothing may move. Only then put in drawers, doors and shelves, and fill it.",
)


@pytest.mark.parametrize(
    ("how", "phrases"),
    [
        ("", ("One person holds the case until the last screw is in.", "for the case to stand on")),
        (
            '\nby = "cleats"\n[cases.back]\nboard = "b18"\nkind = "between"',
            ("Pull down hard on", "sits in the notch all along", "no longer than 36 mm"),
        ),
    ],
)
def test_what_keeps_a_case_from_falling_on_somebody_is_said(how: str, phrases: tuple[str, ...]) -> None:
    """The screw that keeps it on its cleat stays within the back and the cleat: 18 and 18."""
    plan = plan_of(CASE + how, BOARDS)
    hanging = plan.tipping["A"]
    assert isinstance(hanging, Hanging)
    blocks = hanging_blocks(plan.details.cases[0], hanging, Shown.of(plan.job))
    told = " ".join([b.text for b in blocks if isinstance(b, Warning_)])
    told += " ".join(item for b in blocks if isinstance(b, Bullets) for item in b.items)

    for words in (*_ALWAYS, *phrases):
        assert words in told
    assert f"Take {hanging.persons} people." in told


def test_what_hangs_on_a_clothes_rail_pulls_at_the_wall_too() -> None:
    """50 kg on a tube in the middle of the depth, beside what lies on the floor."""
    bare, railed = (
        hangs(CASE.replace("inside = { load_kg = 40 }", f"inside = {{ load_kg = 40{rail} }}"))[1]
        for rail in ("", ", clothes_rail = { load_kg = 50 }")
    )

    assert railed.kg - bare.kg == pytest.approx(50, abs=0.01)  # less its screw holes


def test_a_study_asks_not_whether_it_tips() -> None:
    assert figures_of(plan_of(CASE, BOARDS), (Asked.TIPPING,)) == ("on the wall", None)


def test_a_thicker_screw_comes_in_where_the_thinner_is_used_up_and_a_caution_where_the_thickest_is() -> None:
    """By the figures of each screw alone: `(pull / may)^2 + (down / may)^2` up to 1, and not a tenth beyond."""
    seen: dict[float, list[float]] = {}
    for load in range(40, 600, 5):
        it, told = hangs(CASE.replace("load_kg = 40", f"load_kg = {load}"))
        screw, used = told.screw, told.used
        assert screw is not None
        assert used is not None
        by_hand = (told.each_pull_n / screw.may_pull_n) ** 2 + (told.each_down_n / screw.may_across_n) ** 2
        assert used == pytest.approx(by_hand)
        assert ("hung-over-capacity" in it.codes) == (by_hand > 1)
        seen.setdefault(screw.diameter, []).append(by_hand)

    assert list(seen) == [6.0, 8.0, 10.0]
    assert all(max(seen[thin]) <= 1 for thin in (6.0, 8.0))
    assert all(0.85 < max(seen[thin]) for thin in (6.0, 8.0)), {k: max(v) for k, v in seen.items()}
    assert any(1 < share < 1.1 for share in seen[10.0]), "a share just over 1 is among those that are warned of"
