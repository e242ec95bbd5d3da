"""What the workshop's page shows of each group: its items and fields, whose each value is, and what is wrong."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import urlencode

from storyrod.adapters.files.measuring import own_methods
from storyrod.adapters.files.workshop_editing import (
    GROUPS,
    Group,
    Item,
    Sort,
    is_written,
    items_of,
    left_out,
    placed,
    unit_of,
)
from storyrod.adapters.files.workshop_editing import packaged as packaged_tables
from storyrod.adapters.files.workshop_words import Asked, FieldAsked, Value, value_of, words_of
from storyrod.adapters.web._worked import version_of
from storyrod.adapters.web._workshop_words import SECTIONS, WORDS
from storyrod.adapters.web._workshops import OWN, WorkshopShelf, read_of
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit, parse_length, show_mm

if TYPE_CHECKING:
    from storyrod.model.workshop import Workshop


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One field of an item as the page shows it: what is written or typed, whose it is, what is wrong.

    Attributes:
        usual: what holds where nothing is written.
        packaged: the built-in workshop's value, where the value is not that.
    """

    asked: FieldAsked
    id: str
    name: str
    words: str
    usual: str
    mine: bool
    packaged: str
    understood: str = ""
    wrong: str = ""
    choices: tuple[str, ...] = ()
    suggestions: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """An item as the page shows it."""

    code: str
    id: str
    heading: str
    fields: tuple[Shown, ...]
    whose: str
    can_put_back: bool
    can_remove: bool
    wrong: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What was typed for one item and cannot be kept: its words by field, and the faults found."""

    code: str
    words: Mapping[str, str]
    faults: tuple[Fault, ...]


def rows_of(
    text: str, group: Group, faults: tuple[Fault, ...], workshop: Workshop | None, typed: Typed | None = None
) -> tuple[Row, ...]:
    """Return the items of a group, ready to be shown.

    Raises:
        JobError: the text is not TOML.
    """
    unit = unit_of(text)
    below = packaged_tables(unit)
    return tuple(_row(item, group, below, unit, faults, workshop, typed) for item in items_of(text, group))


def _row(
    item: Item,
    group: Group,
    below: Mapping[str, object],
    unit: Unit,
    faults: tuple[Fault, ...],
    workshop: Workshop | None,
    typed: Typed | None,
) -> Row:
    is_typed = typed is not None and typed.code == item.code
    told = typed.faults if is_typed and typed is not None else faults
    here = [p for p in map(placed, told) if p.group == group.key and p.code == item.code]
    under = packaged_values(below, group, item.code)
    names = {a.name for a in group.fields}
    fields = tuple(
        _shown(
            asked,
            item,
            words_of(asked, under.get(asked.name)),
            unit,
            workshop,
            wrong=" ".join(told_at(p.fault) for p in here if p.field == asked.name),
            typed=typed.words.get(asked.name) if is_typed and typed is not None else None,
        )
        for asked in group.fields
    )
    single = group.sort in {Sort.FIGURES, Sort.TOP}
    return Row(
        code=item.code,
        id=row_id(item.code),
        heading=_heading(item, group),
        fields=fields,
        whose="packaged" if not item.own else "mine" if not item.packaged else "changed by me",
        can_put_back=bool(item.own) and item.packaged and not single,
        can_remove=not single and (group.sort is not Sort.KNOWN or not item.packaged),
        wrong=" ".join(told_at(p.fault) for p in here if p.field not in names),
    )


def row_id(code: str) -> str:
    """Return an id for an item's elements; a code may hold anything."""
    return "item-" + hashlib.sha256(code.encode(errors="replace")).hexdigest()[:10]


def told_at(fault: Fault) -> str:
    """Return a fault as it is told at its field."""
    return f"Found {fault.found}; allowed: {fault.allowed}. {fault.do}".strip()


def packaged_values(below: Mapping[str, object], group: Group, code: str) -> Mapping[str, Value]:
    """Return the built-in workshop's values of an item; nothing where it has none."""
    if group.sort is Sort.TOP:
        return {n: below[n] for n in group.only if n in below}  # type: ignore[misc]  # a table's values
    whole = below.get(group.key)
    if group.sort is Sort.FIGURES:
        return whole if isinstance(whole, dict) else {}
    if isinstance(whole, list):
        return whole[int(code)] if code.isdigit() and int(code) < len(whole) else {}
    found = whole.get(code) if isinstance(whole, dict) else None
    return found if isinstance(found, dict) else {}


def _heading(item: Item, group: Group) -> str:
    name = item.values.get("name")
    if group.sort is Sort.LISTED:
        return f"{words_of(group.fields[0], item.values.get('diameter'))} mm"
    return f"{item.code}: {name}" if isinstance(name, str) and name and name != item.code else item.code


def _shown(
    asked: FieldAsked,
    item: Item,
    packaged: str,
    unit: Unit,
    workshop: Workshop | None,
    *,
    wrong: str,
    typed: str | None,
) -> Shown:
    row = row_id(item.code) if item.code or item.packaged else "new"
    words = typed if typed is not None else words_of(asked, item.values.get(asked.name))
    if asked.kind is Asked.FLAG and typed is None and asked.name not in item.values:
        words = asked.usual if asked.usual == "yes" else ""
    return Shown(
        asked=asked,
        id=f"{row}-{asked.name}",
        name=f"f.{asked.name}",
        words=words,
        usual=usual_of(asked, unit),
        mine=asked.name in item.own,
        packaged=packaged if asked.name in item.own else "",
        understood="" if wrong else understood(asked, words, unit),
        wrong=wrong,
        choices=asked.choices or _choices(asked.name, workshop),
        suggestions="acts" if asked.name in {"place_act", "cut_act"} else "",
    )


def usual_of(asked: FieldAsked, unit: Unit) -> str:
    """Return what holds where a field is left empty, with its unit where the file's own is another."""
    is_length = asked.kind in {Asked.LENGTH, Asked.LENGTHS}
    return f"{asked.usual} mm" if asked.usual and is_length and unit is Unit.INCH else asked.usual


def understood(asked: FieldAsked, words: str, unit: Unit) -> str:
    """Return what a length was understood as, where it is not written as plain millimetres."""
    if asked.kind is not Asked.LENGTH or not words.strip():
        return ""
    value = value_of(asked, words)
    if unit is Unit.MM and isinstance(value, int | float):
        return ""
    try:
        return f"= {show_mm(parse_length(value, unit))} mm"
    except JobError:
        return ""


_CLASSES: Final = ("corner", "mid_panel", "plinth", "back", "drawer_box")


def _choices(name: str, workshop: Workshop | None) -> tuple[str, ...]:
    """Return the codes to choose a usual method, runner, hinge, clothes rail or foot from."""
    if workshop is None:
        return ()
    if name in _CLASSES:
        return tuple(m.code for m in workshop.methods if any(c.name.lower() == name for c in m.classes))
    return {
        "runner": tuple(r.code for r in workshop.runners),
        "hinge": tuple(h.code for h in workshop.hinges),
        "clothes_rail": tuple(r.code for r in workshop.clothes_rails),
        "foot": tuple(f.code for f in workshop.feet),
    }.get(name, ())


def blank_row(group: Group, unit: Unit, workshop: Workshop | None, typed: Typed | None = None) -> Row:
    """Return an empty item of a group, for the form that adds one."""
    words = typed.words if typed is not None else {}
    here = [placed(f) for f in typed.faults] if typed is not None else []
    names = {a.name for a in group.fields}
    empty = Item(code="", values={}, packaged=False, own=frozenset())
    fields = []
    for asked in group.fields:
        told = " ".join(told_at(p.fault) for p in here if p.field == asked.name)
        fields.append(_shown(asked, empty, "", unit, workshop, wrong=told, typed=words.get(asked.name)))
    return Row(
        code=typed.code if typed is not None else "",
        id="new",
        heading="",
        fields=tuple(fields),
        whose="",
        can_put_back=False,
        can_remove=False,
        wrong=" ".join(told_at(p.fault) for p in here if p.field not in names),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A link to a group: how many items are the maker's own, and how many faults wait there."""

    key: str
    title: str
    mine: int
    faults: int


def ways_of(text: str, faults: tuple[Fault, ...], own_methods: int) -> tuple[tuple[str, tuple[Way, ...]], ...]:
    """Return the links to all groups, by section."""
    counts: dict[str, int] = {"methods": own_methods}
    for group in GROUPS:
        items = items_of(text, group)
        if group.sort in {Sort.FIGURES, Sort.TOP}:
            counts[group.key] = len(items[0].own)
        else:
            counts[group.key] = sum(1 for i in items if i.own) + len(left_out(text, group))
    waiting: dict[str, int] = {}
    counts["general"] = 0  # a name of one's own is no difference
    for fault in faults:
        key = placed(fault).group
        waiting[key] = waiting.get(key, 0) + 1
    return tuple(
        (title, tuple(Way(key=k, title=WORDS[k].title, mine=counts[k], faults=waiting.get(k, 0)) for k in keys))
        for title, keys in SECTIONS
    )


# What a page is made of -----------------------------------------------------------------------------------------------


def all_of(shelf: WorkshopShelf, name: str) -> dict[str, Any]:
    """Return what every page of the workshop shows round its matter.

    Raises:
        JobError: there is no such workshop file, or it cannot be read as text.
    """
    text = shelf.text(name)
    workshop, faults = read_of(text, name)
    try:
        ways = ways_of(text, faults, len(own_methods(text)))
    except JobError:
        ways = ()
    return {
        "file": name,
        "files": shelf.names(),
        "exists": shelf.path(name).exists(),
        "version": version_of(text),
        "history": shelf.history(name),
        "workshop": workshop,
        "text": text,
        "unit": unit_of(text),
        "file_faults": faults,
        "ways": ways,
        "group_words": WORDS,
        "query": f"?{urlencode({'file': name})}" if name != OWN else "",
    }


def group_values(
    text: str, group: Group, faults: tuple[Fault, ...], workshop: Workshop | None, shown: Mapping[str, Any]
) -> dict[str, Any]:
    """Return what the page of a group shows; no rows where the file is not TOML: only its fault can be told."""
    typed, is_new = shown["typed"], shown["is_new"]
    try:
        return {
            "rows": rows_of(text, group, faults, workshop, None if is_new else typed),
            "left_out": left_out(text, group),
            "written": is_written(text, group),
            "blank": blank_row(group, unit_of(text), workshop, typed if is_new else None),
            "acts": sorted(t.act for t in workshop.times) if workshop is not None else [],
        }
    except JobError:
        return {"rows": None, "left_out": (), "written": False, "blank": None, "acts": []}


def typed_row(text: str, group: Group, typed: Typed, *, is_new: bool = False) -> Row:
    """Return one item as it stands with what was typed for it.

    Raises:
        JobError: there is no such item.
    """
    workshop, faults = read_of(text, "workshop")
    if is_new:
        return blank_row(group, unit_of(text), workshop, typed)
    rows = rows_of(text, group, faults, workshop, typed)
    row = next((r for r in rows if r.code == typed.code), None)
    return row if row is not None else blank_row(group, unit_of(text), workshop, typed)


def note_of(shown: Shown) -> str:
    """Return in a few words whose a value is."""
    if not shown.mine:
        return ""
    return f"mine; built in: {shown.packaged}" if shown.packaged else "mine"
