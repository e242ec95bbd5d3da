"""Cost sheet, comparison and quotation as pages, and the plot: money as in the account, no secrets for a customer."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from storyrod.adapters.files import read_job
from storyrod.adapters.packet._blocks import Block, Row, Section
from storyrod.adapters.packet._ledger import (
    compare_section,
    cost_section,
)
from storyrod.drawing import Circle, Group, Path, Text, text_box
from storyrod.drawing.break_even import HEIGHT, WIDTH, break_even_plot
from storyrod.model.account import Account, CostKind, show_money
from storyrod.model.comparison import Comparison
from storyrod.planning import Plan
from storyrod.telling.blocks import Bullets, Heading, Table, Words
from tests.places import EXAMPLES

METHODS = ("dowels", "loose tenons", "one-part keyhole connector", "biscuits")


@pytest.fixture(scope="module")
def plan() -> Plan:
    read = read_job(EXAMPLES / "hymn-book-unit.toml")
    money = replace(read.workshop.money, overhead_share=0.25, margin_share=0.15)
    job = replace(read.job, customer="The choir's committee", maker="The shed")
    job = replace(job, cases=(replace(job.cases[0], count=3),))
    return Plan(job, replace(read.workshop, money=money))


@pytest.fixture(scope="module")
def told(plan: Plan) -> Account:
    return plan.account


@pytest.fixture(scope="module")
def comparison(plan: Plan) -> Comparison:
    return plan.compared(methods=METHODS)


def words_of(section: Section) -> str:
    return "\n".join(word for block in section.blocks for word in _words(block))


def _words(block: Block) -> list[str]:
    match block:
        case Words() | Heading():
            return [block.text]
        case Bullets():
            return list(block.items)
        case Table():
            return [block.title, *(cell for row in block.rows for cell in row), *(g for _, g in block.groups)]
        case Row():
            return [w for cell in block.cells for b in cell for w in _words(b)]
        case _:
            return []


def money_in(table: Table) -> list[int]:
    """Return the last column in cents."""
    return [round(float(row[-1].replace(",", "")) * 100) for row in table.rows]


def test_the_lines_of_the_cost_sheet_add_up_to_the_price(told: Account) -> None:
    table = next(b for b in cost_section(told).blocks if isinstance(b, Table) and b.title == "Money")

    assert sum(money_in(table)) == told.price_cents
    assert [w.split(":")[0].lower() for _, w in table.groups] == [
        k.value for k in CostKind if any(x.kind is k for x in told.lines)
    ]


def test_the_cost_sheet_says_the_price(told: Account) -> None:
    text = words_of(cost_section(told))

    assert f"price {show_money(told.price_cents, 'EUR')} for 3 carcasses" in text


def test_the_comparison_has_a_row_a_method_and_says_what_does_not_fit(comparison: Comparison) -> None:
    text = words_of(compare_section(comparison))

    assert "dowels *" in text
    assert "buy the loose-tenon cutter" in text
    assert "biscuits" in text
    assert text.count("It needs a disc cutter") == 1
    assert "When does it pay against dowels?" in text


def test_the_plot_starts_at_the_outlay_and_crosses_nought_where_it_pays(comparison: Comparison) -> None:
    drawing = break_even_plot(comparison, "one-part keyhole connector")
    told = comparison.between("one-part keyhole connector", "loose tenons")

    assert drawing is not None
    assert told is not None
    assert told.at is not None
    group = next(i for i in drawing.items if isinstance(i, Group) and i.name == "loose tenons")
    line = next(i for i in group.items if isinstance(i, Path))
    mark = next(i for i in group.items if isinstance(i, Circle))
    (x0, y0), (x1, y1) = line.points
    assert (x0, x1 <= WIDTH + 1e-9, -1e-9 <= y1 <= HEIGHT + 1e-9) == (0.0, True, True)
    on_line = y0 + (y1 - y0) * (mark.centre[0] - x0) / (x1 - x0)
    assert mark.centre[1] == pytest.approx(on_line)
    assert 0 < mark.centre[0] < WIDTH


def test_nothing_of_the_plot_lies_outside_and_no_words_meet(comparison: Comparison) -> None:
    for base in (None, "one-part keyhole connector"):
        drawing = break_even_plot(comparison, base)
        assert drawing is not None
        for item in drawing.flat():
            if isinstance(item, Path) and item.fill is not None and item.pen is None and item.points[0][1] < HEIGHT:
                assert all(-1e-6 <= x <= WIDTH + 1e-6 and -1e-6 <= y <= HEIGHT + 1e-6 for x, y in item.points)
        boxes = [text_box(t, drawing.unit) for t in drawing.flat() if isinstance(t, Text)]
        assert [(a, b) for n, a in enumerate(boxes) for b in boxes[n + 1 :] if a.meets(b)] == []


def test_there_is_no_plot_where_nothing_is_laid_out_more(comparison: Comparison) -> None:
    assert break_even_plot(comparison, "loose tenons") is None
    assert break_even_plot(comparison, "no such method") is None


def test_batches_on_the_sheet_take_ever_less_a_carcass(told: Account) -> None:
    assert all(a.each_min >= b.each_min for a, b in pairwise(told.batches))
