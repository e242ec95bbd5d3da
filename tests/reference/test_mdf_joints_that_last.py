"""Source: MDF joints that last, an article for makers.

Where: its text (page not noted): in MDF dowels 32 mm from the edge, screws 50 mm (2 in) from an end.
"""

from __future__ import annotations

from tests.reference.packaged import dowels, method


def test_the_first_dowel_stands_32_or_more_from_the_edge_of_mdf() -> None:
    rules = dowels().rules

    assert rules is not None
    assert rules.end >= 32.0


def test_plain_screws_stand_50_from_an_end() -> None:
    rules = method("plain screws").rules

    assert rules is not None
    assert rules.end == 50.0
