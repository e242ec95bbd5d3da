"""Machining: jigs, packers, settings, and an order of work that changes set-ups rarely and misses nothing."""

from storyrod.machining._plan_work import plan_work

__all__ = ["plan_work"]
