"""Cards, jigs and trial on paper, as a file and on the command line."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from storyrod.adapters import dxf
from storyrod.adapters.files import read_job
from storyrod.adapters.packet._blocks import Row, Together
from storyrod.adapters.packet._machining import machining_sections
from storyrod.adapters.trying import Reading, correct
from storyrod.drawing import Anchor, Circle, Drawing, Text
from storyrod.drawing import Path as Outline
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import Hatch
from storyrod.drawing.jig_drawing import ROOM, jig_drawing, jig_true_size
from storyrod.drawing.set_up_section import set_up_section
from storyrod.faults import JobError
from storyrod.model.machining import TrialKind
from storyrod.planning import Plan
from storyrod.telling.blocks import Picture, Table, Warning_
from tests.places import EXAMPLES

JOBS = ("percussion-chest", "low-units")


@pytest.fixture(scope="module", params=JOBS)
def plan(request: pytest.FixtureRequest) -> Plan:
    read = read_job(EXAMPLES / f"{request.param}.toml")
    return Plan(read.job, read.workshop)


def test_every_jig_is_drawn_with_its_stations_where_they_are(plan: Plan) -> None:
    for jig in plan.machining.jigs:
        drawing = jig_drawing(jig)
        assert drawing.paper_size[0] <= ROOM[0] * 1.25
        openings = [
            e for e in jig_true_size(jig).flat() if isinstance(e, Circle | Outline) and e.layer == "JIG OPENINGS"
        ]
        assert len(openings) == len(jig.stations)
        centres = [
            e.centre[0] if isinstance(e, Circle) else (min(p[0] for p in e.points) + max(p[0] for p in e.points)) / 2
            for e in openings
        ]
        assert centres == pytest.approx(list(jig.stations))


def test_a_jig_is_written_as_dxf_at_true_size(plan: Plan, tmp_path: Path) -> None:
    import ezdxf
    from ezdxf.entities.lwpolyline import LWPolyline

    jig = plan.machining.jigs[0]
    path = tmp_path / "jig.dxf"
    path.write_text(dxf.write(jig_true_size(jig)), encoding="utf-8")
    document = ezdxf.readfile(path)  # type: ignore[attr-defined]

    assert not document.audit().errors
    (outline,) = document.modelspace().query('LWPOLYLINE[layer=="JIG OUTLINE"]')
    assert isinstance(outline, LWPolyline)
    xs = [p[0] for p in outline.get_points()]
    assert max(xs) - min(xs) == pytest.approx(jig.length)


def test_every_set_up_has_a_section_with_its_figures(plan: Plan) -> None:
    for set_up in plan.machining.set_ups:
        if set_up.section is not None:
            drawing = set_up_section(set_up.section, id=f"section-{set_up.id}", title=set_up.title)
            texts = {t.text for t in drawing.flat() if hasattr(t, "text")}
            assert texts
            if set_up.setting and set_up.setting.packer and set_up.setting.packer.made > 0:
                kind = "tape" if set_up.setting.packer.made < 0.3 else "packer"  # common practice, no source
                assert any(t.startswith(f"{kind} ") for t in texts)


def test_the_packet_has_a_card_for_each_set_up(plan: Plan) -> None:
    sections = machining_sections(plan)
    cards = [s for s in plan.machining.set_ups if s.is_cut]

    heads = [s.head.removeprefix("set-up ") for s in sections if s.head.startswith("set-up ")]
    assert [one for head in heads for one in head.split(" + ")] == [s.id for s in cards]
    for section in sections:
        if section.head.startswith("set-up"):
            inside = [b for part in section.blocks for b in (part.blocks if isinstance(part, Together) else (part,))]
            beside = [b for row in inside if isinstance(row, Row) for cell in row.cells for b in cell]
            kinds = {type(b) for b in (*inside, *beside)}
            assert {Table, Picture, Warning_} <= kinds


def test_trial_takes_the_card_s_own_packer() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    plan = Plan(read.job, read.workshop)
    last = next(s for s in plan.machining.set_ups if s.trial_kind == "packer")
    assert last.setting is not None
    assert last.setting.packer is not None
    correction = correct(plan, Reading(set_up=last.id, kind=TrialKind.STEP, written="0.5"))

    assert correction.was == last.setting.packer.made
    assert correction.change == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("set_up", "kind", "written", "packer", "code", "field"),
    [
        ("S99", "step", "0.3", None, "trial-set-up", "set-up"),
        ("S1", "step", "0.3", None, "trial-set-up", "set-up"),
        ("S4", "step", "40", None, "trial-reading", "step"),
        ("S4", "fence", "0.3", None, "trial-kind", "fence"),
        ("S4", "gap", "-0.3", None, "trial-reading", "gap"),
        ("S4", "step", "a bit", None, "length", "step"),
        ("S4", "step", "0.3", "thick", "length", "packer"),
    ],
)
def test_trial_tells_what_is_wrong(
    set_up: str, kind: str, written: str, packer: str | None, code: str, field: str
) -> None:
    """The field by its name; how it is typed is for the command line to say, or the page."""
    read = read_job(EXAMPLES / "first-box.toml")
    with pytest.raises(JobError) as caught:
        correct(
            Plan(read.job, read.workshop), Reading(set_up=set_up, kind=TrialKind(kind), written=written, packer=packer)
        )

    (fault,) = caught.value.faults
    assert (fault.code, fault.field) == (code, field)
    assert "--" not in str(fault)


def by_ladder(name: str) -> Plan:
    """Return an example as made where every dowel is drilled through a jig."""
    read = read_job(EXAMPLES / f"{name}.toml")
    kinds = ("drill jig", "drill press")
    tools = tuple(t for t in read.workshop.tools if t.kind.value not in kinds)
    return Plan(read.job, replace(read.workshop, tools=tools))


@pytest.mark.parametrize("name", ["rehearsal-room", "hymn-book-unit", "low-units", "percussion-chest"])
def test_no_word_on_a_jig_lies_on_a_hatch_or_a_line(name: str) -> None:
    for jig in by_ladder(name).machining.jigs:
        assert_words_clear(jig_drawing(jig))


@pytest.mark.parametrize("name", ["rehearsal-room", "low-units", "percussion-chest", "robe-cupboard"])
@pytest.mark.parametrize("ladder", [False, True])
def test_no_word_on_a_section_lies_on_a_hatch_or_a_line(name: str, *, ladder: bool) -> None:
    read = read_job(EXAMPLES / f"{name}.toml")
    plan = by_ladder(name) if ladder else Plan(read.job, read.workshop)
    for set_up in plan.machining.set_ups:
        if set_up.section is not None:
            assert_words_clear(set_up_section(set_up.section, id=set_up.id, title=set_up.title))


def assert_words_clear(drawing: Drawing) -> None:
    """Fail where a word of a drawing stands on a hatch or a line runs through it."""
    flat = tuple(drawing.flat())
    outlines = [e for e in flat if isinstance(e, Outline)]
    hatched = [e for e in outlines if e.fill is not None and e.fill.hatch is not Hatch.NONE]
    for text in (e for e in flat if isinstance(e, Text)):
        left, low, right, high = box_of(text, drawing.unit)
        for area in hatched:
            xs, ys = zip(*area.points, strict=True)
            clear = right <= min(xs) or left >= max(xs) or high <= min(ys) or low >= max(ys)
            assert clear, f"{drawing.id}, {drawing.title}: {text.text} lies on a hatch"
        for a, b in (pair for e in outlines for pair in sides(e)):
            through = crosses(a, b, (left, low, right, high))
            assert not through, f"{drawing.id}, {drawing.title}: a line runs through {text.text}"


Box = tuple[float, float, float, float]


def box_of(text: Text, unit: float) -> Box:
    """Return what the letters of a text cover, a tenth of its height left off all round."""
    long, high = width_of(text.text, text.height) * unit, 0.8 * text.height * unit
    before = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[text.anchor] * long
    x, y = text.at
    if text.angle_deg == 90.0:
        return x - high / 2, y - before, x + high / 2, y - before + long
    return x - before, y - high / 2, x - before + long, y + high / 2


def sides(outline: Outline) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the pieces that an outline is drawn in."""
    points = [*outline.points, outline.points[0]] if outline.closed else list(outline.points)
    return list(pairwise(points)) if outline.pen is not None else []


def crosses(a: tuple[float, float], b: tuple[float, float], box: Box) -> bool:
    """Return whether a straight piece runs through a box."""
    low, high = 0.0, 1.0
    for start, step, least, most in ((a[0], b[0] - a[0], box[0], box[2]), (a[1], b[1] - a[1], box[1], box[3])):
        if abs(step) < 1e-9:
            if not least < start < most:
                return False
            continue
        ends = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, ends[0]), min(high, ends[1])
    return low < high
