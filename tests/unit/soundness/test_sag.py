"""Sags of real cases against sums done by hand, and what is said when there is no figure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.faults import JobError
from storyrod.measure.space import Box, Point
from storyrod.model.panel import EdgeStrip, Surface
from storyrod.model.soundness import Rest
from storyrod.soundness._boards import Stiffness
from storyrod.soundness._carry import section_with_lippings
from storyrod.soundness._section import plank
from tests.unit.soundness.pieces import BOARDS, BOOKCASE, Found, found, plan_of

ONE_SHELF = BOOKCASE + "[cases.inside]\nrows = [{}, {}]\n"


def test_a_shelf_of_books_by_hand() -> None:
    """MDF 18 x 300, E 2200, span 800, 23.81 kg of books and itself.

    w = (23.81 + 3.15) 9.80665 / 800 = 0.33049 N/mm; bending 5 w 800^4 / (384 2200 145800) = 5.495 mm; shear
    w 800^2 / (8 (2200 / 16) 4500) = 0.0427 mm. In the long run: (3.15 (1 + 2.25) + 23.81 (1 + 0.8 2.25)) / 26.96.
    """
    shelf = found(ONE_SHELF).sag("shelf 1")

    assert shelf.load_kg == pytest.approx(23.81, abs=0.005)
    assert shelf.own_kg == pytest.approx(0.8 * 0.3 * 0.018 * 730, abs=0.01)
    assert shelf.at_once == pytest.approx(5.495 + 0.0427, abs=0.01)
    assert shelf.bending_share == pytest.approx(0.9923, abs=5e-4)
    factor = (3.15 * 3.25 + 23.81 * 2.8) / 26.96
    assert shelf.lasting == pytest.approx(5.538 * factor, abs=0.02)
    assert (shelf.span, shelf.limit) == pytest.approx((800, 800 / 240))
    assert shelf.within_limit is False
    assert [r.force_n for r in shelf.rests] == pytest.approx([26.96 * 9.80665 / 2] * 2, abs=0.05)


def test_the_usual_figure_of_a_board_is_named_as_such() -> None:
    assert "usual figure for mdf" in found(ONE_SHELF).sag("shelf 1").stiffness_from
    own = BOARDS.replace('kind = "mdf"\nthickness = 18', 'kind = "mdf"\nthickness = 18\nstiffness_n_mm2 = 2600')
    shelf = found(ONE_SHELF, own).sag("shelf 1")
    assert shelf.stiffness_from == "given for this board"
    assert shelf.stiffness_n_mm2 == 2600


def test_what_would_mend_it_is_worked_out() -> None:
    it = found(ONE_SHELF)
    shelf = it.sag("shelf 1")
    thicker, lipped, propped = shelf.remedies

    assert shelf.lasting is not None
    assert thicker.what == "a board 38 mm thick"
    assert thicker.enough
    assert thicker.sag < shelf.lasting * (18 / 38) ** 3 * 1.35
    assert 0 < lipped.sag < shelf.lasting
    assert propped.limit == pytest.approx(shelf.limit / 2)
    assert propped.sag < shelf.lasting / 16
    told = next(str(c) for c in it.case.cautions if c.code == "sag-over-limit" and "shelf 1" in c.about)
    assert thicker.what in told


@pytest.mark.parametrize(("width", "lipped"), [(22.0, True), (21.9, False)])
def test_a_strip_of_less_than_10_mm_of_board_is_no_plank_beside_its_lipping(width: float, lipped: bool) -> None:
    """12 mm of oak (12 300 N/mm2, the softest) in front: 10 of board are left and it counts, with less all is board."""
    plan = plan_of(BOOKCASE)
    base = next(p for p in plan.details.cases[0].panels if p.name == "base")
    low = base.box.low
    strip = EdgeStrip(surface=Surface.FACE_EDGE, edging="oak", thickness=12.0)
    narrow = replace(base, edged=(strip,)).with_box(Box(low, Point(low.x + 800, low.y + width, low.z + 18)))
    stiff = Stiffness(2200.0, 2200.0, "")

    section, edges = section_with_lippings(narrow, stiff, plan.job)

    assert section is not None
    whole = 10 * 2200 + 12 * 12_300 if lipped else width * 2200
    assert section.rigidity_n_mm2 == pytest.approx(whole * 18**3 / 12)
    assert edges == (("red oak lipping",) if lipped else ())


def test_a_lipping_is_in_the_section() -> None:
    """12 mm of red oak (12 500 N/mm2) on the front edge; its gain is marked as an upper bound."""
    lipped = BOARDS.replace('[boards.mdf18]\nkind = "mdf"', '[boards.mdf18]\nedging = "oak"\nkind = "mdf"')
    plain, stiff = found(ONE_SHELF).sag("shelf 1"), found(ONE_SHELF, lipped).sag("shelf 1")

    assert stiff.edges == ("red oak lipping",)
    assert plain.at_once
    assert stiff.at_once
    gained = (2200 * (300 - 12) + 12_500 * 12) / (2200 * 300)
    assert stiff.at_once == pytest.approx(plain.at_once / gained, rel=0.02)
    assert "gains less than this" in stiff.notes[0]


def test_a_top_runs_over_the_divider_in_one_piece() -> None:
    """Two equal bays: 0.375, 1.25, 0.375 of w L (shear moves a little of it)."""
    top = found(BOOKCASE + "[cases.inside]\ncolumns = [{}, {}]\n").sag("top")

    left, middle, right = (r.force_n for r in top.rests)
    assert left == pytest.approx(right)
    assert middle / (left + middle + right) == pytest.approx(1.25 / 2, rel=0.01)
    assert [r.by for r in top.rests] == [Rest.JOINT, Rest.UPRIGHT, Rest.JOINT]


def test_a_divider_that_stands_on_a_shelf_goes_down_with_it_and_pulls_the_top_along() -> None:
    it = found(BOOKCASE + '[cases.inside]\nrows = [{columns = [{}, {}]}, {name = "below"}]\n')
    shelf, top = it.sag("shelf 1"), it.sag("top")
    alone = found(ONE_SHELF).sag("shelf 1")

    at_middle = {s.name: dict(s.curve)[418.0] for s in (shelf, top)}
    assert at_middle["top"] == pytest.approx(at_middle["shelf 1"])
    assert alone.at_once
    assert shelf.at_once
    # It carries the divider and half the top's load as well; the top, as stiff as itself, helps.
    assert shelf.at_once != pytest.approx(alone.at_once, rel=0.02)
    assert sum(r.force_n for s in (shelf, top) for r in s.rests if r.by is Rest.JOINT) == pytest.approx(
        sum(s.load_kg + s.own_kg for s in (shelf, top)) * 9.80665 + divider_n(it), rel=1e-3
    )


def divider_n(it: Found) -> float:
    return next(p.kg for p in it.case.weights.panels if p.name == "divider 1") * 9.80665


def test_a_base_on_the_floor_does_not_sag_and_one_on_a_plinth_rests_on_its_edges() -> None:
    assert "base" not in [s.name for s in found(BOOKCASE).case.sags]
    plinth = BOOKCASE + '[cases.plinth]\nheight = 80\n[cases.back]\nkind = "rebated"\nboard = "mdf6"\n'
    base = found(plinth).sag("base")

    assert base.rests[0].by is Rest.EDGES
    assert base.at_once
    assert base.at_once < 0.3


def test_a_base_on_a_front_plinth_alone_is_reckoned_as_if_it_spanned() -> None:
    base = found(BOOKCASE + "[cases.plinth]\nheight = 80\n").sag("base")

    assert base.span == pytest.approx(800)
    assert base.at_once == pytest.approx(found(ONE_SHELF).sag("shelf 1").at_once, rel=0.02)


def test_a_base_on_a_front_plinth_alone_is_mended_by_a_second_board_behind() -> None:
    plinth = BOOKCASE + "[cases.plinth]\nheight = 80\n"
    rail = found(plinth).sag("base").remedies[0]
    railed = found(plinth.replace("height = 80", "height = 80\nback_rail = true")).sag("base")

    assert "back_rail" in rail.what
    assert rail.enough
    assert railed.lasting == pytest.approx(rail.sag, rel=0.05)


def test_what_uprights_bring_down_is_told_beside_the_load() -> None:
    """A divider in the middle stands on the base, and carries half of what lies on the shelves on either side."""
    two = BOOKCASE + "[cases.plinth]\nheight = 80\n[cases.inside]\ncolumns = [{COLUMN}, {COLUMN}]\n"
    column = "{ rows = [{ load_kg = 40 }, { load_kg = 5 }] }"
    two = two.replace("{COLUMN}", column)
    it = found(two)
    base = it.sag("base")

    assert base.pressed_kg > 0
    assert base.pressed_kg == pytest.approx(-sum(min(r.force_n, 0.0) for r in base.rests) / 9.80665)
    assert base.under_words == f"{base.load_kg:.0f} kg and {base.pressed_kg:.0f} kg from uprights"
    assert found(BOOKCASE + "[cases.plinth]\nheight = 80\n").sag("top").pressed_kg == 0


def test_loose_shelves_share_what_the_opening_is_said_to_carry() -> None:
    it = found(BOOKCASE + "[cases.inside]\nloose_shelves = 2\nload_kg = 60\n")

    shelf = it.sag("loose shelf 1")
    assert shelf.load_kg == pytest.approx(20)
    assert "60 kg, as you set" in shelf.carried[0].why
    assert [r.by for r in shelf.rests] == [Rest.PINS, Rest.PINS]


@pytest.mark.parametrize(
    ("contents", "kg"),
    [
        ("books", 29.763 * 0.8),
        ("crockery", 1.0 * 8 * 3),
        ("tools", 2.0 * 8 * 3),
        ("clothes", 0.65 * 8 * 3),
        ("light things", 0.3 * 8 * 3),
    ],
)
def test_load_by_what_stands_there(contents: str, kg: float) -> None:
    it = found(BOOKCASE + f'[cases.inside]\nrows = [{{contents = "{contents}"}}, {{}}]\n')

    assert it.sag("shelf 1").load_kg == pytest.approx(kg, rel=1e-3)


def test_a_tonne_bends_a_shelf_near_breaking() -> None:
    """The moment w 800^2 / 8 over 300 x 18^2 / 6: 1000 kg give 61 N/mm2, three times what MDF bears."""
    it = found(BOOKCASE + "[cases.inside]\nrows = [{load_kg = 1000}, {}]\n")

    shelf = it.sag("shelf 1")
    assert shelf.stress_n_mm2 == pytest.approx(1003.15 * 9.80665 * 800 / 8 / (300 * 18**2 / 6), rel=2e-3)
    assert {"load-near-breaking", "sag-over-limit"} <= set(it.codes)
    assert "may break" in it.told("load-near-breaking")


def test_a_board_of_unknown_stiffness_asks_and_gives_no_figure() -> None:
    unknown = BOARDS.replace('[boards.mdf18]\nkind = "mdf"', '[boards.mdf18]\nkind = "other"\ndensity_kg_m3 = 600')
    it = found(BOOKCASE + "[cases.inside]\nrows = [{columns = [{}, {}]}, {}]\n", unknown)

    shelf = it.sag("shelf 1")
    assert (shelf.at_once, shelf.lasting, shelf.greatest_span, shelf.within_limit) == (None, None, None, None)
    assert "`stiffness_n_mm2`" in it.told("sag-not-known")
    assert "sag-over-limit" not in it.codes


def test_solid_wood_with_a_species_in_its_name_takes_the_mean_of_that_species() -> None:
    oak = BOARDS.replace(
        '[boards.mdf18]\nkind = "mdf"', '[boards.mdf18]\nkind = "solid wood"\nname = "white oak"\ndensity_kg_m3 = 750'
    )
    shelf = found(ONE_SHELF, oak).sag("shelf 1")

    assert shelf.stiffness_n_mm2 == 12_300
    assert shelf.stiffness_from == "mean of oak, white, Wood Handbook"


def test_a_damp_place_gives_no_long_run_for_a_board_that_is_not_for_it() -> None:
    it = found('[use]\nclimate = "wet"\n' + ONE_SHELF)

    shelf = it.sag("shelf 1")
    assert shelf.at_once
    assert shelf.lasting is None
    assert "not for damp places" in it.told("sag-damp")


@pytest.mark.parametrize(("share", "over"), [(50, False), (240, True), (600, True)])
def test_the_limit_is_the_makers_own(share: int, over: bool) -> None:
    it = found(f"[use]\nsag_limit = {share}\n" + ONE_SHELF)

    assert it.sag("shelf 1").limit_share == share
    assert ("sag-over-limit" in it.codes) is over


def test_the_greatest_span_just_keeps_the_limit() -> None:
    wide = found(ONE_SHELF).sag("shelf 1")
    assert wide.greatest_span
    narrow = BOOKCASE.replace("836", f"{wide.greatest_span + 36:.2f}")
    shelf = found(narrow + "[cases.inside]\nrows = [{}, {}]\n").sag("shelf 1")

    assert shelf.span == pytest.approx(wide.greatest_span, abs=0.01)
    assert shelf.lasting == pytest.approx(shelf.limit, rel=0.01)


@pytest.mark.parametrize(("width", "thickness", "stiffness"), [(300, 0, 2200), (0, 18, 2200), (300, 18, 0)])
def test_a_plank_of_no_thickness_width_or_stiffness_is_told(width: float, thickness: float, stiffness: float) -> None:
    with pytest.raises(JobError) as caught:
        plank(width, thickness, stiffness)

    (fault,) = caught.value.faults
    assert fault.found.startswith("0")
    assert fault.do


def test_a_board_of_no_thickness_does_not_get_this_far() -> None:
    with pytest.raises(JobError, match=r"boards\.mdf18\.thickness"):
        plan_of(ONE_SHELF, BOARDS.replace("thickness = 18\n", "thickness = 0\n", 1))


def test_what_stands_on_shelves_where_no_load_is_said_can_be_set() -> None:
    """800 mm of shelf between sides of 18 mm: 40 kg a metre is 32 kg; the usual 20 lb a foot is 23.8."""
    shelf = BOOKCASE + "[cases.inside]\nrows = [{}, {}]\n"
    usual, own = found(shelf), found("[use.loads]\nbooks_kg_m = 40\ntop_kg_dm2 = 0\n" + shelf)

    assert usual.sag("shelf 1").load_kg == pytest.approx(0.8 * 20 * 0.45359237 / 0.3048)
    assert own.sag("shelf 1").load_kg == pytest.approx(32.0)
    assert "as you set" in own.sag("shelf 1").carried[0].why
    assert own.sag("top").load_kg == 0.0
    assert usual.sag("top").load_kg > 0.0


@pytest.mark.parametrize(
    ("contents", "field"),
    [
        ("crockery", "crockery_kg_dm2"),
        ("tools", "tools_kg_dm2"),
        ("clothes", "clothes_kg_dm2"),
        ("light things", "light_kg_dm2"),
    ],
)
def test_each_kind_of_contents_has_its_own_figure(contents: str, field: str) -> None:
    """On 800 by 300 mm, less nothing: 24 square decimetres at 0.5 kg."""
    shelf = BOOKCASE + f'[cases.inside]\nrows = [{{ contents = "{contents}" }}, {{}}]\n'

    assert found(f"[use.loads]\n{field} = 0.5\n" + shelf).sag("shelf 1").load_kg == pytest.approx(12.0)


def test_what_drawers_are_filled_with_can_be_set() -> None:
    chest = (
        BOOKCASE
        + '[cases.drawers]\nboard = "mdf18"\nbottom_board = "mdf6"\n[cases.inside]\nrows = [{ holds = "drawer" }, {}]\n'
    )
    plain, full = (plan_of(said + chest) for said in ("", "[use.loads]\ndrawers_kg_m3 = 272.314\n"))
    (light,), (heavy,) = (p.carcass.cases[0].drawers for p in (plain, full))

    assert heavy.load_kg == pytest.approx(2 * light.load_kg)
    assert full.soundness.thresholds.fill_kg_m3 == pytest.approx(272.314)


def test_a_base_that_is_far_too_weak_is_still_told_of_the_board_behind_it() -> None:
    plinth = BOOKCASE.replace("depth = 300", "depth = 580") + "[cases.plinth]\nheight = 80\n"
    it = found(plinth + "[cases.inside]\nload_kg = 250\n")
    told = {c.code: c.do for c in it.case.cautions if c.about.endswith("base")}

    assert not any(r.enough for r in it.sag("base").remedies if "back_rail" in r.what)
    assert told["sag-over-limit"].startswith("First a second plinth board under its rear (`back_rail = true`): ")
    assert "put a second plinth board under its rear" in told["load-near-breaking"]


def test_flat_rails_carry_their_share_of_what_lies_on_a_worktop() -> None:
    """0.65 kg/dm2 on the 800 x 300 between the sides, a third of it on each: 8 x 3 x 0.65 / 3 = 5.2 kg."""
    it = found(BOOKCASE + 'top = "rails"\nrail_width = 60\nrail_count = 3\n')

    rails = [s for s in it.case.sags if "rail" in s.name]
    assert len(rails) == 3
    assert [s.load_kg for s in rails] == pytest.approx([5.2] * 3)
