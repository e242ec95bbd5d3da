"""Changes of shape: openings cut, added, moved and made whole, cases added and copied, each told as plain changes.

They are worked out on the file as it is written, so that they can be made on a job that cannot be built as well.
"""

from __future__ import annotations

import copy
import math
import re
from collections.abc import Sequence
from typing import Any, Final

from storyrod.adapters.files._edit import Act, Change
from storyrod.adapters.files._lines import path_of, path_text
from storyrod.faults import Fault, JobError
from storyrod.measure.length import FINEST, MM_PER_INCH, Unit, nearest_fraction, parse_length, show_inches

MOST_PARTS: Final = 30
"""Openings into which one is cut at once; a slip of the pen makes no thousand."""

SPLITS: Final = {"rows": "height", "columns": "width"}

_ITEM = re.compile(r"^(.*)\[(\d+)\]$")


def value_at(raw: dict[str, Any], path: str) -> Any:  # noqa: ANN401  # whatever stands there
    """Return what is written at a path; None where nothing is."""
    here: Any = raw
    for key in path_of(path):
        if isinstance(here, dict) and isinstance(key, str):
            here = here.get(key)
        elif isinstance(here, list) and isinstance(key, int) and key < len(here):
            here = here[key]
        else:
            return None
    return here


def path_in(table: str, code: str) -> str:
    """Return the path of what has a code of its own in a table, such as `boards.birch18`."""
    return path_text((table, code))


def split_of(opening: Any) -> str:  # noqa: ANN401  # as it is written
    """Return `rows` or `columns` where an opening is cut, nothing where it is whole."""
    if not isinstance(opening, dict):
        return ""
    return next((s for s in SPLITS if isinstance(opening.get(s), list) and opening[s]), "")


def place_of(path: str) -> tuple[str, str, int] | None:
    """Return the path of the opening around one, how it is cut, and which of its parts this is; None for the whole."""
    match = _ITEM.match(path)
    if match is None:
        return None
    outer, _, split = match[1].rpartition(".")
    return (outer, split, int(match[2])) if split in SPLITS else None


def cut(raw: dict[str, Any], path: str, into: str, many: int) -> list[Change]:
    """Cut a whole opening into rows or columns; what it held goes into each of them, but a door stays before them.

    Raises:
        JobError: it is cut already, or not into a number that can be.
    """
    if into not in SPLITS:
        raise not_done(path, f'"{into}"', "rows or columns", "Cut it one way or the other.")
    if not 2 <= many <= MOST_PARTS:
        raise not_done(path, f"{many} parts", f"2 to {MOST_PARTS}", "Say into how many it is cut.")
    old = value_at(raw, path)
    opening = dict(old) if isinstance(old, dict) else {}
    if split_of(opening):
        raise not_done(path, "an opening that is cut already", "a whole one", "Cut one of its parts, or make it whole.")
    part: dict[str, Any] = {}
    changes = [_dropped(opening, path, s) for s in SPLITS if s in opening]  # an empty list of rows
    if opening.get("holds") == "drawer":
        part["holds"] = "drawer"
        if into == "rows":
            part["parted"] = False
        changes.append(Change(path=f"{path}.holds", act=Act.DELETE))
    elif opening.get("holds") == "loose shelves":
        changes.append(Change(path=f"{path}.holds", act=Act.DELETE))
    changes += [
        _dropped(opening, path, n) for n in ("loose_shelves", "clothes_rail", "load_kg", "contents") if n in opening
    ]
    parts: list[Any] = [dict(part) for _ in range(many)]
    parts[-1].pop("parted", None)
    return [*changes, Change(path=f"{path}.{into}", value=parts)]


def make_whole(raw: dict[str, Any], path: str) -> list[Change]:
    """Make an opening whole again: what stood in its parts goes.

    Raises:
        JobError: it is whole.
    """
    split = split_of(value_at(raw, path))
    if not split:
        raise not_done(path, "a whole opening", "one that is cut", "It is whole already.")
    return [Change(path=f"{path}.{split}", act=Act.DELETE)]


def add_beside(raw: dict[str, Any], path: str, *, after: bool) -> list[Change]:
    """Put a new opening before or after one, holding the same and taking an equal share.

    Raises:
        JobError: the opening is no part of another.
    """
    outer, split, number = _part(raw, path)
    old = value_at(raw, path)
    kept = (
        {k: v for k, v in old.items() if k in {"holds", "parted", "loose_shelves", "clothes_rail"}}
        if isinstance(old, dict)
        else {}
    )
    at = number + 1 if after else number
    return [Change(path=f"{outer}.{split}[{at}]", act=Act.INSERT, value=kept)]


def remove(raw: dict[str, Any], path: str) -> list[Change]:
    """Take an opening away; its neighbours share its room. The last but one gone, the opening around it is whole.

    Raises:
        JobError: the opening is no part of another.
    """
    outer, split, number = _part(raw, path)
    parts = value_at(raw, f"{outer}.{split}")
    if len(parts) > 2:
        return [Change(path=path, act=Act.DELETE)]
    left = parts[1 - number] if len(parts) == 2 else {}
    around = value_at(raw, outer) or {}
    gone = [Change(path=f"{outer}.{split}", act=Act.DELETE)]
    taken = {k: v for k, v in left.items() if k not in {*SPLITS.values(), "parted", "name"} and k not in around}
    return gone + [Change(path=f"{outer}.{k}", value=copy.deepcopy(v)) for k, v in taken.items()]


def move(raw: dict[str, Any], path: str, by: int) -> list[Change]:
    """Let an opening change places with its neighbour.

    Raises:
        JobError: the opening is no part of another, or stands at that end.
    """
    outer, split, number = _part(raw, path)
    parts = value_at(raw, f"{outer}.{split}")
    other = number + (1 if by > 0 else -1)
    if not 0 <= other < len(parts):
        raise not_done(path, "an opening at the end", "one with a neighbour there", "Move it the other way.")
    first, second = min(number, other), max(number, other)
    upper, lower = copy.deepcopy(parts[first]), copy.deepcopy(parts[second])
    upper["parted"], lower["parted"] = (
        lower.get("parted", True),
        upper.get("parted", True),
    )  # partings stay where they are
    for part in (upper, lower):
        if part["parted"] is True:
            del part["parted"]
    return [
        Change(path=f"{outer}.{split}[{first}]", value=lower),
        Change(path=f"{outer}.{split}[{second}]", value=upper),
    ]


def part_at(raw: dict[str, Any], path: str, sizes: Sequence[float], to: float, unit: Unit) -> list[Change]:
    """Move the parting after an opening, so that it becomes `to` mm and its next neighbour takes up the difference.

    `sizes` are the clear sizes (mm) of the opening and all its neighbours as they are now. Those that share the rest
    go on sharing it wherever the parting comes to lie in the same place by that.

    Raises:
        JobError: the opening is no part of another, or nothing would be left of it or its neighbour.
    """
    outer, split, number = _part(raw, path)
    name = SPLITS[split]
    parts = value_at(raw, f"{outer}.{split}")
    if len(sizes) != len(parts) or number + 1 >= len(parts):
        raise not_done(path, "no parting after it", "an opening with a neighbour after it", "Load the page again.")
    both = sizes[number] + sizes[number + 1]
    rest = both - to
    if not (math.isfinite(to) and to >= 10 and rest >= 10):
        raise not_done(path, f"{to:.1f} mm", f"10 to {both - 10:.1f} mm", "Leave both of them some room.")
    if parts[number].get("shelf_at") is not None:
        return _shelf_at(raw, path, sizes[number] - to, unit) + [
            Change(path=f"{outer}.{split}[{n}].{name}", value=_written(size, unit))
            for n, size in ((number, to), (number + 1, rest))
            if _is_fixed(parts[n].get(name))
        ]
    shares = [i for i, p in enumerate(parts) if not _is_fixed(p.get(name))]
    elsewhere = any(i not in {number, number + 1} for i in shares)
    changes = []
    if elsewhere or number + 1 in shares or number not in shares:
        changes.append(Change(path=f"{path}.{name}", value=_written(to, unit)))
    if elsewhere or number + 1 not in shares:
        changes.append(Change(path=f"{outer}.{split}[{number + 1}].{name}", value=_written(rest, unit)))
    return changes


def _shelf_at(raw: dict[str, Any], path: str, up: float, unit: Unit) -> list[Change]:
    """Move a shelf whose height above the floor is written, `up` mm higher."""
    old = value_at(raw, f"{path}.shelf_at")
    at = parse_length(old, unit) + up
    return [Change(path=f"{path}.shelf_at", value=_written(at, unit))]


def resize(path: str, to: float, unit: Unit) -> list[Change]:
    """Set a size to `to` mm, written as the job's unit has it.

    Raises:
        JobError: it is no size that a case could have.
    """
    least = 0 if ".worktop." in path else 1  # an overhang may go back to none
    if not (math.isfinite(to) and least <= to <= 10_000):
        raise not_done(path, f"{to:.1f} mm", f"{least} to 10000 mm", "Type the size.")
    return [Change(path=path, value=_written(to, unit))]


def _written(mm: float, unit: Unit) -> str | int | float:
    """Return a dragged length as a maker would write it: in inches as a fraction where it is one, but for a hair."""
    if unit is Unit.INCH:
        on_rule = float(nearest_fraction(mm, FINEST)) * MM_PER_INCH
        if abs(on_rule - mm) < 0.005:
            return show_inches(on_rule, FINEST)
        return f"{round(mm, 3):g} mm"
    value = round(mm, 4)
    return int(value) if value == int(value) else value


def _is_fixed(size: object) -> bool:
    return size is not None and not (isinstance(size, str) and size.strip().casefold().endswith(("part", "parts")))


def add_case(raw: dict[str, Any], like: int | None) -> list[Change]:
    """Add a case at the end: a copy of the one of that number, or a plain one of the first case's board.

    Raises:
        JobError: there is no case of that number.
    """
    cases = cases_in(raw)
    code = _free_code([str(c.get("code", "")) for c in cases])
    if like is None:
        board = next((c.get("board") for c in cases), None) or next(iter(raw.get("boards") or {}), None)
        inch = raw.get("units") == "in"
        sizes = {"width": 24, "height": 30, "depth": 16} if inch else {"width": 600, "height": 720, "depth": 400}
        plain = {"code": code} | ({"board": board} if isinstance(board, str) else {}) | sizes
        return [_added(cases, plain)]
    if not 0 <= like < len(cases):
        raise not_done("cases", f"case {like + 1}", f"1 to {len(cases)}", "Load the page again.")
    made = copy.deepcopy(cases[like]) | {"code": code}
    return [_added(cases, made)]


def _added(cases: list[Any], case: dict[str, Any]) -> Change:
    if not cases:
        return Change(path="cases", value=[case])
    return Change(path=f"cases[{len(cases)}]", act=Act.INSERT, value=case)


def remove_case(raw: dict[str, Any], number: int) -> list[Change]:
    """Take a case away.

    Raises:
        JobError: it is the only one, or not there.
    """
    cases = cases_in(raw)
    if len(cases) < 2:
        raise not_done("cases", "the only case", "a job with another one", "Delete the job, or change this case.")
    if not 0 <= number < len(cases):
        raise not_done("cases", f"case {number + 1}", f"1 to {len(cases)}", "Load the page again.")
    return [Change(path=f"cases[{number}]", act=Act.DELETE)]


def cases_in(raw: dict[str, Any]) -> list[Any]:
    """Return the cases that are written as tables."""
    cases = raw.get("cases")
    return [c for c in cases if isinstance(c, dict)] if isinstance(cases, list) else []


def _free_code(taken: Sequence[str]) -> str:
    known = {t.casefold() for t in taken}
    letters = [chr(65 + i) for i in range(26)]
    several = (f"{a}{n}" for n in range(2, 100) for a in letters)
    return next(c for c in (*letters, *several) if c.casefold() not in known)


def _part(raw: dict[str, Any], path: str) -> tuple[str, str, int]:
    place = place_of(path)
    parts = value_at(raw, f"{place[0]}.{place[1]}") if place else None
    if place is None or not isinstance(parts, list) or place[2] >= len(parts) or not isinstance(parts[place[2]], dict):
        raise not_done(path, "an opening that has no neighbours", "a row or a column", "Cut the opening first.")
    return place


def _dropped(opening: dict[str, Any], path: str, name: str) -> Change:
    assert name in opening  # noqa: S101  # asked before
    return Change(path=f"{path}.{name}", act=Act.DELETE)


def not_done(path: str, found: str, allowed: str, do: str) -> JobError:
    """Return the fault of a change of shape that cannot be made at a path."""
    return JobError(Fault(code="reshape", field=path, found=found, allowed=allowed, do=do))
