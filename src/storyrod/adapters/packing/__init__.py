"""A second engine for sheets: an open packing library in a child process, where its wheel is installed."""

from storyrod.adapters.packing._parent import PackingEngine, is_installed

__all__ = ["PackingEngine", "is_installed"]
