"""Day's work: tasks read off a plan, put in an order over the days, checked, and how early or late they may end."""

from storyrod.daywork._check import check_day
from storyrod.daywork._left import Ticked, what_is_left
from storyrod.daywork._plan_day import plan_day
from storyrod.daywork._search import is_installed
from storyrod.daywork._tasks import Source, list_tasks

__all__ = ["Source", "Ticked", "check_day", "is_installed", "list_tasks", "plan_day", "what_is_left"]
