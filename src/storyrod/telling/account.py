"""Money and minutes: how lines of an account are told, and what a comparison of methods answers."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from storyrod.model.account import Account, CostKind, CostLine
from storyrod.model.comparison import BreakEven, Comparison


def lines_by_kind(told: Account) -> Iterator[tuple[CostKind, tuple[CostLine, ...]]]:
    """Yield the lines of an account kind by kind, in the order in which kinds are told."""
    order = list(CostKind)
    lines = sorted(told.lines, key=lambda line: order.index(line.kind))
    for kind, own in groupby(lines, key=lambda line: line.kind):
        yield kind, tuple(own)


def amount_words(line: CostLine) -> str:
    """Return how much a line is of: a share, or a number with its unit, to hundredths where it is no whole one."""
    if line.unit == "share":
        return f"{line.quantity:.0%}"
    whole = abs(line.quantity - round(line.quantity)) < 1e-9 or line.quantity >= 100
    return f"{line.quantity:.0f} {line.unit_word}" if whole else f"{line.quantity:.2f} {line.unit_word}"


def clamp_words(told: Account) -> str:
    """Return how long the work stands in clamps beside the minutes of labour; nothing where it does not."""
    if not told.clamp_min:
        return ""
    return f"Plus {told.clamp_min:.0f} minutes in clamps (you can work on something else)."


def against_own(told: Comparison) -> tuple[BreakEven, ...]:
    """Return when a method pays against the job's own, where something must be laid out first."""
    own = told.own
    if own is None:
        return ()
    return tuple(b for b in told.break_evens if own.candidate.method in (b.cheap, b.dear) and b.outlay_cents > 0)
