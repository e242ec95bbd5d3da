"""What a study found, in sentences: a variant, the best of them, and how it stands beside the job as it is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.model.account import show_money
from storyrod.model.study import Asked, Cell
from storyrod.model.work import work_words

_WEIGHT_KG: Final = 0.05
_MINUTES: Final = 0.5
_ALIKE: Final = {
    Asked.PRICE: 0.5,
    Asked.COST: 0.5,
    Asked.SHEETS: 0.5,
    Asked.WEIGHT: _WEIGHT_KG,
    Asked.MINUTES: _MINUTES,
}
"""Figures nearer than this are shown alike, and are called so."""


def figure_words(least: Asked, figure: float, currency: str) -> str:
    """Return what a study asks the least of, as it is said: cents as money, minutes as time, kilograms."""
    match least:
        case Asked.PRICE | Asked.COST:
            return show_money(figure, currency)
        case Asked.MINUTES:
            return work_words(figure)
        case Asked.WEIGHT:
            return f"{figure:.1f} kg"
        case _:
            return f"{figure:.0f} {'sheet' if figure == 1 else 'sheets'}"


def variant_words(names: Sequence[str], cells: Sequence[Cell]) -> str:
    """Return a variant by what varies: `width 905, corner joints dowels`."""
    return ", ".join(f"{name} {cell}" for name, cell in zip(names, cells, strict=True))


def best_words(least: Asked, best: float, own: float | None, currency: str) -> str:
    """Return how the best variant stands beside the job as it is; `own` is None where that has no figure."""
    what = {Asked.PRICE: "price", Asked.COST: "cost", Asked.MINUTES: "time", Asked.WEIGHT: "weight"}.get(least, "count")
    told = f"The lowest {what} is {figure_words(least, best, currency)}"
    if own is None:
        return f"{told}."
    if abs(own - best) < _ALIKE[least]:
        return f"{told}, the same as the job as it is."
    word = "less" if best < own else "more"
    return f"{told}: {figure_words(least, abs(own - best), currency)} {word} than the job as it is."


def lack_words(lacking: str) -> str:
    """Return that sums leave something out; "" where they leave out nothing."""
    return (
        f"This leaves out {lacking}: there is no price for that yet, and another variant may be cheaper."
        if lacking
        else ""
    )


def count_words(rows: int, faulty: int, against: int) -> str:
    """Return how many variants were worked out, and how many of them are no use."""
    told = [f"{rows} {'variant' if rows == 1 else 'variants'} worked out"]
    told += [f"{faulty} cannot be made"] if faulty else []
    told += [f"{against} {'does' if against == 1 else 'do'} not keep what you ask"] if against else []
    return ", ".join(told) + "."
