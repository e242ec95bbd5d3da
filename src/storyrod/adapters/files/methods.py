"""Reading joining methods: those that come with the package, and those that a maker adds or corrects.

A table of methods is keyed by the method's code. A method may be made `like` another one: it takes over every figure
of that one which it does not give itself. `docs/methods.md` tells the fields.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Annotated, Any, Final

from pydantic import Field

from storyrod.adapters.files._fields import Choice, Flag, Length, Names, Number, Table, Text, nearest, show
from storyrod.adapters.files._lines import path_text
from storyrod.adapters.files._method_checks import check_method
from storyrod.adapters.files._read import read_table
from storyrod.faults import Fault, JobError, joined, raise_if_any
from storyrod.measure.length import Unit
from storyrod.model.job import JointClass
from storyrod.model.method import Consumed, Cut, CutKind, CutPlace, Method, Motion, SizeForBoard, StationRules, Work

_Size = Annotated[float | None, Length(0.1, 500)]
_Minutes = Annotated[float, Number(0, 600, "min")]


class CutTable(Table):
    """One cut of a method, in the receiving or the entering panel."""

    kind: Annotated[CutKind, Choice(CutKind)] = Field(description="What is cut.", examples=["hole"])
    place: Annotated[CutPlace, Choice(CutPlace)] = Field(
        default=CutPlace.JOINT,
        description="Where: at the joint itself, from the receiving panel's outside, or in the entering panel's face.",
    )
    diameter: _Size = Field(default=None, description="Of a hole, a keyhole's entry or an angled pocket.")
    length: _Size = Field(default=None, description="Of a slot overall; of an angled pocket along its axis.")
    width: _Size = Field(
        default=None,
        description="Of a slot or segment pocket, a keyhole's neck, an undercut slot's mouth, a pocket's pilot.",
    )
    depth: _Size = Field(default=None, description="Below the surface that is worked.")
    through: Annotated[bool, Flag()] = Field(default=False, description="Whether a hole goes through the board.")
    countersink: _Size = Field(default=None, description="Diameter of a 90 degree countersink at the surface.")
    undercut_width: _Size = Field(default=None, description="Of a keyhole or undercut slot, below its lip.")
    lip: _Size = Field(default=None, description="Board left above an undercut.")
    travel: _Size = Field(default=None, description="Of a keyhole, from the entry's centre to the lock's.")
    disc: _Size = Field(default=None, description="Diameter of the disc that cuts a segment pocket.")
    angle_deg: Annotated[float | None, Number(5, 60, "degrees")] = Field(
        default=None, description="Of an angled pocket to the face."
    )
    inset: _Size = Field(
        default=None,
        description="From the entering panel's edge to a cut in its face; worked out for an angled pocket unless said.",
    )
    along: Annotated[float, Length(-500, 500)] = Field(default=0.0, description="From the station, along the joint.")
    across: Annotated[float, Length(-50, 50)] = Field(
        default=0.0, description="From the middle of the entering board, away from its face side."
    )
    name: Annotated[str, Text(0, 60)] = Field(default="", description="What the cut is for.")


class ConsumedTable(Table):
    """Something a method uses up."""

    item: Annotated[str, Text(1, 100)] = Field(description="What it is called in the lists.", examples=["dowel 8 x 35"])
    each: Annotated[int, Number(0, 100, whole=True)] = Field(default=1, description="How many at every station.")
    per_joint: Annotated[int, Number(0, 100, whole=True)] = Field(default=0, description="How many once a joint.")
    turned: Annotated[bool, Flag()] = Field(
        default=False, description="Whether it locks only when it is turned, as a cam."
    )


class SizeTable(Table):
    """The cuts and connectors for boards from `low` up to, but not including, `high`."""

    low: Annotated[float, Length(1, 100)] = Field(description="Thinnest measured board that it suits.", examples=[17])
    high: Annotated[float, Length(1, 200)] = Field(description="Boards must be thinner than this.", examples=[18.5])
    receiving: list[CutTable] = Field(default_factory=list, description="Cuts in the receiving panel.")
    entering: list[CutTable] = Field(default_factory=list, description="Cuts in the entering panel.")
    consumes: list[ConsumedTable] = Field(default_factory=list, description="What is used up.")
    connector_length: _Size = Field(
        default=None,
        description="Length of a connector that lies in both panels: the two depths must leave room for it.",
    )
    enters: Annotated[float, Length(0, 100)] = Field(
        default=0.0, description="How far the entering panel goes into the receiving one (housing, rebate)."
    )
    width_slack: Annotated[float, Length(0, 2)] = Field(
        default=0.0, description="How much wider than the measured board a housing is cut."
    )
    stop_short: Annotated[float, Length(0, 200)] = Field(
        default=0.0, description="How far short of the front edge a housing stops."
    )


class RulesTable(Table):
    """Where along a joint the connectors may stand."""

    end: Annotated[float, Length(1, 1000)] = Field(description="From the joint's end to the first station.")
    end_min: Annotated[float, Length(1, 1000)] = Field(description="The least distance of a station from an end.")
    pitch: Annotated[float, Length(5, 2000)] = Field(description="The greatest distance from station to station.")
    gap_min: Annotated[float, Length(1, 1000)] = Field(description="The least distance from station to station.")
    least: Annotated[int, Number(1, 50, whole=True)] = Field(default=2, description="How many a joint must have.")
    single: Annotated[bool, Flag()] = Field(
        default=False, description="Whether one in the middle will do where that many do not fit."
    )


class WorkTable(Table):
    """Minutes of one person."""

    setup_min: _Minutes = Field(default=0.0, description="To set up, once a run.")
    per_station_receiving_min: _Minutes = Field(default=0.0, description="To cut one station in the receiving panel.")
    per_station_entering_min: _Minutes = Field(default=0.0, description="To cut one station in the entering panel.")
    fit_min: _Minutes = Field(default=0.0, description="To fit one connector.")
    per_joint_min: _Minutes = Field(default=0.0, description="Once a joint: cutting it, glue, clamps.")
    close_min: _Minutes = Field(default=0.9, description="To close one joint at assembly.")


class MethodTable(Table):
    """How a joint is held. Its key is the code by which jobs choose it."""

    name: Annotated[str, Text(0, 100)] = Field(
        default="", description="What the packet calls it; its code unless said."
    )
    like: Annotated[str, Text(0, 60)] = Field(
        default="", description="Code of a method whose figures it takes over where it gives none itself."
    )
    motion: Annotated[Motion, Choice(Motion)] = Field(
        description="How the entering panel goes home.", examples=["straight"]
    )
    classes: Annotated[tuple[str, ...], Names(1, 5)] = Field(description="Classes of joint that it may hold.")
    rules: RulesTable | None = Field(
        default=None, description="Where its stations stand; none where it has no stations."
    )
    sizes: list[SizeTable] = Field(default_factory=list, description="Cuts and connectors by the board's thickness.")
    whole_line: Annotated[bool, Flag()] = Field(
        default=False, description="Whether it is cut along the whole joint and has no stations."
    )
    slide_travel: Annotated[float, Length(0, 500)] = Field(default=0.0, description="How far the panel slides home.")
    glue: Annotated[bool, Flag()] = Field(default=False, description="Whether it needs glue.")
    clamps: Annotated[bool, Flag()] = Field(default=False, description="Whether it needs clamps.")
    undone: Annotated[bool, Flag()] = Field(default=False, description="Whether it can be undone.")
    held_by_screws: Annotated[bool, Flag()] = Field(default=False, description="Whether screws alone hold it.")
    shows: Annotated[str, Text(0, 200)] = Field(default="", description="What can be seen of it.")
    strength_n: Annotated[float | None, Number(1, 1e6, "N")] = Field(
        default=None, description="What one connector carries across the joint (N), where it is known."
    )
    strength_source: Annotated[str, Text(0, 300)] = Field(default="", description="Where that figure comes from.")
    step_mm: Annotated[float, Length(0, 5)] = Field(default=0.2, description="Usual error across the joint (+-).")
    along_mm: Annotated[float, Length(0, 20)] = Field(default=0.5, description="Usual error along the joint (+-).")
    work: WorkTable = Field(default_factory=WorkTable, description="Minutes.")
    needs: Annotated[tuple[str, ...], Names(0, 20)] = Field(
        default=(), description="Kinds of tool and cutter it needs."
    )
    note: Annotated[str, Text(0, 500)] = Field(default="", description="What the maker should mind.")


def methods_from(table: dict[str, object], unit: Unit, where: str) -> tuple[Method, ...]:
    """Return the methods of a table keyed by code, in its order.

    Bare numbers are in `unit`. `where` is the table's own path, such as `methods`. A method `like` another finds it
    in the same table or among those of the package.

    Raises:
        JobError: every fault of every method, each with its path.
    """
    found: list[Method] = []
    faults: list[Fault] = []
    for code, written in table.items():
        place = joined(where, path_text((code,)))
        try:
            method = _method(code, _filled(code, written, table, place), unit, place)
        except JobError as error:
            faults.extend(error.faults)
        else:
            found.append(method)
    raise_if_any(faults)
    return tuple(found)


@cache
def packaged_methods() -> tuple[Method, ...]:
    """Return the methods that come with the package."""
    return methods_from(dict(_packaged()), Unit.MM, "methods")


@cache
def _packaged() -> Mapping[str, Any]:
    text = resources.files("storyrod").joinpath("data/methods.toml").read_text(encoding="utf-8")
    return {code: in_mm(MethodTable, m) for code, m in tomllib.loads(text)["methods"].items()}


_TABLES: Final[dict[str, type[Table]]] = {
    "rules": RulesTable,
    "work": WorkTable,
    "sizes": SizeTable,
    "receiving": CutTable,
    "entering": CutTable,
    "consumes": ConsumedTable,
}


def in_mm(kind: type[Table], written: Mapping[str, Any]) -> dict[str, Any]:
    """Return the table with its unit at every length, so that a file in inches can take figures over."""

    def told(name: str, value: object) -> object:
        if name in _TABLES and isinstance(value, Mapping):
            return in_mm(_TABLES[name], value)
        if name in _TABLES and isinstance(value, list):
            return [in_mm(_TABLES[name], v) for v in value]
        is_length = any(isinstance(rule, Length) for rule in kind.model_fields[name].metadata)
        return f"{value} mm" if is_length and not isinstance(value, str) else value

    return {name: told(name, value) for name, value in written.items()}


def _filled(code: str, written: object, table: Mapping[str, object], place: str, depth: int = 0) -> dict[str, object]:
    """Return the written method with what it takes over from the one it is like."""
    if not isinstance(written, Mapping):
        raise JobError(
            Fault(
                code="type",
                field=place,
                found=show(written),
                allowed="a table with the method's figures",
                do="Write the method as a table of its own.",
            )
        )
    own = dict(written)
    like = own.get("like")
    if not isinstance(like, str) or not like:
        return own
    known = {**_packaged(), **{k: v for k, v in table.items() if k != code}}
    if like not in known or depth > 10:
        near = nearest(like, tuple(known))
        raise JobError(
            Fault(
                code="unknown-name",
                field=joined(place, "like"),
                found=show(like),
                allowed=f"the code of another method: {', '.join(known)}",
                do=f'Did you mean "{near}"?' if near and near != like else "Write the code of another method.",
            )
        )
    base = _filled(like, known[like], known, place, depth + 1)
    for part in ("rules", "work"):
        if isinstance(base.get(part), Mapping) and isinstance(own.get(part), Mapping):
            own[part] = {**_mapping(base[part]), **_mapping(own[part])}
    return {**base, **own, "like": ""}


def _mapping(value: object) -> dict[str, object]:
    return dict(value) if isinstance(value, Mapping) else {}


def _method(code: str, written: dict[str, object], unit: Unit, place: str) -> Method:
    told = read_table(MethodTable, written, unit)
    if told.faults or told.table is None:
        raise JobError(*told.faults).under(place)
    read = told.table
    classes, faults = _classes(read.classes, joined(place, "classes"))
    method = Method(
        code=code,
        name=read.name or code,
        motion=read.motion,
        classes=classes,
        rules=None if read.rules is None else StationRules(**read.rules.model_dump()),
        sizes=tuple(_size(s) for s in read.sizes),
        work=Work(**read.work.model_dump()),
        field=place,
        **read.model_dump(exclude={"name", "like", "motion", "classes", "rules", "sizes", "work"}),
    )
    connectors = tuple(s.connector_length for s in read.sizes)
    raise_if_any((*faults, *check_method(method, connectors, place)))
    return method


def _classes(words: tuple[str, ...], place: str) -> tuple[tuple[JointClass, ...], list[Fault]]:
    known = {c.value: c for c in JointClass}
    faults: list[Fault] = []
    for i, word in enumerate(words):
        if word not in known:
            near = nearest(word, tuple(known))
            faults.append(
                Fault(
                    code="choice",
                    field=f"{place}[{i}]",
                    found=show(word),
                    allowed=", ".join(known),
                    do=f'Did you mean "{near}"?' if near else "Write one of these words.",
                )
            )
    return tuple(known[w] for w in words if w in known), faults


def _size(read: SizeTable) -> SizeForBoard:
    return SizeForBoard(
        low=read.low,
        high=read.high,
        receiving=tuple(Cut(**c.model_dump()) for c in read.receiving),
        entering=tuple(Cut(**c.model_dump()) for c in read.entering),
        consumes=tuple(Consumed(**c.model_dump()) for c in read.consumes),
        enters=read.enters,
        width_slack=read.width_slack,
        stop_short=read.stop_short,
    )
