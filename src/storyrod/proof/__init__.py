"""Proof: every claim about a set-out checked by code of its own, with figures, before a board is cut."""

from storyrod.proof._prove import prove

__all__ = ["prove"]
