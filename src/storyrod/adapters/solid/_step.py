"""A case as a STEP file with true round holes, by the exact solid kernel of the `step` extra (about 1 GB)."""

from __future__ import annotations

import io
import itertools
import math
import re
from importlib.util import find_spec
from typing import Any, Final

from storyrod.adapters.solid._build import sense_of, wedge
from storyrod.faults import Fault, JobError
from storyrod.measure.space import PANEL_AXES, Direction, PanelAxis, PanelPoint
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel
from storyrod.model.removal import Bar, Capsule, Cone, Cylinder, Primitive, Segment, Slant, removed

STAMP: Final = "2000-01-01T00:00:00"
"""A fixed date in the file's head, so that one job gives the same bytes every day."""

Vec = tuple[float, float, float]
Pair = tuple[float, float]


def has_step() -> bool:
    """Return whether the kernel that writes STEP files is installed."""
    return find_spec("build123d") is not None


def step_bytes(case: DetailedCase) -> bytes:
    """Return a case as a STEP file: one named part a panel, in place, in mm.

    Raises:
        JobError: the `step` extra is not installed; it says how to get it.
    """
    if not has_step():
        raise JobError(
            Fault(
                code="step-missing",
                field="STEP",
                found="no exact solid kernel installed",
                allowed="the extra `step`",
                do="Install it with `pip install storyrod[step]` (about 1 GB), or use the GLB and STL files.",
            )
        )
    import build123d

    whole = build123d.Compound(label=f"case {case.built.case.code}", children=panel_parts(case))
    out = io.BytesIO()
    build123d.export_step(whole, out, timestamp=STAMP)
    return _numbered_afresh(out.getvalue())


def panel_parts(case: DetailedCase) -> list[Any]:
    """Return every machined panel as a part of the exact kernel, in place and labelled (the extra must be there)."""
    parts = []
    for panel in case.panels:
        part = _place(panel) * _panel_part(panel, case)
        part.label = f"{panel.mark} {panel.name}"
        parts.append(part)
    return parts


def _numbered_afresh(data: bytes) -> bytes:
    """Return the file with its assembly relations numbered from 1: the kernel counts on from file to file."""
    count = itertools.count(1)
    return re.sub(rb"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\(')\d+'", lambda m: m[1] + b"%d'" % next(count), data)


def _panel_part(panel: Panel, case: DetailedCase) -> Any:  # noqa: ANN401 - the kernel ships no types
    """Return a panel less its features, in its right-handed frame (u, v, u x v)."""
    sense = sense_of(panel)
    cutters = [c for f in case.on(panel.id) for p in removed(f) for c in _cutters(p, sense)]
    cutters += _bevel(panel, sense)
    block = _box((0.0, 0.0, 0.0), (panel.length, panel.width, sense * panel.thickness))
    return block.cut(*cutters) if cutters else block


def _bevel(panel: Panel, sense: int) -> list[Any]:
    """Return the prism that a bevel takes off, none where there is no bevel."""
    corners = [(u, v, sense * w) for u, v, w in wedge(panel)]
    if not corners:
        return []
    from build123d import Face, Wire, extrude

    return [extrude(Face(Wire.make_polygon(corners[:3])), amount=panel.length, dir=(1, 0, 0))]


def _place(panel: Panel) -> Any:  # noqa: ANN401 - the kernel ships no types
    from build123d import Plane

    u, v = _vector(panel.frame.u), _vector(panel.frame.v)
    normal = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    origin = panel.frame.origin
    return Plane(origin=(origin.x, origin.y, origin.z), x_dir=u, z_dir=normal).location


def _vector(way: Direction) -> Vec:
    return tuple(float(way.sign) if way.axis.value == a else 0.0 for a in "xyz")  # type: ignore[return-value]


def _cutters(primitive: Primitive, sense: int) -> list[Any]:
    match primitive:
        case Bar():
            return [_box(_mapped(primitive.low, sense), _mapped(primitive.high, sense))]
        case Cylinder():
            return [_bore(primitive.centre, primitive.axis, (primitive.low, primitive.high), primitive.radius, sense)]
        case Capsule():
            return _capsule(primitive, sense)
        case Segment():
            return _segment(primitive, sense)
        case Cone():
            return [_cone(primitive, sense)]
        case Slant():
            return [_slant(primitive, sense)]


def _mapped(at: PanelPoint, sense: int) -> Vec:
    return at.u, at.v, sense * at.w


def _box(a: Vec, b: Vec) -> Any:  # noqa: ANN401 - the kernel ships no types
    from build123d import Plane, Solid

    low = tuple(min(x, y) for x, y in zip(a, b, strict=True))
    size = (abs(x - y) for x, y in zip(a, b, strict=True))
    return Solid.make_box(*size, Plane(origin=low))


def _bore(at: PanelPoint, axis: PanelAxis, span: Pair, radius: float, sense: int) -> Any:  # noqa: ANN401 - as above
    from build123d import Plane, Solid

    start, end = (_mapped(at.with_(axis, x), sense) for x in span)
    way = tuple(b - a for a, b in zip(start, end, strict=True))
    return Solid.make_cylinder(radius, span[1] - span[0], Plane(origin=start, z_dir=way))


def _capsule(primitive: Capsule, sense: int) -> list[Any]:
    axis, radius = primitive.axis, primitive.radius
    ends = [primitive.start, primitive.end]
    bores = [_bore(e, axis, (primitive.low, primitive.high), radius, sense) for e in ends]
    run = next((a for a in PANEL_AXES if a is not axis and ends[0].along(a) != ends[1].along(a)), None)
    if run is None:
        return bores[:1]
    across = next(a for a in PANEL_AXES if a not in {axis, run})
    low = ends[0].with_(axis, primitive.low).moved(across, -radius)
    high = ends[1].with_(axis, primitive.high).moved(across, radius)
    return [*bores, _box(_mapped(low, sense), _mapped(high, sense))]


def _segment(primitive: Segment, sense: int) -> list[Any]:
    """Return a disc's segment: what the disc and the block round its segment have in common."""
    disc = _bore(primitive.centre, primitive.axis, (primitive.low, primitive.high), primitive.radius, sense)
    bounds = primitive.bounds
    half = _box(_mapped(bounds.low, sense), _mapped(bounds.high, sense))
    return list(disc.intersect(half))


def _cone(primitive: Cone, sense: int) -> Any:  # noqa: ANN401 - the kernel ships no types
    from build123d import Plane, Solid

    start = _mapped(primitive.centre, sense)
    end = _mapped(primitive.centre.moved(primitive.axis, primitive.sign * primitive.depth), sense)
    way = tuple(b - a for a, b in zip(start, end, strict=True))
    return Solid.make_cone(primitive.wide, primitive.narrow, primitive.depth, Plane(origin=start, z_dir=way))


def _slant(primitive: Slant, sense: int) -> Any:  # noqa: ANN401 - the kernel ships no types
    """Return a sloped bore, drawn back beyond the face until all of its mouth is open."""
    from build123d import Plane, Solid

    start, end = _mapped(primitive.start, sense), _mapped(primitive.end, sense)
    way = tuple(b - a for a, b in zip(start, end, strict=True))
    length = math.hypot(*way)
    slope = abs(way[2]) / length
    back = primitive.radius * math.sqrt(max(0.0, 1 - slope**2)) / slope
    origin = tuple(a - back * w / length for a, w in zip(start, way, strict=True))
    return Solid.make_cylinder(primitive.radius, length + back, Plane(origin=origin, z_dir=way))
