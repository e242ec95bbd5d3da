"""What may be asked about each field of a job file: its meaning, what may stand there, what is usual."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Any

from storyrod.adapters.files._fields import show
from storyrod.adapters.files._lines import path_of
from storyrod.adapters.files._tables import field_at, table_at, table_of
from storyrod.measure.length import Unit, parse_length, show_length, show_mm
from storyrod.model.job import Job
from storyrod.model.written import Amount, CaseCode, Choice, Field, Flag, Length, Number, OneOf, Rule, Size, Text


class Asked(StrEnum):
    """How a field is asked for."""

    LENGTH = "length"
    SIZE = "size"
    NUMBER = "number"
    FLAG = "flag"
    CHOICE = "choice"
    TEXT = "text"
    LINES = "lines"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """A field of the job file as a page asks for it.

    Attributes:
        name: its name in the file; `title` what a form calls it.
        words: what it means, in a sentence or two.
        allowed: what may stand there.
        kind: how it is asked for.
        usual: the value taken where it is left out; None where it is needed, or where words tell it.
        choices: the words or numbers of which it may be one.
        needed: whether it must be written.
    """

    name: str
    title: str
    words: str
    allowed: str
    kind: Asked
    usual: float | str | bool | None = None
    choices: tuple[str, ...] = ()
    needed: bool = False


@lru_cache(maxsize=4096)
def about(path: str) -> About | None:
    """Return what may be asked about the field at a path such as `cases[0].plinth.height`; None where none is there."""
    keys = path_of(path)
    of = field_at(Job, keys) if keys and isinstance(keys[-1], str) else None
    if of is None or of.rule is None:
        return None
    rule = of.rule
    return About(
        name=of.name,
        title=of.title[:1].upper() + of.title[1:],
        words=of.told.words,
        allowed=rule.allowed,
        kind=_kind(rule),
        usual=_usual(of.usual),
        choices=rule.values if isinstance(rule, Choice) else tuple(map(str, getattr(rule, "numbers", ()))),
        needed=of.needed,
    )


def names_in(path: str, written: Mapping[str, Any], *, seldom: bool = False) -> tuple[str, ...]:
    """Return the fields to be asked for of the table at a path, in order: those that matter beside what is `written`.

    Fields that are seldom needed are told apart from the others.
    """
    kind = table_at(Job, path_of(path))
    if kind is None:
        return ()
    fields = table_of(kind)
    plain = [of for of in fields.values() if of.rule is not None and of.told.seldom is seldom]
    return tuple(of.name for of in plain if _matters(of, fields, written))


def _matters(of: Field, fields: Mapping[str, Field], written: Mapping[str, Any]) -> bool:
    if of.told.only is None:
        return True
    name, wanted = of.told.only
    deciding = fields[name]
    value = written.get(name, deciding.usual)
    known = isinstance(deciding.rule, Choice) and value in deciding.rule.values
    return value in wanted or (value is not None and not known)  # a word that is wrong hides nothing


def _kind(rule: Rule) -> Asked:
    match rule:
        case Length():
            return Asked.LENGTH
        case Size():
            return Asked.SIZE
        case Number() | Amount():
            return Asked.NUMBER
        case Flag():
            return Asked.FLAG
        case Choice() | OneOf():
            return Asked.CHOICE
        case Text():
            return Asked.LINES if rule.lines else Asked.TEXT
        case CaseCode():
            return Asked.TEXT
        case _:
            return Asked.OTHER


def _usual(value: object) -> float | str | bool | None:
    if isinstance(value, StrEnum):
        return value.value
    return value if isinstance(value, bool | int | float | str) and value != "" else None


def usual_words(asked: About, unit: Unit, fraction: int = 32) -> str:
    """Return the usual value in words, in the job's unit; empty where there is none to tell."""
    value = asked.usual
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if asked.kind is Asked.LENGTH and isinstance(value, int | float):
        return show_length(float(value), unit, fraction) + (" mm" if unit is Unit.MM else "")
    return value if isinstance(value, str) else show_mm(float(value), 3)


def as_shown(value: object) -> str:
    """Return a written value as a field shows it: the words as they were typed, a number as short as it is."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return show_mm(value, 6) if abs(value) < 1e12 else str(value)
    return value if isinstance(value, str) else show(value)


def typed(path: str, words: str) -> str | int | float | bool:
    """Return what was typed into the field at a path, as the file is to hold it.

    A number is written as one where the field may hold one; what is no number stays as typed, to be told as a fault.
    """
    text = words.strip()
    asked = about(path)
    kind = asked.kind if asked else Asked.OTHER
    if kind in {Asked.TEXT, Asked.LINES}:
        return text
    if kind is Asked.CHOICE and asked is not None and not all(c.isdigit() for c in asked.choices):
        return text
    if kind is Asked.FLAG:
        return {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}.get(
            text.casefold(), text
        )
    return _number(text, comma=kind is Asked.NUMBER)


def _number(text: str, *, comma: bool) -> str | int | float:
    plain = text.replace(",", ".", 1) if comma else text
    sign = plain[1:] if plain[:1] in {"+", "-"} else plain
    if not sign.isascii() or len(sign) > 15:
        return text
    if sign.isdigit():
        return int(plain)
    whole, dot, rest = sign.partition(".")
    return float(plain) if dot and whole.isdigit() and rest.isdigit() else text


def understood(path: str, words: str, unit: Unit, fraction: int = 32) -> str:
    """Return how a typed length was understood where that is not plain from it, such as `= 600.1 mm`.

    Raises:
        JobError: it is no length.
    """
    asked = about(path)
    text = words.strip()
    if asked is None or asked.kind not in {Asked.LENGTH, Asked.SIZE} or not text:
        return ""
    if asked.kind is Asked.SIZE and text.casefold().endswith(("part", "parts")):
        return ""
    mm = parse_length(text, unit)
    shown = f"{show_mm(mm)} mm"
    if unit is Unit.INCH:
        exact = show_length(mm, unit, fraction)
        return f"= {exact} ({shown})"
    return "" if text in {show_mm(mm), shown} else f"= {shown}"


__all__ = ["About", "Asked", "about", "as_shown", "names_in", "typed", "understood", "usual_words"]
