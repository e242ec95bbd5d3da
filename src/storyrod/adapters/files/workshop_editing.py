"""Editing a workshop file group by group: what stands there, whose it is, and what is written when it changes.

A workshop file is laid over the packaged workshop. What is *known* (runners, times, ...) adds to it by code; what is
*owned* (cutters, tools, ...) is the whole list once it is written at all; single *figures* stand each for itself.
Only what differs from the packaged workshop is ever written: what is set back to it is taken out of the file again.
"""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from itertools import pairwise
from typing import Any, Final

from storyrod.adapters.files._edit import Act, Change, edit_job
from storyrod.adapters.files._lines import path_of, path_text
from storyrod.adapters.files._open import data_text, parse_toml
from storyrod.adapters.files._tables import Defaults, in_mm
from storyrod.adapters.files._told import unit_in
from storyrod.adapters.files._values import Value
from storyrod.adapters.files.workshop_words import FieldAsked, fields_of
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.model.feet import FootKind
from storyrod.model.workshop import (
    ActTime,
    Bush,
    Cutter,
    Handling,
    Hinge,
    Jig,
    Money,
    Price,
    Quoting,
    RackOffcut,
    RailKind,
    Runner,
    Saw,
    ScrewKind,
    Tool,
    Way,
    Week,
    Workshop,
)

START: Final = """\
# My workshop: what I own, buy and take my time for. What is left out is as in the plain workshop that comes with
# storyrod; docs/workshop-file.md explains every field. A job uses it by the line: workshop = "workshop.toml"

format = 1
name = "My workshop"
"""
"""The text of a workshop file before anything in it differs from the packaged one."""


class Sort(StrEnum):
    """How a group of the file is laid over the packaged one."""

    KNOWN = "known"
    OWNED = "owned"
    LISTED = "listed"
    FIGURES = "figures"
    TOP = "top"


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A group of a workshop file: its key there, how it is laid over, and what is asked of each item."""

    key: str
    sort: Sort
    table: type
    only: tuple[str, ...] = ()

    @property
    def fields(self) -> tuple[FieldAsked, ...]:
        """What is asked of an item."""
        found = fields_of(self.table)
        return tuple(a for a in found if a.name in self.only) if self.only else found


GROUPS: Final = (
    Group(key="tools", sort=Sort.OWNED, table=Tool),
    Group(key="cutters", sort=Sort.OWNED, table=Cutter),
    Group(key="bushes", sort=Sort.LISTED, table=Bush),
    Group(key="packers", sort=Sort.TOP, table=Workshop, only=("packers", "template_thickness", "deepest_pass")),
    Group(key="jigs", sort=Sort.OWNED, table=Jig),
    Group(key="ways", sort=Sort.KNOWN, table=Way),
    Group(key="defaults", sort=Sort.FIGURES, table=Defaults),
    Group(key="runners", sort=Sort.KNOWN, table=Runner),
    Group(key="hinges", sort=Sort.KNOWN, table=Hinge),
    Group(key="clothes_rails", sort=Sort.KNOWN, table=RailKind),
    Group(key="feet", sort=Sort.KNOWN, table=FootKind),
    Group(key="screws", sort=Sort.KNOWN, table=ScrewKind),
    Group(key="prices", sort=Sort.KNOWN, table=Price),
    Group(key="times", sort=Sort.KNOWN, table=ActTime),
    Group(key="money", sort=Sort.FIGURES, table=Money),
    Group(key="quotation", sort=Sort.FIGURES, table=Quoting),
    Group(key="saw", sort=Sort.FIGURES, table=Saw),
    Group(key="rack", sort=Sort.OWNED, table=RackOffcut),
    Group(key="handling", sort=Sort.FIGURES, table=Handling),
    Group(key="week", sort=Sort.FIGURES, table=Week),
    Group(key="general", sort=Sort.TOP, table=Workshop, only=("name",)),
)
"""All groups but the joining methods, which have a form of their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """An item of a group, as it is written where it is written last.

    Attributes:
        code: its key; the number of an item of a list; nothing for single figures.
        values: its fields as written.
        packaged: whether the packaged workshop has an item of that code.
        own: the fields whose value is not the packaged one.
    """

    code: str
    values: Mapping[str, Value]
    packaged: bool
    own: frozenset[str]


def unit_of(text: str) -> Unit:
    """Return the unit of bare numbers in a workshop file; millimetres where it cannot be read."""
    try:
        return unit_in(parse_toml(text, name="the workshop file", what="workshop"))
    except JobError:
        return Unit.MM


def group_of(key: str) -> Group | None:
    """Return the group of that key, or None."""
    return next((g for g in GROUPS if g.key == key), None)


def items_of(text: str, group: Group) -> tuple[Item, ...]:
    """Return the items of a group, with those of the packaged workshop that it does not replace.

    Raises:
        JobError: the text is not TOML.
    """
    tables = parse_toml(text, name="the workshop file", what="workshop")
    below = packaged(unit_in(tables))
    if group.sort in {Sort.FIGURES, Sort.TOP}:
        figures, usual = _figures(tables, group), _figures(below, group)
        both = {**usual, **figures}
        return (Item(code="", values=both, packaged=True, own=_differing(figures, both, usual)),)
    here, under = _keyed(tables.get(group.key)), _keyed(below.get(group.key))
    shown = {**under, **here} if group.sort is Sort.KNOWN else here if group.key in tables else under
    return tuple(_item(code, values, under.get(code)) for code, values in shown.items())


def left_out(text: str, group: Group) -> tuple[str, ...]:
    """Return the codes of the packaged workshop's items that the list of this file leaves out."""
    tables = parse_toml(text, name="the workshop file", what="workshop")
    if group.sort is not Sort.OWNED or group.key not in tables:
        return ()
    here = _keyed(tables[group.key])
    return tuple(code for code in _keyed(packaged(unit_in(tables)).get(group.key)) if code not in here)


def is_written(text: str, group: Group) -> bool:
    """Return whether anything of a group is written in the file."""
    tables = parse_toml(text, name="the workshop file", what="workshop")
    return any(name in tables for name in _names(group))


def _item(code: str, values: Mapping[str, Value], under: Mapping[str, Value] | None) -> Item:
    own = frozenset(values) if under is None else _differing(values, values, under)
    return Item(code=code, values=values, packaged=under is not None, own=own)


def _differing(here: Mapping[str, Value], shown: Mapping[str, Value], under: Mapping[str, Value]) -> frozenset[str]:
    names = {*here, *(n for n in under if n not in shown)}
    return frozenset(n for n in names if n not in under or shown.get(n) != under[n])


def _names(group: Group) -> tuple[str, ...]:
    return group.only if group.sort is Sort.TOP else (group.key,)


def _figures(tables: Mapping[str, Any], group: Group) -> dict[str, Value]:
    if group.sort is Sort.TOP:
        return {n: tables[n] for n in group.only if n in tables}
    return _mapping(tables.get(group.key))


def _keyed(written: object) -> dict[str, dict[str, Value]]:
    """Return items by code; those of a list by their number; what is no table at all is left to the faults."""
    if isinstance(written, list):
        return {str(n): _mapping(item) for n, item in enumerate(written)}
    return {str(code): _mapping(item) for code, item in _mapping(written).items()}


def _mapping(value: object) -> dict[str, Any]:
    return {str(k): v for k, v in value.items()} if isinstance(value, Mapping) else {}


@cache
def _packaged() -> Mapping[str, Any]:
    return tomllib.loads(data_text("workshop.toml"))


def packaged(unit: Unit) -> Mapping[str, Any]:
    """Return the tables of the packaged workshop, as they would be written in a file of that unit."""
    if unit is Unit.MM:
        return _packaged()
    return in_mm(Workshop, _packaged())


# What is written ------------------------------------------------------------------------------------------------------


def set_item(text: str, group: Group, code: str, values: Mapping[str, Value | None]) -> str:
    """Return the text with fields of an item set, or left out where None; an item that is not there is added.

    Raises:
        JobError: the text is not TOML, or would not stay as it is beside the change.
    """
    tables = parse_toml(text, name="the workshop file", what="workshop")
    below = packaged(unit_in(tables))
    if group.sort in {Sort.FIGURES, Sort.TOP}:
        return _set_figures(text, group, values, tables, below)
    here, under = _keyed(tables.get(group.key)), _keyed(below.get(group.key))
    listed = here if group.sort is Sort.KNOWN or group.key in tables else copy.deepcopy(under)
    start = listed.get(code, under.get(code, {}) if group.sort is Sort.KNOWN else {})
    wanted = {n: v for n, v in {**start, **values}.items() if v is not None}
    return _put(text, group, tables, {**listed, code: wanted}, below)


def remove_item(text: str, group: Group, code: str) -> str:
    """Return the text without an item; one that is known by the packaged workshop is as it is there again.

    Raises:
        JobError: as `set_item`, or there is no such item in the file.
    """
    tables = parse_toml(text, name="the workshop file", what="workshop")
    below = packaged(unit_in(tables))
    here, under = _keyed(tables.get(group.key)), _keyed(below.get(group.key))
    listed = here if group.sort is Sort.KNOWN or group.key in tables else under
    if code not in listed:
        raise JobError(
            Fault(
                code="edit",
                field=path_text((group.key, code)),
                found="no such item",
                allowed="an item of the list",
                do="Load the page again: it may have been taken out in the meantime.",
            )
        )
    return _put(text, group, tables, {c: v for c, v in listed.items() if c != code}, below)


def put_back(text: str, group: Group, code: str | None = None, field: str | None = None) -> str:
    """Return the text with a field, an item or a whole group as in the packaged workshop.

    Raises:
        JobError: as `set_item`.
    """
    tables = parse_toml(text, name="the workshop file", what="workshop")
    if group.sort in {Sort.FIGURES, Sort.TOP}:
        at: tuple[str, ...] = () if group.sort is Sort.TOP else (group.key,)
        paths = [(*at, n) for n in _figures(tables, group)]
        chosen = [p for p in paths if field is None or p[-1] == field]
        return _tidied(text, edit_job(text, _deleting(chosen)) if chosen else text, group)
    if code is None:
        return edit_job(text, _deleting([(group.key,)])) if group.key in tables else text
    under = _keyed(packaged(unit_in(tables)).get(group.key))
    if code in under:
        here = _keyed(tables.get(group.key)) if group.sort is Sort.KNOWN or group.key in tables else under
        wanted = under[code] if field is None else _one_back(here.get(code, {}), under[code], field)
        return _put(text, group, tables, {**here, code: wanted}, packaged(unit_in(tables)))
    return remove_item(text, group, code)


def _one_back(here: Mapping[str, Value], under: Mapping[str, Value], field: str) -> dict[str, Value]:
    kept = {n: v for n, v in here.items() if n != field}
    return {**kept, field: under[field]} if field in under else kept


def _deleting(paths: list[tuple[str, ...]]) -> list[Change]:
    return [Change(path=path_text(p), act=Act.DELETE) for p in paths]


def _set_figures(
    text: str, group: Group, values: Mapping[str, Value | None], tables: Mapping[str, Any], below: Mapping[str, Any]
) -> str:
    here, under = _figures(tables, group), _figures(below, group)
    changes = []
    for name, value in values.items():
        path = path_text((name,) if group.sort is Sort.TOP else (group.key, name))
        if value is None or value == under.get(name):
            changes += [Change(path=path, act=Act.DELETE)] if name in here else []
        elif value != here.get(name):
            changes.append(Change(path=path, value=value))
    return _tidied(text, edit_job(text, changes) if changes else text, group)


def _put(
    text: str, group: Group, tables: Mapping[str, Any], wanted: dict[str, dict[str, Any]], below: Mapping[str, Any]
) -> str:
    """Write the items that a group is to have, touching only those that change."""
    under = _keyed(below.get(group.key))
    if group.sort is Sort.KNOWN:
        wanted = {code: v for code, v in wanted.items() if v != under.get(code)}
    elif wanted == under and list(wanted) == list(under):
        wanted = {}
        if group.key in tables:
            return spaced(text, edit_job(text, _deleting([(group.key,)])))
        return text
    if group.key not in tables:
        whole: Any = list(wanted.values()) if group.sort is Sort.LISTED else wanted
        return spaced(text, edit_job(text, [Change(path=group.key, value=whole)])) if wanted else text
    if group.sort is Sort.LISTED:
        return spaced(text, _put_list(text, group, list(_keyed(tables[group.key]).values()), list(wanted.values())))
    here = _keyed(tables[group.key])
    changes = _deleting([(group.key, code) for code in here if code not in wanted])
    for code, values in wanted.items():
        if code not in here:
            changes.append(Change(path=path_text((group.key, code)), value=values))
        else:
            changes += _fields_changed((group.key, code), here[code], values)
    return _tidied(text, edit_job(text, changes) if changes else text, group)


def _fields_changed(at: tuple[str | int, ...], here: Mapping[str, Value], wanted: Mapping[str, Value]) -> list[Change]:
    gone = [Change(path=path_text((*at, n)), act=Act.DELETE) for n in here if n not in wanted]
    new = [Change(path=path_text((*at, n)), value=v) for n, v in wanted.items() if here.get(n) != v or n not in here]
    return gone + new


def _put_list(text: str, group: Group, here: list[dict[str, Any]], wanted: list[dict[str, Any]]) -> str:
    changes: list[Change] = []
    if len(wanted) < len(here):
        gone = next((n for n, item in enumerate(wanted) if item != here[n]), len(wanted))
        changes.append(Change(path=f"{group.key}[{gone}]", act=Act.DELETE))
    for number, item in enumerate(wanted):
        if number >= len(here):
            changes.append(Change(path=f"{group.key}[{number}]", act=Act.INSERT, value=item))
        elif len(wanted) == len(here):
            changes += _fields_changed((group.key, number), here[number], item)
    return edit_job(text, changes) if changes else text


def _tidied(before: str, after: str, group: Group) -> str:
    """Take a group out that has nothing left in it, and keep tables apart by an empty line."""
    left = tomllib.loads(after).get(group.key)
    empty_means_packaged = group.sort in {Sort.KNOWN, Sort.FIGURES}
    if left == {} and empty_means_packaged:
        after = edit_job(after, _deleting([(group.key,)]))
    return spaced(before, after)


def spaced(before: str, after: str) -> str:
    """Return the text with an empty line before each table that was put in right below another line."""
    old = set(pairwise(before.split("\n")))
    lines = after.split("\n")
    spaced = lines[:1]
    for above, line in pairwise(lines):
        parted = not above.strip() or above.lstrip().startswith("#")
        if line.startswith("[") and not parted and (above, line) not in old:
            spaced.append("")
        spaced.append(line)
    told = "\n".join(spaced)
    if told.endswith("\n\n") and not before.endswith("\n\n"):
        told = told.rstrip("\n") + "\n"
    return told if _reads_as(told, after) else after


def _reads_as(text: str, other: str) -> bool:
    try:
        return tomllib.loads(text) == tomllib.loads(other)
    except tomllib.TOMLDecodeError:
        return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A fault with the form field that it belongs to: its group, item and field, each as far as known."""

    fault: Fault
    group: str
    code: str = ""
    field: str = ""


def placed(fault: Fault) -> Placed:
    """Return where a fault of a workshop file stands in the forms."""
    path = [str(k) for k in path_of(fault.field)]
    top = next((g for g in GROUPS if g.sort is Sort.TOP and path and path[0] in g.only), None)
    if top is not None:
        return Placed(fault=fault, group=top.key, field=path[0])
    group = group_of(path[0]) if path else None
    if group is not None and group.sort is Sort.FIGURES:
        return Placed(fault=fault, group=group.key, field=path[1] if len(path) > 1 else "")
    code, field = (*path[1:3], "", "")[:2]
    return Placed(fault=fault, group=path[0] if path else "", code=code, field=field)
