"""Assembly: an order in which every panel goes in, and the slide directions that it rests on."""

from storyrod.assembly._assembly import plan_assembly, try_assembly

__all__ = ["plan_assembly", "try_assembly"]
