"""Money: whole cents that add up in every view."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.faults import JobError
from storyrod.ledger import account, terms_of
from storyrod.model.account import (
    MATERIALS,
    Account,
    CostKind,
    CostLine,
    Terms,
    UnpricedKind,
    share_out,
    show_money,
    whole_cents,
)
from storyrod.model.detail import Details
from storyrod.model.job import Edging, Job
from storyrod.model.learning import Learning
from storyrod.model.workshop import Money, Workshop
from storyrod.planning import Plan
from tests import builders
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.ledger import small

SHOP = packaged_workshop()


@given(
    cents=st.integers(-10_000_000, 10_000_000),
    weights=st.lists(st.floats(0, 1e6, allow_nan=False), min_size=1, max_size=12),
)
def test_shares_add_up_and_are_within_a_cent_of_exact(cents: int, weights: list[float]) -> None:
    shares = share_out(cents, weights)

    assert sum(shares) == cents
    whole = sum(map(Fraction, weights))
    for share, weight in zip(shares, weights, strict=True):
        exact = Fraction(cents) * Fraction(weight) / whole if whole else Fraction(cents, len(weights))
        assert abs(share - exact) < 1


def test_equal_remainders_go_to_the_earlier_one() -> None:
    assert share_out(100, [1, 1, 1]) == (34, 33, 33)
    assert share_out(-100, [1, 1, 1]) == (-34, -33, -33)
    assert share_out(5, []) == ()
    with pytest.raises(ValueError, match="negative"):
        share_out(5, [1, -1])


def test_cents_are_rounded_half_up_and_written_plainly() -> None:
    assert [whole_cents(x) for x in (0.5, 1.49, 2.5, -0.5)] == [1, 1, 3, 0]
    assert [show_money(c, "EUR") for c in (0, 5, 123_456, -250)] == [
        "0.00 EUR",
        "0.05 EUR",
        "1,234.56 EUR",
        "-2.50 EUR",
    ]


def holds(told: Account) -> None:
    """Assert that every view of an account's money adds up to the cent."""
    for line in told.lines:
        assert sum(line.by_case) == line.cents, line
    assert sum(told.cents_of(kind) for kind in CostKind) == told.price_cents
    assert told.cost_cents + told.cents_of(CostKind.MARGIN) == told.price_cents
    for n, case in enumerate(told.cases):
        assert case.cost_cents == sum(x.by_case[n] for x in told.lines if x.kind is not CostKind.MARGIN)
        assert case.price_cents == sum(x.by_case[n] for x in told.lines)
        assert case.price_cents == case.count * case.each_price_cents
        assert case.price_cents >= case.cost_cents
        assert case.cost_cents % case.count == 0, "one costs whole cents"
    if told.terms.margin_share == 0:
        assert told.price_cents == told.cost_cents
    assert sum(c.cost_cents for c in told.cases) == told.cost_cents
    assert sum(c.price_cents for c in told.cases) == told.price_cents
    assert told.cash_cents == sum(told.cents_of(k) for k in MATERIALS)
    assert sum(cents for _, cents in told.outlay) == told.outlay_cents


@pytest.fixture(scope="module")
def units() -> tuple[Details, Workshop]:
    read = read_job(EXAMPLES / "low-units.toml")
    return Plan(read.job, read.workshop).details, read.workshop


terms = st.builds(
    Terms,
    rate_cents_per_h=st.integers(0, 20_000),
    overhead_share=st.floats(0, 2),
    margin_share=st.just(0.0) | st.floats(0, 1),
    carcasses_per_year=st.one_of(st.just(0.0), st.floats(0.5, 5000)),
    interest_per_year=st.floats(0, 0.5),
    write_off_years=st.floats(0.5, 30),
    allowance_share=st.floats(0, 0.5),
    spare_share=st.floats(0, 0.3),
    scrap_share=st.floats(0, 1),
    learning=st.one_of(st.none(), st.builds(Learning, rate=st.floats(0.51, 1.0), done=st.integers(0, 50))),
)


@settings(max_examples=40)
@given(terms=terms, counts=st.tuples(st.integers(1, 30), st.integers(1, 30)))
def test_every_view_adds_up_to_the_cent(units: tuple[Details, Workshop], terms: Terms, counts: tuple[int, int]) -> None:
    details, workshop = units
    cases = tuple(
        replace(c, built=replace(c.built, case=replace(c.built.case, count=n)))
        for c, n in zip(details.cases, counts, strict=True)
    )

    holds(account(replace(details, cases=cases), workshop, terms=terms))


@pytest.mark.parametrize("example", sorted(p.stem for p in EXAMPLES.glob("*.toml") if p.stem != "choir-workshop"))
def test_without_a_margin_the_price_of_an_example_is_its_cost(example: str) -> None:
    read = read_job(EXAMPLES / f"{example}.toml")
    details = Plan(read.job, read.workshop).details
    told = account(details, read.workshop, terms=replace(terms_of(read.workshop.money), margin_share=0.0))

    holds(told)
    assert told.price_cents == told.cost_cents > 0


@settings(max_examples=4, deadline=None)
@given(
    job=jobs(SHOP, most_panels=24),
    counts=st.lists(st.integers(1, 7), min_size=2, max_size=2),
    rate=st.integers(0, 9000),
)
def test_without_a_margin_the_price_of_a_random_job_is_its_cost(job: Job, counts: list[int], rate: int) -> None:
    cases = tuple(replace(c, count=n) for c, n in zip(job.cases, counts, strict=False))
    try:
        details = Plan(replace(job, cases=cases), SHOP).details
    except JobError:
        reject()
    told = account(details, SHOP, terms=Terms(rate_cents_per_h=rate, overhead_share=0.3))

    holds(told)
    assert told.price_cents == told.cost_cents


def test_what_makes_one_cost_whole_cents_is_a_line_of_its_own() -> None:
    """One box costs 21.10 of labour, 12.97 of board and pegs; three of them come to a sum that three do not part."""
    workshop = small.shop(money=Money(rate_cents_per_h=3001))
    told = account(small.boxes(workshop, small.box(count=3)), workshop)
    plain = sum(line.cents for line in told.lines if line.kind is not CostKind.ROUNDING)

    assert plain % 3 != 0
    (line,) = (x for x in told.lines if x.kind is CostKind.ROUNDING)
    assert (line.cents, line.quantity, line.unit) == (-plain % 3, -plain % 3, "cents")
    assert told.price_cents == told.cost_cents == plain + line.cents


def test_a_plan_with_its_layout_adds_up_too() -> None:
    read = read_job(EXAMPLES / "low-units.toml")
    plan = Plan(read.job, read.workshop)
    told = account(plan.details, plan.workshop, run=plan.machining, sheets=plan.sheets)

    holds(told)
    assert told.cents_of(CostKind.SHEETS) == plan.sheets.cents


def test_one_box_by_hand() -> None:
    """Labour 42.2 min at 30 an hour is 21.10. Twelve pegs and one spare of a pack of 100 at 5.00 are 0.65.

    Board without a layout: (2 x 720 x 400 + 2 x 564 x 400) mm2 / 0.82 at 60.00 for 2800 x 2070 = 12.97. Overhead half
    of labour 10.55. Tools: 100 and 500 over five years without interest, at ten carcasses a year, 2.00 and 10.00. Cost
    57.27; a tenth of margin makes 62.997, up to 63.00.
    """
    workshop = small.shop(
        money=Money(
            rate_cents_per_h=3000, overhead_share=0.5, margin_share=0.1, carcasses_per_year=10, write_off_years=5
        )
    )
    told = account(small.boxes(workshop), workshop)

    assert {k: told.cents_of(k) for k in CostKind if told.cents_of(k)} == {
        CostKind.SHEETS: 1297,
        CostKind.CONNECTORS: 65,
        CostKind.LABOUR: 2110,
        CostKind.TOOLS: 1200,
        CostKind.OVERHEAD: 1055,
        CostKind.MARGIN: 573,
    }
    assert (told.cost_cents, told.price_cents) == (5727, 6300)


def test_packs_are_bought_whole_less_what_lies_in_the_drawer() -> None:
    """Ten boxes take 120 pegs and 6 spare; ten lie in the drawer: two packs of 100."""
    workshop = small.shop()
    told = account(small.boxes(workshop, small.box(count=10)), workshop)
    pegs = next(b for b in told.to_buy if b.item == "pegs 8 x 35")

    assert (pegs.uses, pegs.spare, pegs.on_hand, pegs.packs, pegs.cents) == (120, 6, 10, 2, 1000)


def test_what_has_no_price_is_left_out_and_named() -> None:
    workshop = small.shop(prices=())
    told = account(small.boxes(workshop), workshop)

    assert told.unpriced == ("pegs 8 x 35",)
    assert "13 \u00d7 pegs 8 x 35" in told.missing_words
    assert told.at_least
    assert [b.item for b in told.to_buy if b.cents is None] == ["pegs 8 x 35"]


def test_edging_is_bought_by_the_metre_with_a_tenth_spare() -> None:
    """A box 600 x 720 x 400 with tape on its front edges: 2 x 720 + 2 x 564 = 2.568 m, 2.825 m with spare, at 1.20."""
    tape = Edging(code="tape", name="tape", thickness=1.0, price_cents_per_m=120)
    boards = (replace(builders.board(), edging="tape"), *builders.boards()[1:])
    workshop = small.shop()
    told = account(small.boxes(workshop, boards=boards, edgings=(tape,)), workshop)

    assert told.cents_of(CostKind.EDGING) == 339


def test_an_hour_that_costs_nothing_is_said() -> None:
    workshop = small.shop(money=Money())
    told = account(small.boxes(workshop), workshop)

    assert told.cents_of(CostKind.LABOUR) == 0
    assert [m.kind for m in told.missing] == [UnpricedKind.LABOUR]
    assert told.missing[0].amount == pytest.approx(told.minutes.usual)
    assert told.missing_words.startswith("No price is set for ")
    assert "minutes of work" in told.missing_words
    assert any("not written off" in n for n in told.notes)


def test_learning_slows_the_joinery_alone() -> None:
    """New to it at 80 %, standard at the second: the first takes 1/0.8 of the joinery's 26.2 minutes, sawing stays."""
    workshop = small.shop()
    slow = replace(Terms(), learning=Learning(rate=0.8, standard_at=2))
    plain = account(small.boxes(workshop), workshop, terms=Terms())
    told = account(small.boxes(workshop), workshop, terms=slow)

    assert plain.minutes.usual == pytest.approx(42.2)
    assert told.minutes.usual == pytest.approx(16 + 26.2 / 0.8)
    assert any("each time the number of carcasses doubles" in n for n in told.notes)


def test_the_allowance_is_added_to_all_labour() -> None:
    workshop = small.shop()
    told = account(small.boxes(workshop), workshop, terms=Terms(allowance_share=0.15))

    assert told.minutes.usual == pytest.approx(42.2 * 1.15)


@pytest.mark.parametrize(
    ("quantity", "unit", "word"),
    [(1, "carcasses", "carcass"), (2, "carcasses", "carcasses"), (1, "pieces", "piece"), (1, "min", "min")],
)
def test_a_line_says_its_unit_with_its_quantity(quantity: float, unit: str, word: str) -> None:
    line = CostLine(
        kind=CostKind.CONNECTORS, what="dowel", quantity=quantity, unit=unit, basis="each", cents=1, by_case=(1,)
    )
    assert line.unit_word == word
