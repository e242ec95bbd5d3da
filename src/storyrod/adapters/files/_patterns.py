"""What the readers take, as JSON Schema says it: so that an editor marks what would be refused.

Patterns are those of ECMA-262, as JSON Schema asks: no inline flags, so each letter stands in both cases. A schema does
not know the file's unit: a bare number may be millimetres or inches, and passes where either would.
"""

from __future__ import annotations

from typing import Any, Final

from storyrod.measure.length import MM_PER_INCH

_NUMBER: Final = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_WORD_SIGN: Final = r"""(?:"|\u2033|\u201d|[iI][nN](?:[cC][hH](?:[eE][sS])?)?)"""
_INCH_SIGN: Final = rf"(?:{_WORD_SIGN}|['\u2032\u2019]{{2}})"
_PLAIN_INCHES: Final = rf"(?:{_NUMBER}|(?:[0-9]+[ -]+)?[0-9]+\s*/\s*0*[1-9][0-9]*)"
_INCHES: Final = rf"{_PLAIN_INCHES}\s*{_INCH_SIGN}?"
_FEET: Final = rf"[0-9]+\s*(?:['\u2032\u2019]|[fF][tT]|[fF][eE][eE][tT])\s*[- ]?\s*(?:{_PLAIN_INCHES}\s*{_WORD_SIGN}?)?"
_METRIC: Final = rf"{_NUMBER}\s*(?:[mM][mM]|[cC][mM]|[mM])?"
PARTS: Final = r"[0-9]+(?:[.,][0-9]+)?\s*[pP][aA][rR][tT][sS]?"
AMOUNT: Final = r"^\s*[0-9]+(?:[.,][0-9]{1,2})?\s*$"


def length_schema(low: float, high: float, *, or_parts: bool = False) -> dict[str, Any]:
    """Return the JSON Schema of a length from `low` to `high` mm, written as `measure.length` reads it.

    Args:
        low: least length in mm.
        high: greatest length in mm.
        or_parts: whether a share such as "2 parts" may stand there too.
    """
    sign = r"[-+]?" if low < 0 else r"\+?"
    ways = f"{sign}\\s*(?:{_METRIC}|{_FEET}|{_INCHES})"
    return {
        "type": ["number", "string"],
        "minimum": round(min(low, low / MM_PER_INCH), 6),
        "maximum": round(max(high, high / MM_PER_INCH), 6),
        "pattern": rf"^\s*(?:{ways}{'|' + PARTS if or_parts else ''})\s*$",
    }
