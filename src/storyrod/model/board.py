"""Sheets as they lie in the workshop, and what is put on their edges. Lengths are millimetres."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from storyrod.measure.writing import LengthWriter
from storyrod.model.written import AMOUNT, CODE, KEY, Length, Number, Text, Told


class BoardKind(StrEnum):
    """What a sheet is made of, as far as joints and strength care."""

    CHIPBOARD = "chipboard"
    FACED_CHIPBOARD = "faced chipboard"
    MDF = "mdf"
    PLYWOOD = "plywood"
    BLOCKBOARD = "blockboard"
    HARDBOARD = "hardboard"
    SOLID = "solid wood"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """A size in which a board is bought."""

    length: Annotated[float, Length(200, 6000), Told("Length of the sheet, along the grain.", example=2440)]
    width: Annotated[float, Length(100, 3000), Told("Width of the sheet, across the grain.", example=1220)]
    price_cents: Annotated[int | None, AMOUNT, Told("Price of one sheet.", name="price")] = None
    copies: Annotated[
        int | None,
        Number(0, 10000, whole=True),
        Told("How many sheets of this size can be had; as many as needed unless set."),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Edging:
    """A strip put on edges: tape, or a solid lipping. Its key is the code that boards use."""

    code: Annotated[str, KEY]
    name: Annotated[str, Text(0, 100), Told("What you call it.", made=True)]
    thickness: Annotated[
        float,
        Length(0.1, 30),
        Told("Thickness; finished sizes include it, so it is taken off the panel before cutting.", example=1),
    ]
    solid: Annotated[bool, Told("Whether it is a solid lipping rather than a tape.")] = False
    proud: Annotated[
        float,
        Length(0, 6),
        Told("How far a solid lipping stands proud of each face when it is glued on, to be planed flush."),
    ] = 0.0
    price_cents_per_m: Annotated[
        int | None, AMOUNT, Told("Price of one metre.", name="price_per_m", title="Price of a metre")
    ] = None
    roll_m: Annotated[
        int,
        Number(1, 1000, "m", whole=True),
        Told(
            "Metres in a roll, where it is sold by whole rolls; by the metre unless set.",
            name="roll",
            title="Metres in a roll",
        ),
    ] = 1
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One kind of sheet as it lies in the workshop. Its key is the code that cases use.

    Attributes:
        measured: what the callipers say; every size is worked out from it.
        stiffness_n_mm2: bending modulus along the grain; None where it is not known.
        measured_given: whether the maker measured it; if not, `measured` is the nominal figure.
        named_figures: which of density and stiffness are defaults of the board's kind, not the maker's.
    """

    code: Annotated[str, KEY]
    name: Annotated[str, Text(0, 100), Told("What you call it; made from kind and thickness unless set.", made=True)]
    kind: Annotated[BoardKind, Told("What the sheet is made of.", example="plywood")]
    thickness: Annotated[
        float,
        Length(2, 60, "Give the board's thickness."),
        Told("Nominal thickness, the one it is sold by.", example=18),
    ]
    measured: Annotated[
        float,
        Length(2, 60),
        Told(
            "What your callipers say: the mean of eight places, 50 mm in from the edges. Every size is worked "
            "out from it; the nominal thickness is taken, and you are warned, where it is missing.",
            title="Measured thickness",
            made=True,
        ),
    ]
    spread: Annotated[
        float,
        Length(0, 3),
        Told(
            "Half the range of the measured thickness (+-); the usual one for its kind unless set.",
            made=True,
            seldom=True,
        ),
    ]
    grain: Annotated[
        bool,
        Told(
            "Whether the faces have a grain that matters; true for plywood, blockboard and solid wood unless set.",
            made=True,
        ),
    ]
    density_kg_m3: Annotated[
        float,
        Number(100, 1500, "kg/m3", do="Weigh a piece and divide by its volume."),
        Told(
            "Mass for its volume (kg/m3); the usual one for its kind unless set.",
            title="Density (kg/m³)",
            made=True,
            seldom=True,
        ),
    ]
    stiffness_n_mm2: Annotated[
        float | None,
        Number(100, 30000, "N/mm2", do="See the board's data sheet."),
        Told(
            "Bending stiffness along the grain (N/mm2); a cautious one for its kind unless set.",
            title="Stiffness along the grain (N/mm²)",
            made=True,
            seldom=True,
        ),
    ]
    stiffness_across_n_mm2: Annotated[
        float | None,
        Number(100, 30000, "N/mm2", do="See the board's data sheet."),
        Told(
            "Bending stiffness across the grain (N/mm2).",
            title="Stiffness across the grain (N/mm²)",
            made=True,
            seldom=True,
        ),
    ]
    edging: Annotated[str | None, CODE, Told("Code of the edging for its visible edges, one of `edgings`.")] = None
    sheets: Annotated[
        tuple[SheetSize, ...],
        Told(
            "Sizes in which it is bought; one of 2440 x 1220 mm, or in an inch job 96 x 48 in, unless set.", made=True
        ),
    ]
    measured_given: bool
    named_figures: tuple[str, ...] = ()
    field: str = ""

    def sold_as(self, lengths: LengthWriter) -> str:
        """Return what a shop is asked for: the name, with the thickness it is sold as where the name has none."""
        thickness = lengths.told(self.thickness)
        figure = re.escape(thickness.removesuffix('"').removesuffix(" mm"))
        is_named = re.search(rf"(?<![\d.,/]){figure}(?![\d/])", self.name) is not None
        return self.name if is_named else f"{self.name}, {thickness}"
