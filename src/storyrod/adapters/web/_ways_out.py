"""The ways out of a fault, each a button: tried on the job's own text first, and shown where it clears the fault."""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.editing import Act, Change, edit_job
from storyrod.adapters.web._cautions_shown import Way
from storyrod.faults import Fault, JobError, WayOut
from storyrod.measure.length import Unit, show_inches
from storyrod.measure.writing import LengthWriter

if TYPE_CHECKING:
    from storyrod.adapters.web._worked import Worked

MOST_FAULTS: Final = 8
MOST_WAYS: Final = 3
"""So many faults get buttons, so many each: every one is tried before it is shown."""

_PARTS_OF_INCH: Final = 64
_TRIED: OrderedDict[tuple[str, str, str, str], bool] = OrderedDict()
_MOST_TRIED: Final = 200


def ways_out(worked: Worked, fault: Fault, raw: dict[str, Any]) -> tuple[Way, ...]:
    """Return the buttons that clear a fault of the job file, each proven to; none for another file's."""
    if fault.file and fault.file != f"{worked.name}.toml":
        return ()
    if fault not in worked.known[:MOST_FAULTS]:
        return ()
    return tuple(_proven(worked, fault, raw))


def _proven(worked: Worked, fault: Fault, raw: dict[str, Any]) -> Iterator[Way]:
    shown = 0
    unit = Unit.INCH if raw.get("units") == "in" else Unit.MM
    for way in fault.ways:
        change = _change(way, unit)
        if shown < MOST_WAYS and _clears(worked, fault, change):
            shown += 1
            sent = {"path": change.path, "act": change.act.value, "value": change.value}
            yield Way(words=_words(way, fault, unit), changes=json.dumps([sent]))


def _change(way: WayOut, unit: Unit) -> Change:
    """Return the change as it is written into the file: a length in the unit of its bare numbers."""
    if way.value is None:
        return Change(path=way.field, act=Act.DELETE)
    if not way.is_length or not isinstance(way.value, int | float):
        return Change(path=way.field, value=way.value)
    if unit is Unit.INCH:
        return Change(path=way.field, value=show_inches(float(way.value), _PARTS_OF_INCH))
    value = round(float(way.value), 2)
    return Change(path=way.field, value=int(value) if value == int(value) else value)


def _clears(worked: Worked, fault: Fault, change: Change) -> bool:
    """Return whether the fault is gone from the job with this change, and nothing that stands before it has come."""
    key = (worked.version, f"{fault.code} {fault.field} {fault.found}", change.path, repr(change.value))
    known = _TRIED.get(key)
    if known is None:
        known = _TRIED[key] = _tried(worked, fault, change)
        while len(_TRIED) > _MOST_TRIED:
            _TRIED.popitem(last=False)
    return known


def _tried(worked: Worked, fault: Fault, change: Change) -> bool:
    from storyrod.adapters.files import job_from_text, packaged_workshop
    from storyrod.planning import Plan

    before = {(f.code, f.field) for f in worked.known}
    workshop = worked.read.workshop if worked.read is not None else packaged_workshop()
    try:
        text = edit_job(worked.text, [change])
        read = job_from_text(text, name=f"{worked.name}.toml", workshop=workshop)
        Plan(read.job, read.workshop).sketch  # noqa: B018  # worked out when asked for
    except JobError as error:
        after = {(f.code, f.field) for f in error.faults}
        return (fault.code, fault.field) not in after and after <= before
    return True


def _words(way: WayOut, fault: Fault, unit: Unit) -> str:
    """Return what a button says: what becomes of which field, in the job's unit."""
    thing = "it" if way.field == fault.field else _thing(way.field)
    if isinstance(way.value, str) and _is_named(way.field):
        return f"Use {way.value}"
    if way.value is None:
        return f"Leave {thing} out"
    if way.is_length and isinstance(way.value, int | float):
        return f"Make {thing} {LengthWriter(unit, _PARTS_OF_INCH).n(float(way.value))}"
    told = f"{way.value:g}" if isinstance(way.value, int | float) and not isinstance(way.value, bool) else way.value
    return f"Make {thing} {told}"


def _is_named(field: str) -> bool:
    """Whether a field names something that is chosen by its code: a board, a runner, a joining method."""
    return (
        field.rpartition(".")[2] in {"board", "bottom_board", "runner", "method"}
        or "methods." in field
        or field.endswith("clothes_rail.kind")
    )


def _thing(field: str) -> str:
    """Return what a maker calls a field of another place: `the height of row 2`."""
    from storyrod.adapters.web._brief_fields import place_words

    words = [w.strip() for w in place_words(field, {}).split(",")]
    *around, last = [w for w in words if not w.lower().startswith("case")] or ["it"]
    where = "".join(f" of {w}" for w in reversed(around))
    return f"the {last}{where}"
