"""Small wishes for the tests: few things in a small place, soon searched."""

from __future__ import annotations

from functools import cache

from storyrod.adapters.files.wishing import WishFile, wish_from_text
from storyrod.planning import Plan, Proposal, Proposing
from storyrod.wish._space import Space, space_of

BOARDS = """
[boards.ply18]
kind = "plywood"
thickness = 18
sheets = [{ length = 2440, width = 1220, price = 80 }]

[boards.ply6]
kind = "plywood"
thickness = 6
sheets = [{ length = 2440, width = 1220, price = 30 }]
"""

SHELVES = """
[[things]]
name = "folders"
width = 80
height = 318
depth = 288
kg = 2
count = 8
"""

MIXED = """
[[things]]
name = "boxes"
width = 100
height = 150
depth = 200
kg = 1
count = 6

[[things]]
name = "papers"
width = 210
height = 50
depth = 200
way = "lies"
stack = 2
kg = 1
count = 2
reach = "drawer"
at = "low"

[[things]]
name = "cups"
width = 100
height = 100
depth = 100
kg = 0.3
count = 5
reach = "door"
"""


def text(things: str, place: str = "width = 500\nheight = 900\ndepth = 400", more: str = "", head: str = "") -> str:
    """Return the text of a wish file."""
    return f'back_board = "ply6"\n{head}\n[place]\n{place}\n{more}\n{things}\n{BOARDS}'


def read(
    things: str, place: str = "width = 500\nheight = 900\ndepth = 400", more: str = "", head: str = ""
) -> WishFile:
    return wish_from_text(text(things, place, more, head), name="small.toml")


def space(file: WishFile) -> Space:
    return space_of(file.wish, file.goods, file.base, file.workshop)


def proposing(file: WishFile) -> Proposing:
    return Proposing(file.wish, file.goods, file.base, file.workshop)


@cache
def mixed() -> WishFile:
    return read(MIXED, "width = 700\nheight = 1100\ndepth = 400")


@cache
def proposal() -> Proposal:
    """The first proposal for the mixed wish, planned once for all tests."""
    return next(p for p in proposing(mixed()).each() if isinstance(p, Proposal))


def plan() -> Plan:
    return proposal().plan
