"""A small study worked out while somebody looks on: a variant at a time, with what is known so far at any moment."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study._pictures import is_installed, pictures_of
from storyrod.adapters.study._price_list import price_list_files, refuse_without_prices
from storyrod.adapters.study._rows import Sharing, columns_in
from storyrod.adapters.study._run import BEST
from storyrod.adapters.study._store import shown, table_bytes
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.study import Column, Row
from storyrod.telling.figures import lacking_of, rank_of
from storyrod.telling.unbeaten import measures_in, unbeaten

MOST: Final = 300
"""So many variants are worked out while somebody looks on; for more there is `storyrod study`."""

COMMONEST: Final = 3
"""So many of the reasons why variants cannot be made are told."""


class StudyAtHand:
    """The variants of a study, worked out one after the other by `work`.

    Attributes:
        rows: those that are done, in order.
        own: the job's own figure of what is asked the least of; None before the first row, or where it cannot be made.

    Raises:
        JobError: more than `MOST` variants, or a price list is asked for and something has no price.
    """

    def __init__(self, variants: Variants, say: Callable[[Sequence[Fault]], str]) -> None:
        if len(variants) > MOST:
            raise JobError(_too_many(len(variants)))
        refuse_without_prices(variants)
        self.variants = variants
        self.columns: tuple[Column, ...] = columns_in(variants)
        self.rows: list[Row] = []
        self.own: float | None = None
        self._sharing = Sharing(variants, say)

    def __len__(self) -> int:
        """Return how many variants there are."""
        return len(self.variants)

    def work(self) -> Iterator[None]:
        """Work out the job as it is, then one variant after the other."""
        self.own = self._own()
        yield
        for number in range(len(self.rows), len(self)):
            self.rows.append(self._sharing.row(number))
            yield

    def _own(self) -> float | None:
        try:
            plan = self._sharing.shared.plan(self.variants.own)
            raise_if_any(plan.faults)
            return rank_of(self._sharing.shared.laid_out(plan), self.variants.study.least)
        except JobError:  # its own pages say why
            return None

    @property
    def is_whole(self) -> bool:
        """Whether every variant is done."""
        return len(self.rows) == len(self)

    @property
    def best(self) -> tuple[Row, ...]:
        """The best rows so far, the best first; of equals the earlier one."""
        ranked = [r for r in self.rows if r.rank is not None]
        return tuple(sorted(ranked, key=lambda r: (r.rank, r.number))[:BEST])

    @property
    def faulty(self) -> int:
        """How many rows so far cannot be made."""
        return sum(bool(r.cells[-1]) for r in self.rows)

    @property
    def against(self) -> int:
        """How many rows so far do not keep what is asked."""
        return sum(bool(r.cells[-2]) for r in self.rows)

    @property
    def reasons(self) -> tuple[tuple[str, int], ...]:
        """Why rows cannot be made or do not keep what is asked, the commonest first, with how many of each."""
        told = Counter(str(c) for r in self.rows for c in r.cells[-2:] if c)
        return tuple(told.most_common(COMMONEST))

    @property
    def can_draw(self) -> bool:
        """Whether the library that draws is there."""
        return is_installed()

    @property
    def lacking(self) -> str:
        """What has no price in the best variant, where money says which is best; "" where all has one."""
        return lacking_of(self.columns, self.best[0], self.variants.study.least) if self.best else ""

    def files(self) -> dict[str, Callable[[], bytes]]:
        """Return what can be taken away of a study that is whole, by name, each made when it is called for."""
        found: dict[str, Callable[[], bytes]] = {"rows.csv": lambda: table_bytes(self.columns, self.rows)}
        if self.is_whole and self.variants.study.price_list is not None:
            for name in ("price-list.pdf", "price-list.csv"):
                found[name] = lambda n=name: price_list_files(self.variants, self.columns, self.rows)[n]  # type: ignore[misc]
        return found

    def pictures(self) -> dict[str, bytes]:
        """Return the pictures of the rows so far, with their tables, by name."""
        weighed = len(measures_in(self.columns)) > 1
        front = unbeaten(self.columns, self.rows) if weighed else ()
        return pictures_of(self.variants, self.columns, self.rows, front)


def _too_many(count: int) -> Fault:
    return Fault(
        code="study-too-many",
        field="",
        found=f"{count:,} variants",
        allowed=f"up to {MOST} while you wait",
        do="Take larger steps or choose less; or keep the study file and run `storyrod study` with it.",
    )


__all__ = ["MOST", "StudyAtHand", "shown"]
