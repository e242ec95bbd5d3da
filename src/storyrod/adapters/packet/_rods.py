"""Rods at full size."""

from storyrod.adapters.packet._blocks import Section
from storyrod.plan import Plan


def rod_sections(plan: Plan) -> tuple[Section, ...]:
    """Return the rods."""
    return ()
