"""DXF read back: layers, places, closed outlines, real dimensions, no errors, the same bytes twice."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from functools import cache
from typing import Any

import pytest
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import read

from storyrod.adapters.dxf import write
from storyrod.drawing import Figures, panel_true_size
from storyrod.measure.length import Unit
from storyrod.model.feature import Hole
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Role, Surface
from tests.unit.drawing.samples import ALL, every_kind, pin_side, shelf, side


def written(set_out: PanelSetOut, figures: Figures | None = None) -> Document:
    document = read(io.StringIO(write(panel_true_size(set_out, figures=figures))))
    assert isinstance(document, Document)
    return document


@cache
def of(name: str) -> Document:
    return written(ALL[name]())


def on(document: Document, layer: str, kind: str = "*") -> list[Any]:
    return list(document.modelspace().query(f'{kind}[layer=="{layer}"]'))


@pytest.mark.parametrize("name", ALL)
def test_the_audit_finds_nothing(name: str) -> None:
    audit = of(name).audit()

    assert [e.message for e in audit.errors] == []
    assert [f.message for f in audit.fixes] == []


@pytest.mark.parametrize("name", ALL)
def test_units_are_millimetres_and_the_outline_is_true_and_closed(name: str) -> None:
    panel = ALL[name]().panel
    document = of(name)
    (outline,) = on(document, "OUTLINE", "LWPOLYLINE")
    xs, ys = zip(*((x, y) for x, y, *_ in outline.get_points()), strict=True)

    assert document.header["$INSUNITS"] == 4
    assert outline.closed
    assert (max(xs) - min(xs), max(ys) - min(ys)) == (panel.length, panel.width)
    assert min(abs(x) for x in xs) == min(ys) == 0.0  # the datum corner is the origin


@pytest.mark.parametrize("make", [side, pin_side, every_kind])
def test_holes_in_the_faces_lie_where_the_features_are(make: Any) -> None:
    set_out = make()
    document = written(set_out)
    way = 1.0 if set_out.panel.frame.is_mirrored else -1.0
    circles = [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in document.modelspace().query("CIRCLE")]

    for mark in set_out.marks:
        shape, at = mark.feature.shape, mark.feature.at
        if isinstance(shape, Hole) and mark.surface in {Surface.FACE, Surface.FAR_FACE}:
            assert any(
                abs(x - way * at.u) < 1e-6 and abs(y - at.v) < 1e-6 and abs(r - shape.diameter / 2) < 1e-6
                for x, y, r in circles
            )


def test_bores_in_the_ends_lie_in_their_edge_at_their_depth_below_the_face() -> None:
    set_out = shelf()
    document = written(set_out)
    (edge,) = on(document, "DATUM END OUTLINE", "LWPOLYLINE")
    xs = sorted({x for x, *_ in edge.get_points()})
    bores = on(document, "DATUM END HOLE D8 DEEP 30", "CIRCLE")

    assert xs[1] - xs[0] == pytest.approx(18.0)
    assert sorted(c.dxf.center.y for c in bores) == pytest.approx([50.0, 178.0, 306.0])
    assert {round(c.dxf.center.x, 6) for c in bores} == {round(sum(xs) / 2, 6)}


def test_layers_say_kind_size_depth_and_surface() -> None:
    names = {layer.dxf.name for layer in of("every kind").layers}

    assert {
        "OUTLINE",
        "HOLE D8 DEEP 13",
        "HOLE D4.5 SUNK D9 THROUGH",
        "KEYHOLE D10 NECK 5.2 DEEP 11",
        "HOUSING 18 WIDE DEEP 6",
        "CUT-OUT SCOOP THROUGH",
        "FAR FACE HOLE D35 DEEP 12.5",
        "FAR EDGE POCKET 65 X 4 DEEP 12",
        "FACE EDGE SLOT 30 X 8 DEEP 20",
        "DIMENSIONS",
        "FACE AND EDGE MARKS",
    } <= names


def test_slots_are_closed_with_round_ends() -> None:
    (slot,) = on(of("every kind"), "SLOT 30 X 8 DEEP 12", "LWPOLYLINE")
    points = list(slot.get_points("xyb"))

    assert slot.closed
    assert sorted(abs(b) for *_, b in points) == [0.0, 0.0, 1.0, 1.0]
    assert max(y for _, y, _ in points) - min(y for _, y, _ in points) == pytest.approx(22.0)


@pytest.mark.parametrize("role", [Role.SIDE_LEFT, Role.SIDE_RIGHT])
def test_dimensions_are_real_and_run_from_the_datum(role: Role) -> None:
    set_out = side(role)
    dimensions = list(written(set_out).modelspace().query("DIMENSION"))
    measured = set()
    for dimension in dimensions:
        from_datum = dimension.get_measurement()
        is_length = dimension.dxf.dimtype & 64
        measured.add(round(abs(from_datum.x if is_length else from_datum.y), 3))
    texts = {d.dxf.text for d in dimensions}

    assert {91.0, 300.0, 471.0, 711.0, 720.0, 50.0, 178.0, 306.0, 400.0} <= measured
    assert {"91", "300", "720", "400"} <= texts
    assert all(d.dimtype == 6 for d in dimensions)  # ordinate


def test_an_inch_job_still_has_millimetres_with_its_own_words() -> None:
    document = written(side(), Figures(unit=Unit.INCH))
    (outline,) = on(document, "OUTLINE", "LWPOLYLINE")

    assert document.header["$INSUNITS"] == 4
    assert max(abs(x) for x, *_ in outline.get_points()) == 720.0
    assert "28.3465" in {d.dxf.text for d in document.modelspace().query("DIMENSION")}


def test_the_same_panel_gives_the_same_bytes() -> None:
    assert write(panel_true_size(every_kind())) == write(panel_true_size(every_kind()))


def test_the_bytes_hang_on_no_order_of_hashes() -> None:
    """A library's sets fall as chance has it, another way in each process."""
    told = "import sys; from storyrod.adapters.dxf import write; from storyrod.drawing import Drawing; "
    told += "sys.stdout.write(write(Drawing(id='a', title='', alt='', items=())))"
    made = [
        subprocess.run(
            [sys.executable, "-c", told], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("0", "4", "5")
    ]

    assert made[0].count(b"CLASS\n") > 2
    assert made[0] == made[1] == made[2]


def test_signs_that_drawing_programs_lack_are_spelt_out() -> None:
    words = {t.dxf.text for t in of("side").modelspace().query("TEXT")}

    assert "J2: 3 x Ø8 deep 13" in words
    assert not any("↧" in w or "×" in w for w in words)


def test_the_library_is_left_as_it_was_found() -> None:
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    write(panel_true_size(shelf()))

    assert options.write_fixed_meta_data_for_testing == before


@pytest.mark.parametrize("unit", Unit)
def test_a_file_says_its_unit_first_and_has_the_same_places_whatever_the_job_s(unit: Unit) -> None:
    def circles(document: Document) -> list[tuple[float, ...]]:
        return sorted((*c.dxf.center, c.dxf.radius) for c in document.modelspace().query("CIRCLE"))

    text = write(panel_true_size(side(), figures=Figures(unit=unit)))

    assert text.splitlines()[:2] == ["999", "LENGTHS IN MILLIMETRES, EXACT, WHATEVER THE UNIT OF THE JOB"]
    metric = circles(written(side()))
    assert circles(written(side(), Figures(unit=unit))) == metric
    assert metric
