"""The quick way to set a field: its value is changed in its own line, and nothing else of the text is touched."""

from __future__ import annotations

import re
from collections.abc import Sequence

from storyrod.adapters.files._lines import Path, find_lines
from storyrod.adapters.files._values import Value, write

_VALUE = r"""("[^"\\]*"|'[^']*'|[^\s#"'\[\]{},=]+)"""


def set_in_lines(text: str, fields: Sequence[tuple[Path, Value | None]]) -> str | None:
    """Return the text with each field set to a plain value, or None where one does not stand in a line of its own.

    Whoever asks reads the text that comes back: it is only as right as the lines were plain.
    """
    lines = text.split("\n")
    places = find_lines(text)
    for path, value in fields:
        number = places.get(path)
        if number is None or isinstance(value, dict | list) or value is None or not isinstance(path[-1], str):
            return None
        line = re.compile(rf"(\s*{re.escape(path[-1])}\s*=\s*){_VALUE}(\s*(?:#.*)?)")
        match = line.fullmatch(lines[number - 1])
        if match is None:
            return None
        lines[number - 1] = f"{match[1]}{write(value)}{match[3]}"
    return "\n".join(lines)
