"""Clashes: which are none, which are settled with the least move, and which are told with what would free them."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.faults import JobError
from storyrod.joinery import _settle, detail, join
from storyrod.joinery._search import Effort
from storyrod.measure.space import PanelPoint
from storyrod.model.detail import Choices, DetailedCase
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.fixing import Fixing, FixingKind, Screws
from storyrod.model.job import Back, BackKind, Plinth, Spread
from storyrod.model.panel import PanelId, Role, Surface
from storyrod.planning import Plan
from tests import builders
from tests.places import EXAMPLES
from tests.unit.joinery.boxes import between, by_hand, choice, cuts, detailed, panel, workshop


def hole(panel_id: str, u: float, v: float, number: int, **more: Any) -> Feature:
    shape = Hole(diameter=5, depth=12)
    given: dict[str, object] = {"surface": Surface.FACE, "why": "a runner", "shape": shape, **more}
    at = PanelPoint(u, v, 0 if given["surface"] is Surface.FACE else 18)
    return Feature(id=FeatureId(f"{panel_id}:x{number}"), panel=PanelId(panel_id), at=at, **given)  # type: ignore[arg-type]


def shelf_between(*fittings: Feature, depth: float = 400.0, z: float = 300.0, **job: Any) -> DetailedCase:
    """Return two sides and one shelf, with these holes in the way."""
    low = panel("left side", Role.SIDE_LEFT, (0, 0, 0), (18, depth, 720), twin=PanelId("A.right-side"))
    high = panel("right side", Role.SIDE_RIGHT, (582, 0, 0), (600, depth, 720), twin=PanelId("A.left-side"))
    shelf = panel("shelf 1", Role.SHELF, (18, 0, z), (582, depth, z + 18))
    shop = workshop()
    joined = join(by_hand(low, high, shelf, fittings=fittings, **job), shop)
    return detail(joined, Choices()).cases[0]


def test_a_station_that_meets_nothing_stays() -> None:
    case = shelf_between(hole("A.left-side", 309, 100, 1))

    assert case.settled == ()
    assert {j.stations for j in case.joints} == {(50.0, 210.0, 370.0)}


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        (210.0, 201.5),  # 4 + 2.5 of radii and 2 of wall: 8.5 away, and the front before the back at equal way
        (212.0, 203.5),
        (206.0, 214.5),
    ],
)
def test_a_station_moves_the_least_way_from_a_fitting(at: float, expected: float) -> None:
    case = shelf_between(hole("A.left-side", 309, at, 1))

    assert {j.stations for j in case.joints} == {(50.0, expected, 370.0)}
    assert {j.moved_stations for j in case.joints} == {(2,)}


def test_both_ends_of_a_panel_move_together_and_each_says_why() -> None:
    case = shelf_between(hole("A.left-side", 309, 210, 1))

    assert [(s.joint, s.station, s.moved_by) for s in case.settled] == [("A.J1", 2, -8.5), ("A.J2", 2, -8.5)]
    assert case.settled[0].because == "it met the hole (a runner) in left side"
    assert case.settled[1].because.startswith("it moved with another: ")


def test_the_ends_part_where_no_common_place_is_free() -> None:
    """The left side is barred from 100 to 300, the right one before 100: only apart can they be settled."""
    left = [hole("A.left-side", 309, v, n) for n, v in enumerate(range(130, 371, 8))]
    right = [hole("A.right-side", 309, v, 100 + n) for n, v in enumerate(range(62, 123, 8))]
    case = shelf_between(*left, *right, depth=200.0)

    stations = {j.receiving: j.stations for j in case.joints}
    assert stations[PanelId("A.left-side")] != stations[PanelId("A.right-side")]
    for joint in case.joints:
        for f in cuts(case, joint, joint.receiving):
            others = [o for o in case.on(joint.receiving) if not o.joint]
            assert all(abs(o.at.v - f.at.v) >= 8.5 for o in others)


def test_moved_stations_lie_on_the_marking_step() -> None:
    case = shelf_between(hole("A.left-side", 309, 210.3, 1), mark_to=1.0)

    assert {j.stations[1] for j in case.joints} == {201.0}


def test_a_hole_from_the_far_face_keeps_the_skin() -> None:
    """13 from one face and 12 from the other do not fit behind each other in 18."""
    case = shelf_between(hole("A.left-side", 309, 210, 1, surface=Surface.FAR_FACE))

    assert {j.stations[1] for j in case.joints} == {200.5}  # radii 6.5 and 3 of skin


def test_a_shallow_hole_from_the_far_face_may_stay_behind() -> None:
    shallow = Hole(diameter=5, depth=2)
    fitting = Feature(
        id=FeatureId("x"),
        panel=PanelId("A.left-side"),
        surface=Surface.FAR_FACE,
        at=PanelPoint(309, 210, 18),
        shape=shallow,
    )

    assert shelf_between(fitting).settled == ()


def test_a_hole_beside_the_line_at_a_walls_distance_may_stay() -> None:
    assert shelf_between(hole("A.left-side", 309 - 8.5, 210, 1)).settled == ()
    assert shelf_between(hole("A.left-side", 309 - 8.4, 210, 1)).settled != ()


def test_holes_are_measured_round_not_by_the_boxes_about_them() -> None:
    """6.2 up and 6.2 along is 8.77 apart, more than 8.5, though the boxes are nearer."""
    assert shelf_between(hole("A.left-side", 309 + 6.2, 210 + 6.2, 1)).settled == ()
    assert shelf_between(hole("A.left-side", 309 + 5.9, 210 + 5.9, 1)).settled != ()


def test_a_line_barred_all_along_is_told_with_what_would_free_it() -> None:
    holes = [hole("A.left-side", 309, v, n) for n, v in enumerate(range(10, 400, 8))]
    with pytest.raises(JobError) as caught:
        shelf_between(*holes)

    fault = caught.value.faults[0]
    assert fault.code == "clash"
    assert fault.found == (
        "the hole of J1 (dowels, shelf 1 and left side) and the hole (a runner) meet in left side of case A, "
        "309 mm from its datum end and 50 mm from its face edge"
    )
    assert fault.allowed == "at least 2 mm of board between them"
    assert fault.do == ("Choose another method for shelf 1 and left side, or another place for the hole (a runner).")
    assert fault.ids == ("A.J1",)
    assert fault.ways == ()  # both stand on one side of the middle: no size of the case sets them apart


def test_a_clash_in_either_twin_is_told_once() -> None:
    """Both sides are barred alike: one fault for each hole in the way, which names the other side as well."""
    sides = ("A.left-side", "A.right-side")
    holes = [hole(s, 309, v, 100 * k + n) for k, s in enumerate(sides) for n, v in enumerate(range(10, 400, 8))]
    with pytest.raises(JobError) as caught:
        shelf_between(*holes)

    told = [f.found for f in caught.value.faults]
    assert all(found.endswith("; the same in right side") for found in told)
    assert len({found.partition(" meet ")[2] for found in told}) == len(told)
    with pytest.raises(JobError) as alone:
        shelf_between(*holes[: len(holes) // 2])
    assert len(told) == len(alone.value.faults)


def test_the_gaps_of_the_method_are_kept_by_what_is_moved() -> None:
    """All but the front of the line is barred: the second may not come closer than 32 to the first."""
    case = shelf_between(hole("A.left-side", 309, 84, 1), depth=120.0)

    for joint in case.joints:
        assert all(b - a >= 32 for a, b in pairwise(joint.stations))
        assert joint.stations[-1] <= 120 - 25
        for f in cuts(case, joint, joint.receiving):
            assert joint.receiving != "A.left-side" or abs(f.at.v - 84) >= 8.5


def test_a_grooved_back_pushes_the_last_dowel_forward_on_every_panel_alike() -> None:
    """The groove's corner stands at 374 and 708 up, the hole's middle at 711 up: 6 apart means 368.8 at the most."""
    case = detailed(
        builders.case(depth=400, back=Back(kind=BackKind.GROOVED, board="b6", inset=20)),
    )

    corners = [j for j in case.joints if j.method == "dowels"]
    assert {j.stations for j in corners} == {(50.0, 210.0, 368.5)}
    assert {(s.station, s.moved_by) for s in case.settled} == {(3, -1.5)}
    assert case.settled[0].because == "it met the groove (takes the back of case A) in left side"


def test_joints_back_to_back_are_staggered_by_half_a_pitch() -> None:
    inside = builders.columns(
        builders.rows(builders.opening(), builders.opening()), builders.rows(builders.opening(), builders.opening())
    )
    case = detailed(builders.case(width=900, depth=560, inside=inside))

    left, right = between(case, "divider 1", "shelf 1"), between(case, "divider 1", "shelf 2")
    assert left.stations == (50.0, 210.0, 370.0, 530.0)
    assert right.stations == (130.0, 290.0, 450.0)
    assert (left.back_to_back, right.back_to_back) == (right.id, left.id)
    assert case.settled == ()


def test_of_shelves_in_a_row_every_other_one_is_staggered_at_both_ends() -> None:
    column = builders.rows(builders.opening(), builders.opening())
    case = detailed(builders.case(width=1200, depth=560, inside=builders.columns(column, column, column)))

    starts = {(j.entering, j.receiving): j.stations[0] for j in case.joints if j.entering.startswith("A.shelf")}
    assert starts == {
        ("A.shelf-1", "A.side-left"): 50.0,
        ("A.shelf-1", "A.divider-1"): 50.0,
        ("A.shelf-2", "A.divider-1"): 130.0,
        ("A.shelf-2", "A.divider-2"): 130.0,
        ("A.shelf-3", "A.divider-2"): 50.0,
        ("A.shelf-3", "A.side-right"): 50.0,
    }


def test_shallow_cuts_back_to_back_stay_in_line() -> None:
    inside = builders.columns(
        builders.rows(builders.opening(), builders.opening()), builders.rows(builders.opening(), builders.opening())
    )
    boards = (builders.board(thickness=30.0), *builders.boards()[1:])
    case = detailed(
        builders.case(width=900, depth=560, inside=inside), boards=boards, methods=choice(mid_panel="biscuits")
    )

    assert between(case, "divider 1", "shelf 2").stations == between(case, "divider 1", "shelf 1").stations


def test_a_short_joint_back_to_back_is_settled_where_half_a_pitch_has_no_room() -> None:
    inside = builders.columns(
        builders.rows(builders.opening(), builders.opening()), builders.rows(builders.opening(), builders.opening())
    )
    case = detailed(builders.case(width=900, depth=180, inside=inside))

    one, other = (between(case, "divider 1", f"shelf {n}") for n in (1, 2))
    assert all(abs(a - b) >= 8 + 3 for a in one.stations for b in other.stations)
    assert len(case.settled) >= 2


def test_the_front_column_of_pin_holes_meets_no_shelf_dowel() -> None:
    inside = builders.rows(builders.shelves(2, 300.0), builders.opening())
    case = detailed(builders.case(depth=400, inside=inside))
    joint = between(case, "left side", "shelf 1")

    pins = [f for f in case.on(joint.receiving) if not f.joint]
    assert pins
    assert all(
        ((p.at.u - f.at.u) ** 2 + (p.at.v - f.at.v) ** 2) ** 0.5 >= 2.5 + 4 + 2
        for f in cuts(case, joint, joint.receiving)
        for p in pins
    )


def test_a_pocket_gives_way_to_the_pocket_of_the_next_joint() -> None:
    case = detailed(
        builders.case(depth=400, plinth=Plinth(height=100, setback=50), methods=choice(plinth="pocket screws"))
    )

    assert [s.because for s in case.settled] == [
        "it met the angled pocket of J3 (pocket screws, plinth and left side) in plinth"
    ]


def test_an_even_spread_is_settled_too() -> None:
    case = shelf_between(hole("A.left-side", 309, 50, 1), spread=Spread.EVEN)

    assert {j.stations[0] for j in case.joints} == {41.5}


def narrow_cupboard(width: float) -> Plan:
    """Return the robe cupboard made so narrow that the pocket screws of its plinth stand in each other's way."""
    text = (EXAMPLES / "robe-cupboard.toml").read_text(encoding="utf-8")
    text = re.sub(r"fits = .*", f"width = {width}", text)
    read = job_from_text(text, name="robe-cupboard.toml", folder=EXAMPLES)
    return Plan(read.job, read.workshop)


@pytest.mark.parametrize("width", [156.1, 165, 170, 175, 180])
def test_a_knot_that_can_not_be_untied_ends_after_so_many_steps(width: float, monkeypatch: pytest.MonkeyPatch) -> None:
    spent: list[Effort] = []

    class Counted(Effort):
        def __init__(self, steps: int, whole: Effort | None = None) -> None:
            super().__init__(steps, whole)
            spent.append(self)

    monkeypatch.setattr(_settle, "Effort", Counted)
    plan = narrow_cupboard(width)

    with pytest.raises(JobError) as told:
        plan.sketch  # noqa: B018

    assert {f.code for f in told.value.faults} == {"clash"}
    assert any("Not every place for them was tried" in f.do for f in told.value.faults)
    assert spent
    assert all(e.left > -200 for e in spent)  # none goes on but to end the comparison it is in


def test_a_knot_that_ends_the_search_leaves_enough_for_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """Shelf 2 has one hole in the way, and is settled, though the clash of shelf 1 takes all that one knot may take."""
    monkeypatch.setattr(_settle, "MOST_STEPS_KNOT", 500)
    low = panel("left side", Role.SIDE_LEFT, (0, 0, 0), (18, 400, 720), twin=PanelId("A.right-side"))
    high = panel("right side", Role.SIDE_RIGHT, (582, 0, 0), (600, 400, 720), twin=PanelId("A.left-side"))
    shelves = [panel(f"shelf {n}", Role.SHELF, (18, 0, z), (582, 400, z + 18)) for n, z in ((1, 300), (2, 500))]
    barred = [hole("A.left-side", 309, v, n) for n, v in enumerate(range(5, 396, 8))]
    joined = join(by_hand(low, high, *shelves, fittings=(*barred, hole("A.left-side", 509, 210, 99))), workshop())

    with pytest.raises(JobError) as told:
        detail(joined, Choices())

    assert told.value.faults
    assert all("shelf 1" in f.found and "Not every place" in f.do for f in told.value.faults)


def test_effort_is_spent_once_and_from_the_whole() -> None:
    whole = Effort(100)
    one = whole.share(30)

    assert [one.step(10), one.step(10), one.step(10), one.step(10)] == [True, True, False, False]
    assert whole.left == 70
    assert whole.cut_short == 2
    assert whole.share(500).left == 70
    assert not Effort(0).step()


def test_a_station_keeps_clear_of_the_tip_of_a_screw_from_the_other_face() -> None:
    """A pilot 1 deep and a dowel 13 deep leave 4 of 18; the screw in the pilot goes 4 deep and leaves 1, not 3."""
    pilot = hole("A.left-side", 309, 210, 1, surface=Surface.FAR_FACE, shape=Hole(diameter=5, depth=1))
    screws = Screws(
        item="screw 4 x 5",
        count=1,
        diameter=4.0,
        length=5.0,
        seat=1.0,
        skin=3.0,
        pilot=2.5,
        pilot_depth=1.0,
        marked=True,
    )
    low = panel("left side", Role.SIDE_LEFT, (0, 0, 0), (18, 400, 720), twin=PanelId("A.right-side"))
    high = panel("right side", Role.SIDE_RIGHT, (582, 0, 0), (600, 400, 720), twin=PanelId("A.left-side"))
    shelf = panel("shelf 1", Role.SHELF, (18, 0, 300), (582, 400, 318))
    made = by_hand(low, high, shelf, fittings=(pilot,))
    runner = Fixing(
        kind=FixingKind.RUNNER_CASE,
        panel=low.id,
        about="A.drawer-1",
        item="runner",
        name="a runner",
        count=1,
        features=(pilot.id,),
        screws=screws,
    )
    for fixings, is_moved in (((), False), ((runner,), True)):
        carcass = replace(made, cases=(replace(made.cases[0], fixings=fixings),))
        case = detail(join(carcass, workshop()), Choices()).cases[0]
        assert bool(case.settled) is is_moved
        assert pilot.depth == 1.0 == next(f.depth for f in case.features if f.id == pilot.id)
