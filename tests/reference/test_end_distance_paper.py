"""Source: Effect of end distance and number of ready-to-assemble fasteners on bending moment resistance, Wood and Fiber
Science.

Where: its text (page not noted): corner joints: end splits stopped at 60 mm.
"""

from __future__ import annotations

from storyrod.adapters.files.methods import packaged_methods


def test_cams_stand_60_from_the_end() -> None:
    method = next(m for m in packaged_methods() if m.code == "cam and bolt")

    assert method.rules is not None
    assert method.rules.end_min == 60.0
