"""Labels: whole and readable at their size, edged edges at the right side, and a code that says what it should."""

from __future__ import annotations

from dataclasses import replace

import pytest
import segno

from storyrod.drawing import Drawing, Figures, LabelSize, Path, Tint, bounds_of, part_label
from storyrod.drawing._part_label import MODULE
from storyrod.measure.length import Unit
from storyrod.model.panel import EdgeStrip, Grain, Panel, Role, Surface
from storyrod.model.saw_list import PartLabel
from tests.unit.drawing.checks import check, texts_of
from tests.unit.drawing.samples import panel

SIZES = (
    LabelSize(width=70.0, height=37.0, edge=5.0),
    LabelSize(width=63.5, height=38.1, edge=2.5),
    LabelSize(width=66.675, height=25.4, edge=2.0),
)


def label(**more: object) -> PartLabel:
    """Return the label of a side."""
    plain = PartLabel(
        code="A.side-left#1",
        part="A.side-left",
        mark="A1",
        name="left side",
        copy=1,
        copies=2,
        board="b18",
        sheet="b18-1",
        size=(720.0, 400.0, 719.0, 399.0),
        grain=Grain.ALONG,
        edged=(),
        face_mark="face side up",
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def edged(*surfaces: Surface, role: Role = Role.SIDE_RIGHT) -> Panel:
    """Return a panel with those edges edged."""
    return replace(panel(role), edged=tuple(EdgeStrip(surface=s, edging="tape", thickness=1.0) for s in surfaces))


def squares(drawing: Drawing) -> set[tuple[int, int]]:
    """Return the code's dark squares as (row from the top, column), read back from the drawing."""
    dark = [
        bounds_of((p,), 1.0)
        for p in drawing.items
        if isinstance(p, Path) and p.pen is None and p.fill is not None and p.fill.tint is Tint.INK
    ]
    runs = [b for b in dark if b.height == pytest.approx(MODULE + 0.01)]
    left, top = min(b.left for b in runs), max(b.top for b in runs)
    found = set()
    for b in runs:
        row = round((top - b.top) / MODULE)
        first = round((b.left - left) / MODULE)
        found |= {(row, first + n) for n in range(round(b.width / MODULE))}
    return found


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("surfaces", [(), (Surface.FACE_EDGE,), tuple(Surface)[2:]])
def test_words_are_apart_whole_and_large_enough(size: LabelSize, surfaces: tuple[Surface, ...]) -> None:
    drawing = part_label(label(), edged(*surfaces), size, board="birch plywood 18")

    check(drawing)
    assert drawing.paper_size == (size.width, size.height)


@pytest.mark.parametrize("size", SIZES)
def test_nothing_reaches_into_the_edge_that_printers_leave_white(size: LabelSize) -> None:
    drawing = part_label(label(), edged(*tuple(Surface)[2:]), size)
    inked = bounds_of(drawing.items, 1.0)

    assert inked.left >= size.edge - 1e-6
    assert inked.bottom >= size.edge - 1e-6
    assert inked.right <= size.width - size.edge + 1e-6
    # A box of words has air above its capitals, here of the mark: an eighth of its height.
    assert inked.top <= size.height - size.edge + 5.5 / 8


def test_the_code_is_the_part_s() -> None:
    """The squares drawn are those of the code made anew by the library that knows the standard."""
    made = segno.make("A.side-left#1", error="m", micro=False, boost_error=False)
    wanted = {(r, c) for r, row in enumerate(made.matrix) for c, dark in enumerate(row) if dark}

    assert squares(part_label(label(), panel(), SIZES[0])) == wanted


def test_what_a_maker_looks_for_stands_on_it() -> None:
    words = [t.text for t in texts_of(part_label(label(), edged(Surface.FACE_EDGE), SIZES[0]))]

    assert words[:2] == ["A1", "1 of 2"]
    assert {"left side", "720 × 400", "edged: face edge", "cut 719 × 399", "sheet b18-1"} <= set(words)


@pytest.mark.parametrize("role", [Role.SIDE_LEFT, Role.SIDE_RIGHT])
def test_the_edged_end_lies_at_the_datum_bar(role: Role) -> None:
    """Left and right hand are mirrored: the bar stands where the datum end is, and the edging beside it."""
    one = edged(Surface.DATUM_END, role=role)
    items = part_label(label(), one, SIZES[0]).items
    bands = [
        p for p in items if isinstance(p, Path) and p.pen is None and bounds_of((p,), 1.0).width == pytest.approx(0.8)
    ]
    bars = [p for p in items if isinstance(p, Path) and p.pen == "mark" and len(p.points) == 2]

    (band,), (bar,) = bands, bars
    gap = bounds_of((band,), 1.0).left - bar.points[0][0]
    assert abs(gap) < 3.0
    assert (gap > 0) is one.frame.is_mirrored


def test_half_a_size_is_never_printed() -> None:
    long = label(size=(1234.5, 1234.5, 1230.3, 1230.3), name="a name that is much too long for any label of this size")
    words = [
        t.text for t in texts_of(part_label(long, panel(), SIZES[2], figures=Figures(unit=Unit.INCH, fraction=64)))
    ]

    assert any(w.endswith("...") for w in words)
    assert not any("×" in w and "..." in w for w in words)
