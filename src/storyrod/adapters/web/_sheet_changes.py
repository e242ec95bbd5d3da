"""What another kerf or stock would change, worked out behind the page: every board is laid out anew for it."""

from __future__ import annotations

import copy
from collections.abc import Iterator

from storyrod.adapters.web._errands import Errand
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.model.saw_list import WhatIf


class Changing(Errand):
    """Asks of one layout what would change it."""

    def __init__(self, worked: Worked) -> None:
        super().__init__()
        self._plan = worked.ask(copy.copy)
        self.told: tuple[tuple[str, tuple[WhatIf, ...]], ...] = ()

    def work(self) -> Iterator[None]:
        """Lay each board out anew."""
        try:
            self.told = self._plan.sheet_changes
        except JobError:  # told at the head of the stage already
            self.told = ()
        yield
