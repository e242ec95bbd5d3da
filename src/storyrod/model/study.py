"""A study: one job in many variants, what is asked of each, and the rows that come of it.

Money is whole cents, lengths are millimetres, minutes are of one person.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.written import AMOUNT, Choice, Choices, Free, Number, Share, Text, Told


class Asked(StrEnum):
    """What a study tells of each variant."""

    PRICE = "price"
    COST = "cost"
    MINUTES = "minutes"
    STAGES = "minutes by stage"
    SHEETS = "sheets"
    YIELD = "yield"
    WEIGHT = "weight"
    SAG = "sag"
    TIPPING = "tipping"
    JIGS = "jigs"


class Combine(StrEnum):
    """How the values of several fields go together."""

    ALL = "all"
    IN_STEP = "in step"


LEAST: Final = (Asked.PRICE, Asked.COST, Asked.MINUTES, Asked.SHEETS, Asked.WEIGHT)
"""What one variant can have less of than another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Vary:
    """One field of the job that varies: by a list of values, by a range with a step, or near what the job has."""

    varies: Annotated[
        str,
        Text(1, 200),
        Told(
            "The field of the job, written as its faults name it: `cases[0].width`. `rows` and `columns` take a "
            "number: so many openings, each like the first one written.",
            name="field",
            example="cases[0].width",
        ),
    ]
    name: Annotated[
        str, Text(0, 60), Told("What a price list calls it, such as `width in mm`; the field's own name unless set.")
    ] = ""
    values: Annotated[tuple[object, ...], Free(many=True), Told("The values it takes, in this order.")] = ()
    start: Annotated[object, Free(), Told("The first value of a range.", name="from")] = None
    stop: Annotated[object, Free(), Told("The last value of a range.", name="to")] = None
    near: Annotated[
        object, Free(), Told("Instead of `from` and `to`: this much less and this much more than the job has.")
    ] = None
    step: Annotated[object, Free(), Told("From one value of the range to the next.")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Only:
    """What a variant must keep to be among the best; the others stay in the table, with what they do not keep."""

    sound: Annotated[
        bool, Told("Only variants where no board sags beyond its limit and no case must be fixed to the wall.")
    ] = False
    jigs_owned: Annotated[bool, Told("Only variants that need no jig made first.")] = False
    sheets_most: Annotated[int | None, Number(1, 10_000, whole=True), Told("The most sheets that are bought.")] = None
    price_most: Annotated[int | None, AMOUNT, Told("The highest price.")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pricing:
    """How a price list of the variants is made, which a customer can be given."""

    title: Annotated[str, Text(0, 100), Told("What stands above it; the job's title unless set.")] = ""
    round_to: Annotated[int, AMOUNT, Told("Prices are rounded up to whole multiples of this.")] = 100
    surcharge: Annotated[
        float, Share(0, 5), Told("Added to each price before it is rounded, on top of the workshop's margin.")
    ] = 0.0
    valid: Annotated[str, Text(0, 60), Told("How long the prices hold, as printed, such as `31 March 2027`.")] = ""
    note: Annotated[str, Text(0, 1000, lines=True), Told("Your own words below the prices.")] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """A study file: which job, what varies, what is asked."""

    job: Annotated[str, Text(1, 300), Told("Name of the job file, beside the study file.", example="job.toml")]
    vary: Annotated[tuple[Vary, ...], Told("The fields that vary; at least one.")] = ()
    combine: Annotated[
        Combine, Told("`all` combinations of the values, or `in step`: the first of each, the second of each, and on.")
    ] = Combine.ALL
    ask: Annotated[tuple[Asked, ...], Choices(Asked), Told("What is worked out for each variant.")] = (
        Asked.PRICE,
        Asked.COST,
        Asked.MINUTES,
        Asked.SHEETS,
    )
    least: Annotated[Asked, Choice(Asked, LEAST), Told("The best variant is the one with the least of this.")] = (
        Asked.PRICE
    )
    variants_most: Annotated[
        int,
        Number(1, 100_000_000, whole=True),
        Told("The most variants it may come to: a slip of the pen is caught before it takes days."),
    ] = 20_000
    price_list: Annotated[
        Pricing | None, Told("Makes `price-list.pdf` and `price-list.csv` of the variants; none unless set.")
    ] = None
    only: Annotated[Only, Told("What a variant must keep to be among the best.")] = Only()


class Kind(StrEnum):
    """What stands in a column."""

    MONEY = "money"
    NUMBER = "number"
    COUNT = "count"
    TEXT = "text"


type Cell = str | int | float | None
"""One figure of one variant: cents, a number, a count or words; None where it is not known or there is a fault."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of the table: its name, and what stands in it."""

    name: str
    kind: Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One variant.

    Attributes:
        number: its place in the study, from 0.
        cells: as many as there are columns, in their order.
        rank: what the best has the least of; None where the variant has a fault or does not keep a condition.
    """

    number: int
    cells: tuple[Cell, ...]
    rank: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StudyTable:
    """Every row of a study.

    Attributes:
        rows: in the order of their numbers.
    """

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    @property
    def best(self) -> Row | None:
        """The variant with the least of what the study asks the least of; the first of equals; None where none is."""
        return min((r for r in self.rows if r.rank is not None), key=lambda r: r.rank or 0.0, default=None)

    def named(self, row: Row) -> dict[str, Cell]:
        """Return the cells of a row by the names of their columns; money is in cents."""
        return {column.name: cell for column, cell in zip(self.columns, row.cells, strict=True)}
