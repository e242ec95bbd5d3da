"""One mark ringed on its panel: in the right place, with the figures of the mark and nothing else."""

from __future__ import annotations

import pytest

from storyrod.drawing import Circle, Figures, mark_place
from storyrod.measure.length import Unit
from storyrod.model.mark import Mark, PanelSetOut
from tests.unit.drawing.cabinets import folder_cabinet
from tests.unit.drawing.checks import check, groups_of, texts_of


def marks() -> list[tuple[PanelSetOut, Mark]]:
    out = folder_cabinet()[1]
    return [(p, m) for c in out.cases for p in c.panels for m in p.marks]


@pytest.mark.parametrize("nth", range(0, 200, 11))
def test_the_words_stand_apart_and_the_ring_is_where_the_mark_is(nth: int) -> None:
    every = marks()
    out, mark = every[nth % len(every)]

    drawing = mark_place(out, mark)

    check(drawing)
    (lit,) = groups_of(drawing.items, "mark lit")
    assert lit.id == mark.feature.id
    ring = lit.items[-1]
    assert isinstance(ring, Circle)
    along = abs(ring.centre[0]) if mark.surface.axis.value != "u" else mark.u
    across = ring.centre[1] if mark.surface.axis.value != "v" else mark.v
    assert along == pytest.approx(mark.feature.at.u, abs=0.5)
    assert across == pytest.approx(mark.feature.at.v, abs=0.5)


def test_only_the_figures_of_the_mark_are_told() -> None:
    out, mark = next((p, m) for p, m in marks() if m.surface.axis.value == "w" and m.u > 60 and m.v > 60)

    told = {t.text for t in texts_of(mark_place(out, mark)) if t.role == "figure"}

    assert told == {"0", Figures().of(mark.u), Figures().of(mark.v)}


def test_a_mark_in_an_end_is_shown_in_it_with_one_figure() -> None:
    out, mark = next((p, m) for p, m in marks() if m.surface.value == "datum end")

    drawing = mark_place(out, mark, figures=Figures(unit=Unit.INCH))

    figures = [t.text for t in texts_of(drawing) if t.role == "figure"]
    assert sorted(figures) == sorted(["0", Figures(unit=Unit.INCH).of(mark.v)])
    assert any("datum end" in t.text for t in texts_of(drawing))
    assert "datum end" in drawing.alt
