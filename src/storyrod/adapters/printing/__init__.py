"""Every file of a job to take away; what is set in type is made in a process of its own."""

from storyrod.adapters.printing._downloads import (
    ALL,
    Download,
    Shelf,
    Texts,
    media_type,
    on_paper,
    own_files,
    plan_downloads,
)
from storyrod.adapters.printing._parent import Order, StoppedError, made_apart, make_ready, rescue_sheet_apart
from storyrod.adapters.printing._plan_files import plan_files

__all__ = [
    "ALL",
    "Download",
    "Order",
    "Shelf",
    "StoppedError",
    "Texts",
    "made_apart",
    "make_ready",
    "media_type",
    "on_paper",
    "own_files",
    "plan_downloads",
    "plan_files",
    "rescue_sheet_apart",
]
