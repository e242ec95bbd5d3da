"""No packer under 0.3 mm: left out where both halves of a joint shift alike, else tape."""

from __future__ import annotations

from dataclasses import replace

from storyrod.adapters.files import read_job
from storyrod.model.machining import LEAST_PACKER, SetUp
from storyrod.planning import Plan
from tests.places import EXAMPLES


def located(plan: Plan) -> list[SetUp]:
    """Return the set-ups with a fixed reach that differs a little from what is wanted."""
    found = []
    for s in plan.machining.set_ups:
        at = s.setting
        if at is not None and at.packer is not None and at.reference_to_centre is not None and at.wanted is not None:
            found += [s] if 0.1 < abs(at.reference_to_centre - at.wanted) < LEAST_PACKER else []
    return found


def test_the_dowelling_jig_of_the_low_units_has_tape_on_its_fence() -> None:
    """Its holes are 9 from its fence, the middle of a board of 17.7 is at 8.85, and a router cuts the other halves."""
    read = read_job(EXAMPLES / "low-units.toml")
    (set_up,) = located(Plan(read.job, read.workshop))
    assert set_up.setting is not None
    assert set_up.setting.packer is not None
    assert set_up.setting.packer.told(read.job.lengths) == "no packer: tape 0.15 thick"
    assert set_up.setting.packer.made == 0.15


def test_a_shim_on_the_shelf_is_not_laid_loose_either() -> None:
    read = read_job(EXAMPLES / "low-units.toml")
    shop = replace(read.workshop, packers=(*read.workshop.packers, 0.2))
    (set_up,) = located(Plan(read.job, shop))
    assert set_up.setting is not None
    assert set_up.setting.packer is not None
    assert set_up.setting.packer.pieces == ()
