"""Job and workshop files: read strictly, every fault at once, and written back without losing a comment.

The modules that write are only imported when something is written.
"""

from storyrod.adapters.files._file import (
    JobFile,
    job_from_text,
    packaged_workshop,
    read_job,
    read_workshop,
    workshop_from_text,
)
from storyrod.adapters.files._write import write_text_safely

__all__ = [
    "JobFile",
    "job_from_text",
    "packaged_workshop",
    "read_job",
    "read_workshop",
    "workshop_from_text",
    "write_text_safely",
]
