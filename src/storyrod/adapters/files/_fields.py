"""The kinds of value that stand in a job or workshop file, each with its own words for what is wrong.

Each rule reads one written value and says, when it can not, what was found, what is allowed and what to do.
The bounds only turn away slips of the pen: whether a part can be made is judged by the stages.
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, NoReturn

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from storyrod.adapters.files._patterns import AMOUNT, length_schema
from storyrod.faults import JobError
from storyrod.measure.length import Unit, parse_length, show_inches

SHOWN = 40
"""How much of a wrong text is quoted."""


class Table(BaseModel):
    """A table of a file: unknown fields are refused, and nothing is taken for something else."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, defer_build=True)


def show(value: object) -> str:
    """Return a written value as a maker would quote it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value[:SHOWN]}…"' if len(value) > SHOWN else f'"{value}"'
    if isinstance(value, float) and math.isnan(value):
        return "nan (not a number)"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, int):
        return f"a number of {value.bit_length() * 3 // 10} digits" if abs(value) > 10**15 else str(value)
    if isinstance(value, Mapping):
        return "a table" if value else "an empty table"
    if isinstance(value, Sequence):
        return "a list" if value else "an empty list"
    return "nothing" if value is None else "a date or time"


def either(words: Sequence[str]) -> str:
    """Return the words as a choice: `a, b or c`."""
    quoted = [f'"{w}"' for w in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def nearest(word: str, known: Sequence[str]) -> str | None:
    """Return the known word most like `word`, or None where none is."""
    plain = {k.lower().replace("-", "_").replace(" ", "_"): k for k in known}
    close = difflib.get_close_matches(word.lower().replace("-", "_").replace(" ", "_"), list(plain), n=1, cutoff=0.6)
    return plain[close[0]] if close else None


def refuse(code: str, found: str, allowed: str, do: str) -> NoReturn:
    """Refuse a value with the four parts of a fault."""
    raise PydanticCustomError("told", "{found}", {"code": code, "found": found, "allowed": allowed, "do": do})


def unit_of(info: ValidationInfo) -> Unit:
    """Return the unit of a bare number in the file being read."""
    context = info.context
    return context.get("unit", Unit.MM) if isinstance(context, dict) else Unit.MM


@dataclass(frozen=True, slots=True)
class Rule(ABC):
    """What a value may be. Annotates a field's type."""

    @abstractmethod
    def read(self, value: object, _info: ValidationInfo) -> object:
        """Return the value read, or refuse it."""

    @property
    @abstractmethod
    def allowed(self) -> str:
        """What may stand there, in words."""

    @abstractmethod
    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return self.schema()


def _plain_length(value: object, info: ValidationInfo, allowed: str, do: str) -> float:
    try:
        return parse_length(value, unit_of(info))
    except JobError as error:
        fault = error.faults[0]
        text = isinstance(value, int | float | str) and not isinstance(value, bool)
        refuse("length", fault.found if text else show(value), f"{fault.allowed}; {allowed}", do or fault.do)
    except OverflowError:
        refuse("length", show(value), allowed, do or "Check the figure.")


@dataclass(frozen=True, slots=True)
class Length(Rule):
    """A length from `low` to `high` mm."""

    low: float
    high: float
    do: str = ""

    def read(self, value: object, info: ValidationInfo) -> float:
        """Return the length in mm."""
        mm = _plain_length(value, info, self.allowed, self.do)
        if not self.low <= mm <= self.high:
            unit = unit_of(info)
            found = show(value) if isinstance(value, str) else f"{value:g} {unit.value}"
            allowed = self.allowed
            if unit is Unit.INCH:
                allowed = f"{show_inches(self.low)} to {show_inches(self.high)} ({allowed})"
            refuse("range", found, allowed, self.do or "Check the figure and its unit.")
        return mm

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"{self.low:g} to {self.high:g} mm"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {**length_schema(self.low, self.high), "examples": [18, "60 cm", '23 5/8"']}


@dataclass(frozen=True, slots=True)
class Lengths(Rule):
    """A list of lengths, each from `low` to `high` mm."""

    low: float
    high: float
    least: int = 0
    rising: bool = False

    def read(self, value: object, info: ValidationInfo) -> tuple[float, ...]:
        """Return the lengths in mm."""
        if not isinstance(value, list):
            refuse("type", show(value), self.allowed, "Write the lengths in square brackets, parted by commas.")
        read = tuple(Length(self.low, self.high).read(v, info) for v in value)
        if len(read) < self.least:
            refuse("range", f"{len(read)} lengths", self.allowed, "Add what is missing.")
        if self.rising and list(read) != sorted(set(read)):
            refuse("range", "lengths out of order", self.allowed, "Write them from the smallest up, each once.")
        return read

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        many = f"at least {self.least} lengths" if self.least else "a list of lengths"
        return f"{many}, each {self.low:g} to {self.high:g} mm{', rising' if self.rising else ''}"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "array", "items": length_schema(self.low, self.high), "minItems": self.least}


@dataclass(frozen=True, slots=True)
class Share:
    """How big an opening is beside its neighbours: `mm`, or `parts` of what the others leave."""

    mm: float | None = None
    parts: float = 1.0


_PARTS = re.compile(r"^\s*(\d+(?:[.,]\d+)?)\s*parts?\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Size(Rule):
    """The clear size of an opening: a length, or parts of what its neighbours leave."""

    def read(self, value: object, info: ValidationInfo) -> Share:
        """Return the size."""
        match = _PARTS.match(value) if isinstance(value, str) else None
        if match is None:
            do = 'Write a length, or "2 parts" for a share of the rest, or leave it out for an equal share.'
            return Share(mm=Length(10, 5000, do).read(value, info))
        parts = float(match[1].replace(",", "."))
        if not 0.01 <= parts <= 100:
            refuse("range", show(value), "0.01 to 100 parts", "Write the shares as small numbers, such as 2 parts.")
        return Share(parts=parts)

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return '10 to 5000 mm, or a share of the rest such as "2 parts"'

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {**length_schema(10, 5000, or_parts=True), "examples": [140, "2 parts"]}


@dataclass(frozen=True, slots=True)
class Number(Rule):
    """A plain number from `low` to `high`, in `unit`; a whole one where `whole`."""

    low: float
    high: float
    unit: str = ""
    whole: bool = False
    do: str = ""

    def read(self, value: object, _info: ValidationInfo) -> float | int:
        """Return the number."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            refuse("type", show(value), self.allowed, self.do or "Write a bare number, without quotes or unit.")
        if not self.low <= value <= self.high:
            refuse("range", f"{show(value)} {self.unit}".rstrip(), self.allowed, self.do or "Check the figure.")
        if self.whole and value != int(value):
            refuse("range", show(value), self.allowed, self.do or "Write a whole number.")
        return int(value) if self.whole else float(value)

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        words = "a whole number, " if self.whole else ""
        return f"{words}{self.low:g} to {self.high:g} {self.unit}".rstrip()

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "integer" if self.whole else "number", "minimum": self.low, "maximum": self.high}


_AMOUNT = re.compile(r"^\s*\d+(?:[.,]\d{1,2})?\s*$")


@dataclass(frozen=True, slots=True)
class Amount(Rule):
    """An amount of money in the job's or workshop's currency, kept in whole cents."""

    def read(self, value: object, _info: ValidationInfo) -> int:
        """Return the amount in cents."""
        if isinstance(value, str) and _AMOUNT.match(value):
            value = float(value.replace(",", "."))
        if isinstance(value, bool) or not isinstance(value, int | float):
            refuse("type", show(value), self.allowed, "Write the amount as a number, without the currency's sign.")
        if not 0 <= value <= 1_000_000:
            refuse("range", show(value), self.allowed, "Check the amount.")
        cents = round(value * 100)
        if abs(cents - value * 100) > 1e-6:
            refuse("range", show(value), self.allowed, "Write whole cents; for a smaller price give a larger pack.")
        return cents

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return "0 to 1,000,000, with two decimals at the most"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        written = {"minimum": 0, "maximum": 1_000_000, "pattern": AMOUNT}
        return {"type": ["number", "string"], **written, "examples": [62.5]}


_TURNS = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
"""Signs that are not seen and turn the letters after them round, so that a printed list would read wrong."""


@dataclass(frozen=True, slots=True)
class Text(Rule):
    """A line of text of `least` to `most` characters."""

    least: int = 0
    most: int = 200
    lines: bool = False

    def read(self, value: object, _info: ValidationInfo) -> str:
        """Return the text without spaces at its ends."""
        if not isinstance(value, str):
            refuse("type", show(value), self.allowed, "Write it as text, in double quotes.")
        text = value.strip()
        if not self.least <= len(text) <= self.most:
            refuse("range", f"{len(text)} characters", self.allowed, "Write a shorter text." if text else "Write it.")
        if not self.lines and any(ord(c) < 32 or ord(c) == 127 for c in text):
            refuse("range", "a line break or control character", self.allowed, "Write it in one line.")
        if turns := sorted({f"U+{ord(c):04X}" for c in text if unicodedata.bidirectional(c) in _TURNS}):
            refuse("range", f"a sign that turns the order of letters ({', '.join(turns)})", self.allowed, "Delete it.")
        return text

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return (
            f"text of {self.least} to {self.most} characters" if self.least else f"text, up to {self.most} characters"
        )

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "string", "minLength": self.least, "maxLength": self.most}


@dataclass(frozen=True, slots=True)
class CaseCode(Rule):
    """A short code that goes into marks, ids and the names of files: letters, figures, dashes and underscores."""

    most: int

    def read(self, value: object, info: ValidationInfo) -> str:
        """Return the code."""
        text = Text(1, self.most).read(value, info)
        if not (text[0].isalnum() and text.replace("-", "").replace("_", "").isalnum()):
            refuse("choice", show(text), self.allowed, "Choose a short code such as A or B2; the name may be anything.")
        return text

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"1 to {self.most} letters, figures, dashes and underscores, a letter or figure first"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        plain = r"\s!-,./:-@\[-^`{-~"  # what editors must mark; dashes and underscores are left in
        pattern = f"^[^{plain}_-][^{plain}]*$"
        return {"type": "string", "minLength": 1, "maxLength": self.most, "pattern": pattern}


@dataclass(frozen=True, slots=True)
class Names(Rule):
    """A list of texts."""

    least: int = 0
    most: int = 50

    def read(self, value: object, info: ValidationInfo) -> tuple[str, ...]:
        """Return the texts."""
        if not isinstance(value, list):
            refuse("type", show(value), self.allowed, "Write the names in square brackets, each in double quotes.")
        if not self.least <= len(value) <= self.most:
            refuse("range", f"{len(value)} names", self.allowed, "Write as many names as are allowed.")
        return tuple(Text(1, 100).read(v, info) for v in value)

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"a list of {self.least} names" if self.least == self.most else "a list of names"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "array", "items": {"type": "string"}, "minItems": self.least, "maxItems": self.most}


@dataclass(frozen=True, slots=True)
class Flag(Rule):
    """Yes or no."""

    def read(self, value: object, _info: ValidationInfo) -> bool:
        """Return the answer."""
        if not isinstance(value, bool):
            refuse("type", show(value), self.allowed, "Write true or false, without quotes.")
        return value

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return "true or false"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class Choice(Rule):
    """One of the values of `kind`, or of those of it that are named in `only`."""

    kind: type[StrEnum]
    only: tuple[StrEnum, ...] = field(default=())

    @property
    def values(self) -> tuple[str, ...]:
        """The words that may stand there."""
        return tuple(v.value for v in (self.only or tuple(self.kind)))

    def read(self, value: object, _info: ValidationInfo) -> StrEnum:
        """Return the value chosen."""
        if not isinstance(value, str):
            refuse("type", show(value), self.allowed, "Write one of these words, in double quotes.")
        plain = " ".join(value.split()).casefold()
        for word in self.values:
            if word.casefold() == plain:
                return self.kind(word)
        near = nearest(value, self.values)
        refuse("choice", show(value), self.allowed, f'Did you mean "{near}"?' if near else "Write one of these words.")

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return either(self.values)

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "string", "enum": list(self.values)}


@dataclass(frozen=True, slots=True)
class OneOf(Rule):
    """One of a few whole numbers."""

    numbers: tuple[int, ...]

    def read(self, value: object, _info: ValidationInfo) -> int:
        """Return the number."""
        if isinstance(value, bool) or not isinstance(value, int) or value not in self.numbers:
            refuse("choice", show(value), self.allowed, "Write one of these numbers.")
        return value

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        words = [str(n) for n in self.numbers]
        return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"

    def schema(self) -> dict[str, Any]:
        """Return the JSON Schema of the written value."""
        return {"type": "integer", "enum": list(self.numbers)}
