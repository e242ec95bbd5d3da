"""The ways out of a fault, each a button: tried on the job's own text first, and shown where it clears the fault."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.editing import Act, Change, edit_job
from storyrod.adapters.web._cautions_shown import Way
from storyrod.adapters.web._lately import Lately
from storyrod.adapters.web._methods_out import methods_out
from storyrod.faults import Fault, JobError, WayOut
from storyrod.measure.length import Unit, show_inches
from storyrod.measure.writing import LengthWriter

if TYPE_CHECKING:
    from storyrod.adapters.web._worked import Worked

MOST_FAULTS: Final = 8
MOST_WAYS: Final = 3
"""So many faults get buttons, so many each: every one is tried before it is shown."""

_PARTS_OF_INCH: Final = 64
_TRIED: Final = Lately[frozenset[tuple[str, str]]](200)
"""What is still at fault, by its code and field, with a change of a job that was tried."""


def ways_out(worked: Worked, fault: Fault, raw: dict[str, Any]) -> tuple[Way, ...]:
    """Return the buttons that clear a fault of the job file, each proven to; none for another file's."""
    if fault.file and fault.file != f"{worked.name}.toml":
        return ()
    if fault not in worked.known[:MOST_FAULTS]:
        return ()
    return tuple(_proven(worked, fault, raw))


def _proven(worked: Worked, fault: Fault, raw: dict[str, Any]) -> Iterator[Way]:
    """Yield the ways of whoever found the fault, then other methods for the joints that it concerns."""
    shown = 0
    unit = Unit.INCH if raw.get("units") == "in" else Unit.MM
    for way in fault.ways:
        changes = [_change(way, unit)]
        if shown < MOST_WAYS and _clears(worked, fault, changes):
            shown += 1
            yield _way(_words(way, fault, unit), changes)
    for words, changes in methods_out(worked, fault):
        if shown < MOST_WAYS and _clears(worked, fault, changes):
            shown += 1
            yield _way(words, changes)


def _way(words: str, changes: Sequence[Change]) -> Way:
    sent = [{"path": c.path, "act": c.act.value, "value": c.value} for c in changes]
    return Way(words=words, changes=json.dumps(sent))


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


def _clears(worked: Worked, fault: Fault, changes: Sequence[Change]) -> bool:
    """Return whether the fault is gone from the job with these changes, and nothing that stands before it has come."""
    digest = worked.read.digest if worked.read is not None else worked.version
    key = f"{digest} {bool(fault.ids)} {[(c.path, c.act, c.value) for c in changes]!r}"
    left = _TRIED.get(key)
    if left is None:
        left = _TRIED[key] = _left(worked, changes, whole=bool(fault.ids))
    before = {(f.code, f.field) for f in worked.known}
    return (fault.code, fault.field) not in left and left <= before


def _left(worked: Worked, changes: Sequence[Change], *, whole: bool) -> frozenset[tuple[str, str]]:
    """Return what is at fault with these changes: as far as it is drawn; if `whole`, in the order of assembly too."""
    from storyrod.adapters.files import job_from_text, packaged_workshop
    from storyrod.planning import Plan

    workshop = worked.read.workshop if worked.read is not None else packaged_workshop()
    try:
        text = edit_job(worked.text, changes)
        read = job_from_text(text, name=f"{worked.name}.toml", workshop=workshop)
        plan = Plan(read.job, read.workshop, worked.plan)
        plan.sketch  # noqa: B018  # worked out when asked for
        if whole:
            plan.details  # noqa: B018
    except JobError as error:
        return frozenset((f.code, f.field) for f in error.faults)
    return frozenset()


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
