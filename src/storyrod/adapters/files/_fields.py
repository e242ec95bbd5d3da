"""Reading one written value by the rule of its field: the value, or what was found, what is allowed and what to do."""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Final, NoReturn

from storyrod.faults import Fault, JobError, WayOut
from storyrod.measure.length import Unit, parse_length, show_inches
from storyrod.model import written as w

SHOWN = 40
"""How much of a wrong text is quoted."""


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


def nearest(word: str, known: Sequence[str]) -> str | None:
    """Return the known word most like `word`, or None where none is."""
    plain = {k.lower().replace("-", "_").replace(" ", "_"): k for k in known}
    close = difflib.get_close_matches(word.lower().replace("-", "_").replace(" ", "_"), list(plain), n=1, cutoff=0.6)
    return plain[close[0]] if close else None


@dataclass(frozen=True, slots=True)
class Share:
    """How big an opening is beside its neighbours: `mm`, or `parts` of what the others leave."""

    mm: float | None = None
    parts: float = 1.0


def read_value(rule: w.Rule, value: object, unit: Unit) -> object:
    """Return what a written value is by the rule of its field; a bare length is in `unit`.

    Raises:
        JobError: the field cannot hold it; one fault, without the field's path.
    """
    return _READERS[type(rule)](rule, value, unit)


def _refuse(code: str, found: str, allowed: str, do: str, *ways: WayOut) -> NoReturn:
    raise JobError(Fault(code=code, field="", found=found, allowed=allowed, do=do, ways=ways))


def _nearest_of(value: float, low: float, high: float, *, is_length: bool = False) -> WayOut:
    """Return the way out to the nearer bound; one that is a number in the file is told as it is written there."""
    return WayOut(field="", value=low if value < low else high, is_length=is_length)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _plain_length(value: object, unit: Unit, allowed: str, do: str) -> float:
    try:
        return parse_length(value, unit)
    except JobError as error:
        fault = error.faults[0]
        found = fault.found if _is_number(value) or isinstance(value, str) else show(value)
        _refuse("length", found, f"{fault.allowed}; {allowed}", do or fault.do)
    except OverflowError:
        _refuse("length", show(value), allowed, do or "Check the figure.")


def _length(rule: w.Length, value: Any, unit: Unit) -> float:  # noqa: ANN401 - whatever is written
    mm = _plain_length(value, unit, rule.allowed, rule.do)
    if not rule.low <= mm <= rule.high:
        found = show(value) if isinstance(value, str) else f"{value:g} {unit.value}"
        allowed = rule.allowed
        if unit is Unit.INCH:
            allowed = f"{show_inches(rule.low)} to {show_inches(rule.high)} ({allowed})"
        way = _nearest_of(mm, rule.low, rule.high, is_length=True)
        _refuse("range", found, allowed, rule.do or "Check the figure and its unit.", way)
    return mm


def _lengths(rule: w.Lengths, value: object, unit: Unit) -> tuple[float, ...]:
    if not isinstance(value, list):
        _refuse("type", show(value), rule.allowed, "Write the lengths in square brackets, with commas between them.")
    read = tuple(_length(w.Length(rule.low, rule.high), v, unit) for v in value)
    if len(read) < rule.least:
        _refuse("range", f"{len(read)} lengths", rule.allowed, "Add what is missing.")
    if rule.rising and list(read) != sorted(set(read)):
        _refuse("range", "lengths out of order", rule.allowed, "Write them once each, smallest first.")
    return read


_PARTS: Final = re.compile(r"^\s*(\d+(?:[.,]\d+)?)\s*parts?\s*$", re.IGNORECASE)


def _size(rule: w.Size, value: object, unit: Unit) -> Share:
    match = _PARTS.match(value) if isinstance(value, str) else None
    if match is None:
        do = 'Write a length, or "2 parts" for a share of the rest, or leave it out for an equal share.'
        return Share(mm=_length(w.Length(rule.low, rule.high, do), value, unit))
    parts = float(match[1].replace(",", "."))
    if not 0.01 <= parts <= 100:
        _refuse("range", show(value), "0.01 to 100 parts", "Write the shares as small numbers, such as 2 parts.")
    return Share(parts=parts)


def _number(rule: w.Number, value: Any, _unit: Unit) -> float | int:  # noqa: ANN401 - whatever is written
    if not _is_number(value):
        _refuse("type", show(value), rule.allowed, rule.do or "Write a bare number, without quotes or unit.")
    if not rule.low <= value <= rule.high:
        way = _nearest_of(value, rule.low, rule.high)
        _refuse("range", f"{show(value)} {rule.unit}".rstrip(), rule.allowed, rule.do or "Check the figure.", way)
    if rule.whole and value != int(value):
        _refuse("range", show(value), rule.allowed, rule.do or "Write a whole number.")
    return int(value) if rule.whole else float(value)


_PERCENT: Final = re.compile(r"^\s*(\d{1,4}(?:[.,]\d+)?)\s*%\s*$")


def _share(rule: w.Share, value: Any, _unit: Unit) -> float:  # noqa: ANN401 - whatever is written
    match = _PERCENT.match(value) if isinstance(value, str) else None
    if match is not None:
        share = float(match[1].replace(",", ".")) / 100
    elif _is_number(value):
        share = float(value)
    else:
        _refuse("type", show(value), rule.allowed, 'Write a percentage in quotes, such as "15 %".')
    if not rule.low <= share <= rule.high:
        found = show(value) if isinstance(value, str) else f"{show(value)}, which is {100 * share:g} %"
        _refuse("range", found, rule.allowed, 'Write a percentage in quotes, such as "15 %".')
    return share


_AMOUNT: Final = re.compile(r"^\s*\d+(?:[.,]\d{1,2})?\s*$")


def _amount(rule: w.Amount, value: Any, _unit: Unit) -> int:  # noqa: ANN401 - whatever is written
    if isinstance(value, str) and _AMOUNT.match(value):
        value = float(value.replace(",", "."))
    if not _is_number(value):
        _refuse("type", show(value), rule.allowed, "Write the amount as a number, without the currency's sign.")
    if not 0 <= value <= 1_000_000:
        _refuse("range", show(value), rule.allowed, "Check the amount.")
    cents: int = round(value * 100)
    if abs(cents - value * 100) > 1e-6:
        _refuse("range", show(value), rule.allowed, "Write whole cents; for a smaller price give a larger pack.")
    return cents


_TURNS: Final = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
"""Signs that are not seen and turn the letters after them round, so that a printed list would read wrong."""


def _text(rule: w.Text, value: object, _unit: Unit) -> str:
    """Return the text without spaces at its ends."""
    if not isinstance(value, str):
        _refuse("type", show(value), rule.allowed, "Write it as text, in double quotes.")
    text = value.strip()
    if not rule.least <= len(text) <= rule.most:
        _refuse("range", f"{len(text)} characters", rule.allowed, "Write a shorter text." if text else "Write it.")
    if not rule.lines and any(ord(c) < 32 or ord(c) == 127 for c in text):
        _refuse("range", "a line break or control character", rule.allowed, "Write it on one line.")
    if turns := sorted({f"U+{ord(c):04X}" for c in text if unicodedata.bidirectional(c) in _TURNS}):
        _refuse(
            "range", f"a character that reverses the order of letters ({', '.join(turns)})", rule.allowed, "Delete it."
        )
    return text


def _case_code(rule: w.CaseCode, value: object, unit: Unit) -> str:
    text = _text(w.Text(1, rule.most), value, unit)
    if not (text[0].isalnum() and text.replace("-", "").replace("_", "").isalnum()):
        _refuse("choice", show(text), rule.allowed, "Choose a short code such as A or B2; the name may be anything.")
    return text


def _names(rule: w.Names, value: object, unit: Unit) -> tuple[str, ...]:
    if not isinstance(value, list):
        _refuse("type", show(value), rule.allowed, "Write the names in square brackets, each in double quotes.")
    if not rule.least <= len(value) <= rule.most:
        _refuse("range", f"{len(value)} names", rule.allowed, "Write as many names as are allowed.")
    return tuple(_text(w.Text(1, 100), v, unit) for v in value)


def _flag(rule: w.Flag, value: object, _unit: Unit) -> bool:
    if not isinstance(value, bool):
        _refuse("type", show(value), rule.allowed, "Write true or false, without quotes.")
    return value


def _choice(rule: w.Choice, value: object, _unit: Unit) -> StrEnum:
    if not isinstance(value, str):
        _refuse("type", show(value), rule.allowed, "Write one of these words, in double quotes.")
    plain = " ".join(value.split()).casefold()
    for word in rule.values:
        if word.casefold() == plain:
            return rule.kind(word)
    near = nearest(value, rule.values)
    do = f'Did you mean "{near}"?' if near else "Write one of these words."
    _refuse("choice", show(value), rule.allowed, do, *([WayOut(field="", value=near)] if near else []))


def _choices(rule: w.Choices, value: object, unit: Unit) -> tuple[StrEnum, ...]:
    if not isinstance(value, list):
        _refuse("type", show(value), rule.allowed, "Write the words in square brackets, each in double quotes.")
    return tuple(dict.fromkeys(_choice(w.Choice(rule.kind), v, unit) for v in value))


def _free(rule: w.Free, value: object, _unit: Unit) -> object:
    if not rule.many:
        return value
    if not isinstance(value, list) or not value:
        _refuse("type", show(value), rule.allowed, "Write the values in square brackets, with commas between them.")
    return tuple(value)


def _one_of(rule: w.OneOf, value: object, _unit: Unit) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value not in rule.numbers:
        _refuse("choice", show(value), rule.allowed, "Write one of these numbers.")
    return value


def _tables(rule: w.Tables, value: object, _unit: Unit) -> dict[str, Any]:
    if not isinstance(value, dict):
        _refuse("type", show(value), rule.allowed, "Write it as the examples do.")
    return value


_READERS: Final[Mapping[type[w.Rule], Callable[[Any, object, Unit], object]]] = {
    w.Length: _length,
    w.Lengths: _lengths,
    w.Size: _size,
    w.Number: _number,
    w.Amount: _amount,
    w.Share: _share,
    w.Text: _text,
    w.CaseCode: _case_code,
    w.Names: _names,
    w.Flag: _flag,
    w.Choice: _choice,
    w.Choices: _choices,
    w.Free: _free,
    w.OneOf: _one_of,
    w.Tables: _tables,
}
