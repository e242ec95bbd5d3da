"""The witness: sound cases pass, panels that share wood are named with how much, wrong volumes are told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.adapters.solid import _witness as inner
from storyrod.adapters.solid import witness
from storyrod.measure.space import Axis, PanelAxis, PanelPoint
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, Feature, FeatureId, Hole
from storyrod.model.panel import Panel, PanelId, Surface
from storyrod.model.proof import Claim
from storyrod.model.removal import volume
from storyrod.planning import Plan
from storyrod.proof import prove
from tests.unit.proof import small

RIGHT, SHELF = PanelId("A.right-side"), PanelId("A.shelf-1")


def longer(by: float) -> Details:
    """Return the case with its shelf `by` too long at the right."""

    def stretch(p: Panel) -> Panel:
        return replace(p, box=p.box.with_span(Axis.X, 18, 582 + by))

    return small.with_panel(small.details(), "shelf 1", stretch)


def test_a_sound_case_passes() -> None:
    seen = witness(small.details())

    assert seen.passed, seen.faults
    assert (seen.panels, seen.pairs, seen.overlaps) == (5, 10, ())
    assert all(v.exact is not None for v in seen.volumes)
    assert seen.lines()[0] == ("10 pairs of machined panels, built as solids, overlap nowhere (greatest found: 0 mm3).")


def test_a_shelf_3_mm_too_long_shows_its_overlap_exactly() -> None:
    """3 x 300 x 18 less two dowel holes of 8 mm in the side, 3 of whose 13 mm the shelf's end now fills.

    The holes are 64-sided in the solid: 16 x 64/2 sin(2 pi/64) = 50.1848 mm2 each.
    """
    seen = witness(longer(3))

    (overlap,) = seen.overlaps
    # The shelf's own end bores begin at its end, so they empty the same wood as the side's holes.
    assert overlap.volume_mm3 == pytest.approx(3 * 300 * 18 - 2 * 3 * 50.1848, abs=0.01)
    assert {overlap.one, overlap.other} == {"right side", "shelf 1"}
    assert overlap.size == pytest.approx((3, 300, 18))
    assert not seen.passed
    (fault,) = seen.faults
    assert fault.field == "cases[0]"
    assert "right side and shelf 1 of case A share 15,899 mm3 (3 x 300 x 18 mm)" in fault.found


def test_a_plain_shelf_3_mm_too_long_shows_the_whole_block() -> None:
    told = longer(3)
    bare = replace(told.cases[0], features=(), joints=(), _by_panel={})

    (overlap,) = witness(replace(told, cases=(bare,))).overlaps

    assert overlap.volume_mm3 == pytest.approx(3 * 300 * 18, abs=1e-6)


@pytest.mark.parametrize(("depth", "shared"), [(6.0, 0.0), (5.0, 300 * 18)])
def test_a_shelf_in_its_housing(depth: float, shared: float) -> None:
    told = longer(6)
    bare = replace(told.cases[0], features=(), joints=(), _by_panel={})
    housing = Feature(
        id=FeatureId("housing"),
        panel=RIGHT,
        surface=Surface.FACE,
        at=PanelPoint(200, 150, 0),
        shape=Channel(kind="housing", length=300, width=18, depth=depth, run=PanelAxis.V),
    )

    seen = witness(small.with_more(replace(told, cases=(bare,)), housing))

    assert sum(o.volume_mm3 for o in seen.overlaps) == pytest.approx(shared, abs=1e-6)


def test_a_film_of_a_tenth_of_a_millimetre_is_seen() -> None:
    assert not witness(longer(0.1)).passed


def test_crossing_channels_count_their_common_part_once() -> None:
    along = Channel(kind="groove", length=400, width=6, depth=9, run=PanelAxis.U)
    across = Channel(kind="housing", length=300, width=18, depth=6, run=PanelAxis.V)
    features = [
        Feature(id=FeatureId(n), panel=RIGHT, surface=Surface.FACE, at=PanelPoint(*at), shape=shape)
        for n, at, shape in (("a", (200, 280, 0), along), ("b", (300, 150, 0), across))
    ]

    seen = witness(small.with_more(small.details(), *features))

    told = next(v for v in seen.volumes if v.panel == RIGHT)
    dowels = 6 * 3.141592653589793 * 16 * 13
    assert told.exact == pytest.approx(400 * 300 * 18 - dowels - (400 * 6 * 9 + 300 * 18 * 6 - 6 * 18 * 6), abs=1e-6)
    assert seen.findings[1].passed


def test_cuts_that_share_wood_are_left_out_of_the_sum() -> None:
    cam = Feature(
        id=FeatureId("cam"),
        panel=SHELF,
        surface=Surface.FAR_FACE,
        at=PanelPoint(20, 50, 18),
        shape=Hole(diameter=15, depth=12.5),
    )

    seen = witness(small.with_more(small.details(), cam))

    assert next(v for v in seen.volumes if v.panel == SHELF).exact is None
    assert seen.findings[1].checked == 4
    assert seen.passed


def test_a_wrong_volume_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """If the sum of the features said 1 % more than the solid loses, every panel's volume would be told."""
    monkeypatch.setattr(inner, "volume", lambda f: volume(f) * 1.01 + 5)

    seen = witness(small.details())

    assert [f.claim for f in seen.findings if not f.passed] == [Claim.SOLID_VOLUMES]
    assert len(seen.faults) == 5


HOOKED = """
[boards.b18]
kind = "chipboard"
thickness = 18
[[cases]]
code = "A"
width = 600
height = 500
depth = 300
hung = { top_at = 2000, wall = "masonry", by = "cleats" }
"""


def test_cleats_hook_into_each_other_by_their_bevels_and_share_no_wood() -> None:
    """Without its bevel the wall's cleat would stand in what is left of the case's: half of 18 x 18, 554 long."""
    read = job_from_text(HOOKED, name="job.toml")
    plan = Plan(read.job, read.workshop)
    details = plan.details
    seen = witness(details)
    square = small.with_panel(details, "wall cleat", lambda p: replace(p, bevel=None))

    assert seen.passed, seen.faults
    assert [v.exact for v in seen.volumes if v.name.startswith("wall cleat")] == [554 * 18 * (100 - 9)]
    (overlap,) = witness(square).overlaps
    assert overlap.volume_mm3 == pytest.approx(554 * 18 * 18 / 2, rel=1e-6)
    assert [prove(d, plan.set_out).of(Claim.BOXES).passed for d in (details, square)] == [True, False]
