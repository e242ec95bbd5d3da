"""The fewest jigs, judged by trying every way of gathering, and what two placings must have in common."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.faults import JobError
from storyrod.machining import check_run
from storyrod.machining._jig_groups import Ask, fewest_groups
from storyrod.machining._stations import Pattern
from storyrod.model.job import Case, LooseShelves
from storyrod.model.machining import Hand, JigKind
from storyrod.model.workshop import Bush
from tests import builders
from tests.unit.machining.shops import SHOP, box, job, ladder_shop, owned_jig, shop, with_plinth, worked

PLAIN = Ask(key=("edge jig", 8.0), distance=9.0, packable=20.0, reach=410.0, hold=1000.0)

ASKS = st.builds(
    Ask,
    key=st.sampled_from([("edge",), ("mid-panel",)]),
    distance=st.integers(0, 60).map(float),
    packable=st.just(20.0),
    reach=st.integers(40, 200).map(float),
    hold=st.integers(200, 260).map(float) | st.integers(60, 240).map(float),
)

PATTERNS = st.lists(st.integers(0, 40), min_size=1, max_size=3, unique=True).map(lambda p: tuple(sorted(p)))


def partitions(count: int) -> Iterator[list[list[int]]]:
    """Yield every way of gathering so many things."""
    if count == 0:
        yield []
        return
    for groups in partitions(count - 1):
        for n in range(len(groups)):
            yield [[*g, count - 1] if i == n else g for i, g in enumerate(groups)]
        yield [*groups, [count - 1]]


@settings(max_examples=80)
@given(asks=st.lists(ASKS.filter(lambda a: a.reach <= a.hold), min_size=1, max_size=6))
def test_no_fewer_jigs_would_do(asks: list[Ask]) -> None:
    found = fewest_groups(asks)
    fewest = min(
        len(groups)
        for groups in partitions(len(asks))
        if all(asks[a].can_share(asks[b]) for g in groups for a in g for b in g)
    )

    assert len(found.groups) == found.bound == fewest
    assert sorted(n for g in found.groups for n in g) == list(range(len(asks)))
    assert all(asks[a].can_share(asks[b]) for g in found.groups for a in g for b in g)


@settings(max_examples=60)
@given(patterns=st.lists(PATTERNS, min_size=1, max_size=5), apart=st.integers(1, 30))
def test_no_fewer_jigs_would_do_when_openings_must_not_meet(patterns: list[Pattern], apart: int) -> None:
    """Judged by every way of gathering in which every two patterns stand clear at some place of their stops."""
    asks = [replace(PLAIN, pattern=p, apart=apart) for p in patterns]
    found = fewest_groups(asks)

    def clear(a: int, b: int) -> bool:
        moved = (tuple(p - o for p in patterns[b]) for o in range(-150, 151))
        return any(all(p == q or abs(p - q) >= apart for p in patterns[a] for q in m) for m in moved)

    pairs = {(a, b): clear(a, b) for a in range(len(asks)) for b in range(len(asks))}
    fewest = min(len(gs) for gs in partitions(len(asks)) if all(pairs[a, b] for g in gs for a in g for b in g))

    assert len(found.groups) == found.bound == fewest


def test_openings_that_would_run_into_each_other_get_a_stop_moved_or_a_jig_each() -> None:
    """Depths such as 541 and 546 end at 491 and 496: holes of 8 would run into each other."""
    _, work = worked(job(*(box(f"D{n}", depth=d) for n, d in enumerate((384, 388, 394, 541, 546, 552)))), ladder_shop())

    assert work.jigs
    for made in work.jigs:
        assert all(b - a >= 8 + 3 for a, b in pairwise(made.stations))


def pinned(**more: Any) -> Case:
    """Return ten open cases with two loose shelves each; pin holes 5 in rows of 17, from 94 to 606 up the sides."""
    shelves = replace(builders.opening(), loose_shelves=2)
    return replace(box(), inside=shelves, count=10, loose_shelves=LooseShelves(**more))


BUSHED = shop(cutters=tuple(c for c in SHOP.cutters if c.kind.value != "drill"), bushes=(Bush(diameter=17, bore=14),))


def test_a_row_of_pin_holes_shares_the_jig_of_joints() -> None:
    """Bush 17: holes of 5 and of 8 both want openings of 17. From the fence 28 and 9: a packer of 19 makes it up.

    Rows have a pitch of 32 and joints of 160, five times as much: with the stop at 44, 50, 210 and 370 fall on 94, 254
    and 414 of the row, so that 17 stations serve both.
    """
    plan, work = worked(job(pinned(from_front=28, from_back=28)), BUSHED)
    (jig_made,) = [j for j in work.jigs if j.has_fence]

    assert jig_made.kind is JigKind.EDGE
    assert jig_made.stations == tuple(94 + 32 * n for n in range(17))
    assert {m.strip() for m in jig_made.cutter.split(",")} == {"straight 5", "straight 8"}
    assert (work.tally.to_make, work.tally.bound) == (1, 1)
    assert check_run(work, plan.details, plan.set_out).passed


def test_a_row_too_far_from_the_fence_has_a_jig_of_its_own() -> None:
    """From the fence 37 and 9: 28 is more than a packer of 20 makes up."""
    plan, work = worked(job(pinned()), BUSHED)

    assert {j.kind for j in work.jigs} == {JigKind.EDGE, JigKind.PINS}
    assert (work.tally.to_make, work.tally.bound) == (2, 2)
    assert check_run(work, plan.details, plan.set_out).passed


def test_a_row_with_its_own_drill_has_a_jig_of_its_own() -> None:
    """Drilled through the jig itself, without a bush, holes of 5 and of 8 want different openings."""
    _, work = worked(job(pinned(from_front=28, from_back=28)), ladder_shop())

    assert {j.opening for j in work.jigs} == {(5, 5), (8, 8)}
    assert work.tally.proven


def test_a_row_closer_than_a_template_has_board_for_is_not_made_with_one() -> None:
    """Pin holes 5 every 16: with bush 17 openings of 17 would run into each other. A bush of 13 would do."""
    with pytest.raises(JobError) as failed:
        worked(job(pinned(from_front=28, from_back=28, pitch=16)), BUSHED)

    (fault,) = failed.value.faults
    assert fault.code == "no-way"
    assert "a guide bush of 13 mm or less, so that openings 16 mm apart do not meet" in fault.do


def test_what_two_placings_must_have_in_common() -> None:
    assert PLAIN.can_share(replace(PLAIN, distance=29.0, reach=900.0))
    assert not PLAIN.can_share(replace(PLAIN, key=("edge jig", 6.0)))
    assert not PLAIN.can_share(replace(PLAIN, distance=29.5))
    assert not PLAIN.can_share(replace(PLAIN, reach=1001.0))
    assert not PLAIN.can_share(replace(PLAIN, hold=240.0))


def test_rows_in_three_distances_need_two_jigs_not_three() -> None:
    """From 10, 28 and 46 mm the middle one can go either way, and neither end with the other."""
    found = fewest_groups([replace(PLAIN, distance=d) for d in (10.0, 28.0, 46.0)])

    assert (len(found.groups), found.bound) == (2, 2)


def test_a_search_where_the_first_try_is_not_the_best() -> None:
    """First come, first served puts 1 with 2; only 1 with 3 and 2 with 4 leaves no third jig."""
    one = Ask(key=(), distance=20.0, packable=20.0, reach=90.0, hold=100.0)
    two = Ask(key=(), distance=40.0, packable=20.0, reach=60.0, hold=120.0)
    three = Ask(key=(), distance=0.0, packable=20.0, reach=80.0, hold=130.0)
    four = Ask(key=(), distance=60.0, packable=20.0, reach=110.0, hold=140.0)
    found = fewest_groups([one, two, three, four])

    assert (len(found.groups), found.bound) == (2, 2)


def test_the_fewest_of_a_whole_job_is_proven() -> None:
    _, work = worked(job(box("A"), with_plinth("B", depth=560)), ladder_shop())

    assert work.tally.proven
    assert work.tally.to_make == len([j for j in work.jigs if not j.owned])


def test_one_template_serves_two_cutters_with_one_bush() -> None:
    """A bush of 17 in an opening of 17: an 8 cutter makes holes of 8, and what is owned for it is no second jig."""
    straight = tuple(c for c in SHOP.cutters if c.kind.value == "straight")
    _, work = worked(job(box()), shop(cutters=straight, bushes=(Bush(diameter=17, bore=14),)))

    assert all(j.opening == (17, 17) for j in work.jigs)
    assert work.tally.bound == work.tally.to_make == len(work.jigs) == 2
    assert set(work.jigs[0].hands) == {Hand.AS_DRAWN, Hand.TURNED}


def test_an_owned_jig_too_long_for_a_narrow_part_is_not_used_on_it() -> None:
    """570 long, and the plinth is 80 high: it would have to be 150."""
    wide = owned_jig(stations=(40.0, 50.0, 210.0, 370.0, 530.0), length=570.0)
    plan, work = worked(job(with_plinth()), ladder_shop(jigs=(wide,)))
    plinths = {p.id for c in plan.details.cases for p in c.panels if p.name == "plinth"}
    owned = {j.id for j in work.jigs if j.owned}
    on_ends = [
        s.setting.jig
        for s in work.set_ups
        if s.setting
        for o in s.operations
        if o.panel in plinths and o.surface is not None and "end" in o.surface.value
    ]

    assert owned
    assert on_ends
    assert not owned & set(on_ends)
    assert any("too long to be clamped" in c.text for c in work.cautions)
