"""From a wish to a brief: layouts that hold what must go in, the job that each makes, and why a wish cannot be met.

A stage that no plan needs: `planning.propose` asks it for layouts and gives each of them to the plan.
"""

from storyrod.wish._build import Brief, brief_of
from storyrod.wish._check import check_fit, check_room, things_in
from storyrod.wish._kinds import kinds_for
from storyrod.wish._layout import Band, Kind, Layout
from storyrod.wish._look import look_of
from storyrod.wish._sane import faults_of
from storyrod.wish._search import Answer, Searched, search
from storyrod.wish._space import Space, space_of
from storyrod.wish._why import why_not

__all__ = [
    "Answer",
    "Band",
    "Brief",
    "Kind",
    "Layout",
    "Searched",
    "Space",
    "brief_of",
    "check_fit",
    "check_room",
    "faults_of",
    "kinds_for",
    "look_of",
    "search",
    "space_of",
    "things_in",
    "why_not",
]
