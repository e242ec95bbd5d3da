"""How jigs are held: the base on the template at every station, clamps beyond it, and narrow parts held otherwise.

Worked by hand: a base of 75 and a bush with 5 of play to each side sweep 80 along and 75 across; 5 more of template lie
beyond its ends, and 50 across for a clamp's pad of 40 and 10 of air: 75 + 50 = 125.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from storyrod.adapters.files import job_from_text, read_job
from storyrod.drawing import Circle
from storyrod.drawing import Path as Outline
from storyrod.drawing.hold_drawing import hold_drawing, is_drawn
from storyrod.drawing.jig_drawing import jig_drawing
from storyrod.faults import JobError
from storyrod.machining import check_run, plan_work
from storyrod.measure.length import Unit, show_mm
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.job import BetweenOrOver, Job, MethodChoice, Plinth
from storyrod.model.machining import Area, Hold, HoldKind, JigKind, JigPlan, WorkPlan
from storyrod.model.workshop import CutterKind, Jig, Workshop
from storyrod.planning import Plan
from storyrod.telling.set_ups import hold_title, told_of_jig
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.machining.shops import DOWELS, SHOP, box, job, ladder_shop, owned_jig, shop, with_plinth, worked


def routed(**more: Any) -> Workshop:
    """Return a workshop where dowels are routed through a template: no dowelling jig, press or drill of their size."""
    kinds = ("drill jig", "drill press", "disc cutter", "loose-tenon cutter")
    sizes = {5.0, 6.0, 8.0, 10.0}
    cutters = tuple(c for c in SHOP.cutters if c.kind is not CutterKind.DRILL or c.diameter not in sizes)
    return shop(tools=tuple(t for t in SHOP.tools if t.kind.value not in kinds), cutters=cutters, **more)


def holds(work: WorkPlan, kind: HoldKind) -> list[tuple[JigPlan, Hold]]:
    """Return the holds of a kind, each with its jig."""
    return [(j, h) for j in work.jigs for h in j.holds if h.kind is kind]


def found(plan: Plan, work: WorkPlan) -> list[str]:
    return [f.found for f in check_run(work, plan.details, plan.set_out).faults]


# --- by hand ----------------------------------------------------------------------------------------------------------


def test_a_template_carries_the_base_and_a_strip_for_clamps() -> None:
    """Dowels 8 through bush 17: openings of 17, no play. 50, 210, 370: 75 + 5 beyond the last; 75 + 50 to the near."""
    _, work = worked(job(box()), routed())
    edge = next(j for j in work.jigs if j.kind is JigKind.EDGE)

    assert edge.stations == (50.0, 210.0, 370.0)
    assert edge.sweep == Area(left=-25, right=445, near=-75, far=75)
    assert [edge.base, edge.start, edge.end, edge.near, edge.far] == [75, -30, 450, -125, 80]


def test_the_base_of_the_tool_in_the_workshop_file_is_the_one_reckoned_with() -> None:
    tools = tuple(replace(t, base_half=90.0) if t.kind.value == "router" else t for t in routed().tools)
    _, work = worked(job(box()), replace(routed(), tools=tools))
    edge = next(j for j in work.jigs if j.kind is JigKind.EDGE)

    assert (edge.base, edge.near, edge.end) == (90, -140, 465)


def test_clamps_are_on_the_part_and_outside_the_sweep() -> None:
    """The strip from -125 to -85 behind the centre line, at both ends of the panel 400 deep."""
    _, work = worked(job(box()), routed())
    flat = [h for j, h in holds(work, HoldKind.CLAMPED) if j.kind is JigKind.EDGE]

    assert [h.clamps for h in flat] == [
        (Area(left=0, right=40, near=-125, far=-85), Area(left=360, right=400, near=-125, far=-85))
    ]


def test_a_jig_on_an_edge_has_two_fences_under_a_router() -> None:
    """Dowels 9 from the face of a board of 18: the second fence stands 9 to 27 behind the centre line."""
    _, work = worked(job(box()), routed())
    ((jig, hold),) = holds(work, HoldKind.FENCES)

    assert (hold.beside[0].near, hold.beside[0].far) == (-27, -9)
    assert hold.across
    assert {p.name: (p.width, p.thickness) for p in jig.pieces if "fence" in p.name} == {
        "fence, on edge under the template": (60, 18),
        "second fence, for parts on edge": (60, 18),
    }
    assert any("always fit the second fence" in n.words for n in jig.notes)


def test_a_jig_on_an_edge_under_a_drill_needs_one_fence() -> None:
    _, work = worked(job(box()), ladder_shop())
    ((_, hold),) = holds(work, HoldKind.FENCES)

    assert (hold.across, hold.beside, hold.pieces) == (True, (), ())


@pytest.mark.parametrize("high", [70, 80, 120])
def test_a_low_plinth_is_held_in_a_trough(high: int) -> None:
    """Between the cheeks: the stop 18, the part, wedges 15; of 80 that is 113, and the floor 113 + 2 x 60 = 233."""
    plan, work = worked(job(box("A", plinth=Plinth(height=high, setback=40))), routed())
    jig, hold = holds(work, HoldKind.TROUGH)[0]
    one, two = hold.beside
    pieces = {p.name: p for p in hold.pieces}

    assert two.left - one.right == pytest.approx(33 + high)
    assert pieces["floor of the trough"].width == pytest.approx(153 + high)
    assert pieces["cheek of the trough"].thickness == pytest.approx(18)
    assert set(pieces) <= {p.name for p in jig.pieces}
    assert jig.start <= one.left
    assert jig.end >= two.right
    narrow = [o for o in work.operations if o.held_in is HoldKind.TROUGH]
    assert {o.panel_name for o in narrow} == {"plinth"}
    assert found(plan, work) == []


def test_what_a_narrow_part_takes_is_counted() -> None:
    """The trough 20 minutes once with its jig, laying the part in 1 minute each time: figures of the workshop file."""
    times = tuple(t for t in SHOP.times if t.act not in {"make a holding trough", "hold a narrow part"})
    _, dear = worked(job(with_plinth()), routed())
    _, free = worked(
        job(with_plinth()),
        routed(times=(*times, *(replace(SHOP.times[0], act=a, low_min=0, usual_min=0, high_min=0)
                                for a in ("make a holding trough", "hold a narrow part")))),
    )  # fmt: skip
    troughs = len(holds(dear, HoldKind.TROUGH))
    placings = sum(o.copies for o in dear.operations if o.held_in is not None)

    assert troughs
    making = [sum(j.making_min for j in work.jigs) for work in (dear, free)]
    placing = [sum(s.place_min for s in work.run.steps) for work in (dear, free)]
    assert making[0] - making[1] == pytest.approx(20 * troughs)
    assert placing[0] - placing[1] == pytest.approx(placings)


def test_a_router_is_not_led_on_an_end_two_metres_up() -> None:
    """The side's end, 2000 above the floor, is refused with the reason; the top's mates in its face are not."""
    with pytest.raises(JobError) as failed:
        worked(job(replace(box(height=2000), top=BetweenOrOver.OVER_SIDES)), routed())
    told = " ".join(f.do for f in failed.value.faults)

    assert "on edge, 1982 mm is too high for a router" in told


def test_a_cut_out_near_the_end_of_a_small_front_has_guard_boards() -> None:
    """Where a front ends short of the clamps, boards of its thickness lie at both ends."""
    read = read_job(EXAMPLES / "low-units.toml")
    plan = Plan(read.job, read.workshop)
    template = next(j for j in plan.machining.jigs if j.kind is JigKind.TEMPLATE)

    assert template.near <= -(template.base or 0) - (template.opening[1] - (template.bush or 0)) / 2
    assert any("can be thrown when it comes free" in n.words for n in template.notes)


# --- in words and pictures --------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def low_units() -> Plan:
    read = read_job(EXAMPLES / "low-units.toml")
    return Plan(read.job, read.workshop)


def test_a_part_that_ends_under_the_clamps_bears_half_of_each() -> None:
    """A part of 204.6 under a template to 128: its edge at 102.3 parts a pad of 40, from 128 to 88, in two."""
    text = (EXAMPLES / "low-units.toml").read_text(encoding="utf-8").replace("width = 800", "width = 240", 1)
    read = job_from_text(text, name="low-units.toml", folder=EXAMPLES)
    plan = Plan(read.job, read.workshop)
    jig, hold = next((j, h) for j, h in holds(plan.machining, HoldKind.BOARD) if h.part.near > j.near)

    assert found(plan, plan.machining) == []
    assert [hold.part.near, jig.near, hold.clamps[0].near, hold.clamps[0].far] == pytest.approx(
        [-102.3, -128, -128, -88]
    )
    assert hold.part.left <= hold.clamps[0].left
    assert hold.clamps[1].right <= hold.part.right
    assert hold.steps[-1].words.endswith("on the guard board and the part.")


def test_making_a_jig_is_told_step_by_step_with_its_figures(low_units: Plan) -> None:
    """An opening of 27 x 17: two holes of 17, 5 to each side of the station."""
    jig = next(j for j in low_units.machining.jigs if j.has_fence)
    told = told_of_jig(jig, METRIC)

    size = f"{show_mm(jig.length)} x {show_mm(jig.width)}"
    assert told.steps[0].startswith(f"Cut the template {size} from board 12 thick")
    assert any("Bore two holes of 17" in s and "5 to each side" in s and "27 x 17 over all" in s for s in told.steps)
    assert any("inner face 8.85 from the centre line" in s for s in told.steps)
    assert any("A at 0, B at -10" in s for s in told.steps)
    assert any(s.startswith("Test piece") and "8.85" in s for s in told.checks)


def test_a_jig_is_told_in_inches_in_an_inch_job(low_units: Plan) -> None:
    jig = low_units.machining.jigs[0]
    told = told_of_jig(jig, LengthWriter(Unit.INCH, 64))
    words = " ".join((*told.steps, *told.checks, *told.notes, *(s for h in told.holds for s in h)))

    assert f"{show_mm(jig.length)} x" not in words
    trade = ("bush of 17 mm", "board 12 mm thick", "board 18 mm thick", "and 18 mm thick")
    assert words.count(" mm") == sum(words.count(t) for t in trade)
    assert "{" not in words


def test_every_hold_is_told_and_what_lies_beside_is_drawn(low_units: Plan) -> None:
    for jig in low_units.machining.jigs:
        for hold in jig.holds:
            assert len(hold.steps) >= 2
            assert hold.kind.value in hold_title(jig, hold)
            assert is_drawn(hold) == (hold.kind is not HoldKind.CLAMPED)
            if is_drawn(hold):
                texts = {e.text for e in hold_drawing(jig, hold).flat() if hasattr(e, "text")}
                assert {"part", "clamp"} <= texts


def test_the_drawing_shows_the_sweep_and_every_clamp(low_units: Plan) -> None:
    for jig in low_units.machining.jigs:
        drawing = jig_drawing(jig)
        centres = {(round(e.centre[0]), round(e.centre[1])) for e in drawing.flat() if isinstance(e, Circle)}
        wanted = {c for h in jig.holds if not h.across for c in h.clamps}
        assert {(round((c.left + c.right) / 2), round((c.near + c.far) / 2)) for c in wanted} <= centres
        corners = {e.points[0] for e in drawing.flat() if isinstance(e, Outline) and e.closed}
        assert ((jig.sweep.left, jig.sweep.near) in corners) == (jig.base is not None)
        assert "you stand at the bottom" in drawing.notes[0]
        assert ("the fence side at the top" in drawing.notes[0]) == jig.has_fence


# --- any job ----------------------------------------------------------------------------------------------------------


def _on_template(jig: JigPlan) -> bool:
    """Judge by points: the rim of a round base, at every station and both ends of the bush's play."""
    assert jig.base is not None
    assert jig.bush is not None
    for at in jig.stations:
        for side in (-1, 1):
            centre = at + side * (jig.opening[0] - jig.bush) / 2
            rise = side * (jig.opening[1] - jig.bush) / 2
            for n in range(24):
                x = centre + jig.base * math.cos(n * math.pi / 12)
                y = rise + jig.base * math.sin(n * math.pi / 12)
                if not (jig.start <= x <= jig.end and jig.near <= y <= jig.far):
                    return False
    return True


def _dowelled(a_job: Job) -> Job:
    """Return a job whose carcass is held by dowels, so that most of them can be made in a jig."""
    cases = tuple(replace(c, methods=MethodChoice()) for c in a_job.cases)
    return replace(a_job, cases=cases, methods=replace(DOWELS, back="screwed back"), overrides=())


@settings(max_examples=12)
@given(a_job=jobs(SHOP))
def test_the_base_is_on_the_template_everywhere_and_clamps_have_room(a_job: Job) -> None:
    for workshop in (routed(), ladder_shop()):
        plan = Plan(_dowelled(a_job), workshop)
        try:
            work = plan_work(plan.details, plan.set_out, workshop, limit_s=0.2)
        except JobError:
            continue
        assert found(plan, work) == []
        for jig in work.jigs:
            assert jig.base is None or _on_template(jig)
            for hold in jig.holds:
                assert len(hold.clamps) == 2
                for c in hold.clamps:
                    meets = c.left < jig.sweep.right and c.right > jig.sweep.left
                    assert hold.across or not (meets and c.near < jig.sweep.far and c.far > jig.sweep.near)


# --- what the checker finds -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda j: replace(j, end=j.end - 10), "the base leaves the template"),
        (lambda j: replace(j, near=-70.0), "the base leaves the template"),
        (lambda j: replace(j, base=90.0), "the base leaves the template"),
        (lambda j: replace(j, holds=()), "nothing holds it"),
        (lambda j: replace(j, holds=tuple(replace(h, clamps=h.clamps[:1]) for h in j.holds)), "not two clamps"),
        (lambda j: replace(j, holds=tuple(_moved(h, 60.0) for h in j.holds)), "in the path of the base"),
        (lambda j: replace(j, holds=tuple(_along(h, 20.0) for h in j.holds)), "on thin air"),
        (lambda j: replace(j, holds=tuple(replace(h, beside=()) for h in j.holds)), "on one fence and the edge only"),
    ],
)
def test_a_jig_that_can_not_be_stood_on_or_clamped_is_found(change: object, words: str) -> None:
    plan, work = worked(job(box()), routed())
    bad = replace(work, jigs=tuple(change(j) for j in work.jigs))  # type: ignore[operator]

    assert found(plan, work) == []
    assert any(words in f for f in found(plan, bad))


def _moved(hold: Hold, by: float) -> Hold:
    return replace(hold, clamps=tuple(replace(c, near=c.near + by, far=c.far + by) for c in hold.clamps))


def _along(hold: Hold, by: float) -> Hold:
    return replace(hold, clamps=tuple(replace(c, left=c.left + by, right=c.right + by) for c in hold.clamps))


def test_a_part_too_narrow_for_the_base_is_found() -> None:
    plan, work = worked(job(with_plinth()), routed())
    kinds = {h.id: replace(h, kind=HoldKind.FENCES) for j in work.jigs for h in j.holds if h.kind is HoldKind.TROUGH}
    bad = replace(work, jigs=tuple(replace(j, holds=tuple(kinds.get(h.id, h) for h in j.holds)) for j in work.jigs))

    assert any("too narrow to carry the base" in f for f in found(plan, bad))


# --- jigs that are owned ----------------------------------------------------------------------------------------------


def carrying(**more: Any) -> Workshop:
    """Return a workshop with a router's ladder of just the size that a new one would have: see the first test."""
    size = {"opening_width": 17.0, "opening_length": 17.0, "length": 450.0, "near": 125.0, "far": 80.0}
    return routed(jigs=(owned_jig(thickness=routed().template_thickness, **{**size, **more}),))


def test_an_owned_jig_as_large_as_it_must_be_is_used_as_it_is() -> None:
    shop_of_it = carrying(near=140.0, length=470.0)
    plan, work = worked(job(box()), shop_of_it)
    ladder = next(j for j in work.jigs if j.owned)

    assert [ladder.start, ladder.end, ladder.near, ladder.far] == [-30, 470, -140, 80]
    assert {c.near for h in ladder.holds if not h.across for c in h.clamps} == {-125}
    assert not [c for c in work.cautions if c.code == "jig-does-not-reach"]
    assert check_run(work, plan.details, plan.set_out, shop_of_it.jigs).faults == ()
    assert carrying().jigs[0].length == 450
    assert any(j.owned for j in worked(job(box()), carrying())[1].jigs)


@pytest.mark.parametrize(
    ("change", "has", "needs"),
    [
        ({"length": 449.0}, "449 mm from its stop", "need 450 mm"),
        ({"behind_stop": 29.0}, "29 mm behind its stop", "need 30 mm"),
        ({"near": 79.0}, "79 mm from the middle of its openings to the near edge", "need"),
        ({"far": 79.0}, "79 mm from the middle of its openings to the far edge", "need 80 mm"),
        ({"near": None}, "workshop file does not say how far", "near and far"),
    ],
)
def test_an_owned_jig_that_does_not_carry_the_base_is_told_and_a_new_one_made(
    change: dict[str, Any], has: str, needs: str
) -> None:
    _, work = worked(job(box()), carrying(**change))
    (told,) = [c for c in work.cautions if c.code == "jig-does-not-reach"]

    assert not any(j.owned for j in work.jigs)
    assert has in told.text
    assert needs in f"{told.text} {told.do}"


def test_an_owned_jig_without_a_strip_for_clamps_serves_edges_only() -> None:
    """Across the fence no strip is needed; flat on a face 75 + 50 are."""
    plan, work = worked(job(box()), carrying(near=124.0))
    (told,) = [c for c in work.cautions if c.code == "jig-does-not-reach"]
    (ladder,) = [j for j in work.jigs if j.owned]

    assert "need 125 mm" in told.text
    assert {h.kind for h in ladder.holds} == {HoldKind.FENCES}
    assert check_run(work, plan.details, plan.set_out, carrying(near=124.0).jigs).faults == ()


def test_an_owned_jig_that_is_drawn_larger_than_it_is_is_found() -> None:
    """The check knows the jig from the workshop file alone, whatever the plan takes it for."""
    real = carrying().jigs[0]
    plan, work = worked(job(box()), carrying())

    def told(*owned: Jig) -> str:
        return " ".join(f.found for f in check_run(work, plan.details, plan.set_out, owned).faults)

    assert told(real) == ""
    assert "no such jig" in told()
    assert "no opening at one of the stations" in told(replace(real, stations=(50.0, 210.0)))
    assert "how wide it is is not known" in told(replace(real, far=None))
    for side in ("length", "behind_stop", "near", "far"):
        assert "not as large as that" in told(replace(real, **{side: getattr(real, side) - 1}))
    short = replace(work, jigs=tuple(replace(j, end=j.end - 10) if j.owned else j for j in work.jigs))
    found_ = check_run(short, plan.details, plan.set_out, (real,)).faults
    assert any("the base leaves the template" in f.found for f in found_)
