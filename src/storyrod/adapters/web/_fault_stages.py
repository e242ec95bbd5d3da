"""At which stage of the page a fault is mended: told by its code, and where that does not tell, by its field."""

from __future__ import annotations

from typing import Final

from storyrod.faults import Fault

_BY_CODE: Final = {
    "joints": (
        "no-method",
        "missing-method",
        "unknown-method",
        "method-class",
        "method-board",
        "method-skin",
        "method-wall",
        "method-stations",
        "clash",
        "screws-covered",
        "no-such-joint",
        "unknown-panel",
        "joint",
    ),
    "set-ups": (
        "no-way",
        "bush-small",
        "packer-negative",
        "tool-not-owned",
        "jig-too-short",
        "jig-does-not-reach",
        "way-makes",
        "way-nowhere",
        "way-act",
        "order-ring",
        "half-missing",
        "run-check",
    ),
    "sheets": (
        "no-sheet",
        "part-too-large",
        "not-enough-stock",
        "trim-too-large",
        "copies",
        "price",
        "strip",
        "too-many-parts",
        "listed-twice",
        "offcut-twice",
    ),
    "assembly": ("shut-out", "no-driver", "replay"),
}

_STAGES: Final = {code: stage for stage, codes in _BY_CODE.items() for code in codes}


def stage_of_fault(fault: Fault) -> str:
    """Return the key of the stage at which a fault waits; the brief where nothing tells."""
    known = _STAGES.get(fault.code)
    if known is not None:
        return known
    if fault.code.startswith(("proof-", "solid-")):
        return "set-out"
    field = fault.field
    if field.startswith(("methods.", "joints[")) or field in {"methods", "joints"} or ".methods." in field:
        return "joints"
    return "sheets" if field.startswith("boards.") and ".sheets" in field else "brief"
