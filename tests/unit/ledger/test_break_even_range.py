"""The range of a break-even: what two methods share cancels, and never is said when never is the truth."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from storyrod.ledger import pay_words
from storyrod.ledger._break_even import Draws, Running, break_even
from storyrod.model.account import Terms, about
from storyrod.model.comparison import BreakEven
from storyrod.model.work import Minutes, Stage, WorkItem

TERMS = Terms(rate_cents_per_h=6000, carcasses_per_year=20, interest_per_year=0.05, write_off_years=5, currency="EUR")


def act(name: str, low: float, usual: float, high: float, count: float = 1.0) -> WorkItem:
    return WorkItem(act=name, stage=Stage.MACHINE, each=Minutes(low=low, usual=usual, high=high), count=count)


def running(name: str, *items: WorkItem, tools: float = 0.0, other: float = 0.0) -> Running:
    return Running(
        method=name,
        name=name,
        tools_cents=tools,
        jig_cents=0.0,
        jig_min=0.0,
        other_cents=other,
        items=items,
        carcasses=1,
    )


def told(a: Running, b: Running, terms: Terms = TERMS) -> BreakEven:
    return break_even(a, b, terms, Draws([a, b]))


def test_usual_figures_give_the_plain_quotient() -> None:
    """40.00 laid out more; 2 minutes saved at 1.00 a minute: twenty carcasses."""
    found = told(running("hand", act("saw", 4, 5, 6)), running("machine", act("plane", 2, 3, 4), tools=4000))

    assert (found.cheap, found.dear) == ("hand", "machine")
    assert (found.outlay_cents, found.saves_cents, found.saves_min) == (4000, 200, 2)
    assert found.at == pytest.approx(20)
    assert found.low is not None
    assert found.low < 20 < (found.high or 1e9)


def test_what_both_do_cancels() -> None:
    """However uncertain the sanding is, both do it: the range is as narrow as without it."""
    sanding = act("sand", 10, 60, 200)
    plain = told(running("a", act("saw", 4, 5, 6)), running("b", act("plane", 2, 3, 4), tools=4000))
    both = told(running("a", act("saw", 4, 5, 6), sanding), running("b", act("plane", 2, 3, 4), sanding, tools=4000))

    assert both.at == pytest.approx(plain.at)
    assert (both.low, both.high) == pytest.approx((plain.low, plain.high), rel=0.1)


def test_marks_and_never_agree_with_the_normal_distribution() -> None:
    """5 +- 1 less 3 +- 1 (tenth marks) is normal about 2: never pays where it is below 0; N is 20 x 2 / d."""
    a, b = running("a", act("saw", 4, 5, 6)), running("b", act("plane", 2, 3, 4), tools=4000)
    found = break_even(a, b, TERMS, Draws([a, b], draws=200_000))
    saved = stats.norm(2, 2**0.5 / stats.norm.ppf(0.9))

    assert found.never_share == pytest.approx(saved.cdf(0), abs=0.005)
    assert found.low == pytest.approx(40 / saved.ppf(0.9), rel=0.01)
    assert found.high == pytest.approx(40 / saved.ppf(0.1), rel=0.05)


def test_never_is_said_when_it_may_be() -> None:
    found = told(running("a", act("saw", 3, 5, 7)), running("b", act("plane", 2, 4, 6), tools=4000))

    assert found.at == pytest.approx(40)
    assert found.high is None
    assert found.low is not None
    assert pay_words(found) == f"It pays after about 40 carcasses, between {about(found.low)} and never."


def test_what_costs_more_and_takes_as_long_does_not_pay() -> None:
    same = act("saw", 4, 5, 6)
    found = told(running("a", same), running("b", same, tools=4000, other=10))

    assert (found.at, found.low, found.high, found.never_share) == (None, None, None, 1.0)
    assert found.per_year is None
    assert found.rate_cents_per_h is None
    assert "It never pays, whatever your hour costs." in found.text


def test_a_method_that_is_better_at_no_more_outlay_is_told_so() -> None:
    found = told(running("slow", act("saw", 5, 6, 7)), running("quick", act("saw", 5, 6, 7, count=0.5)))

    assert (found.dear, found.at, found.outlay_cents) == ("quick", 0.0, 0)
    assert found.text == "Quick, against slow: no more to spend first, 3.00 EUR a carcass saved (3.0 minutes less)."


def test_volume_and_rate_from_which_it_pays_bring_it_to_nought() -> None:
    """At that rate and the workshop's volume, what is saved a year is what the tool costs a year."""
    a = running("a", act("saw", 9, 10, 11), other=50)
    b = running("b", act("plane", 6, 7, 8), tools=90_000, other=120)
    found = told(a, b)
    yearly = 90_000 * 0.23097  # 5 %, five years

    assert found.rate_cents_per_h is not None
    assert 20 * (3 * found.rate_cents_per_h / 60 - 70) == pytest.approx(yearly, rel=1e-4)
    assert found.per_year is not None
    assert found.per_year * (3 * 100 - 70) == pytest.approx(yearly, rel=1e-4)
    at_60 = dict(found.at_rates)[6000]  # the same rate as that of the terms
    assert at_60 == pytest.approx(found.per_year)


@given(
    minutes=st.floats(1, 60),
    saved=st.floats(-5, 20),
    tools=st.integers(1, 500_000),
    other=st.floats(-500, 500),
    rate=st.integers(0, 20_000),
)
def test_order_does_not_matter_and_the_range_is_in_order(
    minutes: float, saved: float, tools: int, other: float, rate: int
) -> None:
    terms = Terms(rate_cents_per_h=rate, carcasses_per_year=10)
    a = running("a", act("saw", minutes * 0.8, minutes, minutes * 1.5))
    less = max(minutes - saved, 0.1)
    b = running("b", act("plane", less * 0.8, less, less * 1.5), tools=float(tools), other=other)
    one = break_even(a, b, terms, Draws([a, b], draws=200))
    two = break_even(b, a, terms, Draws([a, b], draws=200))

    assert one == two
    far = float("inf")
    assert (far if one.low is None else one.low) <= (far if one.high is None else one.high)
    assert one.text


@pytest.mark.parametrize(
    ("count", "words"),
    [(0.2, "1"), (14.01, "15"), (99, "99"), (341, "350"), (12_345, "13,000"), (1e9, "more than 100,000")],
)
def test_numbers_of_carcasses_are_told_to_two_figures(count: float, words: str) -> None:
    assert about(count) == words
