"""Reading tables strictly: every fault at once, and still a whole file to cross-check where some fields are wrong.

A field that is wrong is told, and its usual value or an example stands in for it, so that what else can be known of the
file is known at once. Faults that would only follow from such a stand-in are held back.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from storyrod.adapters.files._fields import nearest, read_value, show
from storyrod.adapters.files._lines import Path, path_text
from storyrod.adapters.files._tables import alone_in, has_needed, table_of
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.model.written import Field, Many

MOST_FAULTS = 200
"""So many faults are told one by one; a file with more is most likely another one."""


class Table(dict[str, Any]):
    """A table read: every field by its name, as written or as usual; `given` names those that are written."""

    given: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Read:
    """A file read: its table, unless hardly anything is right; the faults; and the fields that were stood in for."""

    table: Table | None
    faults: tuple[Fault, ...]
    unknown: frozenset[Path]


def read_table(kind: type, raw: dict[str, Any], unit: Unit) -> Read:
    """Return the table of `raw` as one of `kind`, with every fault of its fields."""
    reader = _Reader(unit)
    table = reader.table(kind, raw, ())
    faults = tuple(fault for _, fault in reader.faults)
    if len(faults) > MOST_FAULTS:
        told = (*faults[:MOST_FAULTS], and_more(len(faults) - MOST_FAULTS))
        return Read(table=None, faults=told, unknown=frozenset())
    return Read(table=table, faults=faults, unknown=frozenset(path for path, _ in reader.faults))


def and_more(count: int) -> Fault:
    """Return what stands for the faults that are told no more one by one."""
    return Fault(
        code="many-faults",
        field="",
        found=f"{count} more faults",
        allowed="a job or workshop file",
        do="Fix the ones listed, or name the right file; then the others are listed.",
    )


def allowed_in(of: Field) -> str:
    """Return what may stand in a field, in words."""
    if of.rule is not None:
        return of.rule.allowed
    return {Many.ONE: "a table", Many.LIST: "a list of tables", Many.KEYED: "tables, each with a code of its own"}[
        of.many
    ]


def _as_table(kind: type, value: object) -> Table:
    """Return a usual value of the model as if its table had been read."""
    return Table({of.name: getattr(value, of.attribute) for of in table_of(kind).values()})


@dataclass(slots=True)
class _Reader:
    """Reads one file's tables and gathers what is wrong."""

    unit: Unit
    faults: list[tuple[Path, Fault]] = field(default_factory=list)

    def table(self, kind: type, raw: dict[str, Any], path: Path) -> Table:
        fields = table_of(kind)
        found = Table({name: self._field(of, raw, path) for name, of in fields.items()})
        found.given = frozenset(name for name in fields if name in raw)
        for name in raw:
            if name not in fields:
                self._unknown_field(name, list(fields), path)
        return found

    def _field(self, of: Field, raw: dict[str, Any], outer: Path) -> Any:  # noqa: ANN401 - whatever the field holds
        path = (*outer, of.name)
        if of.name in raw:
            value = raw[of.name]
            return self._tables(of, value, path) if of.rule is None else self._value(of, value, path)
        if of.needed:
            self._tell(path, "missing", "nothing", allowed_in(of), f"Write `{of.name} = …`.")
        return self._stand_in(of)

    def _value(self, of: Field, value: object, path: Path) -> object:
        assert of.rule is not None  # noqa: S101 - asked for such fields only
        try:
            return read_value(of.rule, value, self.unit)
        except JobError as error:
            self.faults.append((path, error.faults[0].at(path_text(path))))
            return self._stand_in(of)

    def _tables(self, of: Field, value: object, path: Path) -> Any:  # noqa: ANN401 - a table or many
        kind = of.table
        assert kind is not None  # noqa: S101 - a field without a rule holds tables
        if of.many is Many.ONE:
            return self._one(of, kind, value, path)
        if of.many is Many.LIST and isinstance(value, list):
            return tuple(self._item(kind, item, (*path, number)) for number, item in enumerate(value))
        if of.many is Many.KEYED and isinstance(value, dict):
            return {code: self._item(kind, item, (*path, code)) for code, item in value.items()}
        self._wrong_kind(path, value, allowed_in(of))
        return self._stand_in(of)

    def _one(self, of: Field, kind: type, value: object, path: Path) -> Any:  # noqa: ANN401 - a table or its stand-in
        alone = alone_in(kind)
        if isinstance(value, str) and alone is not None:
            before = len(self.faults)
            table = self.table(kind, {alone.name: value}, path)
            return table if len(self.faults) == before else self._stand_in(of)
        if isinstance(value, dict):
            return self.table(kind, value, path)
        self._wrong_kind(path, value, allowed_in(of))
        return self._stand_in(of)

    def _item(self, kind: type, value: object, path: Path) -> Table:
        if isinstance(value, dict):
            return self.table(kind, value, path)
        self._wrong_kind(path, value, "a table of its own, in brackets or braces")
        return self._sound(kind, {})

    def _stand_in(self, of: Field) -> Any:  # noqa: ANN401 - whatever the field holds
        """Return what is taken for a field that is left out or wrong."""
        if not of.needed:
            return self._left_out(of)
        if of.rule is not None:
            return None if of.told.example is None else read_value(of.rule, of.told.example, Unit.MM)
        raw = {of.name: of.told.example if of.told.example is not None else {}}
        return _Reader(self.unit)._tables(of, raw[of.name], ())  # noqa: SLF001 - one that keeps its faults to itself

    def _left_out(self, of: Field) -> Any:  # noqa: ANN401 - whatever the field holds
        if of.table is None:
            return of.usual
        if of.many is not Many.ONE:
            return {} if of.many is Many.KEYED else tuple(_as_table(of.table, value) for value in of.usual or ())
        always = not of.attribute or (of.usual is not None and not has_needed(of.table))
        return self._sound(of.table, {}) if always else None

    def _sound(self, kind: type, raw: dict[str, Any]) -> Table:
        """Return a table that nothing is said of as wrong."""
        return _Reader(self.unit).table(kind, raw, ())

    def _wrong_kind(self, path: Path, value: object, allowed: str) -> None:
        self._tell(path, "type", show(value), allowed, "Write it as the examples do.")

    def _unknown_field(self, name: str, known: list[str], outer: Path) -> None:
        near = nearest(name, known)
        do = f'Did you mean "{near}"?' if near else "Delete it, or choose one of these."
        self._tell((*outer, name), "unknown-field", f'a field "{name}" that no such table has', ", ".join(known), do)

    def _tell(self, path: Path, code: str, found: str, allowed: str, do: str) -> None:
        fault = Fault(code=code, field=path_text(path), found=found, allowed=allowed, do=do)
        self.faults.append((path, fault))
