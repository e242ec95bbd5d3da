"""From the tables of a workshop file to the workshop that travels between the stages."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from storyrod.adapters.files._made import keyed, made
from storyrod.adapters.files._read import Table
from storyrod.adapters.files._tables import table_of
from storyrod.model.job import JointClass
from storyrod.model.method import Method
from storyrod.model.workshop import Tool, Workshop
from storyrod.model.written import Field, Many, key_of

EMPTY: Final = Workshop(name="", methods=(), runners=(), hinges=())
"""What the packaged workshop itself starts from."""

KNOWN: Final = frozenset({"runners", "hinges", "clothes_rails", "feet", "screws", "prices", "times", "ways"})
"""What adds to the workshop below by its key, or takes the place there; so do `methods`, read by themselves."""


def workshop_from(table: Table, *, name: str, methods: tuple[Method, ...], start: Workshop = EMPTY) -> Workshop:
    """Return `start` with what the file says laid over it.

    Knowledge (methods, runners, hinges, clothes rails, feet, screws, prices, times, ways, defaults) adds or overrides
    by code. What is owned (cutters, bushes, packers, tools, jigs, rack) is the whole list once it is written at all.
    """
    chosen = {
        of.attribute: _laid_over(of, table[of.name], getattr(start, of.attribute))
        for of in table_of(Workshop).values()
        if of.attribute not in {"", "name", "methods"} and of.name in table.given
    }
    defaults = table["defaults"]
    return replace(
        start,
        **chosen,
        name=table["name"] or name,
        methods=_over(start.methods, methods, "code"),
        default_methods=_default_methods(defaults, start),
        default_runner=defaults["runner"] or start.default_runner,
        default_hinge=defaults["hinge"] or start.default_hinge,
        default_rail=defaults["clothes_rail"] or start.default_rail,
        default_foot=defaults["foot"] or start.default_foot,
        front_screw=defaults["front_screw"] or start.front_screw,
    )


def _laid_over(of: Field, value: Any, below: Any) -> Any:  # noqa: ANN401 - whatever the field holds
    """Return a field that is written, laid over the same one of the workshop below."""
    if of.table is None:
        return value
    if of.many is Many.ONE:
        given = {n: inner.attribute for n, inner in table_of(of.table).items() if n in value.given}
        return replace(below, **{attribute: value[n] for n, attribute in given.items()})
    if of.many is Many.LIST:
        return tuple(made(of.table, inner, f"{of.name}[{i}]") for i, inner in enumerate(value))
    items: tuple[Any, ...] = keyed(of.table, value, of.name, _tool_name if of.table is Tool else None)
    return _over(below, items, key_of(of.table)) if of.name in KNOWN else items


def _tool_name(tool: Table) -> str:
    return str(tool["kind"].value)


def _over[T](below: tuple[T, ...], above: tuple[T, ...], key: str) -> tuple[T, ...]:
    merged = {getattr(item, key): item for item in below}
    merged.update((getattr(item, key), item) for item in above)
    return tuple(merged.values())


def _default_methods(defaults: Table, start: Workshop) -> tuple[tuple[str, str], ...]:
    written = {c.value: defaults[c.name.lower()] for c in JointClass}
    chosen = dict(start.default_methods) | {c: code for c, code in written.items() if code is not None}
    return tuple((c.value, chosen[c.value]) for c in JointClass if c.value in chosen)
