"""At which stage of the page a caution is shown, by its code."""

from __future__ import annotations

from typing import Final

from storyrod.faults import Caution

_BY_STAGE: Final = {
    "brief": (
        "board-not-measured",
        "clothes-rail-shallow",
        "clothes-rail-unsupported",
        "drawer-behind-door",
        "front-near-floor",
        "hand-hold-edge",
        "hand-hold-pinches",
        "hinge-reach",
        "hung-studs-taken",
        "raw-ends",
        "runner-load",
        "short-runner-screws",
        "short-socket-screws",
        "thin-drawer-bottom",
        "wide-drawer",
    ),
    "joints": (
        "divider-held-at-one-end",
        "glued-back",
        "one-fastening",
        "thin-web",
    ),
    "set-ups": (
        "cleat-bevel",
        "jig-does-not-reach",
        "located-by-eye",
        "packer-to-mill",
        "rim-speed",
        "stopped-groove",
        "stopped-housing",
        "stopped-rebate",
        "tool-not-owned",
    ),
    "assembly": (
        "lift",
        "mixed-locks",
        "pipes",
        "stand-up",
        "stands-tall",
        "tip-in",
        "turning",
        "worktop-lift",
    ),
    "stand": (
        "clothes-rail-bends",
        "clothes-rail-screws-weak",
        "feet-overloaded",
        "heavy-case",
        "hung-on-wall",
        "hung-over-capacity",
        "heavy-door",
        "heavy-panel",
        "joint-over-capacity",
        "load-near-breaking",
        "movement-front-binds",
        "movement-solid-panel",
        "open-time",
        "pilot-in-solid-wood",
        "racking-loose-back",
        "racking-no-back",
        "sag-damp",
        "sag-not-known",
        "sag-over-limit",
        "step-shows",
        "tip-fix-to-wall",
        "tip-over",
        "tip-sideways",
        "worktop-bends",
        "worktop-screws-weak",
    ),
}

STAGE_OF_CAUTION: Final = {code: stage for stage, codes in _BY_STAGE.items() for code in codes}
"""Every code of a caution; a test holds this against the code."""


def stage_of_caution(caution: Caution) -> str:
    """Return the key of the stage at which a caution is shown; the brief where nothing tells."""
    return STAGE_OF_CAUTION.get(caution.code, "brief")
