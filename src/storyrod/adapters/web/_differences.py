"""What two texts of a job differ in, in a maker's words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from storyrod.adapters.files.asking import as_shown
from storyrod.adapters.files.editing import parsed
from storyrod.adapters.web._brief_fields import place_words

MOST_TOLD: Final = 8


def differences(before: str, after: str, most: int = MOST_TOLD) -> tuple[str, ...]:
    """Return what `after` says otherwise than `before`: a line each, the first few of them."""
    try:
        old, new = parsed(before), parsed(after)
    except ValueError:
        return ("Its text was changed, and cannot be read as it is.",)
    told = [_line(path, a, b, new if b is not None else old) for path, a, b in _walk("", old, new)]
    if len(told) > most:
        return (*told[: most - 1], f"and {len(told) - most + 1} more changes")
    return tuple(told) or ("Only its comments or layout were changed.",)


def _line(path: str, before: object, after: object, raw: dict[str, Any]) -> str:
    place = place_words(path, raw)
    if before is None:
        return f"{place}: {_shown(after)}, was not set"
    if after is None:
        return f"{place}: left out, was {_shown(before)}"
    return f"{place}: {_shown(before)} became {_shown(after)}"


def _shown(value: object) -> str:
    if isinstance(value, list):
        return f"{len(value)} of them"
    if isinstance(value, dict):
        return ", ".join(f"{k} {_shown(v)}" for k, v in list(value.items())[:4]) or "empty"
    return as_shown(value)


def _walk(path: str, old: object, new: object) -> Iterator[tuple[str, object, object]]:
    if isinstance(old, dict) and isinstance(new, dict):
        for key in dict.fromkeys((*old, *new)):
            plain = key if all(c.isalnum() or c in "_-" for c in key) else f'"{key}"'
            yield from _walk(f"{path}.{plain}" if path else plain, old.get(key), new.get(key))
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for number, (a, b) in enumerate(zip(old, new, strict=True)):
            yield from _walk(f"{path}[{number}]", a, b)
    elif old != new:
        yield path, old, new
