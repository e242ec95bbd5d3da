"""How much may stand in a TOML text, seen before it is parsed: a small file can ask a parser for endless memory."""

from __future__ import annotations

import re
from typing import Final

DEEPEST: Final = 60
"""No file has tables, lists or the parts of a dotted name further inside one another."""

MOST: Final = 100_000
"""No file has more names, values and parts of names than this."""

LONGEST_NUMBER: Final = 4000
"""No figure has more letters; Python reads none of more than 4300 digits."""

DEEP: Final = ("tables or lists nested too deep to follow", None, "Write fewer levels inside one another.")


class TooMuchError(ValueError):
    """What stands in a text is more than is parsed; told by what was found, where, and what to do."""

    def __init__(self, found: str, line: int | None, do: str) -> None:
        super().__init__(found)
        self.found = found
        self.line = line
        self.do = do


_TOKEN = re.compile(
    r'''
    (?P<word> """(?:[^"\\]|\\.|"(?!""))*+"{3,5} | \'\'\'(?:[^\']|\'(?!\'\'))*+\'{3,5}
            | "(?:[^"\\\n]|\\.)*+" | \'[^\'\n]*+\' | [\w+-]++ )
    | (?P<comment> \#[^\n]*+ )
    | (?P<mark> [.=,\[\]{}\n] )
    | (?P<blank> [ \t\r]++ )
    | (?P<other> . )
    ''',
    re.VERBOSE | re.DOTALL,
)


def check_amount(text: str) -> None:
    """Look over a text, word by word, without building anything of it.

    Raises:
        TooMuchError: it nests deeper, holds more, or has a longer figure than any job or workshop file.
    """
    line, things, depth, dots = 1, 0, 0, 0
    for token in _TOKEN.finditer(text):
        kind, found = token.lastgroup, token[0]
        line += found.count("\n")
        if kind == "word":
            if len(found) > LONGEST_NUMBER and (found[0].isdigit() or found[0] in "+-"):
                raise TooMuchError(f"a figure of {len(found)} digits", line, "Write it with a few digits.")
        elif kind == "mark" and found != "\n":
            things += found in ".=,"
            dots = dots + 1 if found == "." else 0
            depth = max(depth + (found in "[{") - (found in "]}"), 0)
        elif kind == "mark":
            dots = 0
        if dots > DEEPEST or depth > DEEPEST:
            raise TooMuchError(DEEP[0], line, DEEP[2])
        if things > MOST:
            do = f"Name the right file: no job has more than {MOST:,} names and values."
            raise TooMuchError("more names and values than any job has", line, do)
