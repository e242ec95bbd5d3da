"""What a form asks of each field of a workshop file, and how words typed there become values of the file and back.

A form only turns words into what would be written; whether that may stand there is judged when the file is read.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.adapters.files._tables import table_of
from storyrod.adapters.files._values import Value, number
from storyrod.adapters.files._values import text as quoted
from storyrod.model.workshop import DoorStep
from storyrod.model.written import (
    Amount,
    Choice,
    Choices,
    Field,
    Flag,
    Length,
    Lengths,
    Names,
    Number,
    OneOf,
    Share,
    Text,
)

__all__ = ["Asked", "FieldAsked", "Value", "fields_of", "plain", "quoted", "value_of", "words_of"]


class Asked(StrEnum):
    """What kind of answer a field takes."""

    TEXT = "text"
    LINES = "lines"
    LENGTH = "length"
    NUMBER = "number"
    AMOUNT = "amount"
    SHARE = "share"
    FLAG = "flag"
    CHOICE = "choice"
    LENGTHS = "lengths"
    NAMES = "names"
    STEPS = "steps"


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldAsked:
    """One field of a table, as a form asks for it.

    Attributes:
        title: what it is called in the form.
        about: what it means; `allowed` what may stand there; `usual` what holds where nothing is written.
        choices: the words to choose from.
        unit: of the figure, where it is not a length.
    """

    name: str
    title: str
    about: str
    allowed: str
    kind: Asked
    choices: tuple[str, ...] = ()
    unit: str = ""
    needed: bool = False
    usual: str = ""


_KINDS: Final = (
    (Flag, Asked.FLAG),
    (Choice, Asked.CHOICE),
    (Lengths, Asked.LENGTHS),
    (Length, Asked.LENGTH),
    (Number, Asked.NUMBER),
    (OneOf, Asked.NUMBER),
    (Amount, Asked.AMOUNT),
    (Share, Asked.SHARE),
    (Names, Asked.NAMES),
    (Choices, Asked.NAMES),
)


def fields_of(table: type) -> tuple[FieldAsked, ...]:
    """Return what a form asks for a table, in the order of its fields."""
    return tuple(_asked(of) for of in table_of(table).values())


def _asked(of: Field) -> FieldAsked:
    rule = of.rule
    kind = next((k for r, k in _KINDS if isinstance(rule, r)), Asked.TEXT if rule is not None else Asked.STEPS)
    if isinstance(rule, Text) and rule.lines:
        kind = Asked.LINES
    return FieldAsked(
        name=of.name,
        title=of.title,
        about=of.told.words,
        allowed=rule.allowed if rule is not None else "pairs such as 900: 2, 1600: 3",
        kind=kind,
        choices=rule.values if isinstance(rule, Choice) else (),
        unit=rule.unit if isinstance(rule, Number) else "%" if kind is Asked.SHARE else "",
        needed=of.needed,
        usual=_usual(of.usual, kind),
    )


def _usual_one(value: object) -> str:
    if isinstance(value, DoorStep):
        return f"{value.up_to:g}: {value.hinges}"
    return value.value if isinstance(value, StrEnum) else f"{value:g}"


def _usual(value: object, kind: Asked) -> str:
    if value is None or value in ("", (), []):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, tuple):
        return ", ".join(map(_usual_one, value))
    if isinstance(value, int | float) and kind is Asked.SHARE:
        return f"{100 * value:g}"
    if isinstance(value, int | float):
        return f"{value / 100 if kind is Asked.AMOUNT else value:g}"
    return str(value)


_NUMBER: Final = re.compile(r"[+-]?(\d+([.,]\d+)?|[.,]\d+)")
_STEP: Final = re.compile(r"\s*(.+?)\s*[:=]\s*(\S+)\s*")


def value_of(field: FieldAsked, words: str) -> Value | None:
    """Return what words typed in a field's place write into the file; None where they leave the field out.

    Words that make no sense are written as they are, so that reading the file tells what is wrong with them.
    """
    typed = words.strip()
    if field.kind is Asked.FLAG:
        return typed in {"on", "true", "yes", "1"}
    if not typed:
        return None
    match field.kind:
        case Asked.LENGTH | Asked.NUMBER | Asked.AMOUNT:
            return plain(typed)
        case Asked.SHARE:
            bare = typed.removesuffix("%").strip()
            return f"{bare} %" if _NUMBER.fullmatch(bare) else typed
        case Asked.LENGTHS:
            parts = typed.split(";") if ";" in typed else re.split(r",\s*", typed)
            return [plain(p.strip()) for p in parts if p.strip()]
        case Asked.NAMES:
            return [p.strip() for p in re.split(r"[,\n]", typed) if p.strip()]
        case Asked.STEPS:
            return _steps(typed)
        case _:
            return typed


def _steps(typed: str) -> Value:
    found: list[Value] = []
    for part in re.split(r"[,;\n]", typed):
        match = _STEP.fullmatch(part)
        if match is not None:
            found.append({"up_to": plain(match[1]), "hinges": plain(match[2])})
        elif part.strip():
            return typed
    return found


def plain(words: str) -> Value:
    """Return a figure as the number that it is; anything else as it was typed."""
    if not _NUMBER.fullmatch(words) or len(words) > 15:
        return words
    return number(float(words.replace(",", ".")))


def words_of(field: FieldAsked, value: Value | None) -> str:
    """Return what a form shows for a value as it is written in a file."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, list):
        return ", ".join(_step_words(v) if isinstance(v, dict) else _one(v) for v in value)
    if field.kind is Asked.SHARE:
        return f"{100 * value:.6g}" if isinstance(value, int | float) else str(value).removesuffix("%").strip()
    if field.kind is Asked.AMOUNT and isinstance(value, int | float):
        return f"{value:.2f}"
    return _one(value)


def _step_words(step: dict[str, Value]) -> str:
    return f"{_one(step.get('up_to', ''))}: {_one(step.get('hinges', ''))}"


def _one(value: Value) -> str:
    return f"{value:.10g}" if isinstance(value, float) else str(value)
