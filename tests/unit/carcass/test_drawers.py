"""Drawer boxes from their opening and runner: sizes, grooves, screws and every reason why one may not fit."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Channel, CutOut, Feature, Hole
from storyrod.model.job import Back, BackKind, BottomKind, Drawers, FrontKind, Fronts, Opening
from storyrod.model.panel import Panel, Surface
from tests.builders import (
    board,
    boards,
    case,
    columns,
    doors,
    drawer,
    job,
    opening,
    rows,
    side_runner,
    under_runner,
    workshop,
)

TWELVE = Drawers(board="b12", bottom_board="b6")
UNDER = Drawers(runner="under", board="b12", bottom_board="b6")


def built(inside: Opening, *, drawers: Drawers = TWELVE, **more: Any) -> BuiltCase:
    """Build a case 600 wide and 400 deep with an applied back of 6: 564 clear, 394 deep inside."""
    shop = more.pop("shop", workshop())
    one = case(inside=inside, drawers=drawers, back=Back(kind=BackKind.APPLIED, board="b6"), **more)
    return build(job(one), shop).cases[0]


def faults(inside: Opening, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as caught:
        built(inside, **more)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return [(f.code, f.field) for f in caught.value.faults]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def size(of: BuiltCase, name: str) -> tuple[float, float]:
    p = panel(of, name)
    return (round(p.length, 6), round(p.width, 6))


def cuts(of: BuiltCase, name: str, part: str = "") -> list[Feature]:
    own = panel(of, name).id
    return [f for f in of.fittings if f.panel == own and part in f.id.removeprefix(own)]


def test_side_mounted_box_leaves_the_runners_room_at_each_side() -> None:
    """564 - 2 x 12.7 = 538.6 outside; 350 is the longest runner with 5 behind it in 394; 140 - 15 - 10 = 115 high."""
    of = built(rows(drawer(140), opening()))

    place = of.drawers[0]
    assert place.box.size(Axis.X) == pytest.approx(538.6)
    assert place.runner_length == 350
    assert size(of, "drawer 1 left side") == (350, 115)
    assert size(of, "drawer 1 box front") == size(of, "drawer 1 back") == (514.6, 115)
    assert place.inside.size(Axis.X) == pytest.approx(514.6)


def test_grooved_bottom_goes_four_into_all_four_and_stays_half_short() -> None:
    """A third of 12 is 4: 514.6 + 2 x 4 - 2 x 0.5 = 521.6; 350 - 24 + 8 - 1 = 333."""
    of = built(rows(drawer(140), opening()))

    assert size(of, "drawer 1 bottom") == (521.6, 333)
    assert panel(of, "drawer 1 bottom").box.low.z == pytest.approx(562 + 15 + 10)
    for name in ("left side", "right side", "box front", "back"):
        (groove,) = cuts(of, f"drawer 1 {name}", "groove")
        assert isinstance(groove.shape, Channel)
        assert (groove.shape.width, groove.shape.depth) == pytest.approx((6.2, 4))
        assert groove.at.v - groove.shape.width / 2 == pytest.approx(10)


def test_grooves_face_the_inside_of_the_box() -> None:
    of = built(rows(drawer(140), opening()))

    surfaces = {name: cuts(of, f"drawer 1 {name}", "groove")[0].surface for name in ("left side", "box front", "back")}
    assert surfaces == {"left side": Surface.FACE, "box front": Surface.FAR_FACE, "back": Surface.FACE}


def test_a_groove_is_never_deeper_than_six() -> None:
    of = built(rows(drawer(140), opening()), drawers=Drawers(board="b18", bottom_board="b6"))
    thick = build(
        job(
            case(inside=rows(drawer(140), opening()), drawers=Drawers(board="b24", bottom_board="b6")),
            boards=(*boards(), board("b24", 24.0)),
        ),
        workshop(),
    ).cases[0]

    assert cuts(of, "drawer 1 back", "groove")[0].depth == 6
    assert cuts(thick, "drawer 1 back", "groove")[0].depth == 6


def test_applied_bottom_covers_the_box_from_below() -> None:
    of = built(rows(drawer(140), opening()), drawers=Drawers(board="b12", bottom_board="b6", bottom=BottomKind.APPLIED))

    assert size(of, "drawer 1 bottom") == (538.6, 350)
    assert size(of, "drawer 1 left side") == (350, 109)
    assert panel(of, "drawer 1 bottom").box.high.z == panel(of, "drawer 1 left side").box.low.z
    assert panel(of, "drawer 1 left side").sums == ("350", "140 - 10 - 15 - 6")
    assert not cuts(of, "drawer 1 left side", "groove")


def test_under_mounted_box_is_set_by_its_inside() -> None:
    """Inside 564 - 42 = 522; sides of 12 leave 9 beside the box; depth 350 - 10."""
    of = built(rows(drawer(140), opening()), drawers=UNDER)

    place = of.drawers[0]
    assert place.inside.size(Axis.X) == pytest.approx(522)
    assert place.box.size(Axis.X) == pytest.approx(546)
    assert size(of, "drawer 1 left side") == (340, 118)
    assert size(of, "drawer 1 box front") == (522, 118)
    assert panel(of, "drawer 1 box front").sums[0] == "564 - 42"


def test_under_mounted_box_has_its_bottom_up_and_its_back_notched_for_the_runner() -> None:
    of = built(rows(drawer(140), opening()), drawers=UNDER)

    assert panel(of, "drawer 1 bottom").box.low.z - of.drawers[0].box.low.z == pytest.approx(12.5)
    notches = cuts(of, "drawer 1 back", "notch")
    assert [n.at.u for n in notches] == [19, 503]
    shape = notches[0].shape
    assert isinstance(shape, CutOut)
    assert (shape.outline, shape.length, shape.height) == ("notch", 38, 12.4)


def test_a_box_behind_an_inset_front_starts_behind_it_and_takes_a_shorter_runner() -> None:
    """394 - 18 of front = 376: the runner of 350 still fits with 5 behind; with the front 30 back it does not."""
    inset = built(rows(drawer(140), opening()), fronts=Fronts(kind=FrontKind.INSET, gap=2.0))
    deep = built(rows(drawer(140), opening()), fronts=Fronts(kind=FrontKind.INSET, gap=2.0, back=30.0))

    assert panel(inset, "drawer 1 left side").box.span(Axis.Y) == (18, 368)
    assert deep.drawers[0].runner_length == 300


def test_the_makers_own_room_takes_the_place_of_the_runners() -> None:
    of = built(
        rows(drawer(140), opening()),
        drawers=Drawers(board="b12", bottom_board="b6", room_above=6.0, room_below=14.0),
    )

    assert panel(of, "drawer 1 left side").width == 120


def test_runner_screws_stand_on_one_line_in_carcass_and_drawer() -> None:
    of = built(rows(drawer(140), opening()))

    carcass, side = cuts(of, "left side", "runner"), cuts(of, "drawer 1 left side", "runner")
    level = panel(of, "left side").frame.to_case(carcass[0].at).z
    assert level == 562 + 37
    assert [f.at.v for f in carcass] == [39, 167, 263]
    assert panel(of, "drawer 1 left side").frame.to_case(side[0].at).z == pytest.approx(level)
    assert [f.at.u for f in side] == [35, 163, 259]
    assert {f.surface for f in side} == {Surface.FAR_FACE}


def test_both_sides_of_a_drawer_are_bored_as_a_mirrored_pair() -> None:
    of = built(rows(drawer(140), opening()))

    for left, right in (("left side", "right side"), ("drawer 1 left side", "drawer 1 right side")):
        one, other = cuts(of, left), cuts(of, right)
        assert [(f.surface, f.at.u, f.at.v) for f in one] == [(f.surface, f.at.u, f.at.v) for f in other]


def test_a_short_runner_keeps_two_screws() -> None:
    short = side_runner(lengths=(150.0,), screws=(37.0, 200.0), drawer_screws=(35.0, 200.0))
    of = built(rows(drawer(140), opening()), shop=workshop(runners=(short,)))

    assert [f.at.v for f in cuts(of, "left side", "runner")] == [39, 115]


def test_runners_on_both_faces_of_a_divider_get_screws_that_leave_its_skin() -> None:
    """18 - 3 of skin leaves 7.5 to each."""
    of = built(columns(rows(drawer(140), opening()), rows(drawer(140), opening())))

    depths = {f.depth for f in cuts(of, "divider 1", "runner")}
    assert depths == {7.5}
    assert {f.depth for f in cuts(of, "left side", "runner")} == {10}
    assert "short-runner-screws" in [c.code for c in of.cautions]


def test_drawers_of_different_heights_keep_their_full_screws_in_a_divider() -> None:
    of = built(columns(rows(drawer(140), opening()), rows(drawer(200), opening())))

    assert {f.depth for f in cuts(of, "divider 1", "runner")} == {10}


def test_the_front_is_screwed_on_from_inside_the_box() -> None:
    of = built(rows(drawer(140), opening()))

    holes = cuts(of, "drawer 1 box front", "front-screw")
    assert [(round(f.at.u, 1), round(f.at.v, 1)) for f in holes] == [(40, 31), (474.6, 31), (40, 95), (474.6, 95)]
    assert all(isinstance(f.shape, Hole) and f.shape.through and f.surface is Surface.FAR_FACE for f in holes)


def test_a_drawer_is_filled_to_the_published_figure_unless_the_maker_says() -> None:
    """136.157 kg/m3 of 514.6 x 326 x 99 mm: 2.261 kg."""
    of = built(rows(drawer(140), drawer(load_kg=12.0)))

    assert of.drawers[0].load_kg == pytest.approx(2.2613, abs=1e-4)
    assert of.drawers[1].load_kg == 12.0


def test_every_drawer_tells_the_room_it_was_left() -> None:
    of = built(rows(drawer(140), opening()))

    rooms = {c.side: (c.wanted, round(c.left, 6)) for c in of.clearances if c.about == "drawer 1"}
    assert rooms == {
        "left": (12.7, 12.7),
        "right": (12.7, 12.7),
        "above": (10, 10),
        "below": (15, 15),
        "behind": (5, 44),
    }


def test_hardware_is_counted() -> None:
    of = built(rows(drawer(140), drawer(140), opening()))

    assert [(h.item, h.count, h.unit) for h in of.hardware] == [
        ("side", 2, "pair"),
        ("pan-head screw 4 x 25", 8, "piece"),
        ("pan-head screw 3.5 x 16", 12, "piece"),
        ("pan-head screw 3.5 x 9.5", 12, "piece"),
    ]
    assert of.hardware[0].where == "drawer 1, drawer 2"


def test_a_drawer_wider_than_its_runners_are_made_for_is_a_caution() -> None:
    codes = [c.code for c in built(rows(drawer(140), opening()), width=1000.0).cautions]

    assert codes == ["wide-drawer", "thin-drawer-bottom"]


def test_a_drawer_heavier_than_its_runners_carry_is_a_caution() -> None:
    of = built(rows(drawer(140, load_kg=40.0), opening()))

    assert "runner-load" in [c.code for c in of.cautions]


def test_a_drawer_behind_a_door_has_an_inset_front_and_a_caution() -> None:
    """The overlay doors leave 2 mm; then 18 of front, then the box."""
    of = built(rows(drawer(140), opening(), holds=doors().holds))

    assert panel(of, "drawer 1 front").box.span(Axis.Y) == (2, 20)
    assert panel(of, "drawer 1 left side").box.low.y == 20
    assert "drawer-behind-door" in [c.code for c in of.cautions]


@pytest.mark.parametrize(
    ("inside", "more", "expected"),
    [
        (rows(drawer(60), opening()), {}, [("drawer-height", "cases[0].inside.rows[0].height")]),
        (columns(drawer(90), opening()), {}, [("drawer-width", "cases[0].inside.columns[0].width")]),
        (rows(drawer(140), opening()), {"depth": 250}, [("drawer-depth", "cases[0].depth")]),
        (
            columns(rows(drawer(60), opening()), opening(460)),
            {"depth": 250},
            [
                ("drawer-depth", "cases[0].depth"),
                ("drawer-width", "cases[0].inside.columns[0].rows[0]"),
                ("drawer-height", "cases[0].inside.columns[0].rows[0].height"),
            ],
        ),
        (
            rows(drawer(140), opening()),
            {"drawers": Drawers(runner="none of these")},
            [("missing-runner", "cases[0].drawers.runner")],
        ),
        (
            rows(drawer(140), opening()),
            {"drawers": Drawers(runner="under", bottom=BottomKind.APPLIED, board="b12", bottom_board="b6")},
            [("drawer-bottom", "cases[0].drawers.bottom")],
        ),
        (
            rows(drawer(140), opening()),
            {"drawers": Drawers(board="b12", bottom_board="b6", bottom_up=1.0)},
            [("drawer-bottom", "cases[0].drawers.bottom_up")],
        ),
        (
            rows(drawer(140), opening()),
            {"drawers": Drawers(board="b12", bottom_board="b6", room_below=-1.0)},
            [("drawer-room", "cases[0].drawers.room_below")],
        ),
    ],
)
def test_a_drawer_that_can_not_be_is_told_at_its_field(
    inside: Opening, more: dict[str, Any], expected: list[tuple[str, str]]
) -> None:
    assert faults(inside, **more) == expected


def test_sides_too_thick_for_an_under_mounted_runner_are_told() -> None:
    narrow = workshop(runners=(under_runner(inside_less=30.0),))

    assert faults(rows(drawer(140), opening()), drawers=Drawers(runner="under", bottom_board="b6"), shop=narrow) == [
        ("drawer-sides", "cases[0].drawers.board")
    ]


def test_no_runner_at_all_is_told() -> None:
    assert faults(rows(drawer(140), opening()), shop=workshop(runners=(), default_runner="")) == [
        ("missing-runner", "cases[0].drawers.runner")
    ]


def over_groove(thickness: float) -> BuiltCase:
    """Build a drawer whose runner screws, 22 up its sides, stand over the groove of its bottom."""
    thin = Drawers(board="thin", bottom_board="b6", bottom_up=18.0)
    one = case(inside=rows(drawer(140), opening()), drawers=thin)
    return build(job(one, boards=(*boards(), board("thin", thickness))), workshop()).cases[0]


def test_runner_screws_over_the_bottoms_groove_are_kept_from_breaking_into_it() -> None:
    """12 less 4 of groove and 3 of skin leaves 5."""
    of = over_groove(12.0)

    assert [f.depth for f in cuts(of, "drawer 1 left side", "runner")] == pytest.approx([5, 5, 5])


def test_runner_screws_that_would_break_into_the_bottoms_groove_are_told() -> None:
    with pytest.raises(JobError) as caught:
        over_groove(9.0)

    assert {(f.code, f.field) for f in caught.value.faults} == {("runner-screws", "cases[0].drawers.bottom_up")}


@pytest.mark.parametrize("thin", [5.6, 5.833, 6.0])
def test_a_drawer_with_the_least_height_that_is_told_can_be_built(thin: float) -> None:
    """12.5 for the runner, the bottom, 20 clear, 20 over and under it: 62.333 with a bottom of 5.833, told as 62.34."""
    stock = (*boards(), board("thin", 6.0, measured=thin))
    drawers = Drawers(runner="under", board="b12", bottom_board="thin")

    def of(height: float) -> BuiltCase:
        one = case(inside=rows(drawer(size=height), opening()), drawers=drawers)
        return build(job(one, boards=stock), workshop()).cases[0]

    with pytest.raises(JobError) as caught:
        of(40.0)
    (fault,) = caught.value.faults
    least = float(fault.allowed.removeprefix("at least ").partition(" mm")[0])

    assert fault.code == "drawer-height"
    assert of(least).drawers
    assert of(float(fault.ways[0].value or 0)).drawers
    with pytest.raises(JobError):
        of(least - 0.02)


def test_the_width_that_is_told_to_be_too_much_for_a_runner_is_that_of_the_box() -> None:
    """564 clear, the box 2 x 12.7 less: 538.6."""
    narrow, enough = (side_runner(width_max=w) for w in (538.0, 539.0))

    told = {c.code: c.text for c in built(drawer(), shop=workshop(runners=(narrow,))).cautions}
    assert told["wide-drawer"] == "Its box is 538.6 mm wide; its runners are made for 538 mm."
    assert "wide-drawer" not in [c.code for c in built(drawer(), shop=workshop(runners=(enough,))).cautions]
