"""Which letters the packet can print, and a question mark in place of those it cannot.

The typesetter prints a letter that none of its faces has as an empty box, and says nothing. Its faces are B612 and
those that it carries itself, for which the letters were read once; a test prints a sample of them again.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from functools import cache
from typing import Final

IN_ITS_PLACE: Final = "?"

_RANGES: Final = """
20-7E A0-AC AE-34E 350-377 37A-37F 384-38A 38C 38E-3A1 3A3-4FF 510-513 51A-51D 531-556 559-58A
58D-58F 591 5BE 5C0 5C3 5C6 5D0-5EA 5EF-5F4 606-60C 61B 61F 621-63A 640-655 660-66D 674 679-67B
67E-680 683-684 686-687 691 698 6A4 6A9 6AF 6BE 6CC 6F0-6F9 900-97F E3F E81-E82 E84 E87-E88 E8A E8D
E94-E97 E99-E9F EA1-EA3 EA5 EA7 EAA-EAB EAD-EB9 EBB-EBC EC8-ECD 10D0-10FF 13A0-13F5 13F8-13FD
17C1-17C3 1AB0-1ACE 1D00-1DB3 1DB5-1F15 1F18-1F1D 1F20-1F45 1F48-1F4D 1F50-1F57 1F59 1F5B 1F5D
1F5F-1F7D 1F80-1FB4 1FB6-1FC4 1FC6-1FD3 1FD6-1FDB 1FDD-1FEF 1FF2-1FF4 1FF6-1FFE 2000-200A 2010-2027
202F-2040 2042 2044-2052 2054-205F 2070-2071 2074-208E 2090-209C 20A0-20C0 20D0-20F0 2100-211E 2120
2122 2124 2126-2151 2153-2184 2189 2190-23FF 2422-2423 2460-2606 2609-262F 2638-268B 2690-269C
26A0-26A7 26AA-26AF 26B2 2701-2704 2706-2709 270C-2714 2717-2726 272A-274B 274D 274F-2752 2756
2758-275E 2761-2794 2798-27AF 27B1-27FF 2801-2B73 2B76-2B95 2B97-2BFF 2C60-2CF3 2CF9-2CFF 2E02-2E05
2E08-2E0A 2E17-2E18 2E1F 2E22-2E25 2E2E FB00-FB06 FB13-FB17 FB1D FB1F-FB36 FB38-FB3C FB3E FB40-FB41
FB43-FB44 FB46-FB4F
"""


MAY_BREAK: Final = "\u200b"
"""A letter without width or form at which a line may end."""

_LONG_WORD: Final = re.compile(r"[^\s\-]{15,}")
_WORD: Final = re.compile(r"[^ \n]+")
"""What the typesetter keeps on one line: a space that holds is one of its letters."""
_HELD_SPACE: Final = re.compile(r"(?<=[(\[{]) | (?=[)\]}!?/,.:;])")
"""A space at which the typesetter ends no line, by what stands beside it; a test tries it with every sort of letter."""
_BETWEEN: Final = re.compile(r"(?<=\S)(?=\S)")
KEPT: Final = 8
"""So many letters of a long word stay together at its beginning."""


@cache
def _printable() -> frozenset[str]:
    ends = ([int(n, 16) for n in r.split("-")] for r in _RANGES.split())
    return frozenset(chr(c) for e in ends for c in range(e[0], e[-1] + 1)) | {"\n", "\t", MAY_BREAK}


def missing(texts: Iterable[str]) -> tuple[str, ...]:
    """Return every letter in the texts that cannot be printed, each once, in order."""
    return tuple(sorted(frozenset[str]().union(*texts) - _printable()))


def printed(text: str) -> str:
    """Return the text with a question mark for each letter that cannot be printed."""
    if text.isascii():
        return text
    strange = frozenset(text) - _printable()
    return text.translate(dict.fromkeys(map(ord, strange), IN_ITS_PLACE)) if strange else text


def held(text: str) -> str:
    """Return the text with a space that holds wherever the typesetter ends no line: before a closing bracket, say."""
    return _HELD_SPACE.sub("\u00a0", text)


def breakable(text: str) -> str:
    """Return the text with places where a very long word may go on in the next line, so that it stays in its column."""
    return _LONG_WORD.sub(lambda word: word[0][:KEPT] + MAY_BREAK + MAY_BREAK.join(word[0][KEPT:]), text)


def breakable_where(text: str, is_too_wide: Callable[[str], bool]) -> str:
    """Return the text with such places in very long words, and in each that is too wide, however few letters it has.

    In the latter none is beside a space that holds: what stands at the end of a line could not be read back.
    """
    return _WORD.sub(lambda word: _parted(word[0]) if is_too_wide(word[0]) else breakable(word[0]), held(text))


def _parted(word: str) -> str:
    return word[:KEPT] + _BETWEEN.sub(MAY_BREAK, word[KEPT - 1 :])[1:]


def told(letter: str) -> str:
    """Return how a letter that cannot be printed is named: by its name, or its number where it has none."""
    return unicodedata.name(letter, f"number {ord(letter):X}").lower()
