"""Cases whose answer a maker sees at once: what goes together, which way, and what is shut out."""

from __future__ import annotations

import pytest

from storyrod.assembly import check_plan, plan_assembly, try_assembly
from storyrod.faults import JobError
from storyrod.measure.space import Box, Direction
from storyrod.model.assembly import StepKind
from storyrod.model.detail import Joined
from storyrod.model.method import Method
from tests.unit.assembly.asking import body_of, ids, leaves, shut_out
from tests.unit.assembly.pieces import (
    BUTT,
    CAMS,
    DOWELS,
    GROOVE,
    HOUSING,
    KEYHOLES,
    LEFT,
    RIGHT,
    SCREWS,
    SLIDES,
    STOPPED,
    D,
    H,
    T,
    W,
    across,
    both_sides,
    box,
    joined,
    shop,
)


def goes(made: Joined) -> None:
    plan = plan_assembly(made, shop())
    (replay,) = check_plan(made, plan)
    assert replay.faults == ()


PLAIN: dict[str, Box] = {"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T), "shelf": across(300)}
CARCASS = [*both_sides("base", DOWELS), *both_sides("top", DOWELS)]
SIDES_FIRST = (ids("left", "right", "base", "top"),)


def test_a_dowelled_shelf_is_trapped_between_two_fixed_sides() -> None:
    """Straight in at both ends, both sides already there: it cannot get in, and its two joints are the reason."""
    found = shut_out(joined(PLAIN, [*CARCASS, *both_sides("shelf", DOWELS)]), kept=SIDES_FIRST)

    assert found.panel == "A.shelf"
    assert set(found.joints) == {"A.J5", "A.J6"}
    assert {r.kind for r in found.remedies} == {"method", "loose"}
    assert "shelf" in found.fault.found
    assert found.fault.field == "cases[0].shelf"


def test_the_same_shelf_goes_in_before_the_second_side() -> None:
    goes(joined(PLAIN, [*CARCASS, *both_sides("shelf", DOWELS)]))


def test_a_glued_or_screwed_shelf_slides_in_between_fixed_sides_from_front_or_back() -> None:
    for method in (BUTT, SCREWS):
        made = joined(PLAIN, [*CARCASS, *both_sides("shelf", method)])
        assert leaves(made, "shelf") == {Direction.FORWARD, Direction.BACKWARD}
        assert not try_assembly(made, shop(), kept=SIDES_FIRST).cases[0].shut_out


def divided(method: Method) -> Joined:
    """Return two shelves between sides with a divider between them."""
    return joined(
        {**PLAIN, "shelf 2": across(500), "divider": box((291, 309), (0, D), (318, 500))},
        [
            *CARCASS,
            *both_sides("shelf", DOWELS),
            *both_sides("shelf 2", DOWELS),
            ("divider", "shelf", method),
            ("divider", "shelf 2", method),
        ],
    )


FIXED_SHELVES = (ids("left", "right", "base", "top", "shelf", "shelf 2"),)


def test_a_divider_in_open_slots_leaves_fixed_shelves_to_front_or_back_only() -> None:
    assert leaves(divided(SLIDES), "divider", any_lock=True) == {Direction.FORWARD, Direction.BACKWARD}
    assert not try_assembly(divided(SLIDES), shop(), kept=FIXED_SHELVES).cases[0].shut_out


def test_a_keyhole_divider_cannot_get_between_fixed_shelves() -> None:
    """Its heads would have to pass the shelves' faces at both ends at once."""
    found = shut_out(divided(KEYHOLES), kept=FIXED_SHELVES)

    assert found.panel == "A.divider"
    assert set(found.joints) == {"A.J9", "A.J10"}


def test_a_keyhole_divider_goes_on_one_shelf_before_the_other_is_there() -> None:
    plan = plan_assembly(divided(KEYHOLES), shop())

    assert check_plan(divided(KEYHOLES), plan)[0].passed
    assert {s.lock for s in plan.choices.slides} == {Direction.BACKWARD}


def test_housings_at_both_ends_let_a_shelf_out_to_front_and_back() -> None:
    made = joined({**PLAIN, "shelf": across(300, enters=6)}, [*CARCASS, *both_sides("shelf", HOUSING)])

    assert leaves(made, "shelf") == {Direction.FORWARD, Direction.BACKWARD}
    goes(made)


def grooved(*, base: bool = True, top: bool = True) -> Joined:
    """Return a back in grooves of the sides, and of base and top as asked."""
    z = (T - 6 if base else 0.0, H - T + 6 if top else H)
    wide = across(0) if base else across(0, depth=370)
    roof = across(H - T) if top else across(H - T, depth=370)
    joints = [*CARCASS, ("back", "left", GROOVE), ("back", "right", GROOVE)]
    joints += [("back", "base", GROOVE)] if base else []
    joints += [("back", "top", GROOVE)] if top else []
    panels = {"left": LEFT, "right": RIGHT, "base": wide, "top": roof, "back": box((T - 6, W - T + 6), (370, 376), z)}
    return joined(panels, joints)


def test_a_grooved_back_captured_by_top_and_base_never_leaves_alone() -> None:
    assert leaves(grooved(), "back") == set()
    found = shut_out(grooved(), kept=SIDES_FIRST)
    assert found.panel == "A.back"
    assert {r.kind for r in found.remedies} >= {"loose"}


def test_a_captured_back_goes_in_before_the_last_panel_closes_on_it() -> None:
    plan = plan_assembly(grooved(), shop())

    joins = [s for s in plan.cases[0].steps if s.kind is StepKind.JOIN]
    assert joins[-1].moving != ids("back")
    assert check_plan(grooved(), plan)[0].passed


def test_a_back_with_an_open_groove_end_slides_out_there() -> None:
    assert leaves(grooved(top=False), "back") == {Direction.UP}
    assert leaves(grooved(base=False), "back") == {Direction.DOWN}
    assert not try_assembly(grooved(top=False), shop(), kept=SIDES_FIRST).cases[0].shut_out


def interlocked() -> Joined:
    """Base and top lock by a slide, the shelf wants to go straight: no side can do both."""
    return joined(PLAIN, [*both_sides("base", KEYHOLES), *both_sides("top", KEYHOLES), *both_sides("shelf", DOWELS)])


def test_an_interlocked_set_cannot_be_assembled_and_every_remedy_works() -> None:
    found = shut_out(interlocked())

    assert found.panel == "A.shelf"
    assert set(found.joints) == {"A.J5", "A.J6"}
    for remedy in found.remedies:
        if remedy.kind == "method":
            changed = [*both_sides("base", KEYHOLES), *both_sides("top", KEYHOLES), *both_sides("shelf", DOWELS)]
            number = int(str(remedy.joints[0]).removeprefix("A.J")) - 1
            method = next(m for m in shop().methods if f"with {m.name} instead" in remedy.text)
            changed[number] = (*changed[number][:2], method)
            grown = {**PLAIN, "shelf": across(300)}
            assert not try_assembly(joined(grown, changed), shop()).cases[0].shut_out
        else:
            assert remedy.panel == "A.shelf"


def test_what_cannot_be_done_is_a_fault_with_a_way_out() -> None:
    with pytest.raises(JobError) as caught:
        plan_assembly(interlocked(), shop())

    (fault,) = caught.value.faults
    assert fault.code == "shut-out"
    assert "J5" in fault.found
    assert "J6" in fault.found
    assert "instead of" in fault.do
    assert "loose" in fault.do


def test_two_trapped_shelves_and_nothing_else_to_blame_are_told_as_a_set() -> None:
    """Taking one shelf out leaves the other in the way of the sides: only the base can be blamed alone."""
    panels = {**PLAIN, "shelf 2": across(500)}
    del panels["top"]
    joints = [*both_sides("base", KEYHOLES), *both_sides("shelf", DOWELS), *both_sides("shelf 2", DOWELS)]
    found = shut_out(joined(panels, joints))

    assert found.panel == "A.base"
    assert found.remedies


def test_a_stopped_housing_is_turned_round_when_only_the_front_is_open() -> None:
    """The back is there for good, so the shelf must come from the front, and the stop goes to the back."""
    panels = {**PLAIN, "shelf": across(300, enters=6), "back": box((0, W), (D, D + 6), (0, H))}
    backed = [(name, "back", SCREWS) for name in ("left", "right", "base", "top")]
    made = joined(panels, [*CARCASS, *both_sides("shelf", STOPPED), *backed])
    kept = (ids("left", "right", "base", "top", "back"),)

    plan = try_assembly(made, shop(), kept=kept)

    assert not plan.cases[0].shut_out
    assert {s.lock for s in plan.choices.slides} == {Direction.BACKWARD}
    assert check_plan(made, plan, kept=kept)[0].passed


def test_bolts_of_cams_stand_proud_of_the_face_that_receives() -> None:
    """A panel over bolts must be lifted by their length in its edge, 24, not by the 11 they are screwed in."""
    body = body_of(joined(PLAIN, [*both_sides("base", CAMS), *both_sides("top", DOWELS), *both_sides("shelf", SCREWS)]))

    assert [t.clear for t in body.ties] == [24.0, 24.0, 13.0, 13.0, 0.0, 0.0]


def test_a_plinth_held_by_keyholes_on_three_sides_is_told_with_the_line_to_change() -> None:
    """Base and sides lock along three different lines; other joints for the plinth free it, in one line of the job."""
    panels = {**PLAIN, "base": across(100), "plinth": box((T, W - T), (40, 58), (0, 100))}
    joints = [*both_sides("base", KEYHOLES), ("plinth", "base", KEYHOLES), *both_sides("plinth", KEYHOLES)]
    del panels["top"], panels["shelf"]
    found = shut_out(joined(panels, joints))

    assert found.panel == "A.plinth"
    assert any("methods.plinth" in r.text and set(r.joints) == {"A.J3", "A.J4", "A.J5"} for r in found.remedies)
    freed = [*joints[:2], *((e, r, SCREWS) for e, r, _ in joints[2:])]
    goes(joined(panels, freed))
