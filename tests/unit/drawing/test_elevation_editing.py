"""The elevation while a case is changed, and the case cut open beside it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from storyrod.adapters.files import job_from_text, read_job
from storyrod.drawing import Drawing, Editing, Entity, Group, Text, case_elevation, depth_section
from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Role
from storyrod.planning import Plan
from tests.places import EXAMPLES


@pytest.fixture(scope="module")
def case() -> DetailedCase:
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    return Plan(read.job, read.workshop).sketch.cases[0]


def groups(items: tuple[Entity, ...]) -> Iterator[Group]:
    for item in items:
        if isinstance(item, Group):
            yield item
            yield from groups(item.items)


def named(drawing: Drawing) -> dict[str, Group]:
    return {g.id: g for g in groups(drawing.items) if g.id}


def test_sizes_over_all_can_be_chosen(case: DetailedCase) -> None:
    plain, edited = case_elevation(case), case_elevation(case, editing=Editing())

    assert "A.width" not in named(plain)
    assert {"A.width", "A.height"} <= set(named(edited))
    assert "A.depth" in named(depth_section(case))


@pytest.mark.parametrize("thing", ["A.inside.1.2", "A.plinth", "A.height"])
def test_what_is_chosen_is_told_by_its_kind(case: DetailedCase, thing: str) -> None:
    drawing = case_elevation(case, fronts=False, editing=Editing(chosen=frozenset({thing})))
    chosen = [g.id for g in groups(drawing.items) if g.kind.endswith(" chosen")]

    assert chosen == [thing]


@pytest.mark.parametrize("thing", ["A.inside.1", "A.plinth", "A.width", "A"])
def test_a_fault_is_marked_with_its_word(case: DetailedCase, thing: str) -> None:
    drawing = case_elevation(case, fronts=False, editing=Editing(faults={thing: "fault: width", "B.nowhere": "x"}))
    marks = [g for g in groups(drawing.items) if g.kind == "fault-mark"]

    assert [m.id for m in marks] == [f"fault.{thing}"]
    assert [i.text for i in marks[0].items if isinstance(i, Text)] == ["× fault: width"]


def test_the_section_shows_what_stands_behind_one_another(case: DetailedCase) -> None:
    drawing = depth_section(case)
    cut = named(drawing)

    assert {"A.top", "A.base", "A.back", "A.plinth", "A.door-1"} <= set(cut)
    assert not any("drawer" in thing for thing in cut)
    assert drawing.paper_size[0] <= 70.0
    assert "450" in drawing.alt


@pytest.mark.parametrize("shelves", [0, 1, 2, 3])
@pytest.mark.parametrize("room", [(150.0, 130.0), (100.0, 90.0), (70.0, 60.0)])
def test_words_of_an_opening_lie_across_no_loose_shelf(shelves: int, room: tuple[float, float]) -> None:
    text = (EXAMPLES / "first-box.toml").read_text(encoding="utf-8").split("[cases.inside]")[0]
    told = job_from_text(f"{text}\n[cases.inside]\nloose_shelves = {shelves}\n", name="box.toml")
    (made,) = Plan(told.job, told.workshop).sketch.cases
    drawing = case_elevation(made, fronts=False, room=room)
    levels = [p.box.span(Axis.Z) for p in made.panels if p.role is Role.LOOSE_SHELF]
    words = [t for g in groups(drawing.items) if g.kind == "opening" for t in g.items if isinstance(t, Text)]

    assert len(levels) == shelves
    for word in words:
        half = (0.0 if word.angle_deg == 0.0 else 1e9) + word.height * drawing.unit / 2
        assert all(word.at[1] + half < low or word.at[1] - half > high for low, high in levels)
    sizes = [t.text for t in words if "×" in t.text]
    assert all(size.endswith(" in all") == bool(shelves) for size in sizes), "it could be read as one room's"
    assert sizes or room[0] < 100.0
