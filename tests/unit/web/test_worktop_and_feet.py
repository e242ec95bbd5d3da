"""A worktop and feet on the page: its ends dragged, a table made by its first field and taken away with it."""

from __future__ import annotations

import pytest

from storyrod.adapters.files.editing import Act, Change
from storyrod.adapters.files.reshaping import resize
from storyrod.adapters.web._acts import settled, tables_of
from storyrod.adapters.web._brief_chosen import chosen_of
from storyrod.adapters.web._brief_drawing import partings
from storyrod.adapters.web._brief_fields import Paper
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.model.detail import DetailedCase
from storyrod.model.job import Feet, Worktop
from tests import builders


def drawn() -> DetailedCase:
    """A case 600 x 720 on feet, its worktop 20 over the left side and flush with the right."""
    from storyrod.carcass import build

    made = builders.case(worktop=Worktop(front=30, left=20), feet=Feet(height=100))
    (built,) = build(builders.job(made), builders.workshop()).cases
    return DetailedCase(built=built, panels=built.panels, joints=(), features=built.fittings, connectors=())


def test_both_ends_of_a_worktop_can_be_dragged_outward_and_back_to_nothing() -> None:
    ends = {p.at: p for p in partings(drawn(), 0) if ".worktop." in p.at}

    left, right = ends["cases[0].worktop.left"], ends["cases[0].worktop.right"]
    assert (left.low, left.before, left.way, left.least) == (-20, 20, -1, 0)
    assert (right.low, right.before, right.way, right.least) == (600, 0, 1, 0)


def test_an_overhang_may_become_none_and_a_case_may_not() -> None:
    assert resize("cases[0].worktop.left", 0.0, Unit.MM) == [Change(path="cases[0].worktop.left", value=0)]
    with pytest.raises(JobError):
        resize("cases[0].width", 0.0, Unit.MM)


@pytest.mark.parametrize(("table", "field"), [("worktop", "front"), ("feet", "height"), ("skirting", "height")])
def test_the_first_field_left_empty_takes_the_whole_table_away(table: str, field: str) -> None:
    raw = tables_of(f'[[cases]]\ncode = "A"\n[cases.{table}]\n{field} = 100\nboard = "b"\n')

    gone = settled(raw, [Change(path=f"cases[0].{table}.{field}", value="")])
    assert gone == [Change(path=f"cases[0].{table}", act=Act.DELETE)]


def test_what_is_tapped_leads_to_its_fields() -> None:
    paper, case = Paper(raw={}, faults=()), drawn()

    groups = {at: chosen_of(paper, 0, at, case).group for at in ("A.worktop", "A.plinth-board", "A.feet")}
    assert groups == {"A.worktop": "worktop", "A.plinth-board": "feet", "A.feet": "feet"}
