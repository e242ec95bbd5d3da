"""The sums that set-out sheets print beside a size, `1000 - 2 x 17.7`: whether they come to the size in the list."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import MM_PER_INCH, Unit
from storyrod_blind._paper import Paper
from storyrod_blind._seats import SAME

_TOLD = re.compile(r"\bLength: (?P<length>[\d ./x()+-]+?)\. Width: (?P<width>[\d ./x()+-]+?)\.(?= |$)", re.MULTILINE)
_EACH = {name: re.compile(rf"\b{name}: (?P<sum>[\d ./x()+-]+?)\.(?= |$)", re.MULTILINE) for name in ("Length", "Width")}
_TOKEN = re.compile(r"\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?|[-+x/()]")

_LAST = {
    Unit.MM: (2, Fraction(5, 1000), Fraction(1)),
    Unit.INCH: (4, Fraction(5, 100_000), MM_PER_INCH),
}
"""The places that lengths are written to, half the last digit, and millimetres for one of the unit."""

Sum = tuple[str, str]
"""A panel's length and width as sums, in words."""


def sums_in(text: str) -> Sum | None:
    """Return the two sums that a sheet's words tell, if they do."""
    match = _TOLD.search(" ".join(text.split()))
    return (match["length"], match["width"]) if match else None


def sum_in(text: str, name: str) -> str:
    """Return the sum that a sheet's words tell for `Length` or `Width` by itself; nothing where they do not."""
    match = _EACH[name].search(" ".join(text.split()))
    return match["sum"] if match else ""


def check_sums(paper: Paper) -> Iterator[Finding]:
    """Yield sums that do not come to the size in the cutting list, or that cannot be read."""
    for mark, sums in paper.sums.items():
        panel = paper.panels.get(mark)
        if panel is None:
            continue
        for name, words, size in zip(("length", "width"), sums, (panel.length, panel.width), strict=True):
            value = _Reader(words).value()
            if value is None:
                yield Finding(FindingKind.UNREAD, mark, f"{name}: {words}")
                continue
            off = value * (MM_PER_INCH if paper.unit is Unit.INCH else 1) - size
            if abs(off) > max(SAME, _left_open(words, paper.unit)):
                yield Finding(FindingKind.SIZES_DISAGREE, mark, f"{name}: {words}", float(off))


def _left_open(words: str, unit: Unit) -> Fraction:
    """Return by how much a sum and its size may differ, in mm, since each is written to the last digit by itself.

    A figure that is written to the last digit may be half a digit off, as often as it is counted; the size is one more.
    """
    last, half, way = _LAST[unit]
    found = half
    for match in _TOKEN.finditer(words):
        if "." in match[0] and len(match[0].partition(".")[2]) == last:
            more = f"{words[: match.start()]}{Fraction(match[0]) + 1}{words[match.end() :]}"
            one, other = _Reader(words).value(), _Reader(more).value()
            found += half * abs((other or Fraction(0)) - (one or Fraction(0)))
    return found * way


class _Reader:
    """Reads a sum: figures, `+` and `-`, `x` and `/`, and brackets."""

    def __init__(self, words: str) -> None:
        self._left = _TOKEN.findall(words)
        self._is_whole = re.sub(r"\s", "", words) == re.sub(r"\s", "", "".join(self._left))

    def value(self) -> Fraction | None:
        """Return what the sum comes to, or None where it cannot be read."""
        try:
            found = self._sum()
        except (IndexError, ValueError, ZeroDivisionError):
            return None
        return found if self._is_whole and not self._left else None

    def _sum(self) -> Fraction:
        total = self._product()
        while self._left and self._left[0] in "+-":
            sign = self._left.pop(0)
            total += self._product() * (1 if sign == "+" else -1)
        return total

    def _product(self) -> Fraction:
        total = self._figure()
        while self._left and self._left[0] in "x/":
            sign = self._left.pop(0)
            total = total * self._figure() if sign == "x" else total / self._figure()
        return total

    def _figure(self) -> Fraction:
        figure = self._left.pop(0)
        if figure == "(":
            inside = self._sum()
            if self._left.pop(0) != ")":
                raise ValueError(figure)
            return inside
        return sum((Fraction(part) for part in figure.split()), Fraction(0))
