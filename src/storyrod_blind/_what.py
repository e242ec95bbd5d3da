"""What a mark is of: `hole Ø8, 13 deep`, read into a kind and its sizes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from storyrod_blind._length import LENGTH, Length, Unit, UnreadError, read_length


class Kind(StrEnum):
    """The kinds of cut, by their printed name."""

    HOLE = "hole"
    SLOT = "slot"
    KEYHOLE = "keyhole"
    DISC = "disc pocket"
    UNDERCUT = "undercut slot"
    HOUSING = "housing"
    GROOVE = "groove"
    REBATE = "rebate"
    NOTCH = "notch"
    SCOOP = "scoop"
    CUT_OUT = "cut-out"
    POCKET = "pocket"


CHANNELS = frozenset({Kind.HOUSING, Kind.GROOVE, Kind.REBATE})
OPEN_CUTS = frozenset({Kind.NOTCH, Kind.SCOOP})
LONG_CUTS = frozenset({Kind.SLOT, Kind.UNDERCUT, Kind.DISC})


@dataclass(frozen=True, slots=True)
class What:
    """A cut in words.

    Attributes:
        kind: what it is.
        sizes: its printed lengths by name: `diameter`, `depth`, `length`, `width`, `travel`, `countersink`, `every`.
        through: whether it goes through the board.
        count: how many there are in a regular row.
        toward: the surface that a pocket points to, or beside which a keyhole's entry lies; "" where nothing says so.
        run: `length` or `width`, along which a long cut runs; "" where nothing says so.
    """

    kind: Kind
    sizes: Mapping[str, Length]
    through: bool = False
    count: int = 1
    toward: str = ""
    run: str = ""


def _pattern(text: str) -> re.Pattern[str]:
    """Return the pattern of a phrase in which `@name` is a length."""
    return re.compile(re.sub(r"@(\w+)", lambda m: f"(?P<{m[1]}>{LENGTH})", text))


_SURFACE = r"(?P<toward>datum end|far end|face edge|far edge)"
_RUN = r"(?:, along the (?P<run>length|width))?"
_DEEP = r"(?:@depth deep|(?P<through>through))"
_SHAPES: dict[Kind, re.Pattern[str]] = {
    Kind.HOLE: _pattern(rf"^hole Ø@diameter, {_DEEP}(?:, countersunk Ø@countersink)?$"),
    Kind.SLOT: _pattern(rf"^slot @length × @width, {_DEEP}{_RUN}$"),
    Kind.KEYHOLE: _pattern(
        rf"^keyhole, entry Ø@diameter, travel @travel, {_DEEP}"
        rf"(?:; marked is the lock, the entry lies @aside toward the {_SURFACE})?$"
    ),
    Kind.DISC: _pattern(rf"^disc pocket @length × @width, {_DEEP}{_RUN}$"),
    Kind.UNDERCUT: _pattern(rf"^undercut slot @length × @width, {_DEEP}{_RUN}$"),
    Kind.NOTCH: _pattern(r"^notch @length × @width(?:, (?P<through>through))?$"),
    Kind.SCOOP: _pattern(r"^scoop @length × @width, corners @corner$"),
    Kind.CUT_OUT: _pattern(
        rf"^cut-out (?:Ø@diameter|@length × @width, round ends), (?P<through>through){_RUN}$"
    ),
    Kind.POCKET: _pattern(rf"^pocket Ø@diameter at (?P<angle>[\d.]+)°, @length long(?:, toward the {_SURFACE})?$"),
    **{
        kind: _pattern(rf"^{kind.value} @width wide, {_DEEP}, @length long$")
        for kind in (Kind.HOUSING, Kind.GROOVE, Kind.REBATE)
    },
}  # fmt: skip
_ROW = re.compile(rf"^(?P<count>\d+) × (?P<one>.*?)(?:, every (?P<every>{LENGTH}))?$")


def read_what(text: str, page_unit: Unit) -> What:
    """Return the cut that words tell.

    Raises:
        UnreadError: no kind of cut is told so.
    """
    plain = " ".join(text.split())
    row = _ROW.match(plain)
    one, count = (row["one"], int(row["count"])) if row else (plain, 1)
    for kind, pattern in _SHAPES.items():
        match = pattern.match(one)
        if match is not None:
            words = match.groupdict()
            apart = ("toward", "run", "through", "angle")
            sizes = {n: read_length(t, page_unit) for n, t in words.items() if t and n not in apart}
            if row and row["every"]:
                sizes["every"] = read_length(row["every"], page_unit)
            return What(
                kind=kind,
                sizes=sizes,
                through=bool(words.get("through")) or kind in OPEN_CUTS,
                count=count,
                toward=words.get("toward") or "",
                run=words.get("run") or "",
            )
    raise UnreadError(f"no cut is told so: {plain!r}")
