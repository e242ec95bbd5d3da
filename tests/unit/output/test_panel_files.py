"""A panel's drawings as files: one for each worked face, the same as asked for by themselves."""

from __future__ import annotations

from storyrod.adapters import svg
from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.printing._plan_files import plan_files
from storyrod.drawing import Figures, panel_set_out
from storyrod.planning import Plan
from tests import builders


def test_both_faces_of_a_panel_are_written_each_time_they_are_asked_for() -> None:
    inside = builders.columns(builders.shelves(1), builders.shelves(1))
    plan = Plan(builders.job(builders.case(width=900.0, inside=inside)), packaged_workshop())
    files = {f.name: f for f in plan_files(plan)}
    out = next(p for c in plan.set_out.cases for p in c.panels if p.panel.id == "A.divider-1")
    face, far = (svg.write(d).encode() for d in panel_set_out(out, figures=Figures.of_job(plan.job)))

    for _ in range(2):
        assert files["panels/A.divider-1.svg"].make() == face
        assert files["panels/A.divider-1.far-face.svg"].make() == far
    assert files["panels/A.divider-1.far-face.svg"].make() == far
