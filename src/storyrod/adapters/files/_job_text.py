"""A job as the text of a job file: read again, it is the same job."""

from __future__ import annotations

from typing import Any, Final

from storyrod.adapters.files._tables import FORMAT, table_of
from storyrod.adapters.files._values import Value, amount, key, length, number, write
from storyrod.measure.length import Unit
from storyrod.model.job import BackKind, Board, Case, Edging, HandHold, HandHoldKind, Holds, Job, Opening, Split
from storyrod.model.written import Amount, Length, Rule

Fields = dict[str, Value]


def job_to_toml(job: Job, *, workshop: str = "") -> str:
    """Return the text of a job file; `workshop` is the name of the workshop file it shall refer to.

    Only what differs from the usual value is written.
    """
    unit = job.unit
    head = {"format": FORMAT, **_fields(job, unit)}
    if workshop:
        head["workshop"] = workshop
    head.setdefault("title", job.title)
    parts = [_lines(head)]
    if job.finish is not None:
        parts += [_table("finish", _fields(job.finish, unit))]
    parts += [_table("limits", _fields(job.limits, unit))]
    parts += [_table("gluing", _fields(job.gluing, unit))]
    parts += [_table("use", _fields(job.use, unit))]
    parts += [_table("use.loads", _fields(job.use.loads, unit))]
    parts += [_table(f"boards.{key(b.code)}", _board(b, unit)) for b in job.boards]
    parts += [_table(f"edgings.{key(e.code)}", _edging(e, unit)) for e in job.edgings]
    parts += [_table("methods", _fields(job.methods, unit))]
    parts += [_table("[joints]", _fields(o, unit)) for o in job.overrides]
    parts += [_case(c, unit) for c in job.cases]
    return "\n\n".join(p for p in parts if p) + "\n"


def _fields(part: object, unit: Unit, *, skip: frozenset[str] = frozenset()) -> Fields:
    """Return the fields of a part that differ from what the file's reader takes when they are left out."""
    found: Fields = {}
    for name, of in table_of(type(part)).items():
        if of.rule is None or not of.attribute or name in skip:
            continue
        value = getattr(part, of.attribute)
        if value is not None and (value != of.usual or of.needed):
            found[name] = _written(value, of.rule, unit)
    return found


def fields_in(part: object, unit: Unit) -> Fields:
    """Return the fields of a part of any file that differ from what its reader takes when they are left out."""
    return _fields(part, unit)


def table_text(name: str, fields: Fields) -> str:
    """Return a table of a file under its name; nothing where it has no fields."""
    return _table(name, fields)


def _written(value: Any, rule: Rule, unit: Unit) -> Value:  # noqa: ANN401 - any field of any part
    if isinstance(rule, Length):
        return length(value, unit)
    if isinstance(rule, Amount):
        return amount(value)
    if isinstance(value, bool | str):
        return value
    return list(value) if isinstance(value, tuple) else number(value)


def _lines(fields: Fields) -> str:
    return "\n".join(f"{key(k)} = {write(v)}" for k, v in fields.items())


def _table(name: str, fields: Fields) -> str:
    return f"[{name}]\n{_lines(fields)}" if fields else ""


def _board(board: Board, unit: Unit) -> Fields:
    skip = {"sheets", *board.named_figures} | ({"measured"} if not board.measured_given else set())
    fields = _fields(board, unit, skip=frozenset(skip))
    fields["sheets"] = [_fields(s, unit) for s in board.sheets]
    return fields


def _edging(edging: Edging, unit: Unit) -> Fields:
    return _fields(edging, unit)


_TABLES: Final = ("fits", "plinth", "hung", "feet", "worktop", "skirting", "scribe", "fillers")
"""Tables of a case that are there or not."""


def _case(case: Case, unit: Unit) -> str:
    parts = [_table("[cases]", _fields(case, unit))]
    for name in _TABLES:
        part = getattr(case, name)
        if part is not None:
            parts.append(_part(name, part, unit))
    parts += [_table("[cases.cut_outs]", _fields(c, unit)) for c in case.cut_outs]
    if case.back.kind is not BackKind.NONE:
        parts.append(_part("back", case.back, unit))
    fronts = _fields(case.fronts, unit)
    if case.fronts.hand_hold != HandHold(kind=HandHoldKind.NONE, field=case.fronts.hand_hold.field):
        fronts["hand_hold"] = _fields(case.fronts.hand_hold, unit)
    parts.append(_table("cases.fronts", fronts))
    parts.append(_part("drawers", case.drawers, unit))
    parts.append(_part("loose_shelves", case.loose_shelves, unit))
    if case.methods is not None:
        parts.append("[cases.methods]\n" + _lines(_fields(case.methods, unit)))
    parts.append(_table("cases.inside", opening_fields(case.inside, unit, None)))
    return "\n\n".join(p for p in parts if p)


def _part(name: str, part: object, unit: Unit) -> str:
    fields = _fields(part, unit)
    needed = name in {*_TABLES, "back"}
    return f"[cases.{name}]\n{_lines(fields)}" if fields or needed else ""


def opening_fields(opening: Opening, unit: Unit, within: Split | None) -> Fields:
    """Return the fields of an opening as they stand in a file; `within` says whether it is a row or a column."""
    fields: Fields = {}
    size = "height" if within is Split.ROWS else "width"
    if within is not None and opening.size is not None:
        fields[size] = length(opening.size, unit)
    elif within is not None and opening.parts != 1.0:
        fields[size] = f"{number(opening.parts)} parts"
    fields |= _fields(opening, unit, skip=frozenset({"height", "width", "holds"}))
    if opening.holds not in {Holds.OPEN, Holds.LOOSE_SHELVES} or (
        opening.holds is Holds.LOOSE_SHELVES and not opening.loose_shelves
    ):
        fields["holds"] = opening.holds.value
    if opening.hand_hold is not None:
        fields["hand_hold"] = _fields(opening.hand_hold, unit)
    if opening.graduated is not None:
        fields["graduated"] = _fields(opening.graduated, unit)
    if opening.clothes_rail is not None:
        fields["clothes_rail"] = _fields(opening.clothes_rail, unit)
    if opening.split is not None:
        fields[opening.split.value] = [opening_fields(o, unit, opening.split) for o in opening.inside]
    return fields
