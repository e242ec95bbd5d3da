"""A method beside others: a small picture of its joint, and what one connector carries as far as that is known."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, Final
from zlib import crc32

from markupsafe import Markup

from storyrod.adapters.web._render import drawn
from storyrod.adapters.web._sample_joint import drawing_of, sample_of

if TYPE_CHECKING:
    from storyrod.model.workshop import Workshop

_ROOM: Final = (44.0, 32.0)
"""Room for a picture in a row of a table (mm of paper)."""


@lru_cache(maxsize=64)
def picture_of(workshop: Workshop, code: str) -> Markup | None:
    """Return a section through a sample joint of a method; None where it is none that can be drawn."""
    sample = sample_of(workshop, code)
    drawing = drawing_of(sample, _ROOM, with_words=False) if sample is not None else None
    return drawn(drawing, f"method-{crc32(code.encode()):x}-") if drawing is not None else None


def carries(strength_n: float | None) -> str:
    """Return what one connector carries, in words; "" where it is not known: that is told once for all of them."""
    return "" if strength_n is None else f"{strength_n:,.0f} N each"


def not_known(methods: Iterable[tuple[str, float | None]]) -> str:
    """Return the sentence that says of which methods it is not known what they carry; "" where it is of all."""
    names = [name for name, strength in methods if strength is None]
    if not names:
        return ""
    *most, last = names
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"What a joint carries is not known of {listed}."
