"""Money and minutes: how lines of an account are told, and what a comparison of methods answers."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from storyrod.model.account import Account, CostKind, CostLine, DailyNoise, joined_words, show_money
from storyrod.model.comparison import BreakEven, Comparison
from storyrod.model.work import minutes_figure
from storyrod.planning import Plan
from storyrod.trade.noise import DAILY_LIMIT, LOWER_ACTION, UPPER_ACTION


def money_of(plan: Plan, cents: float) -> str:
    """Return a sum in words, in the currency of the job or else of the workshop."""
    return show_money(cents, plan.job.currency or plan.workshop.money.currency)


def lines_by_kind(told: Account) -> Iterator[tuple[CostKind, tuple[CostLine, ...]]]:
    """Yield the lines of an account kind by kind, in the order in which kinds are told."""
    order = list(CostKind)
    lines = sorted(told.lines, key=lambda line: order.index(line.kind))
    for kind, own in groupby(lines, key=lambda line: line.kind):
        yield kind, tuple(own)


def amount_words(line: CostLine) -> str:
    """Return how much a line is of: a share, minutes, or a number with its unit, in hundredths if not whole."""
    if line.unit == "share":
        return f"{line.quantity:.0%}"
    if line.unit == "min":
        return f"{minutes_figure(line.quantity)} min"
    whole = abs(line.quantity - round(line.quantity)) < 1e-9 or line.quantity >= 100
    return f"{line.quantity:,.0f} {line.unit_word}" if whole else f"{line.quantity:.2f} {line.unit_word}"


def clamp_words(told: Account) -> str:
    """Return how long the work stands in clamps beside the minutes of labour; nothing where it does not."""
    if not told.clamp_min:
        return ""
    return f"Plus {told.clamp_min:,.0f} minutes in clamps (you can work on something else)."


def noise_words(told: Account) -> str:
    """Return what the cutting comes to at the ear in a day, and what to do about it; "" where no level is stated."""
    noise = told.noise
    if noise is None:
        return ""
    spells = joined_words([f"{s.tool} {s.level_db:.0f} dB(A) for {s.minutes:,.0f} minutes" for s in noise.spells])
    said = (
        f"Noise: {spells}. Done in one day, that averages about {noise.level_db:.0f} dB(A) over eight hours: "
        f"{_heed(noise)}."
    )
    if noise.not_known:
        said += f" Your workshop file gives no noise level for {joined_words(noise.not_known)}."
    return f"{said} {_WHOSE_VALUES}"


def _heed(noise: DailyNoise) -> str:
    level = round(noise.level_db)  # as it is told
    if level < LOWER_ACTION:
        return f"under {LOWER_ACTION:.0f}, the level from which ear protection must be to hand; wear it all the same"
    if level < UPPER_ACTION:
        return f"{LOWER_ACTION:.0f} or more, so ear protection must be to hand; wear it"
    if level <= DAILY_LIMIT:
        return f"{UPPER_ACTION:.0f} or more, so ear protection must be worn"
    return (
        f"more than {DAILY_LIMIT:.0f}, the most an ear may get even with protection on; wear some that takes off "
        f"enough, "
        "and spread the cutting over several days"
    )


_WHOSE_VALUES = (
    "These are the limits in Great Britain (Health and Safety Executive, WIS13). Look up those where you work; your "
    "tools' manuals come first."
)


def against_own(told: Comparison) -> tuple[BreakEven, ...]:
    """Return when a method pays against the job's own, where something must be laid out first."""
    own = told.own
    if own is None:
        return ()
    return tuple(b for b in told.break_evens if own.candidate.method in (b.cheap, b.dear) and b.outlay_cents > 0)
