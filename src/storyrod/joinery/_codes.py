"""The packaged methods that the carcass's own making calls for."""

from typing import Final

GROOVE: Final = "groove"
"""Holds every back and drawer bottom that lies in a groove of the carcass's making."""

SCREWED_BACK: Final = "screwed back"
"""Holds a drawer bottom that lies against the edges of its box, unless the maker says otherwise."""

GLUED_BUTT: Final = "glued butt"
"""Holds a back fitted between the panels that is too thin for their connectors, unless the maker says otherwise."""
