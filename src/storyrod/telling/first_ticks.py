"""How a tick is known again that the first logs kept: by words alone, as versions 1 and 2 of the log wrote them.

Nothing here follows a change of names elsewhere: the words below are those that lie in logs.
"""

from __future__ import annotations

import re
from typing import Final

from storyrod.telling.identity import NEAR_ENOUGH

_FIRST_SIZES: Final = ("diameter", "length", "entry diameter", "disc")
"""The first of the sizes of each shape, as they were written."""

_KIND: Final = re.compile(rf"^[a-z -]+? (?=(?:{'|'.join(_FIRST_SIZES)}) [0-9])")
"""What a cut was called, before the first of its sizes."""

_FIGURE: Final = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.])")

_SAID_SINCE: Final = re.compile(
    r", its face (?:flush with|[^,;]+? behind) the front edges of the sides"
    r"|, (?:[^,;]+? of it|a lap of [^,;]+?) over the panel that it hangs on"
)
"""What the step that sets a door came to say besides, of a door that is set as before."""

_ARM: Final = re.compile(r", (?:half-cranked|cranked|straight) arm(?=[,)])")
"""What a hinge came to say of its arm, which was the only one that would do before it was said."""

_SAID_OTHERWISE: Final = {"Aim at a gap": "Aim for a gap"}
"""Words of old logs, and the same in a plan of now."""

_JOINT: Final = re.compile(r"^(?P<panels>[^,]*), (?P<method>.*?)(?P<stations>, \d+ at [-\d., /\"]+)?$")
"""Which panels a joint holds, by what, and where its connectors are."""


def is_still_by_words(before: str, after: str, *, is_cut: bool = False, other_methods: tuple[str, ...] = ()) -> bool:
    """Return whether words of what was done say what is wanted now.

    A cut is known by its figures and their names, which say what kind of cut it is: the word before them was for
    people. A joint's method may have another name by now, as long as it is not that of another method. Figures are the
    same within half of the tenth to which the first version wrote them.
    """
    if before == after:
        return True
    for once, now in _SAID_OTHERWISE.items():
        before = before.replace(once, now)
    for since in (_SAID_SINCE, _ARM):
        if not since.search(before):
            after = since.sub("", after)
    if is_cut:
        before, after = _KIND.sub("", before), _KIND.sub("", after)
    if other_methods:
        before, after = _renamed(before, after, other_methods)
    if _FIGURE.sub("#", before) != _FIGURE.sub("#", after):
        return False
    pairs = zip(_FIGURE.findall(before), _FIGURE.findall(after), strict=True)
    return all(abs(float(a) - float(b)) <= NEAR_ENOUGH for a, b in pairs)


def _renamed(before: str, after: str, others: tuple[str, ...]) -> tuple[str, str]:
    """Return both words without the method's name, where the earlier one is the name of no other method now."""
    a, b = _JOINT.match(before), _JOINT.match(after)
    if a is None or b is None or a["method"] in others:
        return before, after
    return tuple(f"{m['panels']}, {m['stations'] or ''}" for m in (a, b))  # type: ignore[return-value]
