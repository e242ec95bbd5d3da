"""What keeps a word from being read is found; lines are broken at words, and what is drawn stays large enough."""

from __future__ import annotations

import pytest

from storyrod.drawing import Circle, Drawing, Figures, Fill, Group, Hatch, Path, Pen, Role, Running, Stop, Text, Tint
from storyrod.drawing import Entity as DrawnEntity
from storyrod.drawing._breaks import clear_of_words
from storyrod.drawing._scale import fitted
from storyrod.drawing._set_out import panel_set_out_small
from storyrod.model.feature import Hole
from storyrod.model.panel import Role as PanelRole
from storyrod.model.panel import Surface
from tests.unit.drawing.reading import Fault, faults_of, marks_too_near, too_small
from tests.unit.drawing.samples import SetOutMaker, panel

WORD = Text(at=(0.0, 0.0), text="387", height=3.5, role=Role.FIGURE)
STROKE = Path(points=((-10.0, 0.0), (10.0, 0.0)), pen=Pen.EXTENSION)
SQUARE = ((-9.0, -9.0), (9.0, -9.0), (9.0, 9.0), (-9.0, 9.0))


def drawn(*items: DrawnEntity) -> Drawing:
    return Drawing(id="d", title="d", alt="d", items=items)


@pytest.mark.parametrize(
    ("items", "kinds"),
    [
        ((WORD,), set()),
        ((STROKE, WORD), {"line"}),
        ((WORD, STROKE), {"line"}),
        ((Circle(centre=(0.0, 4.0), radius=4.0, pen=Pen.THIN), WORD), {"line"}),
        ((Path(points=((-1.0, -3.0), (1.0, -3.0)), bulges=(-3.0,), pen=Pen.THIN), WORD), {"line"}),
        ((STROKE, Path(points=SQUARE, closed=True, fill=Fill(Tint.PAPER)), WORD), set()),
        ((WORD, Path(points=SQUARE, closed=True, fill=Fill(Tint.PAPER))), {"covered"}),
        ((WORD, Circle(centre=(1.0, 0.0), radius=0.9, fill=Fill(Tint.INK))), {"covered"}),
        ((Path(points=SQUARE, closed=True, fill=Fill(Tint.BOARD_1, Hatch.SLANT)), WORD), {"ground"}),
        ((Path(points=((0.0, -9.0), (9.0, -9.0), (9.0, 9.0), (0.0, 9.0)), fill=Fill(Tint.INK)), WORD), {"ground"}),
        ((WORD, Text(at=(3.0, 0.0), text="5", height=3.5)), {"words"}),
        ((Path(points=((-10.0, 1.9), (10.0, 1.9)), pen=Pen.EXTENSION), WORD), set()),
    ],
)
def test_what_keeps_a_word_from_being_read_is_found(items: tuple[DrawnEntity, ...], kinds: set[str]) -> None:
    assert {f.kind for f in faults_of(drawn(*items))} == kinds


def test_a_turned_word_is_struck_by_what_runs_along_it() -> None:
    upright = Text(at=(0.0, 0.0), text="387", height=3.5, angle_deg=90.0)

    assert faults_of(drawn(Path(points=((0.0, -9.0), (0.0, 9.0)), pen=Pen.THIN), upright)) == (
        Fault("line", "387", "thin"),
    )
    assert faults_of(drawn(Path(points=((3.0, -9.0), (3.0, 9.0)), pen=Pen.THIN), upright)) == ()


def test_sizes_are_those_on_paper() -> None:
    small = Text(at=(0.0, 0.0), text="387", height=3.2, role=Role.FIGURE)
    note = Text(at=(0.0, 0.0), text="base", height=2.82, role=Role.NOTE)

    assert too_small(drawn(small)) == ("387 11.9 pt",)
    assert too_small(drawn(WORD, note)) == ()
    assert too_small(drawn(note), 0.9) == ("base 9.5 pt",)


def test_extension_lines_and_leaders_are_broken_at_words_and_outlines_are_not() -> None:
    stop = Stop(at=0.0, start=10.0, label_at=0.0, value=0.0, text="0")
    run = Running(origin=(-20.0, -10.0), along_x=True, line_at=-10.0, toward=-1, stops=(stop,), height=3.5)
    outline = Path(points=((-1.0, -9.0), (-1.0, 9.0)), pen=Pen.OUTLINE)

    found = clear_of_words((run, STROKE, outline, WORD), 1.0)

    assert {(f.by, f.kind) for f in faults_of(drawn(run, STROKE, outline, WORD))} == {
        ("extension", "line"),
        ("outline", "line"),
    }
    assert {f.by for f in faults_of(drawn(*found))} == {"outline"}
    broken = next(item for item in found if isinstance(item, Running)).stops[0].shown
    assert broken is not None
    assert [tuple(round(y, 2) for y in ends) for ends in broken] == [(10.0, 2.1), (-2.1, -10.0)]


def test_lines_that_meet_no_word_stay_as_they_are() -> None:
    aside = Text(at=(0.0, 5.0), text="387", height=3.5)

    assert clear_of_words((STROKE, aside), 1.0) == (STROKE, aside)


def test_a_thing_with_many_words_is_not_drawn_away() -> None:
    """Words as wide as the room left none to the thing: it came out a millimetre wide, with its figures round it."""

    def draw(unit: float) -> Drawing:
        outline = Path(points=((0.0, 0.0), (300.0, 0.0), (300.0, 60.0), (0.0, 60.0)), closed=True, pen=Pen.OUTLINE)
        beside = Text(at=(300.0 + 2.0 * unit, 30.0), text="plunge 1.4961 and more", height=3.5)
        return Drawing(id="d", title="d", alt="d", items=(outline, beside), unit=unit)

    assert 300.0 / fitted(draw, (50.0, 40.0), (300.0, 60.0)).unit >= 15.0


def test_near_marks_ask_for_a_larger_drawing() -> None:
    """A tall side with the two holes of a hinge plate 32 apart: at 1:35 they ran into each other."""
    maker = SetOutMaker(panel(PanelRole.SIDE_LEFT, length=1960.0, width=590.0))
    for u in (176.0, 208.0):
        maker.cut(Surface.FACE, u, 37.0, Hole(diameter=5.0, depth=12.0))
    (drawing,) = panel_set_out_small(maker.done(), figures=Figures())

    assert marks_too_near(drawing) == ()
    assert drawing.unit == 30.0


def test_marks_half_a_millimetre_apart_are_found() -> None:
    holes = [Circle(centre=(x, 0.0), radius=0.3, pen=Pen.FEATURE) for x in (0.0, 0.5, 2.0)]
    marks = (Group(items=(hole,), name=f"mark {n}", kind="mark") for n, hole in enumerate(holes, 1))

    assert marks_too_near(drawn(*marks)) == ("mark 1 and mark 2",)
