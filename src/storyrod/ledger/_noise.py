"""The noise of a job's cutting, as it comes to over a day: for the tools whose level the workshop states."""

from __future__ import annotations

from typing import Final

from storyrod.model.account import DailyNoise, NoisySpell
from storyrod.model.machining import WorkPlan, WorkStage
from storyrod.model.tool import ToolKind
from storyrod.model.workshop import Tool, Workshop
from storyrod.trade.noise import DAY_MIN, daily_level

_QUIET: Final = frozenset({ToolKind.HAND_SAW})
"""Tools that nobody needs a level of; common practice, no source."""


def noise_of(run: WorkPlan | None, workshop: Workshop) -> DailyNoise | None:
    """Return what the cutting of a batch comes to where it is all done in one day, or None where no level is stated.

    A batch that takes longer than a day is reckoned as a day of it. All minutes of a cut count, with what belongs to
    it; what goes on between, and other tools in the room, do not. An estimate.
    """
    minutes: dict[str, float] = {}
    for set_up in run.set_ups if run is not None else ():
        tool = _tool_of(workshop, set_up.setting.tool if set_up.setting is not None else "", set_up.stage)
        cutting = sum(o.copies * o.cut_min for o in set_up.operations)
        if tool is not None and tool.kind not in _QUIET and cutting > 0:
            minutes[tool.code] = minutes.get(tool.code, 0.0) + cutting
    tools = {t.code: t for t in workshop.tools}
    spells = [
        NoisySpell(tool=tools[code].name, level_db=level, minutes=m)
        for code, m in minutes.items()
        if (level := tools[code].noise_db) is not None
    ]
    if not spells:
        return None
    days = max(1.0, sum(s.minutes for s in spells) / DAY_MIN)
    return DailyNoise(
        spells=tuple(sorted(spells, key=lambda s: -s.level_db)),
        level_db=daily_level((s.level_db, s.minutes / days) for s in spells),
        not_known=tuple(tools[code].name for code in minutes if tools[code].noise_db is None),
    )


def _tool_of(workshop: Workshop, code: str, stage: WorkStage) -> Tool | None:
    """Return the tool of a set-up: the one set, or the saw that sheets are cut with."""
    if stage is WorkStage.CUT:
        kind = ToolKind.TRACK_SAW if workshop.saw.track_saw else ToolKind.TABLE_SAW
        return next((t for t in workshop.tools if t.kind is kind), None)
    return next((t for t in workshop.tools if t.code == code), None)
