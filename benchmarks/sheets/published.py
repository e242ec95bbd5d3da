"""The published cutting sets and the joinery jobs as parts, stock and rules."""

from __future__ import annotations

from typing import Any

from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim

type Job = tuple[list[Part], list[StockSheet], CutRules]
BARE = CutRules(kerf=0.0, trim=Trim())


def one_size(instance: dict[str, Any], *, turn: bool = True) -> Job:
    """Return an instance with one sheet size; each sheet weighs the same."""
    length, width = instance["sheet"]
    stock = [StockSheet(id="sheet", board="b", length=float(length), width=float(width), price_cents=1)]
    return _parts(instance, Grain.FREE if turn else Grain.ALONG), stock, BARE


def several_sizes(instance: dict[str, Any]) -> Job:
    """Return an instance with several sheet sizes, which weigh their area; parts may not turn."""
    stock = [
        StockSheet(id=f"size {i}", board="b", length=float(w), width=float(h), price_cents=w * h, copies=n)
        for i, (w, h, n) in enumerate(instance["stock"])
    ]
    return _parts(instance, Grain.ALONG), stock, BARE


def _parts(instance: dict[str, Any], grain: Grain) -> list[Part]:
    return [
        Part(id=f"p{i}", board="b", length=float(w), width=float(h), copies=n, grain=grain)
        for i, (w, h, n) in enumerate(instance["parts"])
    ]


def joinery_job(told: dict[str, Any]) -> Job:
    """Return one of the joinery jobs."""
    stock = [
        StockSheet(
            id=s["id"],
            board="b",
            length=float(s["length"]),
            width=float(s["width"]),
            price_cents=round(s["cost"] * 100),
            copies=s["qty"],
            offcut=s["kind"] == "offcut",
            trim=_trim(s["trim"]) if "trim" in s else None,
        )
        for s in told["stock"]
    ]
    parts = [
        Part(
            id=p["id"],
            board="b",
            length=float(p["length"]),
            width=float(p["width"]),
            copies=p["qty"],
            grain=Grain.ALONG if p["grain"] == "length" else Grain.FREE,
        )
        for p in told["parts"]
    ]
    return parts, stock, CutRules(kerf=float(told["kerf"]), trim=_trim(told["trim"]))


def _trim(told: dict[str, float]) -> Trim:
    return Trim(**{edge: float(width) for edge, width in told.items()})
