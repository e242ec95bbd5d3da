"""What the workshop's page shows of joining methods: whose each is, what it is for, and whether its tools are owned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from storyrod.adapters.files.measuring import own_methods
from storyrod.faults import JobError
from storyrod.measure.length import show_mm

if TYPE_CHECKING:
    from storyrod.model.method import Method
    from storyrod.model.workshop import Workshop


@dataclass(frozen=True, slots=True, kw_only=True)
class MethodLine:
    """One method: `sizes` are the boards that it has figures for; `needs` tells what is owned of its tools."""

    code: str
    name: str
    whose: str
    serves: str
    note: str
    sizes: tuple[str, ...]
    needs: tuple[tuple[str, str], ...]
    can_use: bool


def method_lines(text: str, workshop: Workshop | None) -> tuple[MethodLine, ...]:
    """Return all methods, those of one's own first; none where the file has faults."""
    from storyrod.adapters.files import packaged_workshop

    if workshop is None:
        return ()
    try:
        own = own_methods(text)
    except JobError:
        own = frozenset()
    packaged = {m.code for m in packaged_workshop().methods}
    lines = [_line(m, workshop, m.code in own, m.code in packaged) for m in workshop.methods]
    return tuple(sorted(lines, key=lambda line: line.whose == "packaged"))


def _line(method: Method, workshop: Workshop, is_own: bool, is_packaged: bool) -> MethodLine:  # noqa: FBT001
    needs = tuple(_needs(method, workshop))
    return MethodLine(
        code=method.code,
        name=method.name,
        whose="packaged" if not is_own else "changed by me" if is_packaged else "mine",
        serves=", ".join(c.value for c in method.classes),
        note=method.note,
        sizes=tuple(f"{show_mm(s.low)} to under {show_mm(s.high)}" for s in method.sizes),
        needs=needs,
        can_use=all(state == "owned" for _, state in needs),
    )


def _needs(method: Method, workshop: Workshop) -> Iterator[tuple[str, str]]:
    """Yield each kind of tool or cutter that a method needs, and whether it is owned, thought of, or not there."""
    for kind in method.needs:
        tools = [t for t in workshop.tools if t.kind == kind]
        cutters = [c for c in workshop.cutters if c.kind == kind]
        if any(t.owned for t in tools) or cutters:
            yield kind, "owned"
        else:
            yield kind, "thought of, not owned" if tools else "not on the list"
