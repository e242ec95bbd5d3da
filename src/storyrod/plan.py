"""The plan, by its former name."""

from storyrod.planning import Plan

__all__ = ["Plan"]
