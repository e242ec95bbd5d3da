"""What a quotation says of the maker, of tax and of terms; and what a job is finished with."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from storyrod.model.written import AMOUNT, Number, Share, Text, Told


class TaxKind(StrEnum):
    """How a quotation deals with tax."""

    ADDED = "added"
    LEFT_OUT = "left out"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Quoting:
    """What a quotation says about you."""

    maker: Annotated[
        str, Text(0, 100), Told("Your name or that of your firm; a job's own `maker` goes first.", title="your name")
    ] = ""
    address: Annotated[str, Text(0, 400, lines=True), Told("Your address, telephone, mail: as it is printed.")] = ""
    tax: Annotated[
        TaxKind,
        Told(
            "`added`: the price is given without tax, then the tax, then both together; `left out`: without tax, and "
            "the paper says so; `none`: you charge no tax, and the paper says so."
        ),
    ] = TaxKind.LEFT_OUT
    tax_name: Annotated[str, Text(0, 30), Told("What the tax is called where you work.")] = "tax"
    tax_rate: Annotated[float, Share(0, 1), Told("Its rate.", only=("tax", (TaxKind.ADDED,)))] = 0.0
    valid_days: Annotated[
        int, Number(1, 365, "days", whole=True), Told("For how many days a quotation holds.", title="valid for")
    ] = 30
    terms: Annotated[
        str, Text(0, 3000, lines=True), Told("Your terms, in your own words: payment, delivery, what is not included.")
    ] = ""
    field: str = "quotation"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """What bare boards are finished with, on both faces and all edges. Faced boards get none."""

    name: Annotated[str, Text(1, 100), Told("What it is, as a shop and a customer are told.", example="hard-wax oil")]
    coats: Annotated[int, Number(1, 10, whole=True), Told("How many coats.")] = 2
    covers_m2: Annotated[
        float,
        Number(0.5, 50, "m2"),
        Told("What a litre covers in one coat (m2): see the tin.", title="A litre covers (m²)"),
    ] = 12.0
    tin_l: Annotated[
        float, Number(0.05, 50, "litres"), Told("How much is in a tin (litres).", name="tin", title="Litres in a tin")
    ] = 0.75
    price_cents: Annotated[int | None, AMOUNT, Told("Price of a tin.", name="price")] = None
    dries_h: Annotated[
        float,
        Number(0, 240, "hours"),
        Told("How long a coat dries before the next one, or before the job leaves (hours): see the tin."),
    ] = 12.0
    field: str = "finish"
