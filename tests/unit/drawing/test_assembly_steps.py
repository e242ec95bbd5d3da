"""Pictures of the steps of assembly: as the work lies, what moves apart from what stands, and the way it goes."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import product

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.drawing import Path, Text, Tint, assembly_key, assembly_step, bounds_of
from storyrod.drawing._lying import lying_on
from storyrod.measure.space import AXES, Box, Direction, Point
from storyrod.model.assembly import Step, StepKind
from storyrod.model.detail import DetailedCase
from storyrod.planning import Plan
from tests import builders
from tests.places import EXAMPLES
from tests.unit.drawing.checks import check, groups_of, texts_of


@cache
def drawer_case() -> Plan:
    """Return two columns: two drawers under fronts, and a door with a loose shelf behind it."""
    made = builders.case(
        width=900.0,
        inside=builders.columns(
            builders.rows(builders.drawer(160.0), builders.drawer()), builders.door(loose_shelves=1, hinged="right")
        ),
    )
    return Plan(builders.job(made), packaged_workshop())


@cache
def keyholes() -> Plan:
    """Return the example whose panels slide after entry."""
    told = read_job(EXAMPLES / "low-units.toml")
    return Plan(told.job, told.workshop)


def steps_of(plan: Plan) -> list[tuple[DetailedCase, Step, tuple[Step, ...]]]:
    """Return each step of a plan with its case and the steps before it."""
    cases = {c.built.case.code: c for c in plan.details.cases}
    return [
        (cases[told.case], step, told.steps[:n]) for told in plan.assembly.cases for n, step in enumerate(told.steps)
    ]


@pytest.mark.parametrize("plan", [drawer_case, keyholes])
def test_every_step_is_drawn_with_its_arrow_and_words_apart(plan: Callable[[], Plan]) -> None:
    for case, step, earlier in steps_of(plan()):
        drawing = assembly_step(case, step, earlier)

        assert bool(groups_of(drawing.items, "move")) is (step.kind is not StepKind.FIT), step.number
        assert {g.id for g in groups_of(drawing.items, "moving")} == set(step.moving)
        check(drawing)
        assert drawing.paper_size[0] <= 78.0 * 1.05
        assert drawing.paper_size[1] <= 70.0 * 1.05


def test_what_moves_has_a_tint_and_a_line_of_its_own() -> None:
    case, step, earlier = next(s for s in steps_of(drawer_case()) if s[1].kind is StepKind.JOIN)
    drawing = assembly_step(case, step, earlier)

    moving = [p for g in groups_of(drawing.items, "moving") for p in g.items if isinstance(p, Path)]
    others = [p for g in groups_of(drawing.items, "panel") for p in g.items if isinstance(p, Path)]
    assert moving
    assert others
    assert {p.fill.tint for p in moving if p.fill} == {Tint.CHOSEN}
    assert Tint.CHOSEN not in {p.fill.tint for p in others if p.fill}
    assert {p.pen for p in moving if p.pen}.isdisjoint({p.pen for p in others if p.pen})


def test_what_the_work_rests_on_is_hatched() -> None:
    case, step, earlier = next(s for s in steps_of(drawer_case()) if s[1].kind is StepKind.JOIN)
    drawing = assembly_step(case, step, earlier)

    hatched = {
        g.id
        for g in groups_of(drawing.items, "panel")
        if any(isinstance(p, Path) and p.fill and p.fill.hatch != "none" for p in g.items)
    }
    assert hatched == set(step.rests_on)


def test_what_moves_is_drawn_clear_of_where_it_goes() -> None:
    """A part brought down stands higher in the picture than the same part in its place."""
    for case, step, earlier in steps_of(drawer_case()):
        if step.kind is not StepKind.JOIN or step.legs[0].way is not step.down:
            continue
        drawing = assembly_step(case, step, earlier)
        (arrow,) = groups_of(drawing.items, "move")
        line = [p for p in arrow.items if isinstance(p, Path) and p.pen][-1]
        assert line.points[0][1] > line.points[-1][1] + 5.0 * drawing.unit


def test_a_slide_after_entry_has_an_arrow_with_a_bend_and_its_length() -> None:
    sliding = [s for s in steps_of(keyholes()) if len(s[1].legs) > 1 and s[1].kind is StepKind.JOIN]
    assert sliding

    for case, step, earlier in sliding:
        drawing = assembly_step(case, step, earlier)
        (arrow,) = groups_of(drawing.items, "move")
        line = [p for p in arrow.items if isinstance(p, Path) and p.pen][-1]
        assert len(line.points) >= 3
        assert "slide 10" in {t.text for t in texts_of(drawing)}


def test_a_turn_shows_the_work_before_and_after() -> None:
    case, step, earlier = next(s for s in steps_of(drawer_case()) if s[1].kind is StepKind.TURN)
    drawing = assembly_step(case, step, earlier)

    assert {g.id for g in groups_of(drawing.items, "panel")} == set(step.moving)
    assert {g.id for g in groups_of(drawing.items, "moving")} == set(step.moving)
    before = bounds_of(groups_of(drawing.items, "moving"), drawing.unit)
    after = bounds_of(groups_of(drawing.items, "panel"), drawing.unit)
    assert not before.meets(after)
    assert drawing.notes[0].startswith("After it:")


def test_a_caution_stands_in_the_picture_with_its_word() -> None:
    turn = next(s for s in steps_of(drawer_case()) if s[1].kind is StepKind.TURN and s[1].body == "carcass")
    drawer = next(s for s in steps_of(drawer_case()) if s[1].kind is StepKind.DRAWER)

    assert any(t.text.startswith("turn with") for t in texts_of(assembly_step(*turn)))
    assert "can tip" in {t.text for t in texts_of(assembly_step(*drawer))}


def test_what_goes_into_the_case_finds_all_that_stands_before() -> None:
    for case, step, earlier in steps_of(drawer_case()):
        if step.kind is StepKind.SHELF:
            shown = {g.id for g in groups_of(assembly_step(case, step, earlier).items)}
            placed = {p for s in earlier for p in s.moving} | {p.id for p in case.panels if p.body == "carcass"}
            assert placed | set(step.moving) <= shown


def test_doors_that_stand_open_are_drawn_as_thin_lines_out_of_the_way() -> None:
    case, step, earlier = next(s for s in steps_of(drawer_case()) if s[1].open_first)
    drawing = assembly_step(case, step, earlier)
    (door,) = (g for g in groups_of(drawing.items, "panel") if g.id in step.open_first)

    assert all(isinstance(p, Path) and p.fill is None for p in door.items)


def test_every_mark_is_written_or_told_as_out_of_sight() -> None:
    for case, step, earlier in steps_of(drawer_case()):
        if step.kind is StepKind.JOIN and len(step.moving) + len(step.onto) <= 9:
            drawing = assembly_step(case, step, earlier)
            written = {t.text for t in texts_of(drawing)}
            told = " ".join(drawing.notes)
            for panel in case.panels:
                if panel.id in {*step.moving, *step.onto}:
                    assert panel.mark in written or f"{panel.mark} {panel.name}" in told


def test_words_stand_clear_of_the_arrow() -> None:
    for case, step, earlier in steps_of(keyholes()):
        drawing = assembly_step(case, step, earlier)
        for arrow in groups_of(drawing.items, "move"):
            line = [p for p in arrow.items if isinstance(p, Path) and p.pen][-1]
            for text in texts_of(drawing):
                left, right, low, high = box_of(text, drawing.unit)
                for x, y in line.points:
                    assert not (left < x < right and low < y < high), (step.number, text.text)


def box_of(text: Text, unit: float) -> tuple[float, float, float, float]:
    """Return the box of a text, from its own drawing rule."""
    bounds = bounds_of([text], unit)
    return bounds.left, bounds.right, bounds.bottom, bounds.top


@pytest.mark.parametrize("down", list(Direction))
def test_the_work_lies_with_the_right_side_down_and_is_never_mirrored(down: Direction) -> None:
    for lying in (lying_on(down), lying_on(down).from_behind):
        step = Point(0.0, 0.0, 0.0).with_(down.axis, float(down.sign))
        assert lying.place(step) == Point(0.0, 0.0, -1.0)
        x, y, z = (lying.place(Point(*(float(n == k) for n in range(3)))) for k in range(3))
        across = Point(x.y * y.z - x.z * y.y, x.z * y.x - x.x * y.z, x.x * y.y - x.y * y.x)
        assert across == z  # the cross product of two right-hand axes is the third


@pytest.mark.parametrize(("down", "behind"), list(product(Direction, (False, True))))
def test_a_turned_box_keeps_its_volume(down: Direction, behind: bool) -> None:
    box = Box(Point(1.0, 2.0, 3.0), Point(11.0, 22.0, 33.0))
    lying = lying_on(down).from_behind if behind else lying_on(down)

    turned = lying.box(box)

    assert turned.volume == pytest.approx(box.volume)
    assert sorted(turned.size(a) for a in AXES) == pytest.approx([10.0, 20.0, 30.0])


def test_the_key_names_every_way_of_drawing_a_panel() -> None:
    drawing = assembly_key(("b18",))

    assert {t.text for t in texts_of(drawing)} == {"moves", "it rests on this", "stands already"}
    check(drawing)
