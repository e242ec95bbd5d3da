"""How many carcasses it takes until the dearer of two methods has paid, with the spread of the times carried through.

By usual figures the answer is `(F2 - F1) / (v1 - v2)`, with F laid out first and v for each carcass (references: two
methods, fixed F and each v). The range comes from drawing the minutes of every act from their spread, the same draw
for both methods: what they share, such as marking a line, cancels as it does at the bench.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from storyrod.ledger._annuity import capital_recovery
from storyrod.model.account import Terms, about, show_money
from storyrod.model.comparison import BreakEven
from storyrod.model.work import TENTH, WorkItem

RATES: Final = (1000, 2000, 4000, 6000, 10000, 20000)
"""Hourly rates (cents) for which a comparison says at what volume a tool would pay."""

DRAWS: Final = 4000
SEED: Final = 20260
NEAR: Final = 1e-9

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """What a method lays out, and what each carcass costs by it.

    Attributes:
        tools_cents, jig_cents, jig_min: laid out first: tools, jig board, and the minutes to make the jigs.
        other_cents: of a carcass, without labour and writing off.
        items: the labour of `carcasses` carcasses.
    """

    method: str
    name: str
    tools_cents: float
    jig_cents: float
    jig_min: float
    other_cents: float
    items: tuple[WorkItem, ...]
    carcasses: int
    spread: dict[str, tuple[float, float, float]] = field(default_factory=dict, repr=False, compare=False)

    def acts(self) -> Mapping[str, tuple[float, float, float]]:
        """Return for each act the usual minutes a carcass, and how far down and up they reach."""
        if not self.spread:
            for i in self.items:
                if not i.hands_on:
                    continue
                n = i.times / self.carcasses
                usual, down, up = self.spread.get(i.act, (0.0, 0.0, 0.0))
                each = i.each
                self.spread[i.act] = (
                    usual + n * each.usual,
                    down + n * (each.usual - each.low),
                    up + n * (each.high - each.usual),
                )
        return self.spread

    def minutes(self) -> float:
        """Return the usual minutes of a carcass."""
        return math.fsum(usual for usual, _, _ in self.acts().values())

    def outlay_cents(self, terms: Terms) -> float:
        """Return what is laid out before the first carcass."""
        return self.tools_cents + self.jig_cents + self.jig_min * terms.rate_cents_per_h / 60


def cents_per_min(terms: Terms) -> float:
    """Return what a minute of labour costs, overhead included."""
    return terms.rate_cents_per_h / 60 * (1 + terms.overhead_share)


def carcasses_to_pay(outlay_1: float, each_1: float, outlay_2: float, each_2: float) -> float | None:
    """Return how many carcasses it takes until the second method has paid its higher outlay; None for never."""
    more, saves = outlay_2 - outlay_1, each_1 - each_2
    if more <= NEAR:
        return 0.0 if saves >= -NEAR else None
    return more / saves if saves > NEAR else None


class Draws:
    """Minutes a carcass of each method, drawn from the spread of the acts; one draw of an act serves all methods."""

    def __init__(self, methods: Sequence[Running], *, draws: int = DRAWS, seed: int = SEED) -> None:
        acts = sorted({act for m in methods for act in m.acts()})
        chance = np.random.default_rng(seed)
        self._z = {act: chance.standard_normal(draws) for act in acts}
        self._draws = draws

    def minutes(self, method: Running) -> Floats:
        """Return the minutes of a carcass in every draw."""
        whole = np.zeros(self._draws)
        for act, (usual, down, up) in method.acts().items():
            z = self._z[act] / TENTH
            # Each side of the usual time has its own spread; no act is done in no time.
            whole += np.maximum(usual + np.where(z < 0, z * down, z * up), (usual - down) / 4)
        return whole


def break_even(a: Running, b: Running, terms: Terms, draws: Draws) -> BreakEven:
    """Return when the one of two methods that lays out more has paid for itself."""
    cheap, dear = sorted((a, b), key=lambda m: m.outlay_cents(terms))
    if abs(cheap.outlay_cents(terms) - dear.outlay_cents(terms)) <= NEAR and _each(dear, terms) > _each(cheap, terms):
        cheap, dear = dear, cheap  # Nothing to pay back: the one that saves is the second.
    more = dear.outlay_cents(terms) - cheap.outlay_cents(terms)
    saves = _each(cheap, terms) - _each(dear, terms)
    at = carcasses_to_pay(0.0, saves, more, 0.0)
    per_minute, other = cents_per_min(terms), cheap.other_cents - dear.other_cents
    drawn = (draws.minutes(cheap) - draws.minutes(dear)) * per_minute + other
    low, high, never = _range(more, drawn)
    told = BreakEven(
        cheap=cheap.method,
        dear=dear.method,
        outlay_cents=round(more),
        saves_cents=saves,
        saves_min=cheap.minutes() - dear.minutes(),
        saves_low_cents=float(np.quantile(drawn, 0.1)),
        saves_high_cents=float(np.quantile(drawn, 0.9)),
        at=at,
        low=low,
        high=high,
        never_share=round(never, 4),
        per_year=_per_year(more, saves, terms),
        rate_cents_per_h=_rate(cheap, dear, terms),
        at_rates=tuple((rate, _at_rate(cheap, dear, replace(terms, rate_cents_per_h=rate))) for rate in RATES),
        text="",
    )
    return replace(told, text=" ".join(_sentences(told, cheap, dear, terms)))


def _each(method: Running, terms: Terms) -> float:
    return method.minutes() * cents_per_min(terms) + method.other_cents


def _range(more: float, saves: Floats) -> tuple[float | None, float | None, float]:
    """Return the tenth and ninetieth mark of the carcasses to pay, and how often it never pays."""
    pays = saves > NEAR
    counts = np.where(pays, max(more, 0.0) / np.where(pays, saves, 1.0), np.inf)
    ordered = np.sort(counts)
    marks = [float(ordered[round(share * (len(ordered) - 1))]) for share in (0.1, 0.9)]
    low, high = (None if math.isinf(m) else m for m in marks)
    return low, high, float(1 - pays.mean())


def _per_year(more: float, saves: float, terms: Terms) -> float | None:
    if more <= NEAR:
        return 0.0 if saves >= -NEAR else None
    if saves <= NEAR:
        return None
    return more * capital_recovery(terms.interest_per_year, terms.write_off_years) / saves


def _rate(cheap: Running, dear: Running, terms: Terms) -> float | None:
    """Return the hourly rate from which the dear method pays at the workshop's own volume; 0 where any will do."""
    if terms.carcasses_per_year <= 0:
        return None
    share = capital_recovery(terms.interest_per_year, terms.write_off_years) / terms.carcasses_per_year
    bought = (dear.tools_cents + dear.jig_cents - cheap.tools_cents - cheap.jig_cents) * share
    needed = bought - (cheap.other_cents - dear.other_cents)
    saved = (cheap.minutes() - dear.minutes()) * (1 + terms.overhead_share)
    per_cent_a_minute = saved - (dear.jig_min - cheap.jig_min) * share
    if needed <= 0:
        return 0.0 if per_cent_a_minute >= 0 else None
    return 60 * needed / per_cent_a_minute if per_cent_a_minute > NEAR else None


def _at_rate(cheap: Running, dear: Running, terms: Terms) -> float | None:
    """Return the carcasses a year from which the dear method pays at another rate."""
    more = dear.outlay_cents(terms) - cheap.outlay_cents(terms)
    return _per_year(more, _each(cheap, terms) - _each(dear, terms), terms)


def _sentences(told: BreakEven, cheap: Running, dear: Running, terms: Terms) -> list[str]:
    money = terms.currency
    saved = f"{abs(told.saves_min):.1f} minutes {'less' if told.saves_min >= 0 else 'more'}"
    gain = f"{show_money(abs(told.saves_cents), money)} a carcass"
    changes = f"{gain} saved" if told.saves_cents > NEAR else f"{gain} more"
    name = dear.name[:1].upper() + dear.name[1:]
    if told.outlay_cents <= 0:
        return [f"{name}, against {cheap.name}: no more to spend first, {changes} ({saved})."]
    said = [
        f"{name}, against {cheap.name}: {show_money(told.outlay_cents, money)} to spend first, {changes} ({saved})."
    ]
    if told.low is None and told.rate_cents_per_h is None:
        return [*said, "It never pays, whatever your hour costs."]
    said.append(pay_words(told))
    if told.per_year is not None:
        years = f"within {terms.write_off_years:g} years at {terms.interest_per_year:.1%} interest"
        said.append(f"To pay {years} it takes about {about(told.per_year)} carcasses a year.")
    if terms.carcasses_per_year > 0:
        said.append(_at_own_volume(told, terms))
    return said


def _at_own_volume(told: BreakEven, terms: Terms) -> str:
    volume = f"You make {terms.carcasses_per_year:g} carcasses a year:"
    if told.rate_cents_per_h is None:
        return f"{volume} it does not pay at any hourly rate."
    if told.rate_cents_per_h == 0:
        return f"{volume} it pays at any hourly rate."
    pays = told.per_year is not None and told.per_year <= terms.carcasses_per_year
    rate = show_money(told.rate_cents_per_h, terms.currency)
    return (
        f"{volume} it pays, as it does from {rate} an hour." if pays else f"{volume} it pays only from {rate} an hour."
    )


def pay_words(told: BreakEven) -> str:
    """Return the answer in one sentence, with its range: `about 40 carcasses, between 15 and never`."""
    if told.low is None:
        return "It does not pay on these figures."
    low = about(told.low)
    high = "never" if told.high is None else about(told.high)
    if told.at is None:
        return f"It does not pay at the usual times; on a good day, after {low} carcasses at the soonest."
    between = f", between {low} and {high}" if low != high else ""
    return f"It pays after about {about(told.at)} carcasses{between}."
