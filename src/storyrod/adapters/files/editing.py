"""What is needed to write job files: changes of a text, a first text, and safe writing."""

from storyrod.adapters.files._edit import Act, Change, edit_job
from storyrod.adapters.files._exchange import exchanged, keep_folder
from storyrod.adapters.files._job_text import job_to_toml
from storyrod.adapters.files._lock import FolderLock, lock_of
from storyrod.adapters.files._new_job import NewJob, new_job_text
from storyrod.adapters.files._open import parsed, plain_bytes
from storyrod.adapters.files._values import Value
from storyrod.adapters.files._write import write_bytes_safely, write_over, write_text_safely

__all__ = [
    "Act",
    "Change",
    "FolderLock",
    "NewJob",
    "Value",
    "edit_job",
    "exchanged",
    "job_to_toml",
    "keep_folder",
    "lock_of",
    "new_job_text",
    "parsed",
    "plain_bytes",
    "write_bytes_safely",
    "write_over",
    "write_text_safely",
]
