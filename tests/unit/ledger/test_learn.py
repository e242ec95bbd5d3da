"""Standard times that learn: prior and timings weighed, the unlike set aside and named."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from storyrod.ledger import curve_of, learn_time, teach
from storyrod.model.learning import Timing
from storyrod.model.work import Minutes
from tests.unit.ledger import small

WRITTEN = Minutes(low=0.15, usual=0.2, high=0.3)


def timings(*each: float, count: float = 1.0, method: str = "") -> list[Timing]:
    return [Timing(act="drill", minutes=e * count, count=count, method=method, id=f"t{n}") for n, e in enumerate(each)]


def test_nothing_timed_changes_nothing() -> None:
    told = learn_time("drill", WRITTEN, [])

    assert told.now == WRITTEN
    assert (told.used, told.more_needed, told.mean_low) == (0, None, None)
    assert "not timed yet" in told.text


def test_the_written_time_counts_as_three() -> None:
    """Three timings of 0.30 against 0.20 as written: halfway."""
    assert learn_time("drill", WRITTEN, timings(0.3, 0.3, 0.3)).now.usual == pytest.approx(0.25)


def test_many_timings_outweigh_what_is_written_and_narrow_the_range() -> None:
    few = learn_time("drill", WRITTEN, timings(*[0.28, 0.32, 0.30] * 2))
    many = learn_time("drill", WRITTEN, timings(*[0.28, 0.32, 0.30] * 40))

    assert many.now.usual == pytest.approx(0.3, abs=0.003)
    assert many.now.high - many.now.low < (few.now.high - few.now.low) / 3
    assert many.more_needed == 0


def test_minutes_are_told_for_one_whatever_the_count() -> None:
    one = learn_time("drill", WRITTEN, timings(0.25, 0.22, 0.24))
    dozens = learn_time("drill", WRITTEN, timings(0.25, 0.22, 0.24, count=12))

    assert dozens.now.usual == pytest.approx(one.now.usual)


def test_the_posterior_agrees_with_adding_up_over_a_grid() -> None:
    """Mean and deviation laid on a grid, prior times likelihood: the mean's marks must come out the same."""
    data = (0.24, 0.31, 0.27, 0.22)
    deviation = (WRITTEN.high - WRITTEN.low) / 2 / stats.norm.ppf(0.9)
    mean, sigma = np.meshgrid(np.linspace(0.05, 0.5, 1801), np.geomspace(0.002, 1.5, 2000))
    # Prior: three readings' worth, mean 0.2, and 3 s0^2 / sigma^2 as chi-squared with three degrees of freedom.
    log = stats.norm.logpdf(mean, WRITTEN.usual, sigma / math.sqrt(3))
    log += stats.invgamma.logpdf(sigma**2, 1.5, scale=1.5 * deviation**2) + 2 * np.log(
        sigma
    )  # steps of sigma are even in logs
    for x in data:
        log += stats.norm.logpdf(x, mean, sigma)
    weight = np.exp(log - log.max()).sum(axis=0)
    below = np.cumsum(weight) / weight.sum()
    marks = [float(mean[0][np.searchsorted(below, q)]) for q in (0.1, 0.5, 0.9)]

    now = learn_time("drill", WRITTEN, timings(*data)).now

    assert (now.low, now.usual, now.high) == pytest.approx(marks, abs=0.002)


def test_a_lunch_break_is_set_aside_and_named() -> None:
    told = learn_time("drill", WRITTEN, timings(0.2, 0.22, 0.19, 0.21, 0.2, 45.0))

    assert told.used == 5
    (aside,) = told.set_aside
    assert aside.timing.id == "t5"
    assert aside.why == "45.00 min where the others take about 0.20: a break in it?"
    assert told.now.usual < 0.21
    assert "1 set aside" in told.text


def test_a_forgotten_stop_watch_is_set_aside_too() -> None:
    told = learn_time("drill", WRITTEN, timings(0.2, 0.22, 0.19, 0.21, 0.2, 0.001, 0.0))

    assert [a.timing.id for a in told.set_aside] == ["t5", "t6"]
    assert "no time passed" in told.set_aside[1].why


def test_few_timings_are_judged_by_what_is_written() -> None:
    told = learn_time("drill", WRITTEN, timings(0.25, 30.0))

    assert [a.timing.id for a in told.set_aside] == ["t1"]
    assert "against 0.3 at most as written" in told.set_aside[0].why


def test_what_is_kept_by_hand_counts() -> None:
    odd = replace(timings(45.0)[0], keep=True)
    told = learn_time("drill", WRITTEN, [*timings(0.2, 0.22, 0.19, 0.21, 0.2), odd])

    assert (told.used, told.set_aside) == (6, ())


def test_a_maker_who_is_slow_throughout_is_not_set_aside() -> None:
    """Twice the written time, but alike: that is how this maker works."""
    told = learn_time("drill", WRITTEN, timings(0.41, 0.39, 0.42, 0.4, 0.4, 0.55))

    assert (told.used, told.set_aside) == (6, ())


@given(st.lists(st.floats(0.01, 10), min_size=1, max_size=30))
def test_the_range_holds_the_usual_time_and_nothing_is_lost(each: list[float]) -> None:
    told = learn_time("drill", WRITTEN, timings(*each))

    assert told.used + len(told.set_aside) == len(each)
    assert 0 < told.now.low <= told.now.usual <= told.now.high
    kept = [e for n, e in enumerate(each) if f"t{n}" not in {a.timing.id for a in told.set_aside}]
    assert min([WRITTEN.usual, *kept]) - 1e-9 <= told.now.usual <= max([WRITTEN.usual, *kept]) + 1e-9


@given(st.permutations([0.2, 0.25, 0.22, 0.3, 0.18, 9.0]))
def test_the_order_of_timings_does_not_matter(each: list[float]) -> None:
    assert learn_time("drill", WRITTEN, timings(*each)).now.usual == pytest.approx(
        learn_time("drill", WRITTEN, timings(*sorted(each))).now.usual
    )


def test_a_taught_workshop_plans_with_its_own_times() -> None:
    shop = small.shop()
    own = [Timing(act="cut a panel, track saw", minutes=3.0, id=str(n)) for n in range(9)]
    taught, learned = teach(shop, own)

    saw = next(t for t in taught.times if t.act == "cut a panel, track saw")
    assert saw.usual_min == pytest.approx((3 * 4 + 9 * 3) / 12)
    assert [t.act for t in learned] == ["cut a panel, track saw"]
    assert taught.times[1] == shop.times[1]


def test_an_act_timed_under_two_methods_is_told_by_each() -> None:
    own = timings(0.2, 0.2, method="dowels") + timings(0.5, 0.5, method="pegs") + [Timing(act="new", minutes=3.0)]
    _, learned = teach(small.shop(), own)

    assert [(t.act, t.method, t.used) for t in learned] == [
        ("drill", "", 4),
        ("drill", "dowels", 2),
        ("drill", "pegs", 2),
        ("new", "", 1),
    ]


def test_a_curve_needs_enough_and_is_counted_in_times_done() -> None:
    each = [10 * n ** math.log2(0.9) for n in range(1, 20)]
    curve = curve_of(timings(*each))

    assert curve is not None
    assert curve.rate == pytest.approx(0.9)
    assert curve_of(timings(*each[:5])) is None
