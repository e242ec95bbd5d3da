"""What was asked for lately, by name: the oldest is let go, so that a page which is open for weeks does not grow."""

from __future__ import annotations

from collections import OrderedDict


class Lately[V](OrderedDict[str, V]):
    """A dictionary that keeps so many values, those set last."""

    def __init__(self, most: int) -> None:
        super().__init__()
        self._most = most

    def __setitem__(self, name: str, value: V) -> None:
        """Keep a value; where that is one too many, the one that was set first goes."""
        super().__setitem__(name, value)
        self.move_to_end(name)
        while len(self) > self._most:
            self.popitem(last=False)
