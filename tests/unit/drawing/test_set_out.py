"""The set-out sheet shows every mark where it is, and can be read."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from storyrod.drawing import Figures, Pen, Running, panel_set_out, panel_true_size, worked_faces
from storyrod.measure.length import Unit
from storyrod.model.feature import Hole
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Grain, PanelId, Role, Surface
from tests.unit.drawing.checks import check, groups_of, middle_of, texts_of
from tests.unit.drawing.samples import ALL, DOWEL, SetOutMaker, every_kind, joint, panel, pin_side, shelf, side


@pytest.mark.parametrize("name", ALL)
def test_words_stand_apart_and_can_be_read(name: str) -> None:
    for drawing in panel_set_out(ALL[name]()):
        check(drawing)


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("room", [(170.0, 185.0), (250.0, 130.0), (140.0, 150.0)])
def test_a_drawing_fits_its_room(name: str, room: tuple[float, float]) -> None:
    for drawing in panel_set_out(ALL[name](), room=room):
        width, height = drawing.paper_size
        assert width <= room[0]
        assert height <= room[1]
        check(drawing)


def scattered(seed: int) -> PanelSetOut:
    """A panel of chance: from three marks to seventy, on either hand, in the face and in the edges."""
    chance = random.Random(seed)
    role = chance.choice([Role.SIDE_LEFT, Role.SIDE_RIGHT, Role.SHELF])
    length, width = chance.randrange(150, 2400), chance.randrange(80, 700)
    maker = SetOutMaker(panel(role, length=float(length), width=float(width)))
    for n in range(chance.randrange(6)):
        at = chance.randrange(20, length - 20)
        joint(maker, f"J{n + 1}", f"A{n + 2}", float(at), (30.0, width / 2, width - 30.0))
    surfaces = [Surface.FACE, Surface.FACE, Surface.FACE, Surface.DATUM_END, Surface.FAR_END, Surface.FAR_EDGE]
    for _ in range(chance.randrange(3, 55)):
        u, v = float(chance.randrange(10, length - 10)), float(chance.randrange(10, width - 10))
        surface = chance.choice(surfaces)
        u = {Surface.DATUM_END: 0.0, Surface.FAR_END: float(length)}.get(surface, u)
        v = float(width) if surface is Surface.FAR_EDGE else v
        maker.cut(surface, u, v, Hole(diameter=5.0, depth=10.0))
    return maker.done()


@pytest.mark.parametrize("seed", range(40))
def test_panels_of_chance_can_be_read(seed: int) -> None:
    for drawing in panel_set_out(scattered(seed)):
        check(drawing)


@pytest.mark.parametrize("name", ALL)
def test_every_mark_is_a_group_that_the_page_can_tap(name: str) -> None:
    set_out = ALL[name]()

    ids = [g.id for d in panel_set_out(set_out) for g in groups_of(d.items, "mark")]

    assert sorted(ids) == sorted(m.feature.id for m in set_out.marks)


def test_marks_stand_at_their_true_places() -> None:
    set_out = side()
    (drawing,) = panel_set_out(set_out)
    shown = {g.id: middle_of(g, drawing.unit) for g in groups_of(drawing.items, "mark")}

    for mark in set_out.marks:
        assert shown[mark.feature.id] == pytest.approx((-mark.feature.at.u, mark.feature.at.v))


def test_every_number_is_written_where_rows_are_not_crowded() -> None:
    set_out = side()
    (drawing,) = panel_set_out(set_out)

    numbers = {t.text for t in texts_of(drawing) if t.role == "number"}

    assert numbers == {str(m.number) for m in set_out.marks}


def test_a_crowded_row_shows_its_ends_and_what_it_is() -> None:
    (drawing,) = panel_set_out(pin_side())
    texts = [t.text for t in texts_of(drawing)]

    assert texts.count("24 × Ø5 ↧12, each 32") == 2
    assert {"16", "17", "62", "63"} <= set(texts)


def test_every_value_stands_in_running_dimensions_from_the_datum() -> None:
    set_out = side()
    (drawing,) = panel_set_out(set_out)
    runs = {r.along_x: r for r in drawing.items if isinstance(r, Running)}

    assert {s.value for s in runs[True].stops} >= {m.u for m in set_out.marks if m.feature.kind == "hole"}
    assert {s.value for s in runs[False].stops} >= {m.v for m in set_out.marks if m.feature.kind == "hole"}
    assert runs[True].origin[0] == 0.0
    assert runs[False].origin[1] == 0.0


def test_twins_are_the_mirror_of_each_other() -> None:
    """The same marks from the same datums, the datum end at the right of one and at the left of the other."""
    left, right = panel_set_out(side(Role.SIDE_LEFT))[0], panel_set_out(side(Role.SIDE_RIGHT))[0]
    on_left = [middle_of(g, left.unit) for g in groups_of(left.items, "mark")]
    on_right = [middle_of(g, right.unit) for g in groups_of(right.items, "mark")]

    for (x, y), (mirrored, same) in zip(on_left, on_right, strict=True):
        assert (x, y) == pytest.approx((-mirrored, same))
    assert left.notes[0].endswith("datum end at the right.")
    assert right.notes[0].endswith("datum end at the left.")
    assert any("twin" in note for note in left.notes)


def test_both_faces_are_drawn_where_both_are_worked() -> None:
    set_out = every_kind()
    face, far = panel_set_out(set_out)

    assert worked_faces(set_out) == (Surface.FACE, Surface.FAR_FACE)
    assert face.title == "B3 top, face side"
    assert far.title == "B3 top, far face"
    assert far.notes[0] == "Far face up, face edge toward you, datum end at the right."
    pens = {item.pen for item in face.flat() if not hasattr(item, "text")}
    assert pens & {Pen.HIDDEN, Pen.HIDDEN_SMALL}


def test_a_board_worked_in_its_ends_only_is_drawn_face_up() -> None:
    (drawing,) = panel_set_out(shelf())
    words = [t.text for t in texts_of(drawing)]

    assert drawing.notes[0].startswith("Face side up")
    assert "datum end: 3 × Ø8 ↧30" in words
    assert "far end: 3 × Ø8 ↧30" in words
    assert "No cuts in: face edge, far edge." in drawing.notes


def test_the_tag_of_a_joint_names_the_mate_its_end_and_the_cuts() -> None:
    (drawing,) = panel_set_out(side())
    words = [t.text for t in texts_of(drawing)]

    assert words.count("A5 datum end") == 1
    assert words.count("J2: 3 × Ø8 ↧13") == 1


@pytest.mark.parametrize(("grain", "arrows"), [(Grain.ALONG, 1), (Grain.ACROSS, 1), (Grain.FREE, 0)])
def test_the_grain_is_shown_where_the_board_has_one(grain: Grain, arrows: int) -> None:
    plain = PanelSetOut(panel=panel(Role.SHELF, grain=grain), marks=(), lines=())
    (drawing,) = panel_set_out(plain)

    assert len(groups_of(drawing.items, "grain")) == arrows


def test_face_mark_and_edge_mark_stand_once_on_the_face_side() -> None:
    for drawing, wanted in zip(panel_set_out(every_kind()), (2, 0), strict=True):
        assert sum(getattr(item, "pen", None) is Pen.MARK for item in drawing.items) == wanted


def test_inches_are_said_once_and_set_as_fractions() -> None:
    (drawing,) = panel_set_out(side(), figures=Figures(unit=Unit.INCH, fraction=32))
    check(drawing)

    assert {"28.3465", "3.937"} <= {
        t.text for t in texts_of(drawing)
    }  # 720 mm, and 100 mm: half a thousandth off 3 15/16
    assert "Figures in inches: a fraction where a rule shows it, decimals where it does not." in drawing.notes


def test_the_same_set_out_gives_the_same_drawing() -> None:
    assert panel_set_out(every_kind()) == panel_set_out(every_kind())


def test_a_panel_without_twin_says_nothing_of_one() -> None:
    lone = replace(side(), panel=replace(side().panel, twin=None))

    assert not any("twin" in note for note in panel_set_out(lone)[0].notes)
    assert any(
        "twin" in note for note in panel_set_out(replace(lone, panel=replace(lone.panel, twin=PanelId("t"))))[0].notes
    )


@pytest.mark.parametrize("name", ALL)
def test_the_file_at_true_size_holds_every_cut_of_both_faces(name: str) -> None:
    set_out = ALL[name]()
    drawing = panel_true_size(set_out)

    assert sorted(g.id for g in groups_of(drawing.items, "mark")) == sorted(m.feature.id for m in set_out.marks)
    check(drawing)


def test_a_tiny_panel_is_drawn_larger_than_life() -> None:
    maker = SetOutMaker(panel(Role.RAIL, length=40.0, width=30.0)).cut(Surface.FACE, 20.0, 15.0, DOWEL)
    (drawing,) = panel_set_out(maker.done())

    assert drawing.unit < 1.0
    assert drawing.scale == "2:1"
