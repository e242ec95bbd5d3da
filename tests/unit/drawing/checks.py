"""What must hold for every drawing: words apart, nothing cut off, figures large enough to read."""

from __future__ import annotations

from itertools import combinations

from storyrod.drawing import Bounds, Drawing, Group, Text, bounds_of, text_box
from storyrod.drawing import Entity as DrawnEntity

SMALLEST = 2.5
WORKING_FIGURE = 3.5


def texts_of(drawing: Drawing) -> list[Text]:
    """Every text of a drawing, those of dimensions too."""
    return [item for item in drawing.flat() if isinstance(item, Text)]


def overlaps(drawing: Drawing) -> list[tuple[str, str]]:
    """The pairs of texts whose boxes overlap by more than a hair."""
    boxed = [(t.text, text_box(t, drawing.unit).grown(-0.05 * drawing.unit)) for t in texts_of(drawing)]
    return [(a, b) for (a, box_a), (b, box_b) in combinations(boxed, 2) if box_a.meets(box_b)]


def cut_off(drawing: Drawing) -> list[str]:
    """The texts that reach out of what the drawing shows."""
    shown: Bounds = drawing.bounds
    return [t.text for t in texts_of(drawing) if not shown.holds(text_box(t, drawing.unit))]


def too_small(drawing: Drawing) -> list[str]:
    """The texts that would be printed too small to read."""
    return [t.text for t in texts_of(drawing) if t.height < (WORKING_FIGURE if t.role == "figure" else SMALLEST)]


def check(drawing: Drawing) -> None:
    """Assert all of it."""
    assert overlaps(drawing) == []
    assert cut_off(drawing) == []
    assert too_small(drawing) == []


def groups_of(items: tuple[DrawnEntity, ...], kind: str = "") -> list[Group]:
    """Every group of one kind, those within others too."""
    found: list[Group] = []
    for item in items:
        if isinstance(item, Group):
            if not kind or item.kind == kind:
                found.append(item)
            found += groups_of(item.items, kind)
    return found


def middle_of(group: Group, unit: float) -> tuple[float, float]:
    """The middle of what a group fills."""
    box = bounds_of(group.items, unit)
    return (box.left + box.right) / 2, (box.bottom + box.top) / 2
