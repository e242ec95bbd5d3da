"""A case that hangs on a wall: its rail, its back, where its fixings go, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import Fault, JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.hung import Hung, HungBy, HungPlace, WallKind
from storyrod.model.job import Back, BackKind, BetweenOrOver, Case, Plinth
from storyrod.model.panel import Bevel, Role, Surface
from tests.builders import board, boards, case, columns, edging, job, opening, workshop

STUDS = Hung(top_at=2000, wall=WallKind.STUDS, first_stud=100, stud_spacing=300)


def hung(of: Hung = STUDS, **more: object) -> Case:
    return replace(case(width=800), hung=of, **more)  # type: ignore[arg-type]


def built(of: Case) -> BuiltCase:
    return build(job(of), workshop()).cases[0]


def place(of: Case) -> HungPlace:
    found = built(of).hung
    assert found is not None
    return found


def fault(of: Case) -> Fault:
    with pytest.raises(JobError) as told:
        build(job(of), workshop())
    (found,) = told.value.faults
    return found


def test_the_rail_lies_behind_a_set_in_back_under_the_top_flush_with_the_rear() -> None:
    of = built(hung(back=Back(kind=BackKind.BETWEEN)))

    rail = next(p for p in of.panels if p.role is Role.HANGING_RAIL)
    back = next(p for p in of.panels if p.role is Role.BACK)
    assert (rail.length, rail.width) == (764, 100)
    assert [rail.box.span(a) for a in (Axis.X, Axis.Y, Axis.Z)] == [(18, 782), (382, 400), (602, 702)]
    assert back.box.high.y == rail.box.low.y == 382
    assert of.inside.high.y == 364


def test_a_grooved_back_keeps_its_groove_clear_of_the_rail() -> None:
    of = built(hung(back=Back(kind=BackKind.GROOVED)))

    back = next(p for p in of.panels if p.role is Role.BACK)
    assert back.box.high.y == pytest.approx(381.8)


def test_without_a_back_what_stands_inside_stops_before_the_rail() -> None:
    assert built(hung()).inside.high.y == 382


def test_it_hangs_so_high_and_a_front_low_on_it_scrapes_no_floor() -> None:
    of = built(hung())

    assert of.hung is not None
    assert (of.hung.underside, of.hung.top) == (1280, 2000)
    assert "front-near-floor" not in {c.code for c in of.cautions}


@pytest.mark.parametrize(
    ("first", "places"),
    [(100, (100, 400, 700)), (0, (300, 600)), (790, (190, 490)), (None, (250, 550))],
)
def test_screws_go_into_the_studs_that_are_behind_the_rail(first: float | None, places: tuple[float, ...]) -> None:
    """From 48 to 752. Of studs 300 apart two are there wherever they begin, and so many are taken about the middle."""
    of = hung(replace(STUDS, first_stud=first))

    assert place(of).places == places
    assert ("hung-studs-taken" in {c.code for c in built(of).cautions}) == (first is None)


def test_two_screws_go_into_a_stud_and_one_where_the_rail_is_narrow() -> None:
    assert place(hung()).heights == (627, 677)
    assert place(hung(replace(STUDS, rail_width=60))).heights == (672,)


def test_plugs_stand_no_farther_apart_than_400() -> None:
    assert place(hung(Hung(top_at=2000, wall=WallKind.MASONRY))).places == (48, 400, 752)


def test_a_divider_takes_the_place_of_a_stud_and_moves_a_plug() -> None:
    inside = columns(opening(), opening())  # its divider from 391 to 409

    assert place(hung(inside=inside)).places == (100, 700)
    assert place(hung(Hung(top_at=2000, wall=WallKind.MASONRY), inside=inside)).places == (48, 376, 752)


@pytest.mark.parametrize(
    ("of", "code", "field"),
    [
        (hung(plinth=Plinth(height=80)), "hung-plinth", "cases[0].plinth"),
        (hung(base=BetweenOrOver.UNDER_SIDES), "hung-base", "cases[0].base"),
        (hung(top=BetweenOrOver.NONE), "hung-top", "cases[0].top"),
        (hung(back=Back(kind=BackKind.GROOVED, in_top=False)), "hung-top", "cases[0].back.in_top"),
        (hung(back=Back(kind=BackKind.APPLIED)), "hung-back", "cases[0].back.kind"),
        (hung(back=Back(kind=BackKind.REBATED)), "hung-back", "cases[0].back.kind"),
        (hung(back=Back(kind=BackKind.BETWEEN, inset=8)), "hung-inset", "cases[0].back.inset"),
        (hung(replace(STUDS, wall=WallKind.PLASTERBOARD)), "hung-wall", "cases[0].hung.wall"),
        (hung(replace(STUDS, top_at=769)), "hung-height", "cases[0].hung.top_at"),
        (hung(replace(STUDS, rail_width=300), height=330, inside=opening()), "hung-rail", "cases[0].hung.rail_width"),
        (hung(replace(STUDS, stud_spacing=600, first_stud=400)), "hung-studs", "cases[0].hung.stud_spacing"),
    ],
)
def test_what_cannot_hang_is_refused_with_a_way_out(of: Case, code: str, field: str) -> None:
    told = fault(of)

    assert (told.code, told.field) == (code, field)
    assert told.do.endswith(".")


def test_the_ways_out_lead_out() -> None:
    of = hung(replace(STUDS, first_stud=None, stud_spacing=600))
    told = fault(of)

    (way,) = told.ways
    assert way.field == "cases[0].width"
    assert len(place(replace(of, width=float(str(way.value)))).places) == 2


CLEATS = replace(STUDS, by=HungBy.CLEATS)


def test_the_walls_cleat_hooks_into_the_cases_by_the_boards_thickness() -> None:
    of = built(hung(CLEATS, back=Back(kind=BackKind.BETWEEN)))

    cleat, wall = (next(p for p in of.panels if p.name == name) for name in ("case cleat", "wall cleat"))
    assert (cleat.length, cleat.width, wall.length, wall.width) == (764, 100, 754, 100)
    assert (cleat.box.span(Axis.Z), wall.box.span(Axis.Z)) == ((602, 702), (520, 620))
    assert cleat.box.span(Axis.Y) == wall.box.span(Axis.Y) == (382, 400)
    assert cleat.bevel == Bevel(edge=Surface.FACE_EDGE, short=Surface.FACE)
    assert wall.bevel == Bevel(edge=Surface.FAR_EDGE, short=Surface.FAR_FACE)
    assert cleat.volume == 764 * 18 * (100 - 9)
    assert "cleat-bevel" in {c.code for c in of.cautions}


def test_screws_pass_the_walls_cleat_below_its_bevel_whatever_stands_before_it() -> None:
    inside = columns(opening(), opening())
    of = place(hung(replace(CLEATS, rail_width=120), inside=inside))

    assert (of.places, of.heights) == ((100, 400, 700), (505, 557))  # its wide face 480 to 600, at the wall to 582
    assert place(hung(CLEATS)).heights == (560,)


@pytest.mark.parametrize("width", [79, 350])
def test_cleats_are_no_narrower_than_80_and_both_have_room(width: float) -> None:
    told = fault(hung(replace(CLEATS, rail_width=width), height=700))

    assert (told.code, told.field) == ("hung-rail", "cases[0].hung.rail_width")
    assert told.allowed == "80 mm to 331 mm"  # half of 664 less 20, and 18


def test_raw_ends_that_are_seen_from_below_are_told() -> None:
    """An edged board, its ends not covered; none is told where they are, or where the case stands."""
    stock = (board("b18", edging="tape"), *boards()[1:])
    tape = (edging("tape"),)

    def codes(**more: Any) -> set[str]:
        made = job(case(**({"hung": Hung(top_at=2100, wall=WallKind.MASONRY)} | more)), boards=stock, edgings=tape)
        return {c.code for c in build(made, workshop()).cases[0].cautions}

    assert "raw-ends" in codes()
    assert "raw-ends" not in codes(edged_ends=True)
    assert "raw-ends" not in codes(edged=False)
    assert "raw-ends" not in codes(hung=None)


@pytest.mark.parametrize(("width", "plugs"), [(896, 3), (897, 4)])
def test_the_widest_step_between_plugs_is_400(width: float, plugs: int) -> None:
    """Sides of 18 and 30 at either end leave 800: three plugs, 400 apart. One more, and it takes four."""
    on = place(replace(hung(Hung(top_at=2000, wall=WallKind.MASONRY)), width=width))

    assert len(on.places) == plugs


def test_what_is_printed_beside_a_rail_and_a_cleat_adds_up() -> None:
    rail = next(p for p in built(hung()).panels if p.role is Role.HANGING_RAIL)
    assert rail.sums == ("800 - 2 x 18", "100")

    of = built(hung(Hung(top_at=2000, wall=WallKind.MASONRY, by=HungBy.CLEATS)))
    cleat = next(p for p in of.panels if p.role is Role.WALL_CLEAT)
    assert cleat.sums == ("800 - 2 x 18 - 2 x 5", "100")
    assert cleat.length == 800 - 2 * 18 - 2 * 5


def test_a_narrow_rail_is_screwed_through_its_middle() -> None:
    """40 wide has no 25 to both edges: one row, 20 from either."""
    on = place(hung(Hung(top_at=2000, wall=WallKind.MASONRY, rail_width=40)))

    assert on.heights == (702 - 20,)
