"""The printed figures are proven by themselves: whatever is put wrong between the plan and the paper is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from storyrod import carcass, joinery, setout
from storyrod.adapters.files import packaged_workshop
from storyrod.measure.length import Unit
from storyrod.measure.space import Axis
from storyrod.model.detail import Choices, Details
from storyrod.model.job import Plinth
from storyrod.model.mark import JointLine, Mark, PanelSetOut, SetOut
from storyrod.model.panel import PanelId
from storyrod.model.proof import Claim, Proof
from storyrod.proof import prove
from tests.builders import board, boards, case, columns, door, drawer, job, opening, rows, shelves

PRINTED = (Claim.PRINTED_LENGTHS, Claim.PRINTED_MATES, Claim.PRINTED_PATTERNS, Claim.PRINTED_ROOM)


@cache
def detailed(unit: Unit = Unit.MM) -> Details:
    """Return a case of 17.7 board with a drawer, a door, pins, a divider and shelves on both sides of it."""
    shop = packaged_workshop()
    inside = columns(rows(drawer(), drawer(), opening()), rows(door(), shelves(1), opening()))
    plinth = Plinth(height=83.3, setback=33.3, field="cases[0].plinth")
    made = job(
        case(width=1100.0, height=1223.3, inside=inside, plinth=plinth),
        boards=(board(measured=17.7), *boards()[1:]),
        unit=unit,
    )
    return joinery.detail(joinery.join(carcass.build(made, shop), shop), Choices())


@cache
def drawn(unit: Unit = Unit.MM) -> SetOut:
    return setout.set_out(detailed(unit))


def proof_of(out: SetOut, unit: Unit = Unit.MM) -> Proof:
    return prove(detailed(unit), out)


def changed(out: SetOut, panel: str, change: Callable[[PanelSetOut], PanelSetOut]) -> SetOut:
    (only,) = out.cases
    panels = tuple(change(p) if p.panel.id == PanelId(f"A.{panel}") else p for p in only.panels)
    return replace(out, cases=(replace(only, panels=panels),))


def with_marks(which: Callable[[Mark], bool], **by: float) -> Callable[[PanelSetOut], PanelSetOut]:
    def change(out: PanelSetOut) -> PanelSetOut:
        marks = tuple(replace(m, **{k: getattr(m, k) + v for k, v in by.items()}) if which(m) else m for m in out.marks)
        return replace(out, marks=marks)

    return change


def with_line(mate: str, by: float) -> Callable[[PanelSetOut], PanelSetOut]:
    def moved(line: JointLine) -> JointLine:
        if line.mate != PanelId(f"A.{mate}"):
            return line
        return replace(line, near=line.near + by, far=line.far + by, face_side_line=line.face_side_line + by)

    return lambda out: replace(out, lines=tuple(moved(n) for n in out.lines))


def failing(proof: Proof) -> set[Claim]:
    return {c for c in PRINTED if not proof.of(c).passed}


@pytest.mark.parametrize("unit", list(Unit))
def test_a_sound_set_out_is_sound_on_paper_and_enough_of_it_is_looked_at(unit: Unit) -> None:
    proof = proof_of(drawn(unit), unit)

    assert not failing(proof), proof.faults
    assert proof.of(Claim.PRINTED_LENGTHS).checked > 50
    assert proof.of(Claim.PRINTED_MATES).checked > 30
    assert proof.of(Claim.PRINTED_PATTERNS).checked == 2 + 2 + 2 + 1  # runners and box sides, hinges, pins
    assert proof.of(Claim.PRINTED_ROOM).checked == 4


def test_a_divider_marked_off_its_place_makes_its_shelves_too_long() -> None:
    """Half a tenth: it would be lost where lines were printed to the half and lengths to the tenth."""
    proof = proof_of(changed(drawn(), "base", with_line("divider-1", 0.05)))

    assert Claim.PRINTED_LENGTHS in failing(proof)
    assert "one figure for both" in {f.allowed for f in proof.faults}


def test_an_opening_told_larger_than_its_lines_is_told() -> None:
    (only,) = drawn().cases
    first = next(o for o in only.openings if not o.children)
    low, high = first.box.span(Axis.Z)
    larger = replace(first, box=first.box.with_span(Axis.Z, low, high + 0.1))
    openings = tuple(larger if o is first else o for o in only.openings)

    proof = proof_of(replace(drawn(), cases=(replace(only, openings=openings),)))

    assert failing(proof) == {Claim.PRINTED_LENGTHS}


def test_a_line_rounded_on_one_side_alone_parts_the_mates() -> None:
    """The shelf's line moves on the side by a quarter, its holes there do not."""
    proof = proof_of(changed(drawn(), "side-left", with_line("shelf-1", 0.25)))

    assert Claim.PRINTED_MATES in failing(proof)


def test_a_station_told_otherwise_on_one_mate_is_told() -> None:
    number = next(m for m in drawn().of(PanelId("A.base")).marks if m.mate).number
    proof = proof_of(changed(drawn(), "base", with_marks(lambda m: m.number == number, v=0.1)))

    assert Claim.PRINTED_MATES in failing(proof)


@pytest.mark.parametrize(
    ("panel", "item"), [("side-left", "side light"), ("divider-1", "cup hinge"), ("side-right", "shelf pin")]
)
def test_a_pattern_out_by_a_tenth_is_told(panel: str, item: str) -> None:
    out = drawn()
    of_item = [m for m in out.of(PanelId(f"A.{panel}")).marks if m.feature.item == item]
    if not of_item:
        (panel, of_item) = next(
            (str(p.panel.id)[2:], [m for m in p.marks if m.feature.item == item])
            for p in out.cases[0].panels
            if any(m.feature.item == item for m in p.marks) and p.panel.body == "carcass"
        )
    proof = proof_of(changed(out, panel, with_marks(lambda m: m.number == of_item[0].number, u=0.1)))

    assert Claim.PRINTED_PATTERNS in failing(proof)


def test_a_fittings_cut_that_is_kept_to_nothing_is_told() -> None:
    (only,) = drawn().cases
    panels = tuple(
        replace(
            p,
            marks=tuple(
                replace(m, feature=replace(m.feature, pattern="")) if m.feature.item == "shelf pin" else m
                for m in p.marks
            ),
        )
        for p in only.panels
    )
    proof = proof_of(replace(drawn(), cases=(replace(only, panels=panels),)))

    assert failing(proof) == {Claim.PRINTED_PATTERNS}


def test_a_drawer_lifted_against_what_is_over_it_is_told() -> None:
    """All the runner's marks on both uprights go up together, so its pattern holds, and its room above is gone."""
    pattern = next(
        m.feature.pattern for m in drawn().of(PanelId("A.side-left")).marks if m.feature.pattern.endswith("-runner")
    )
    out = drawn()
    for panel in ("side-left", "divider-1"):
        out = changed(out, panel, with_marks(lambda m: m.feature.pattern == pattern, u=9.5))
    proof = proof_of(out)

    assert failing(proof) == {Claim.PRINTED_ROOM}
