"""Values as they are written in TOML."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from enum import StrEnum

from storyrod.measure.length import MM_PER_INCH, Unit, parse_length, show_inches

Value = str | bool | int | float | list["Value"] | dict[str, "Value"]
"""What may stand in a table, with enums and tuples already turned into plain values."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")
WIDE = 100
"""A list longer than this is written with one item a line."""


def key(name: str) -> str:
    """Return a key, quoted where it must be."""
    return name if _BARE.fullmatch(name) else text(name)


def text(value: str) -> str:
    """Return a text in double quotes."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def length(mm: float, unit: Unit) -> Value:
    """Return a length so that it is read back as exactly `mm`: bare in mm, as a fraction where an inch job has one."""
    if unit is Unit.MM:
        return number(mm)
    shown = show_inches(mm, 64)
    if parse_length(shown, unit) == mm:
        return shown
    whole = mm / MM_PER_INCH
    if whole * MM_PER_INCH == mm and round(whole, 4) == whole:
        return number(whole)
    return f"{number(mm)} mm"


def number(value: float) -> int | float:
    """Return a number without a point where it is whole."""
    return int(value) if value == int(value) else value


def amount(cents: int) -> int | float:
    """Return an amount of money."""
    return number(cents / 100)


def write(value: object, indent: int = 0) -> str:
    """Return a value as TOML, a long list with one item a line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, StrEnum):
        return text(value.value)
    if isinstance(value, str):
        return text(value)
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Mapping):
        inner = ", ".join(f"{key(str(k))} = {write(v, indent)}" for k, v in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, Sequence):
        return _list(value, indent)
    raise TypeError(f"no TOML value: {value!r}")


def _list(items: Sequence[object], indent: int) -> str:
    flat = f"[{', '.join(write(i, indent) for i in items)}]"
    if len(flat) + indent <= WIDE and "\n" not in flat:
        return flat
    inner = " " * (indent + 4)
    lines = [f"{inner}{write(i, indent + 4)}," for i in items]
    return "\n".join(["[", *lines, " " * indent + "]"])
