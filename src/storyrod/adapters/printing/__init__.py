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
from storyrod.adapters.printing._parent import made_apart, rescue_sheet_apart
from storyrod.adapters.printing._plan_files import plan_files

__all__ = [
    "ALL",
    "Download",
    "Shelf",
    "Texts",
    "made_apart",
    "media_type",
    "on_paper",
    "own_files",
    "plan_downloads",
    "plan_files",
    "rescue_sheet_apart",
]
