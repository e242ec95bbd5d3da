"""Rows of shelf pins are drilled through one template, from one end, in both hands: a shelf on marked pins rocks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.writing import METRIC
from storyrod.model.machining import Hand, JigKind, Operation, WorkPlan
from storyrod.planning import Plan
from storyrod.telling.set_ups import jig_words, told_of_jig
from tests import builders
from tests.unit.machining.shops import SHOP, box, job, shop, worked


@pytest.fixture(scope="module")
def made() -> tuple[Plan, WorkPlan]:
    """Return one case of two bays, loose shelves in both: rows in both sides and in both faces of the divider."""
    shelves = replace(builders.opening(), loose_shelves=2)
    return worked(job(replace(box(), inside=builders.columns(shelves, shelves))))


def rows(work: WorkPlan) -> list[Operation]:
    """Return the placings of the pin template."""
    (template,) = [j for j in work.jigs if j.kind is JigKind.PINS]
    return [o for s in work.set_ups if s.setting and s.setting.jig == template.id for o in s.operations]


def test_one_template_serves_every_row_of_one_case(made: tuple[Plan, WorkPlan]) -> None:
    """Front and back rows of two sides and two faces of a divider are eight."""
    _, work = made

    assert len(rows(work)) == 8
    assert {o.hand for o in rows(work)} == set(Hand)


def test_every_row_is_stopped_at_the_bottom_end(made: tuple[Plan, WorkPlan]) -> None:
    assert {o.stop for o in rows(made[1])} == {"datum end"}


def test_a_row_high_up_is_stopped_at_the_bottom_end_too() -> None:
    """A row in the upper half of tall sides: it would be stopped at the top, were it not for the divider beside it."""
    upper = replace(builders.opening(), loose_shelves=1)
    lower = replace(builders.opening(), size=900.0)
    _, work = worked(job(replace(box(height=1600), inside=builders.rows(upper, lower))))

    assert {o.stop for o in rows(work)} == {"datum end"}
    assert min(min(o.stations) for o in rows(work)) > 800


def test_nothing_says_that_a_careful_eye_will_do(made: tuple[Plan, WorkPlan]) -> None:
    (card,) = [s for s in made[1].set_ups if s.setting and s.setting.jig]

    assert "their rows must be level" in card.why
    assert "careful eye" not in card.why


def test_the_template_is_priced_by_its_own_acts(made: tuple[Plan, WorkPlan]) -> None:
    """Minutes of the plain workshop: 15 for the template and half a minute for each hole."""
    (template,) = made[1].jigs

    assert template.making_min == pytest.approx(15 + 0.5 * len(template.stations))
    assert "so that shelves sit level" in jig_words(template, METRIC)


def test_making_it_is_told_with_its_spacing(made: tuple[Plan, WorkPlan]) -> None:
    """Holes 32 apart are stepped off with a peg 32 from the drill; the fence stands as far off as the near edge."""
    (template,) = made[1].jigs
    told = told_of_jig(template, METRIC)

    stepped = [s for s in told.steps if "a peg that fits the last hole, 32 from the centre" in s]
    assert ["75 from the drill" in s for s in stepped] == [True]
    assert any("“bottom”" in s for s in told.steps)
    assert any("the pins are level" in s for s in told.checks)
    assert {p.name for p in template.pieces} == {"template", "fence, on edge under the template", "stop block"}


def test_without_a_jig_all_uprights_are_marked_together() -> None:
    """Where no way of the workshop drills through a jig, the card says how marks come to be level."""
    ways = tuple(w for w in SHOP.ways if w.code not in {"drill through a ladder jig", "router, bush and template"})
    shelves = replace(builders.opening(), loose_shelves=2)
    _, work = worked(job(replace(box(), inside=shelves)), shop(ways=ways))
    (card,) = [s for s in work.set_ups if "holes 5" in s.title]

    assert not work.jigs
    assert "mark all the uprights together, bottom ends in line" in card.why
