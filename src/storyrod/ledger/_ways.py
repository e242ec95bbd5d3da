"""What a method asks of the workshop: marks or a jig, which tools, and what is not there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from storyrod.model.method import Method
from storyrod.model.workshop import Along, CutterKind, Tool, ToolKind, Way, Workshop

_TOOLS = {kind.value: kind for kind in ToolKind}
_CUTTERS = {kind.value: kind for kind in CutterKind}


def marks_needed(method: Method, workshop: Workshop) -> bool:
    """Return whether every connector is marked: some way of cutting them goes by marks, not by a jig's stations."""
    ways = list(_ways_of(method, workshop))
    if not ways:
        return ToolKind.ROUTER.value not in method.needs
    return any(w.along is Along.MARKS for w in ways)


def needs_jig(method: Method, workshop: Workshop) -> bool:
    """Return whether a method's cuts can only be made in a jig with stations."""
    ways = list(_ways_of(method, workshop))
    return bool(ways) and all(w.along is Along.JIG for w in ways)


def _ways_of(method: Method, workshop: Workshop) -> Iterator[Way]:
    kinds = {cut.kind.value for size in method.sizes for cut in (*size.receiving, *size.entering)}
    for way in workshop.ways:
        if way.tool.value in method.needs and kinds.intersection(way.makes):
            yield way


def tools_of(methods: Iterable[Method], workshop: Workshop) -> tuple[str, ...]:
    """Return the codes of the tools that methods take, and of the saw that cuts the sheets."""
    kinds = {_TOOLS[n] for m in methods for n in m.needs if n in _TOOLS}
    kinds.add(ToolKind.TRACK_SAW if workshop.saw.track_saw else ToolKind.TABLE_SAW)
    found = []
    for kind in ToolKind:
        tool = the_tool(kind, workshop)
        if kind in kinds and tool is not None:
            found.append(tool.code)
    return tuple(found)


def the_tool(kind: ToolKind, workshop: Workshop) -> Tool | None:
    """Return the tool of a kind: an owned one before one that is only thought of."""
    tools = [t for t in workshop.tools if t.kind is kind]
    return min(tools, key=lambda t: not t.owned, default=None)


def lacking(method: Method, workshop: Workshop) -> tuple[str, ...]:
    """Return why a method does not fit this workshop, in whole sentences; nothing where it does.

    A tool not owned will do as long as it has a price: then it is one that the maker thinks of buying.
    """
    told = []
    for need in method.needs:
        if need in _TOOLS:
            tool = the_tool(_TOOLS[need], workshop)
            if tool is None:
                told.append(
                    f"It needs a {need}, and the workshop has none. Add one with owned = false and its price to see "
                    f"whether it would pay."
                )
            elif not tool.owned and tool.price_cents is None:
                told.append(f"It needs the {tool.name}, which you do not own and which has no price: give it one.")
        elif need in _CUTTERS and not any(c.kind is _CUTTERS[need] for c in workshop.cutters):
            word = need if need.endswith(("drill", "blade")) else f"{need} cutter"
            said = f"It needs a {word}, and the workshop has none."
            told += [said] if not any(t.startswith(said) for t in told) else []  # a tool and its cutter of one name
    return tuple(told)


def to_be_bought(methods: Iterable[Method], workshop: Workshop) -> tuple[Tool, ...]:
    """Return the tools that methods take and that are not owned yet."""
    codes = tools_of(methods, workshop)
    return tuple(t for t in workshop.tools if t.code in codes and not t.owned)


def if_bought(workshop: Workshop, method: Method) -> Workshop:
    """Return the workshop as it would be with the tools of a method in it."""
    wanted = {t.code for t in to_be_bought([method], workshop)}
    if not wanted:
        return workshop
    return replace(workshop, tools=tuple(replace(t, owned=True) if t.code in wanted else t for t in workshop.tools))
