"""Packaged methods, and what they do with a board."""

from __future__ import annotations

from storyrod.adapters.files.methods import packaged_methods
from storyrod.model.method import Cut, Method, SizeForBoard


def dowels() -> Method:
    return next(m for m in packaged_methods() if m.code == "dowels")


def size_for(board: float) -> tuple[SizeForBoard, Cut, Cut]:
    size = dowels().size_for(board)
    assert size is not None
    return size, size.receiving[0], size.entering[0]


def method(code: str) -> Method:
    return next(m for m in packaged_methods() if m.code == code)


def size_of(code: str, board: float) -> SizeForBoard:
    found = method(code).size_for(board)
    assert found is not None
    return found
