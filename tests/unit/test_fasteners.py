"""What a name of a fastener says of its kind and size; names that say none are no fault."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.trade.fasteners import Fastened, Fastener, fastener_of


@pytest.mark.parametrize(
    ("item", "fastener"),
    [
        ("dowel 8 x 35", Fastener(Fastened.DOWEL, 8, 35)),
        ("screw 3.5 x 35", Fastener(Fastened.SCREW, 3.5, 35)),
        ("pan-head screw 3.5 x 16", Fastener(Fastened.SCREW, 3.5, 16)),
        ("fluted dowels, beech, 6 x 30", Fastener(Fastened.DOWEL, 6, 30)),
        ("loose tenon 8 x 30 x 38", None),
        ("screw", None),
        ("corkscrew 4 x 50", None),
        ("cam bolt", None),
        ("", None),
    ],
)
def test_kind_and_size_are_read(item: str, fastener: Fastener | None) -> None:
    assert fastener_of(item) == fastener


def test_whatever_the_workshop_calls_a_dowel_or_a_screw_has_a_size() -> None:
    """Strength, pilot holes and how far a screw goes hang on it."""
    named = {c.item for m in packaged_workshop().methods for s in m.sizes for c in s.consumes}
    meant = {i for i in named if "dowel" in i or "screw" in i}

    assert len(meant) > 10
    assert [i for i in sorted(meant) if fastener_of(i) is None] == []
