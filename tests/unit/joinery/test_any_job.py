"""What holds for any job: mates meet, left mirrors right, order does not matter, rules are kept, counts add up."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise

from hypothesis import given, reject, settings
from hypothesis import strategies as st

from storyrod import carcass
from storyrod.faults import JobError
from storyrod.joinery import detail, join
from storyrod.joinery._bores import bounds_of
from storyrod.joinery._stations import DRAWER_END, DRAWER_GAP
from storyrod.measure.space import AXES, Direction
from storyrod.model.carcass import BuiltCase, Carcass
from storyrod.model.detail import Choices, DetailedCase, Details
from storyrod.model.feature import AngledPocket
from storyrod.model.job import Back, BackKind, Case, Job, MethodChoice, Plinth
from storyrod.model.joint import JointKind
from storyrod.model.workshop import Workshop
from tests import builders
from tests.strategies import jobs
from tests.unit.joinery.boxes import workshop

SHOP = workshop()


def planned(job: Job, shop: Workshop = SHOP) -> tuple[Carcass, Details]:
    """Return the job detailed; leave out the ones whose random methods cannot hold them."""
    try:
        built = carcass.build(job, shop)
        return built, detail(join(built, shop), Choices())
    except JobError as error:
        if not all(f.field and f.found and f.allowed and f.do for f in error.faults):
            raise
        return reject()


@settings(max_examples=25)
@given(jobs(SHOP))
def test_every_half_has_its_mate_on_its_axis_and_nothing_leaves_the_board(job: Job) -> None:
    details = planned(job)[1]
    _stay_inside(details)
    for case in details.cases:
        by_id = {f.id: f for f in case.features}
        assert len(by_id) == len(case.features)
        home = {str(j.id): j.home.axis for j in case.joints}
        for f in case.features:
            if f.mate is None:
                continue
            mate = by_id[f.mate]
            assert mate.mate == f.id
            here, there = (case.panel(x.panel).frame.to_case(x.at) for x in (f, mate))
            away = here - there
            off = [away.along(a) for a in AXES if a is not home[f.joint]]
            assert max(map(abs, off)) <= 1e-6


@settings(max_examples=25)
@given(jobs(SHOP))
def test_stations_keep_their_rules_and_connectors_add_up(job: Job) -> None:
    details = planned(job)[1]
    for case in details.cases:
        used: Counter[tuple[str, str]] = Counter()
        for joint in case.joints:
            method = details.method(joint.method)
            size = method.size_for(min(case.panel(p).thickness for p in (joint.receiving, joint.entering)))
            assert size is not None
            for item in size.consumes:
                used[method.code, item.item] += item.each * len(joint.stations) + item.per_joint
            rules = method.rules
            assert (rules is None) == (not joint.stations)
            if rules is None:
                continue
            is_low = joint.kind is JointKind.DRAWER_BOX and len(joint.stations) > 1
            gap = min(rules.gap_min, DRAWER_GAP) if is_low else rules.gap_min
            end = min(rules.end_min, DRAWER_END) if is_low else rules.end_min
            assert all(b - a >= gap - 1e-6 for a, b in pairwise(joint.stations))
            if len(joint.stations) >= rules.least:
                assert joint.stations[0] >= end - 1e-6
                assert joint.stations[-1] <= joint.length - end + 1e-6
            else:
                assert rules.single
                assert len(joint.stations) == 1
        assert Counter({(c.method, c.item): c.count for c in case.connectors}) == used


def _stay_inside(details: Details) -> None:
    for case in details.cases:
        for f in case.features:
            if isinstance(f.shape, AngledPocket):
                continue  # its mouth is open on purpose
            panel = case.panel(f.panel)
            low, high = bounds_of(f)
            assert min(low) >= -1e-6
            assert all(h <= e + 1e-6 for h, e in zip(high, (panel.length, panel.width, panel.thickness), strict=True))


@settings(max_examples=25)
@given(jobs(SHOP), st.randoms(use_true_random=False))
def test_the_order_of_panels_and_fittings_does_not_matter(job: Job, chance: random.Random) -> None:
    built, details = planned(job)

    def mixed(case: BuiltCase) -> BuiltCase:
        panels, fittings = list(case.panels), list(case.fittings)
        chance.shuffle(panels)
        chance.shuffle(fittings)
        return replace(case, panels=tuple(panels), fittings=tuple(fittings))

    other = detail(join(replace(built, cases=tuple(map(mixed, built.cases))), SHOP), Choices())
    for one, two in zip(details.cases, other.cases, strict=True):
        assert one.joints == two.joints
        assert one.connectors == two.connectors
        assert one.settled == two.settled
        assert sorted(one.features, key=lambda f: f.id) == sorted(two.features, key=lambda f: f.id)
        assert sorted(one.panels, key=lambda p: p.id) == sorted(two.panels, key=lambda p: p.id)


@cache
def symmetric(depth: float, width: float, mid: str, corner: str, back: BackKind) -> tuple[Case, DetailedCase]:
    case = builders.case(
        depth=depth,
        width=width,
        plinth=Plinth(height=90, setback=40),
        back=Back(kind=back, board="b6", inset=20 if back is BackKind.GROOVED else 0),
        inside=builders.rows(builders.drawer(160), builders.shelves(1), builders.opening(140)),
        methods=MethodChoice(corner=corner, mid_panel=mid),
    )
    return case, planned(builders.job(case))[1].cases[0]


@settings(max_examples=40)
@given(
    depth=st.integers(300, 650),
    width=st.integers(300, 900),
    mid=st.sampled_from(["dowels", "biscuits", "loose tenons", "housing", "pocket screws", "cam and bolt"]),
    corner=st.sampled_from(["dowels", "rebate", "carcass screws", "two-part clip connector"]),
    back=st.sampled_from([BackKind.APPLIED, BackKind.REBATED, BackKind.GROOVED]),
)
def test_the_left_side_is_the_mirror_of_the_right_one(
    depth: int, width: int, mid: str, corner: str, back: BackKind
) -> None:
    """One column, so that left and right are alike: the sides have the same marks, each in its own hand."""
    _, case = symmetric(depth, width, mid, corner, back)
    marks = {}
    for name in ("A.side-left", "A.side-right"):
        marks[name] = sorted(
            (f.surface.value, round(f.at.u, 6), round(f.at.v, 6), round(f.at.w, 6), repr(f.shape))
            for f in case.features
            if f.panel == name and f.joint
        )

    assert marks["A.side-left"] == marks["A.side-right"]
    left, right = (case.panel(p) for p in marks)  # type: ignore[arg-type]
    assert left.frame.into is Direction.LEFT
    assert right.frame.into is Direction.RIGHT


@settings(max_examples=25)
@given(jobs(SHOP))
def test_what_was_moved_is_told_and_lies_on_the_marking_step(job: Job) -> None:
    built, details = planned(job)
    joined = join(built, SHOP)
    for before, after in zip(joined.cases, details.cases, strict=True):
        told = {(s.joint, s.station): s.moved_by for s in after.settled}
        for old, new in zip(before.joints, after.joints, strict=True):
            first = old.stations
            if len(new.stations) < len(first):  # a low corner of a drawer keeps one where two have no room
                assert (new.kind, len(new.stations)) == (JointKind.DRAWER_BOX, 1)
                first = (old.length / 2,)
            assert len(first) == len(new.stations)
            for n, (a, b) in enumerate(zip(first, new.stations, strict=True), start=1):
                assert (n in new.moved_stations) is ((new.id, n) in told)
                if a != b:
                    assert abs(told[new.id, n] - (b - a)) < 1e-9
                    assert abs(b / job.mark_step - round(b / job.mark_step)) < 1e-6
