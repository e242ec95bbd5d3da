"""Assembly: an order in which every panel goes in, and the slide directions that it rests on."""

from storyrod.assembly._assembly import plan_assembly, try_assembly
from storyrod.assembly._check import check_plan
from storyrod.assembly._known import Known, KnownOrders

__all__ = ["Known", "KnownOrders", "check_plan", "plan_assembly", "try_assembly"]
