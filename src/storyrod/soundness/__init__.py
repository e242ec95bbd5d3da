"""Soundness: whether it will carry, stand and close, by estimate from stated assumptions."""

from storyrod.soundness._examine import examine, examine_strength, examine_tipping
from storyrod.soundness._ways import errors_of_ways

__all__ = ["errors_of_ways", "examine", "examine_strength", "examine_tipping"]
