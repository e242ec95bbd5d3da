"""Soundness: whether it will carry, stand and close, by estimate from stated assumptions."""

from storyrod.soundness._examine import examine

__all__ = ["examine"]
