"""A study: one job in many variants, each by the real plan, on every core or a cluster, to be gone on with any time."""

from storyrod.adapters.study._engines import Alone, Engine
from storyrod.adapters.study._rows import Sharing, columns_in
from storyrod.adapters.study._run import Finished, Going, run_study, span_words, table_of

__all__ = [
    "Alone",
    "Engine",
    "Finished",
    "Going",
    "Sharing",
    "columns_in",
    "run_study",
    "span_words",
    "table_of",
]
