"""A study of a job worked out behind the page, and what the page shows of it so far."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from starlette.requests import Request

from storyrod.adapters.files.editing import Change, Value
from storyrod.adapters.files.studying import Variants, study_of, variants_of
from storyrod.adapters.study.at_hand import StudyAtHand, shown
from storyrod.adapters.web._brief_fields import place_words
from storyrod.adapters.web._errands import Errand, errands_of
from storyrod.adapters.web._study_asked import Questions
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault
from storyrod.model.study import Cell, Kind, Row
from storyrod.planning import Plan
from storyrod.telling.study_words import best_words, count_words, figure_words, lack_words, variant_words

PICTURES: Final = {
    "curve": "How it goes with the size",
    "map": "Which is best at which size",
    "unbeaten": "Those that no other beats",
}


class StudyWork(Errand):
    """Works a study out, a variant at a time; its pictures last, once for as many rows as there are."""

    def __init__(self, study: StudyAtHand) -> None:
        super().__init__()
        self.study = study
        self.pictures: dict[str, bytes] = {}
        self.spent_s = 0.0

    def work(self) -> Iterator[None]:
        """Work out one variant after the other, then draw them."""
        steps, began = self.study.work(), time.monotonic()
        for _ in steps:
            self.spent_s += time.monotonic() - began
            yield
            began = time.monotonic()
        self.pictures = self.study.pictures()

    @property
    def left_s(self) -> float | None:
        """Seconds of work left; None before anything is known of it."""
        done = len(self.study.rows)
        return self.spent_s / done * (len(self.study) - done) if done else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Best:
    """One of the best variants: its number, what it comes to, and what it is."""

    number: int
    figure: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StudyShown:
    """What the page shows of a study."""

    done: int
    in_all: int
    left: str
    working: bool
    trouble: str
    counted: str
    answer: str
    lacks: str
    best: tuple[Best, ...]
    reasons: tuple[tuple[str, int], ...]
    pictures: tuple[tuple[str, str], ...]
    can_draw: bool
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    files: tuple[str, ...]


def variants_asked(worked: Worked, plan: Plan, questions: Questions) -> Variants:
    """Return the variants that the questions come to.

    Raises:
        JobError: every fault of what was answered.
    """
    assert worked.read is not None  # noqa: S101  # a plan was read from it
    name = f"{worked.name}.toml"
    study = study_of(questions.study_text(name, plan.job.unit), name="study.toml")
    return variants_of(study, replace(worked.read, workshop=plan.workshop))  # with the rack, where it is cut from


def work_of(request: Request, worked: Worked, plan: Plan, questions: Questions) -> StudyWork:
    """Return the work on a study, begun where it was not asked for before.

    Raises:
        JobError: as `variants_asked`; too many variants; or prices that a price list lacks.
    """
    assert worked.read is not None  # noqa: S101  # a plan was read from it
    key = ("study", worked.name, worked.read.digest, plan.version, questions.query)
    raw: dict[str, Any] = {}

    def make() -> StudyWork:
        return StudyWork(StudyAtHand(variants_asked(worked, plan, questions), lambda f: said_of(f, raw)))

    return errands_of(request).ask(key, StudyWork, make)


def said_of(faults: Sequence[Fault], raw: dict[str, Any]) -> str:
    """Return why a variant cannot be made, in a maker's words, without the paths of a file."""
    told = (f"{place_words(f.field, raw)}: found {f.found}; allowed: {f.allowed}" for f in faults)
    return "; ".join(dict.fromkeys(told))


def shown_of(work: StudyWork, questions: Questions, currency: str) -> StudyShown:
    """Return what is known of a study by now."""
    from storyrod.adapters.study import span_words

    study, least = work.study, work.study.variants.study.least
    best = study.best
    names = [questions.name_of(v.field) for v in study.variants.varied]
    heads = (*names, *(c.name for c in study.columns[len(names) :]))
    return StudyShown(
        done=len(study.rows),
        in_all=len(study),
        left="" if work.left_s is None else span_words(work.left_s),
        working=not work.is_done,
        trouble=work.trouble,
        counted=count_words(len(study.rows), study.faulty, study.against),
        answer=best_words(least, best[0].rank or 0.0, study.own, currency) if best else "",
        lacks=lack_words(study.lacking) if best else "",
        best=tuple(
            Best(
                number=r.number,
                figure=figure_words(least, r.rank or 0.0, currency),
                words=variant_words(names, _named(r, study.variants, questions)),
            )
            for r in best
        ),
        reasons=study.reasons,
        pictures=tuple((name, words) for name, words in PICTURES.items() if f"{name}.svg" in work.pictures),
        can_draw=study.can_draw,
        heads=heads,
        rows=_table(study, questions) if work.is_done else (),
        files=tuple(study.files()) if work.is_done else (),
    )


def _table(study: StudyAtHand, questions: Questions) -> tuple[tuple[str, ...], ...]:
    """Return every row as the page shows it: values by their names, figures to two decimals."""
    varied = len(study.variants.varied)
    kinds = [c.kind for c in study.columns]
    return tuple(
        (
            *(str(v) for v in _named(row, study.variants, questions)),
            *(_short(k, c) for k, c in zip(kinds[varied:], row.cells[varied:], strict=True)),
        )
        for row in study.rows
    )


def _short(kind: Kind, cell: Cell) -> str:
    return f"{cell:.2f}" if kind is Kind.NUMBER and isinstance(cell, float) else shown(kind, cell)


def _named(row: Row, variants: Variants, questions: Questions) -> list[Any]:
    return [questions.value_name(v.field, cell) for v, cell in zip(variants.varied, row.cells, strict=False)]


def changes_to(variants: Variants, number: int) -> list[Change]:
    """Return the changes that make the job a variant."""
    from storyrod.adapters.files.studying import written_at

    found: list[Change] = []
    for varied in variants.varied:
        value: Value = written_at(variants, number, varied)
        found.append(Change(path=varied.field, value=value))
    return found
