"""What pages send of ticks and of the clock, read with care: everything else is refused in words."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from storyrod.telling.things import Thing  # the log brings a library with it: loaded when first asked for

MOST_AT_ONCE: Final = 5000
"""Ticks in one message: more than any tablet makes in a day."""

LONGEST: Final = 2000
"""Letters in a name or in the words of what was done."""

_UID: Final = re.compile(r"[0-9a-f]{32}")
_UNWRITABLE: Final = re.compile("[\0\ud800-\udfff]")
"""What no database takes as text: the null character, and halves of characters."""


def _bad(field_name: str, found: str, allowed: str) -> JobError:
    do = "Load the page again; ticks that wait are kept in the browser."
    return JobError(Fault(code="sent", field=field_name, found=found, allowed=allowed, do=do))


def listed(sent: Mapping[str, Any], name: str) -> list[dict[str, Any]]:
    found = sent.get(name, [])
    if not isinstance(found, list) or not all(isinstance(x, dict) for x in found):
        raise _bad(name, "no list", "a list")
    if len(found) > MOST_AT_ONCE:
        raise _bad(name, f"{len(found)} at once", f"{MOST_AT_ONCE} at most")
    return found


def pairs_of(found: object) -> list[list[Any]]:
    if isinstance(found, list) and all(isinstance(x, list) and len(x) == 2 for x in found):
        return found[:MOST_AT_ONCE]
    raise _bad("ticked", "no list of pairs", "things with their copies")


def uid_of(found: object) -> str:
    if isinstance(found, str) and _UID.fullmatch(found):
        return found
    raise _bad("uid", repr(found)[:60], "32 figures and letters a to f")


def text_of(found: object, name: str) -> str:
    if isinstance(found, str) and len(found) <= LONGEST and not _UNWRITABLE.search(found):
        return found
    raise _bad(name, repr(found)[:60], f"words, {LONGEST} letters at most")


def whole_of(found: object, name: str) -> int:
    if isinstance(found, int) and not isinstance(found, bool) and 0 <= found < 2**53:
        return found
    raise _bad(name, repr(found)[:60], "a whole number")


def seconds_of(found: object) -> float:
    if isinstance(found, int | float) and not isinstance(found, bool) and 0 <= found < 1e9:
        return float(found)
    raise _bad("seconds", repr(found)[:60], "a number of seconds, 0 or more")


def part_uid(uid: str, number: int) -> str:
    return hashlib.sha256(f"{uid} {number}".encode()).hexdigest()[:32]


def unknown_words(sent: dict[str, Any], copy: int, thing: Thing | None) -> str:
    name = str(sent.get("name") or sent.get("thing") or "")[:120]
    if thing is None:
        return f"{name} is not in this plan."
    return f"{name}: there is no copy {copy}."
