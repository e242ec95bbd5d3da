"""Variants of a study with what they share worked out once, against the same variants planned one by one.

One by one means a plan from the start, with its sheets laid out and tidied as `storyrod plan` has them. In processor
time, which other work on the machine hardly changes; rows are compared cell by cell. `--sample N` in place of it
compares N variants of a larger study, drawn by a fixed seed, with the plan of each alone.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

from benchmarks._timing import show_table
from storyrod.adapters.files import read_job
from storyrod.adapters.files.studying import Variants, variants_of
from storyrod.adapters.study import Sharing
from storyrod.faults import JobError, raise_if_any
from storyrod.model.study import Asked, Cell, Row, Study, Vary
from storyrod.planning import Plan
from storyrod.telling.figures import figures_of

ROOT = Path(__file__).resolve().parents[2]
METHODS = ("dowels", "biscuits", "loose tenons", "pocket screws", "rebate", "one-part keyhole connector")


def study_of(job: str, *vary: Vary, ask: tuple[Asked, ...] = tuple(Asked)) -> Variants:
    """Return a study of one of the examples."""
    return variants_of(Study(job=job, vary=vary, ask=ask), read_job(ROOT / "examples" / job))


def ladder(field: str, start: float, stop: float, step: float) -> Vary:
    """Return a range."""
    return Vary(varies=field, start=start, stop=stop, step=step)


STUDIES: Final[dict[str, Callable[[], Variants]]] = {
    "peg box, 20 widths": lambda: study_of("first-box.toml", ladder("cases[0].width", 400, 495, 5)),
    "hymn books, 4 widths by 6 methods": lambda: study_of(
        "hymn-book-unit.toml",
        ladder("cases[0].width", 1000, 1060, 20),
        Vary(varies="methods.corner", values=METHODS),
    ),
    "hymn books, 12 humidities": lambda: study_of("hymn-book-unit.toml", ladder("use.humidity_low", 30, 41, 1)),
    "score shelves, 12 heights of one of three bays": lambda: study_of(
        "score-shelves.toml", ladder("cases[1].height", 1100, 1155, 5)
    ),
}


def alone(variants: Variants, number: int) -> tuple[Cell, ...] | None:
    """Return the figures of a variant's plan, worked out from the start; None where it cannot be made."""
    try:
        plan = Plan(variants.job(number), variants.workshop)
        raise_if_any(plan.faults)
        return figures_of(plan, variants.study.ask)
    except JobError:
        return None


def differs(variants: Variants, row: Row, figures: tuple[Cell, ...] | None) -> bool:
    """Return whether a row says something else than the plan alone."""
    if figures is None:
        return not row.cells[-1]
    return row.cells[len(variants.varied) : -2] != figures


def main() -> None:
    """Print one row for each study."""
    rows = []
    for name, make in STUDIES.items():
        variants = make()
        Sharing(variants).row(0)  # what is loaded at the first
        began, sharing = time.process_time(), Sharing(variants)
        told = [sharing.row(n) for n in range(len(variants))]
        together, began = time.process_time() - began, time.process_time()
        figures = [alone(variants, n) for n in range(len(variants))]
        by_one = time.process_time() - began
        assert not [n for n, row in enumerate(told) if differs(variants, row, figures[n])], name
        rows.append(
            (name, len(variants), 1000 * together / len(variants), 1000 * by_one / len(variants), by_one / together)
        )
    show_table(
        "Processor time of a variant, all figures asked",
        ("study", "variants", "shared ms", "alone ms", "times"),
        rows,
    )


def sample(count: int) -> None:
    """Compare so many rows of a study of 2,170 variants with the plan of each alone."""
    variants = study_of(
        "first-box.toml",
        ladder("cases[0].width", 300, 450, 5),
        ladder("cases[0].depth", 150, 330, 30),
        ladder("cases[0].inside.rows", 1, 2, 1),
        Vary(varies="methods.corner", values=METHODS[:5]),
    )
    chosen = sorted(random.Random(23).sample(range(len(variants)), count))
    sharing = Sharing(variants)
    differ = [n for n in chosen if differs(variants, sharing.row(n), alone(variants, n))]
    print(f"{count} of {len(variants)} variants: {len(differ)} differ from the plan alone")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--sample"]:
        sample(int(sys.argv[2]))
    else:
        main()
