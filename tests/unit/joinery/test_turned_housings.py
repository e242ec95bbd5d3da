"""A stopped housing whose end the order of assembly chooses."""

from __future__ import annotations

from storyrod.adapters.files import packaged_workshop
from storyrod.carcass import build
from storyrod.joinery import detail, join
from storyrod.measure.space import Direction
from storyrod.model.detail import Choices, SlideChoice
from storyrod.model.feature import Channel
from storyrod.model.job import MethodChoice
from tests.builders import case, job, opening, rows


def test_a_stopped_housing_stops_where_the_order_of_assembly_says() -> None:
    """By default at the front, which shows; turned round, at the back, and the shelf's notch goes with it."""
    methods = MethodChoice(mid_panel="stopped housing")
    made = job(case(inside=rows(opening(), opening())), methods=methods)
    shop = packaged_workshop()
    found = join(build(made, shop), shop)
    joints = [j for j in found.cases[0].joints if j.method == "stopped housing"]
    assert joints

    for way, stops_at_front in ((Direction.FORWARD, True), (Direction.BACKWARD, False)):
        slides = tuple(SlideChoice(joint=j.id, lock=way) for j in joints)
        (detailed,) = detail(found, Choices(slides=slides)).cases
        housings = [f for f in detailed.features if f.kind == "housing"]
        notches = [f for f in detailed.features if f.kind == "cut-out"]
        assert {f.shape.stopped for f in housings if isinstance(f.shape, Channel)} == {
            (stops_at_front, not stops_at_front)
        }
        middle = detailed.panel(notches[0].panel).width / 2
        assert all((f.at.v < middle) is stops_at_front for f in notches)
