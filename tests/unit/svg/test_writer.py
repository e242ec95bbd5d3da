"""SVG: well formed, small, the same every time, sized for paper or screen."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from storyrod.adapters.svg import PX_PER_MM, Look, page_styles, write
from storyrod.drawing import (
    CAP,
    HEIGHTS,
    Anchor,
    Arc,
    Circle,
    Drawing,
    Entity,
    Fill,
    Group,
    Hatch,
    Path,
    Pen,
    Role,
    Text,
    Tint,
    case_view,
    panel_set_out,
)
from tests.unit.drawing.cabinets import detailed
from tests.unit.drawing.samples import ALL

SVG = "{http://www.w3.org/2000/svg}"


def drawing(*items: Entity, unit: float = 1.0) -> Drawing:
    return Drawing(id="d.1", title="a <panel>", alt="what & where", items=items, unit=unit)


def parsed(*items: Entity, unit: float = 1.0, look: Look = Look.PAPER) -> ET.Element:
    return ET.fromstring(write(drawing(*items, unit=unit), look))


SQUARE = Path(points=((0, 0), (100, 0), (100, 50), (0, 50)), closed=True, pen=Pen.OUTLINE)


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("look", list(Look))
def test_set_outs_are_well_formed_and_repeatable(name: str, look: Look) -> None:
    for one, two in zip(panel_set_out(ALL[name]()), panel_set_out(ALL[name]()), strict=True):
        text = write(one, look)
        ET.fromstring(text)
        assert text == write(two, look)
        assert "nan" not in text
        assert "inf" not in text.replace("info", "")


def test_title_and_alt_text_are_told_and_escaped() -> None:
    root = parsed(SQUARE)

    assert root.findtext(f"{SVG}title") == "a <panel>"
    assert root.findtext(f"{SVG}desc") == "what & where"
    assert root.get("role") == "img"


def test_paper_is_sized_in_mm_and_the_page_in_pixels() -> None:
    paper, page = parsed(SQUARE, unit=10.0), parsed(SQUARE, unit=10.0, look=Look.PAGE)

    assert paper.get("width") == "12.00mm"  # 100 mm at 1:10 and 1 mm on either side
    assert page.get("width") == f"{12.0 * PX_PER_MM:.2f}"
    assert paper.get("viewBox") == "0 0 120 70"


def test_words_are_large_enough_on_a_screen() -> None:
    """The page's rule: working figures from 16 px up, nothing under 13 px."""
    assert HEIGHTS[Role.FIGURE] / CAP * PX_PER_MM >= 16.0
    assert min(HEIGHTS.values()) / CAP * PX_PER_MM >= 13.0


def test_y_grows_downward_in_the_file() -> None:
    (path,) = parsed(SQUARE).iter(f"{SVG}path")

    assert path.get("d") == "M1 51L101 51L101 1L1 1Z"


def test_lines_keep_their_width_on_paper_at_any_scale() -> None:
    (path,) = parsed(SQUARE, unit=10.0).iter(f"{SVG}path")

    assert path.get("stroke-width") == "5"
    assert path.get("class") == "line outline"


def test_lines_of_one_pen_become_one_path() -> None:
    lines = [Path(points=((0, n), (10, n)), pen=Pen.THIN) for n in range(20)]

    assert len(list(parsed(*lines).iter(f"{SVG}path"))) == 1


def test_bulges_and_arcs_are_drawn_round() -> None:
    capsule = Path(points=((0, 0), (20, 0), (20, 8), (0, 8)), bulges=(0.0, 1.0, 0.0, 1.0), closed=True, pen=Pen.FEATURE)
    quarter = Arc(centre=(0, 0), radius=10, start_deg=0, end_deg=90)
    (slot, arc) = parsed(capsule, quarter).iter(f"{SVG}path")

    assert re.findall(r"A[\d. ]+", slot.get("d") or "")[0].startswith("A4 4 0 0 0 ")
    assert (arc.get("d") or "").count("A10 10 0 0 0") == 1


def test_the_page_colours_by_style_sheet_alone() -> None:
    page = write(drawing(SQUARE, Circle(centre=(5, 5), radius=2, fill=Fill(Tint.CHOSEN))), Look.PAGE)

    assert "#" not in page
    assert 'class="tint chosen-0"' in page
    for tint in Tint:
        assert f".tint.{tint}-0 " in page_styles()


def test_patterns_are_named_after_the_drawing() -> None:
    hatched = Path(points=SQUARE.points, closed=True, fill=Fill(Tint.BOARD_1, Hatch.SLANT))
    text = write(drawing(hatched), prefix="one")

    assert 'id="one-slant"' in text
    assert "url(#one-slant)" in text


def test_groups_carry_what_a_page_needs_to_tap_them() -> None:
    group = Group(items=(SQUARE,), id="A.top.f1", name="A3.1: hole", kind="mark")
    (g,) = parsed(group).iter(f"{SVG}g")

    assert (g.get("data-id"), g.get("class"), g.findtext(f"{SVG}title")) == ("A.top.f1", "mark", "A3.1: hole")


def test_text_is_turned_anchored_and_sized_by_its_figures() -> None:
    text = Text(at=(50, 20), text="590.5", height=3.8, anchor=Anchor.END, angle_deg=90.0, bold=True)
    (element,) = parsed(SQUARE, text).iter(f"{SVG}text")

    assert element.get("font-size") == "5"  # 3.8 mm high figures are 0.76 of the em
    assert element.get("text-anchor") == "end"
    assert (element.get("transform") or "").startswith("rotate(-90 ")
    assert element.get("font-weight") == "700"


def test_fractions_are_set_as_fractions() -> None:
    (element,) = parsed(Text(at=(0, 0), text="23 5/8", height=3.8)).iter(f"{SVG}text")

    spans = list(element)
    assert [s.text for s in spans] == ["23", "5", "/", "8"]
    assert float(spans[1].get("dy") or 0) < 0
    assert sum(float(s.get("dy") or 0) for s in spans) == pytest.approx(0.0)


def test_the_depth_symbol_is_drawn_not_written() -> None:
    root = parsed(Text(at=(0, 0), text="Ø8 ↧13", height=3.5))

    assert [t.text for t in root.iter(f"{SVG}text")] == ["Ø8", "13"]
    assert len(list(root.iter(f"{SVG}path"))) == 1


def test_a_makers_own_words_can_not_break_the_file() -> None:
    nasty = "<script>alert('&')</script>"
    root = parsed(Text(at=(0, 0), text=nasty, height=3.0), Group(items=(), id='"><x', name=nasty))

    assert next(root.iter(f"{SVG}text")).text == nasty


def test_a_whole_case_is_small() -> None:
    assert len(write(case_view(detailed()))) < 80_000
