"""Drawings written as SVG, for the packet, the page and files."""

from storyrod.adapters.svg._styles import PX_PER_MM, page_styles
from storyrod.adapters.svg._writer import Look, write

__all__ = ["PX_PER_MM", "Look", "page_styles", "write"]
