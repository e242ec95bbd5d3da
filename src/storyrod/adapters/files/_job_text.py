"""A job as the text of a job file: read again, it is the same job."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from storyrod.adapters.files import _job_file as f
from storyrod.adapters.files._fields import Amount, Length, Table
from storyrod.adapters.files._read import rule_of
from storyrod.adapters.files._values import Value, amount, key, length, number, write
from storyrod.measure.length import Unit
from storyrod.model.job import BackKind, Board, Case, Edging, HandHold, HandHoldKind, Holds, Job, Opening, Split

Fields = dict[str, Value]

_RENAMED: Mapping[str, str] = {
    "price": "price_cents",
    "price_per_m": "price_cents_per_m",
    "units": "unit",
    "board": "divider_board",
}


def job_to_toml(job: Job, *, workshop: str = "") -> str:
    """Return the text of a job file; `workshop` is the name of the workshop file it shall refer to.

    Only what differs from the usual value is written.
    """
    unit = job.unit
    head = {"format": f.FORMAT, **_fields(f.JobTable, job, unit, skip=_JOB_TABLES)}
    if workshop:
        head["workshop"] = workshop
    head.setdefault("title", job.title)
    parts = [_lines(head)]
    parts += [_table("limits", _fields(f.LimitsTable, job.limits, unit))]
    parts += [_table("use", _fields(f.UseTable, job.use, unit))]
    parts += [_table("use.loads", _fields(f.LoadsTable, job.use.loads, unit))]
    parts += [_table(f"boards.{key(b.code)}", _board(b, unit)) for b in job.boards]
    parts += [_table(f"edgings.{key(e.code)}", _edging(e, unit)) for e in job.edgings]
    parts += [_table("methods", _fields(f.MethodsTable, job.methods, unit))]
    parts += [_table("[joints]", _fields(f.JointTable, o, unit)) for o in job.overrides]
    parts += [_case(c, unit) for c in job.cases]
    return "\n\n".join(p for p in parts if p) + "\n"


_JOB_TABLES = frozenset({"format", "workshop", "limits", "use", "boards", "edgings", "methods", "joints", "cases"})


def _fields(
    table: type[Table],
    part: object,
    unit: Unit,
    *,
    skip: frozenset[str] = frozenset(),
    always: frozenset[str] = frozenset(),
) -> Fields:
    """Return the fields of a part that differ from what the file's reader takes when they are left out."""
    found: Fields = {}
    for name, info in table.model_fields.items():
        rule = rule_of(info)
        if rule is None or name in skip:
            continue
        value = getattr(part, name) if hasattr(part, name) else getattr(part, _RENAMED[name])
        usual = info.get_default(call_default_factory=True)
        if value is None or (value == usual and not info.is_required() and name not in always):
            continue
        found[name] = _written(value, rule, unit)
    return found


def _written(value: Any, rule: object, unit: Unit) -> Value:  # noqa: ANN401 - any field of any part
    if isinstance(rule, Length):
        return length(value, unit)
    if isinstance(rule, Amount):
        return amount(value)
    if isinstance(value, bool | str):
        return value
    if isinstance(value, tuple):
        return list(value)
    return number(value)


def _lines(fields: Fields) -> str:
    return "\n".join(f"{key(k)} = {write(v)}" for k, v in fields.items())


def _table(name: str, fields: Fields) -> str:
    return f"[{name}]\n{_lines(fields)}" if fields else ""


def _board(board: Board, unit: Unit) -> Fields:
    skip = {"sheets", *board.named_figures} | ({"measured"} if not board.measured_given else set())
    always = frozenset({"name", "grain", "spread"})
    fields = _fields(f.BoardTable, board, unit, skip=frozenset(skip), always=always)
    fields["sheets"] = [_fields(f.SheetTable, s, unit) for s in board.sheets]
    return fields


def _edging(edging: Edging, unit: Unit) -> Fields:
    return _fields(f.EdgingTable, edging, unit, always=frozenset({"name"}))


def _case(case: Case, unit: Unit) -> str:
    always = frozenset({"name", "board"})
    parts = [_table("[cases]", _fields(f.CaseTable, case, unit, always=always))]
    if case.fits is not None:
        parts.append(_part("fits", f.FitsTable, case.fits, unit))
    if case.plinth is not None:
        parts.append(_part("plinth", f.PlinthTable, case.plinth, unit))
    if case.back.kind is not BackKind.NONE:
        parts.append(_part("back", f.BackTable, case.back, unit))
    fronts = _fields(f.FrontsTable, case.fronts, unit)
    if case.fronts.hand_hold != HandHold(kind=HandHoldKind.NONE, field=case.fronts.hand_hold.field):
        fronts["hand_hold"] = _fields(f.HandHoldTable, case.fronts.hand_hold, unit)
    parts.append(_table("cases.fronts", fronts))
    parts.append(_part("drawers", f.DrawersTable, case.drawers, unit))
    parts.append(_part("loose_shelves", f.LooseShelvesTable, case.loose_shelves, unit))
    if case.methods is not None:
        parts.append("[cases.methods]\n" + _lines(_fields(f.MethodsTable, case.methods, unit)))
    parts.append(_table("cases.inside", opening_fields(case.inside, unit, None)))
    return "\n\n".join(p for p in parts if p)


def _part(name: str, table: type[Table], part: object, unit: Unit) -> str:
    fields = _fields(table, part, unit)
    needed = name in {"fits", "plinth", "back"}
    return f"[cases.{name}]\n{_lines(fields)}" if fields or needed else ""


def opening_fields(opening: Opening, unit: Unit, within: Split | None) -> Fields:
    """Return the fields of an opening as they stand in a file; `within` says whether it is a row or a column."""
    fields: Fields = {}
    size = "height" if within is Split.ROWS else "width"
    if within is not None and opening.size is not None:
        fields[size] = length(opening.size, unit)
    elif within is not None and opening.parts != 1.0:
        fields[size] = f"{number(opening.parts)} parts"
    fields |= _fields(f.OpeningTable, opening, unit, skip=frozenset({"height", "width", "holds"}))
    if opening.holds not in {Holds.OPEN, Holds.LOOSE_SHELVES} or (
        opening.holds is Holds.LOOSE_SHELVES and not opening.loose_shelves
    ):
        fields["holds"] = opening.holds.value
    if opening.hand_hold is not None:
        fields["hand_hold"] = _fields(f.HandHoldTable, opening.hand_hold, unit)
    if opening.split is not None:
        fields[opening.split.value] = [opening_fields(o, unit, opening.split) for o in opening.inside]
    return fields
