"""Cards, jigs and trial on paper, as a file and on the command line."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest

from storyrod.adapters import dxf
from storyrod.adapters.cli._trial import correct
from storyrod.adapters.files import read_job
from storyrod.adapters.packet._blocks import Picture, Table, Warning_
from storyrod.adapters.packet._machining import machining_sections
from storyrod.drawing import Circle
from storyrod.drawing import Path as Outline
from storyrod.drawing.jig_drawing import ROOM, jig_drawing, jig_true_size
from storyrod.drawing.set_up_section import set_up_section
from storyrod.faults import JobError
from storyrod.model.machining import WorkStage
from storyrod.plan import Plan
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
                assert any(t.startswith("packer ") for t in texts)


def test_the_packet_has_a_card_for_each_set_up_and_ends_with_the_count(plan: Plan) -> None:
    sections = machining_sections(plan)
    cards = [s for s in plan.machining.set_ups if s.stage is WorkStage.MACHINE]

    assert [s.head for s in sections if s.head.startswith("set-up")] == [f"set-up {s.id}" for s in cards]
    assert sections[-1].head == "count sheet"
    for section in sections:
        if section.head.startswith("set-up"):
            kinds = {type(b) for b in section.blocks}
            assert {Table, Picture, Warning_} <= kinds


def asked(**given: str | None) -> argparse.Namespace:
    plain = {"set_up": "", "step": None, "gap": None, "fence": None, "packer": None}
    return argparse.Namespace(**(plain | given))


def test_trial_takes_the_card_s_own_packer() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    plan = Plan(read.job, read.workshop)
    last = next(s for s in plan.machining.set_ups if s.trial_kind == "packer")
    assert last.setting is not None
    assert last.setting.packer is not None
    correction = correct(plan, asked(set_up=last.id, step="0.5"))

    assert correction.was == last.setting.packer.made
    assert correction.change == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"set_up": "S99", "step": "0.3"}, "trial-set-up"),
        ({"set_up": "S1", "step": "0.3"}, "trial-set-up"),
        ({"set_up": "S4", "step": "40"}, "trial-reading"),
        ({"set_up": "S4", "fence": "0.3"}, "trial-kind"),
        ({"set_up": "S4", "step": "a bit"}, "length"),
    ],
)
def test_trial_tells_what_is_wrong(given: dict[str, str], code: str) -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    with pytest.raises(JobError) as caught:
        correct(Plan(read.job, read.workshop), asked(**given))

    assert caught.value.faults[0].code == code
    assert caught.value.faults[0].field
