"""Papers with labels on them, as they are sold: how many, how large, where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.drawing import LabelSize

INCH: Final = 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelPaper:
    """One paper: labels in `columns` and `rows`, the first at `left` and `top`, one every `across` and `down` (mm).

    Attributes:
        code: what it is called at the command line.
        paper: the paper's size, as packets name it.
    """

    code: str
    name: str
    paper: str
    columns: int
    rows: int
    label: LabelSize
    left: float
    top: float
    across: float
    down: float

    @property
    def count(self) -> int:
        """How many labels a page has."""
        return self.columns * self.rows

    def corners(self) -> Iterator[tuple[float, float]]:
        """Yield each label's upper left corner, from the page's left and top edge, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield self.left + column * self.across, self.top + row * self.down


LABEL_PAPERS: Final = (
    LabelPaper(
        code="a4-24",
        name="A4, 3 × 8 of 70 × 37 mm",
        paper="A4",
        columns=3,
        rows=8,
        label=LabelSize(width=70.0, height=37.0, edge=5.0),
        left=0.0,
        top=0.5,
        across=70.0,
        down=37.0,
    ),
    LabelPaper(
        code="a4-21",
        name="A4, 3 × 7 of 63.5 × 38.1 mm",
        paper="A4",
        columns=3,
        rows=7,
        label=LabelSize(width=63.5, height=38.1, edge=2.5),
        left=7.21,
        top=15.15,
        across=66.04,
        down=38.1,
    ),
    LabelPaper(
        code="letter-30",
        name="Letter, 3 × 10 of 2 5/8 × 1 in",
        paper="Letter",
        columns=3,
        rows=10,
        label=LabelSize(width=2.625 * INCH, height=INCH, edge=2.0),
        left=3 / 16 * INCH,
        top=0.5 * INCH,
        across=2.75 * INCH,
        down=INCH,
    ),
)
"""Common papers; their geometry is common practice, no source: try a print on plain paper against the light first."""

CODES: Final = tuple(p.code for p in LABEL_PAPERS)


def paper_named(code: str) -> LabelPaper:
    """Return the label paper with this code, one of `CODES`."""
    return next(p for p in LABEL_PAPERS if p.code == code)


def usual_paper(paper: str) -> LabelPaper:
    """Return the label paper for a job printed on `paper`; A4 labels go with A3 too."""
    return next((p for p in LABEL_PAPERS if p.paper == paper), LABEL_PAPERS[0])
