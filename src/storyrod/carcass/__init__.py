"""From a job to every panel in its place, with its fittings: `build(job, workshop)`."""

from storyrod.carcass._build import build

__all__ = ["build"]
