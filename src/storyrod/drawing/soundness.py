"""Figures of soundness: a plank under its load, a case about to tip, the steps to be expected."""

from storyrod.drawing._sag_figure import sag_figure
from storyrod.drawing._step_figure import step_figure
from storyrod.drawing._tip_figure import tip_figure

__all__ = ["sag_figure", "step_figure", "tip_figure"]
