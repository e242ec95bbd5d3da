"""Everything a plan is written to: plan.json, lists, drawings, solids and the packet."""

from storyrod.adapters.output._document import connector_items, connectors_by_method, panels_of, plain, plan_document
from storyrod.adapters.output._write import Written, write_plan

__all__ = ["Written", "connector_items", "connectors_by_method", "panels_of", "plain", "plan_document", "write_plan"]
