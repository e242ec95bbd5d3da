"""The bench's words for a step: how the work lies, what moves which way onto what."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.measure.space import Direction
from storyrod.model.panel import Panel

LYING = {
    Direction.DOWN: "upright",
    Direction.UP: "upside down",
    Direction.LEFT: "on its left side",
    Direction.RIGHT: "on its right side",
    Direction.FORWARD: "on its front edges",
    Direction.BACKWARD: "on its back",
}

TOWARD = {
    Direction.DOWN: "its base",
    Direction.UP: "its top",
    Direction.LEFT: "its left",
    Direction.RIGHT: "its right",
    Direction.FORWARD: "its front",
    Direction.BACKWARD: "its back",
}


def listed(names: Sequence[str]) -> str:
    """Return names as a list in a sentence: `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def the(panels: Sequence[Panel]) -> str:
    """Return panels by name, as `the base`, `shelf 2` or `base, plinth and divider 1`."""
    names = [p.name for p in panels]
    return called(names[0]) if len(names) == 1 else listed(names)


def called(name: str) -> str:
    """Return a name with its article, which a numbered one does without."""
    return name if any(sign.isdigit() for sign in name) else f"the {name}"


def sentence(text: str) -> str:
    """Return the text with a capital and a full stop."""
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith(".") else ".")


def laid(panel: Panel, down: Direction) -> str:
    """Return how a single panel is put down to begin with: flat, with a face named, or on an edge or end."""
    below = panel.surface_toward(down.value)
    if panel.frame.into.axis is down.axis:
        return f"lay {called(panel.name)} flat, {below.opposite.value} up"
    return f"stand {called(panel.name)} on its {below.value}"


def brought(way: Direction, down: Direction) -> str:
    """Return how a part is brought while `down` points to the floor."""
    if way is down:
        return "straight down"
    if way is down.reverse:
        return "up from below"
    return f"level, toward {TOWARD[way]},"
