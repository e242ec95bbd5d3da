"""The cautions of a stage as its page shows them: the place, the hazard, what to do, and a button that does it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, urlencode

from storyrod.adapters.web._brief_fields import field_id
from storyrod.adapters.web._caution_stages import stage_of_caution
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Caution

_GOES_TO_WALL: Final = frozenset({"tip-fix-to-wall", "racking-no-back", "racking-loose-back"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What can be done about a caution at a press: `changes` of the job as JSON, or an address to go to."""

    words: str
    changes: str = ""
    href: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownCaution:
    """A caution with its ways out."""

    about: str
    text: str
    do: str
    code: str
    ways: tuple[Way, ...] = ()


def cautions_at(worked: Worked, stage: str) -> tuple[ShownCaution, ...]:
    """Return the cautions known so far that belong to a stage, those that say the same of several things once."""
    return shown_cautions(worked, (c for c in worked.cautions if stage_of_caution(c) == stage))


def shown_cautions(worked: Worked, cautions: Iterable[Caution]) -> tuple[ShownCaution, ...]:
    """Return cautions as the page shows them; alike ones are gathered with the names of all that they concern."""
    alike: dict[tuple[str, str, str], list[Caution]] = {}
    for caution in cautions:
        alike.setdefault((caution.code, caution.text, caution.do), []).append(caution)
    return tuple(
        ShownCaution(
            about="; ".join(dict.fromkeys(c.about for c in same)),
            text=text,
            do=do,
            code=code,
            ways=_ways(worked, same[0]),
        )
        for (code, text, do), same in alike.items()
    )


def _ways(worked: Worked, caution: Caution) -> tuple[Way, ...]:
    job = f"/job/{quote(worked.name)}"
    if caution.code in _GOES_TO_WALL and worked.plan is not None and not worked.plan.job.use.fixed_to_wall:
        return (change("I will fix it to the wall", ("use.fixed_to_wall", True)),)
    if caution.code == "board-not-measured":
        found = next((i for i in caution.ids if worked.plan and any(b.code == i for b in worked.plan.job.boards)), "")
        href = f"{job}/brief#{field_id(f'boards.{found}.measured')}" if found else f"{job}/brief"
        return (Way(words="Enter its measured thickness", href=href),)
    return ()


def change(words: str, *fields: tuple[str, object]) -> Way:
    """Return a button that sets fields of the job."""
    return Way(words=words, changes=json.dumps([{"path": path, "value": value} for path, value in fields]))


def at_panel(worked: Worked, panel: str, words: str) -> Way:
    """Return the way to a panel in the brief."""
    case = re.match(r"\w+", panel)
    codes = [c.code for c in worked.plan.job.cases] if worked.plan is not None else []
    number = codes.index(case[0]) if case and case[0] in codes else 0
    told = ({"case": str(number)} if number else {}) | {"at": panel}
    return Way(words=words, href=f"/job/{quote(worked.name)}/brief?{urlencode(told)}")
