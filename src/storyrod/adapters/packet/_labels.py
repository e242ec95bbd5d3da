"""Labels for every part on a label paper, as a PDF of their own: they are stuck on as the parts come off the saw."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from storyrod.adapters.packet._typeset import PAPERS, typeset_pages
from storyrod.drawing import Bounds, Circle, Drawing, Entity, Figures, Group, Text, part_label
from storyrod.drawing import Path as Line
from storyrod.model.panel import Panel
from storyrod.planning import Plan
from storyrod.telling.label_papers import LabelPaper, usual_paper


def make_labels(plan: Plan, paper: LabelPaper | None = None, *, used: int = 0) -> bytes:
    """Return the labels as PDF, in the order in which the sheets give the parts.

    `used` labels of the first page are gone already and left free. Only parts that are laid out have a label.
    """
    return typeset_pages(label_pages(plan, paper, used=used), (paper or usual_paper(plan.job.paper.value)).paper)


def label_pages(plan: Plan, paper: LabelPaper | None = None, *, used: int = 0) -> list[Drawing]:
    """Return each page as one drawing of the paper's size."""
    paper = paper or usual_paper(plan.job.paper.value)
    _, width, height = PAPERS[paper.paper]
    places = list(paper.corners())
    made = zip((label.mark for label in plan.part_labels), _labels(plan, paper), strict=True)
    slots: list[tuple[str, Drawing] | None] = [*(None for _ in range(used % paper.count)), *made]
    pages: list[Drawing] = []
    for page, filled in enumerate(itertools.batched(slots, paper.count)):
        on_page = [(at, label) for at, label in zip(places, filled, strict=False) if label is not None]
        items = tuple(_moved(d, x, height - y - paper.label.height) for (x, y), (_, d) in on_page)
        pages.append(
            Drawing(
                id=f"labels.{page + 1}",
                title=f"Labels, page {page + 1}",
                alt="Labels of " + ", ".join(mark for _, (mark, _) in on_page) + ".",
                items=items,
                window=Bounds(left=0.0, bottom=0.0, right=width, top=height),
            )
        )
    return pages


def _labels(plan: Plan, paper: LabelPaper) -> list[Drawing]:
    panels: dict[str, Panel] = {p.id: p for c in plan.details.cases for p in c.panels}
    figures = Figures.of_job(plan.job)
    return [
        part_label(
            label,
            panels[label.part],
            paper.label,
            board=plan.job.board(label.board).name,
            figures=figures,
        )
        for label in plan.part_labels
    ]


def _moved(drawing: Drawing, dx: float, dy: float) -> Group:
    return Group(items=_all_moved(drawing.items, dx, dy), id=drawing.id, name=drawing.title, kind="label")


def _all_moved(items: Sequence[Entity], dx: float, dy: float) -> tuple[Entity, ...]:
    moved: list[Entity] = []
    for item in items:
        match item:
            case Line():
                moved.append(replace(item, points=tuple((x + dx, y + dy) for x, y in item.points)))
            case Text():
                moved.append(replace(item, at=(item.at[0] + dx, item.at[1] + dy)))
            case Circle():
                moved.append(replace(item, centre=(item.centre[0] + dx, item.centre[1] + dy)))
            case Group():
                moved.append(replace(item, items=_all_moved(item.items, dx, dy)))
            case _:
                raise TypeError(f"a label has no {type(item).__name__}")
    return tuple(moved)
