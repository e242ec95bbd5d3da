"""What holds for the plan of any job: mates, mirrors, scale, order, room, and that the same job gives the same plan.

The usual run is modest; `STORYROD_HYPOTHESIS=thorough` draws thousands.
"""

from __future__ import annotations

import json
import random
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from storyrod.adapters.files import job_from_text, packaged_workshop
from storyrod.adapters.files.editing import job_to_toml
from storyrod.adapters.output import plan_document
from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import AXES, Box
from storyrod.model.job import BackKind, Board, Case, HingeSide, Holds, Job, Opening, Split
from storyrod.model.joint import Joint
from storyrod.model.obstacles import PipeCutOut, PipedPanel
from storyrod.model.panel import Panel, Role
from storyrod.model.weight import panel_mass_kg
from storyrod.planning import Plan
from storyrod.telling.connectors import connector_items, connectors_by_method
from storyrod.telling.panels import panels_of
from tests.strategies import jobs

SHOP = packaged_workshop()


def tries(usual: int) -> settings:
    """Return so many examples in the usual run, and all of the profile's in a thorough one."""
    most = settings().max_examples
    return settings(max_examples=usual if most <= 50 else most)


def planned(job: Job) -> Plan:
    """Return the job detailed; one whose random methods cannot hold it is told with a way out, and left out."""
    plan = Plan(job, SHOP)
    try:
        assert plan.details.cases
    except JobError as error:
        if not all(f.field and f.found and f.allowed and f.do for f in error.faults):
            raise
        reject()
    return plan


# ---------------------------------------------------------------- mates and room


@tries(5)
@given(job=jobs(SHOP))
def test_every_half_has_its_mate_on_one_axis_with_one_figure_and_nothing_overlaps(job: Job) -> None:
    plan = planned(job)
    for case, out in zip(plan.details.cases, plan.set_out.cases, strict=True):
        marks = {m.feature.id: m for p in out.panels for m in p.marks}
        joints = {j.id: j for j in case.joints}
        assert set(marks) == {f.id for f in case.features}, "every cut is marked once"
        for feature in case.features:
            if feature.mate is None:
                continue
            mate, joint = marks[feature.mate].feature, joints[feature.joint]  # type: ignore[index]
            assert mate.mate == feature.id
            assert {feature.panel, mate.panel} == {joint.receiving, joint.entering}
            here, there = (case.panel(f.panel).frame.to_case(f.at) for f in (feature, mate))
            assert all(abs(here.along(a) - there.along(a)) <= 1e-6 for a in AXES if a is not joint.home.axis)
            assert (marks[feature.id].mate, marks[mate.id].mate) == (marks[mate.id].label, marks[feature.id].label)
            stated = [_along_run(case.panel(f.panel), joint, marks[f.id].feature.id, plan) for f in (feature, mate)]
            assert stated[0] - stated[1] == pytest.approx(0.0, abs=1e-5), "one rounding serves both mates"
    assert plan.proof.passed, plan.proof.faults


def _along_run(panel: Panel, joint: Joint, feature: str, plan: Plan) -> float:
    """Return where a mark stands along its joint, in the case frame."""
    mark = next(m for m in plan.set_out.of(panel.id).marks if m.feature.id == feature)
    axis = panel.frame.panel_axis(joint.run.axis)
    way = panel.frame.direction(axis)
    told = {"u": mark.u, "v": mark.v, "w": mark.w}[axis.value]
    return panel.frame.origin.along(way.axis) + way.sign * told


# ---------------------------------------------------------------- mirror


def mirrored(node: Opening) -> Opening:
    """Return an opening as a mirror on its side would show it: columns and hinges the other way round."""
    inside = tuple(mirrored(n) for n in node.inside)
    if node.split is Split.COLUMNS:
        parted = [n.parted for n in inside[:-1]]  # a column's `parted` is about the next one to its right
        inside = tuple(replace(n, parted=p) for n, p in zip(reversed(inside), [*reversed(parted), True], strict=True))
    return replace(node, inside=inside, hinged=HingeSide.LEFT if node.hinged is HingeSide.RIGHT else HingeSide.RIGHT)


def in_mirror(box: Box, width: float) -> tuple[float, ...]:
    """Return a box mirrored about the middle of a case, in whole hundredths."""
    low, high = box.low, box.high
    figures = (width - high.x, low.y, low.z, width - low.x, high.y, high.z)
    return tuple(rounded(n, 2) for n in figures)


def rounded(figure: float, digits: int) -> float:
    """Return a figure rounded the same way whatever dust is on it: shares of an inch often end in a half."""
    return round(figure + 1e-6, digits) + 0.0


def upright(box: Box) -> tuple[float, ...]:
    """Return a box in whole hundredths."""
    return tuple(rounded(p.along(a), 2) for p in (box.low, box.high) for a in AXES)


def _turned_pipe(pipe: PipeCutOut, width: float) -> PipeCutOut:
    """Return a pipe's cut-out in the mirror: in the other side, or as far from the other side of the back."""
    if pipe.panel is PipedPanel.BACK:
        return replace(pipe, across=width - pipe.across)
    return replace(pipe, panel=PipedPanel.LEFT if pipe.panel is PipedPanel.RIGHT else PipedPanel.RIGHT)


@tries(5)
@given(job=jobs(SHOP, most_cases=1))
def test_mirror_in_is_mirror_out(job: Job) -> None:
    """Sizes, joints, methods and connectors; the ladder of a joint that runs to the right still starts at the left.

    Of two joints back to back the second from the left is staggered, in the mirror as well: how many stations each
    of the two has may change over. So may the rows of pin holes on both faces of a divider, of which the left ones are
    bored first, and the heights of the loose shelves on them.
    """
    job = replace(job, overrides=())
    case = job.cases[0]
    over, fronts, strips, scribe = case.worktop, case.fronts, case.fillers, case.scribe
    turned = replace(
        case,
        fillers=None if strips is None else replace(strips, left=strips.right, right=strips.left),
        scribe=None if scribe is None else replace(scribe, left=scribe.right, right=scribe.left),
        cut_outs=tuple(_turned_pipe(c, case.width) for c in case.cut_outs),
        inside=mirrored(case.inside),
        fronts=replace(fronts, at_left=fronts.at_right, at_right=fronts.at_left),
        worktop=None if over is None else replace(over, left=over.right, right=over.left),
    )
    other = replace(job, cases=(turned,))
    plan, mirror = planned(job), planned(other)

    (of,), (shown,) = plan.details.cases, mirror.details.cases
    fixed = [[p.box for p in c.panels if p.role is not Role.LOOSE_SHELF] for c in (of, shown)]
    assert Counter(in_mirror(b, case.width) for b in fixed[0]) == Counter(map(upright, fixed[1]))
    loose = [Counter((p.length, p.width) for p in c.panels if p.role is Role.LOOSE_SHELF) for c in (of, shown)]
    assert loose[0] == loose[1]

    def joints(found: tuple[Joint, ...], *, mirror: bool) -> Counter[tuple[object, ...]]:
        return Counter(
            (
                in_mirror(j.contact, case.width) if mirror else upright(j.contact),
                j.kind,
                j.method,
                rounded(j.length, 4),
                0 if j.back_to_back else len(j.stations),
            )
            for j in found
        )

    assert joints(of.joints, mirror=True) == joints(shown.joints, mirror=False)
    if not any(j.back_to_back for j in of.joints):
        assert of.connectors == shown.connectors
    assert Counter((h.item, h.count) for h in of.built.hardware) == Counter(
        (h.item, h.count) for h in shown.built.hardware
    )


# ---------------------------------------------------------------- scale


@tries(4)
@given(job=jobs(SHOP), times=st.integers(2, 7))
def test_so_many_times_the_cases_take_so_many_times_the_connectors(job: Job, times: int) -> None:
    more = replace(job, cases=tuple(replace(c, count=c.count * times) for c in job.cases))
    one, many = planned(job), planned(more)

    assert connectors_by_method(many) == {k: n * times for k, n in connectors_by_method(one).items()}
    assert connector_items(many) == {k: n * times for k, n in connector_items(one).items()}
    assert [c * times for _, c in panels_of(one)] == [c for _, c in panels_of(many)]
    for a, b in zip(one.details.cases, many.details.cases, strict=True):
        assert (a.panels, a.joints, a.features) == (b.panels, b.joints, b.features)


@tries(5)
@given(job=jobs(SHOP, most_cases=1), times=st.sampled_from([0.5, 1.5, 2.0, 3.0]))
def test_all_lengths_so_many_times_as_long_give_panels_so_many_times_as_large(job: Job, times: float) -> None:
    """Of a bare carcass, boards and all; the play of a grooved or rebated back does not grow, so it is left out."""
    small = _bare(job)
    large = replace(
        small,
        boards=tuple(_scaled_board(b, times) for b in small.boards),
        cases=tuple(_scaled_case(c, times) for c in small.cases),
    )
    try:
        one, other = build(small, SHOP), build(large, SHOP)
    except JobError:
        reject()

    for p, q in zip(one.cases[0].panels, other.cases[0].panels, strict=True):
        assert (p.id, p.role) == (q.id, q.role)
        assert (q.length, q.width, q.thickness) == pytest.approx(
            (p.length * times, p.width * times, p.thickness * times)
        )
        board = small.board(p.board)
        assert panel_mass_kg(q, board) == pytest.approx(panel_mass_kg(p, board) * times**3)
    for f, g in zip(one.cases[0].fittings, other.cases[0].fittings, strict=True):
        assert (g.at.u, g.at.v, g.depth) == pytest.approx((f.at.u * times, f.at.v * times, f.depth * times))


def _bare(job: Job) -> Job:
    case = job.cases[0]
    back = case.back if case.back.kind is not BackKind.GROOVED else replace(case.back, kind=BackKind.APPLIED, inset=0.0)
    if back.kind is BackKind.REBATED:
        back = replace(back, clearance=0.0)
    plinth = replace(case.plinth, back_rail=False) if case.plinth else None
    bare = replace(case, back=back, plinth=plinth, inside=_emptied(case.inside), fits=None, edged=False)
    bare = replace(bare, feet=None, worktop=None, skirting=None, scribe=None, fillers=None, cut_outs=())
    return replace(job, cases=(bare,), overrides=())


def _emptied(node: Opening) -> Opening:
    inside = tuple(_emptied(n) for n in node.inside)
    return replace(node, holds=Holds.OPEN, loose_shelves=0, clothes_rail=None, front_kind=None, inside=inside)


def _scaled_board(board: Board, times: float) -> Board:
    return replace(board, thickness=board.thickness * times, measured=board.measured * times)


def _scaled_case(case: Case, times: float) -> Case:
    return replace(
        case,
        width=case.width * times,
        height=case.height * times,
        depth=case.depth * times,
        rail_width=case.rail_width * times,
        plinth=replace(case.plinth, height=case.plinth.height * times, setback=case.plinth.setback * times)
        if case.plinth
        else None,
        back=replace(case.back, inset=case.back.inset * times),
        inside=_scaled_opening(case.inside, times),
    )


def _scaled_opening(node: Opening, times: float) -> Opening:
    size = None if node.size is None else node.size * times
    inside = tuple(_scaled_opening(n, times) for n in node.inside)
    return replace(node, size=size, set_back=node.set_back * times, inside=inside)


# ---------------------------------------------------------------- order, and the same again


@tries(4)
@given(job=jobs(SHOP), chance=st.randoms(use_true_random=False))
def test_the_order_of_cases_and_of_boards_does_not_matter(job: Job, chance: random.Random) -> None:
    cases, boards = list(job.cases), list(job.boards)
    chance.shuffle(boards)
    one, other = planned(job), planned(replace(job, cases=tuple(reversed(cases)), boards=tuple(boards)))

    for a, b in zip(one.details.cases, reversed(other.details.cases), strict=True):
        assert (a.panels, a.joints, a.features, a.connectors) == (b.panels, b.joints, b.features, b.connectors)
        assert a.cautions == b.cautions
    assert one.set_out.cases == tuple(reversed(other.set_out.cases))
    assert {frozenset(g.panels) for g in one.set_out.gangs} == {frozenset(g.panels) for g in other.set_out.gangs}


@pytest.mark.slow
@tries(3)
@given(job=jobs(SHOP, most_cases=1))
def test_a_job_written_and_read_again_has_the_same_plan(job: Job) -> None:
    plan = planned(job)
    again = Plan(job_from_text(job_to_toml(job), name="job.toml").job, SHOP)

    assert again.version == plan.version
    text = document_or_faults(plan)
    assert document_or_faults(again) == text
    assert '"format": 1' in text or any(c in text for c in NO_SHEETS)


NO_SHEETS = ("not-enough-stock", "part-too-large")
"""A random job may have too few sheets, or none as large as its fronts in one strip."""


def document_or_faults(plan: Plan) -> str:
    """Return the plan's document as text, or why there is none."""
    try:
        return json.dumps(plan_document(plan), allow_nan=False)
    except JobError as error:
        return repr(error.faults)


@tries(4)
@given(job=jobs(SHOP, most_cases=1))
def test_no_two_machined_boxes_share_room_but_where_one_is_let_into_the_other(job: Job) -> None:
    """Seen without the proof: the overlap of two panels is all taken away by one channel of either."""
    plan = planned(job)
    for case in plan.details.cases:
        for joint in case.joints:
            a, b = (case.panel(p) for p in (joint.receiving, joint.entering))
            overlap = a.box.overlap(b.box)
            assert overlap is not None, "panels of a joint touch"
            least = min(overlap.size(x) for x in AXES)
            taken = [
                f.depth for f in case.features if f.kind in {"groove", "rebate", "housing"} and f.panel in {a.id, b.id}
            ]
            assert least <= max(taken, default=0.0) + 1e-6
