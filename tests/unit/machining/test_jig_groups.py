"""The fewest jigs, judged by trying every way of gathering, and what two placings must have in common."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.machining._jig_groups import Ask, fewest_groups
from storyrod.model.machining import Hand
from storyrod.model.workshop import Bush
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
    """450 long, and the plinth is 80 high: it would have to be 150."""
    wide = owned_jig(stations=(40.0, 50.0, 210.0, 370.0, 530.0))
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
