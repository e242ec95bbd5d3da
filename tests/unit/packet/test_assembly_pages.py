"""The pages of assembly: every step with its picture, its words and a tick box, and equal drawers told once."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from pypdf import PdfReader

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.packet import _assembly
from storyrod.adapters.packet._assembly import assembly_sections
from storyrod.adapters.packet._blocks import Block, Packet, Row, Section, Together
from storyrod.adapters.packet._machining import count_section
from storyrod.adapters.packet._page_room import height_of
from storyrod.adapters.packet._typeset import room_on, typeset
from storyrod.measure.length import show_mm
from storyrod.model.assembly import Step, StepKind
from storyrod.planning import Plan
from storyrod.telling.blocks import TICK, Bullets, Heading, Picture, Table, Warning_, Words
from storyrod.telling.shown import Shown
from storyrod.telling.steps_alike import runs_of
from storyrod.telling.wall import wall_blocks
from tests import builders
from tests.places import EXAMPLES


@cache
def cabinet() -> Plan:
    """Return the rehearsal room's cabinet: four drawers alike but for their heights, a door, two loose shelves."""
    told = read_job(EXAMPLES / "rehearsal-room.toml")
    return Plan(told.job, told.workshop)


@cache
def keyholes() -> Plan:
    """Return units that are knocked down, made twice over."""
    told = read_job(EXAMPLES / "low-units.toml")
    return Plan(told.job, told.workshop)


@cache
def sections(which: str = "cabinet") -> tuple[Section, ...]:
    return assembly_sections(cabinet() if which == "cabinet" else keyholes())


def all_blocks(blocks: tuple[Block, ...]) -> Iterator[Block]:
    """Yield every block, those side by side too."""
    for block in blocks:
        yield block
        if isinstance(block, Row):
            for cell in block.cells:
                yield from all_blocks(cell)
        elif isinstance(block, Together):
            yield from all_blocks(block.blocks)


def opened(section: Section) -> Iterator[Block]:
    """Yield the blocks of a section one under another, those that stay together too."""
    for block in section.blocks:
        yield from block.blocks if isinstance(block, Together) else (block,)


def told_in(section: Section) -> str:
    """Return all words of a section."""
    found: list[str] = []
    for block in all_blocks(section.blocks):
        match block:
            case Words() | Heading() | Warning_():
                found.append(block.text)
            case Bullets():
                found += block.items
            case Table():
                found += [block.title, *(cell for row in block.rows for cell in row)]
            case _:
                pass
    return "\n".join(found)


def steps_told(section: Section) -> list[int]:
    """Return the numbers of all steps: those with a picture, and those of twins in tables."""
    found = [int(b.text.split(".")[0]) for b in opened(section) if isinstance(b, Heading) and b.text[0].isdigit()]
    for block in opened(section):
        if isinstance(block, Table) and block.title.startswith("The same for"):
            found += [int(row[0]) for row in block.rows]
    return sorted(found)


@pytest.mark.parametrize("which", ["cabinet", "keyholes"])
def test_every_step_of_every_case_is_told_once(which: str) -> None:
    plan = cabinet() if which == "cabinet" else keyholes()
    for section, told in zip(sections(which), plan.assembly.cases, strict=True):
        assert steps_told(section) == [s.number for s in told.steps]


def twin_rows(section: Section) -> list[tuple[str, ...]]:
    """Return the rows of the tables that tell what goes the same for others."""
    return [r for b in opened(section) if isinstance(b, Table) and b.title.startswith("The same") for r in b.rows]


def test_every_step_has_a_tick_box() -> None:
    (section,) = sections()
    ticks = 0
    for block in all_blocks(section.blocks):
        if isinstance(block, Bullets) and block.ticks:
            ticks += len(block.items)
        elif isinstance(block, Table):
            ticks += sum(row.count(TICK) for row in block.rows)

    plan = cabinet()
    steps = plan.assembly.cases[0].steps
    told = {s.number for s in steps} - {int(row[0]) for row in twin_rows(section)}
    wall = wall_blocks(plan.details.cases[0], plan.tipping["A"], Shown.of(plan.job))
    to_fix = next(len(b.items) for b in wall if isinstance(b, Bullets))
    assert ticks == len(steps) + sum(len(s.by_hand) for s in steps if s.number in told) + to_fix


def test_the_count_sheet_names_everything_that_is_fixed_by_hand() -> None:
    section = count_section(cabinet())
    tables = [b for b in opened(section) if isinstance(b, Table)]
    rows = [row[1] for row in tables[-1].rows]

    wanted = [one for s in cabinet().assembly.cases[0].steps for one in s.by_hand]
    assert len(rows) == len(wanted)
    for one, row in zip(wanted, rows, strict=True):
        assert row.startswith(one.name)
        assert all(f"{u.count} \u00d7 {u.item}" in row for u in one.uses)


def test_equal_drawers_are_told_once() -> None:
    (section,) = sections()
    pictures = [b for b in all_blocks(section.blocks) if isinstance(b, Picture)]
    titles = [b.title for b in opened(section) if isinstance(b, Table)]

    assert "The same for drawer 3, drawer 2 and drawer 1" in titles
    assert len(pictures) - 1 < len(cabinet().assembly.cases[0].steps) / 2


def test_twins_keep_their_own_connectors_and_diagonals() -> None:
    (section,) = sections()
    twins = next(b for b in opened(section) if isinstance(b, Table) and "drawer 3, " in b.title)
    rows = {int(row[0]): row for row in twins.rows}
    for step in cabinet().assembly.cases[0].steps:
        if step.number in rows:
            words = " ".join(rows[step.number])
            for one in step.fit_first:
                assert one.item in words
            if step.diagonals is not None:
                assert show_mm(step.diagonals.length) in words
            for used in (u for one in step.by_hand for u in one.uses):
                assert used.item in words
            assert (f"{step.moved_kg:.1f}" in words) is (step.kind is not StepKind.FIT)


def test_steps_that_differ_are_not_told_as_alike() -> None:
    """Doors hung on the left and on the right are two steps to be drawn."""
    told = read_job(EXAMPLES / "robe-cupboard.toml")
    steps = Plan(told.job, told.workshop).assembly.cases[0].steps
    doors = [s for s in steps if s.kind is StepKind.DOOR]

    assert len(doors) == 2
    assert [len(run.twins) for run in runs_of(doors)] == [0, 0]


def test_another_length_in_the_words_parts_twins() -> None:
    """A pilot a millimetre shallower is not told as the same: the table of the others has no column for it."""
    run = next(r for r in runs_of(cabinet().assembly.cases[0].steps) if r.twins)
    (twin, *_) = run.twins

    def shallower(step: Step) -> Step:
        by_hand = tuple(replace(one, text=re.sub(r"pilots (\S+)", r"pilots 1\1", one.text)) for one in step.by_hand)
        return replace(step, by_hand=by_hand)

    assert any(s != shallower(s) for s in twin)
    assert len(runs_of((*run.steps, *twin))) == 1
    assert len(runs_of((*run.steps, *map(shallower, twin)))) == 2


def test_a_different_number_of_joints_parts_twins() -> None:
    steps = [s for s in cabinet().assembly.cases[0].steps if s.kind is StepKind.FRONT]
    assert len(runs_of(steps)) == 1

    other = replace(steps[1], text="Glue it on.")
    assert len(runs_of([steps[0], other])) == 2


def test_the_words_of_a_step_say_all_that_the_plan_says() -> None:
    (section,) = sections()
    told = told_in(section)
    drawn = {int(b.text.split(".")[0]) for b in opened(section) if isinstance(b, Heading) and b.text[0].isdigit()}
    for step in cabinet().assembly.cases[0].steps:
        if step.number not in drawn:
            continue
        for sentence in (step.text, step.do_not_turn, *step.hold):
            assert sentence in told
        for one in step.fit_first:
            assert one.item in told
        if step.diagonals is not None:
            assert show_mm(step.diagonals.length) in told
            assert f"{show_mm(step.diagonals.allowed)} at most" in told


def test_cautions_stand_with_their_step_and_name_where_they_were_told() -> None:
    (section,) = sections("cabinet")
    told = told_in(section)
    warnings = [b for b in all_blocks(section.blocks) if isinstance(b, Warning_)]

    assert {"Turning the work", "Lifting", "Tipping"} <= {w.title for w in warnings}
    # What is lifted or turned twice takes as many people each time.
    others = [w.text for w in warnings if w.title not in {"Lifting", "Turning the work"}]
    assert len(set(others)) == len(others)
    assert "tip over" in told


def test_glue_that_takes_longer_than_its_open_time_is_told() -> None:
    late = [t for t in cabinet().assembly.cases[0].glue if t.over_min > 0.01]
    assert late

    told = told_in(sections()[0])
    assert "This glue-up takes about" in told
    assert "Use a glue that stays open" in told


@pytest.mark.parametrize("which", ["cabinet", "keyholes"])
def test_a_caution_is_in_full_on_every_step_that_it_is_for(which: str) -> None:
    """A lift, a turn, a tip: never only a hint at another step; for twins in a table, right above it."""
    plan = cabinet() if which == "cabinet" else keyholes()
    for section, case in zip(sections(which), plan.assembly.cases, strict=True):
        warnings = [b.text for b in all_blocks(section.blocks) if isinstance(b, Warning_)]
        in_table = {int(row[0]) for row in twin_rows(section)}
        told = [(s.number, c) for s in case.steps for c in s.cautions if c.code != "open-time"]
        for number, caution in told:
            own = [w for w in warnings if caution.text in w]
            if number in in_table:
                own = [w for w in own if w.startswith("Step") and str(number) in w.partition(":")[0]]
            assert own
        alike = [c.text for number, c in told if number not in in_table and c.code == "turning"]
        assert sum(any(t in w for t in alike) for w in warnings if not w.startswith("Step")) == len(alike)


@pytest.mark.parametrize("which", ["cabinet", "keyholes"])
def test_every_step_says_how_many_people_and_clamps(which: str) -> None:
    plan = cabinet() if which == "cabinet" else keyholes()
    for section, case in zip(sections(which), plan.assembly.cases, strict=True):
        told = told_in(section)
        assert all(step.hands in told for step in case.steps)


def test_taking_apart_is_told_for_what_is_knocked_down() -> None:
    for section, told in zip(sections("keyholes"), keyholes().assembly.cases, strict=True):
        assert told.parting
        words = told_in(section)
        assert "Taking it apart again" in words
        for parting in told.parting:
            assert parting.text in words


def test_a_case_made_twice_says_so() -> None:
    assert "2 of this case are made" in told_in(sections("keyholes")[0])


@pytest.mark.parametrize("which", ["cabinet", "keyholes"])
def test_three_steps_go_on_a_page_and_each_keeps_its_picture(which: str) -> None:
    """A step is one block that no page parts; alike ones are told in a table."""
    made = sections(which)
    job = (cabinet() if which == "cabinet" else keyholes()).job
    packet = Packet(title="t", mark="v", maker="", date="", paper=job.paper.value, sections=made)
    pages = PdfReader(io.BytesIO(typeset(packet))).pages
    headed = [b for s in made for b in s.blocks if isinstance(b, Together) and isinstance(b.blocks[0], Heading)]
    steps = [b for b in headed if b.blocks[0].text[0].isdigit()]  # type: ignore[union-attr]

    assert all(any(isinstance(p, Picture) for p in all_blocks(b.blocks)) for b in steps)
    assert len(steps) / len(pages) > 2.4


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_rows_are_no_higher_than_a_page(paper: str) -> None:
    width, height = room_on(paper)
    job = replace(builders.job(builders.case()), paper=type(builders.job().paper)(paper))
    (section,) = assembly_sections(Plan(job, packaged_workshop()))

    assert all(height_of(b, width) < height for b in opened(section))


def test_weights_and_persons_are_told() -> None:
    told = told_in(sections()[0])
    step: Step = next(s for s in cabinet().assembly.cases[0].steps if s.persons > 1)

    assert f"Needs {step.persons} people" in told
    assert f"{step.whole_kg:.1f} kg" in told


def test_no_picture_is_wider_than_its_share() -> None:
    width, _ = room_on("A4")
    for block in sections()[0].blocks:
        if isinstance(block, Row):
            (picture,) = block.cells[0]
            assert isinstance(picture, Picture)
            assert picture.drawing.paper_size[0] <= width * _assembly._PICTURE_SHARE
