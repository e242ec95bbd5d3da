"""Drawings written as DXF at true size, for drawing programs and machines."""

from storyrod.adapters.dxf._writer import write

__all__ = ["write"]
