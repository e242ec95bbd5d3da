"""Source: Wilson and Latombe, Geometric reasoning about mechanical assembly, Artificial Intelligence 71, 1994.

Where: the blocking graph, from memory: a group can leave in a direction when no part of it is stopped by one that
stays. The cases and their answers (rows M13 to M17) need nothing but a look at them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.assembly import check_plan, plan_assembly, try_assembly
from storyrod.measure.space import Direction
from storyrod.model.detail import Choices, Joined, SlideChoice
from storyrod.model.joint import JointId
from tests.unit.assembly.asking import body_of, ids, leaves, shut_out
from tests.unit.assembly.pieces import (
    DOWELS,
    HOUSING,
    KEYHOLES,
    LEFT,
    RIGHT,
    SCREWS,
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

PLAIN = {"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T), "shelf": across(300)}


CARCASS = [*both_sides("base", DOWELS), *both_sides("top", DOWELS)]


def test_m14_fixed_slots_that_disagree_are_told_and_one_flip_frees_them() -> None:
    """Base and shelf on the right side; the left side would have to slide both ways."""
    panels = {k: v for k, v in PLAIN.items() if k != "top"}
    joints = [
        ("base", "right", DOWELS),
        ("shelf", "right", DOWELS),
        ("base", "left", KEYHOLES),
        ("shelf", "left", KEYHOLES),
    ]
    fixed = Choices(
        slides=(
            SlideChoice(joint=JointId("A.J3"), lock=Direction.BACKWARD),
            SlideChoice(joint=JointId("A.J4"), lock=Direction.FORWARD),
        )
    )
    kept = (ids("right", "base", "shelf"),)
    found = shut_out(joined(panels, joints), kept=kept, fixed=fixed)
    flips = [r for r in found.remedies if r.kind == "slot direction"]
    assert flips
    (flipped,) = flips[0].joints
    mended = Choices(slides=tuple(replace(s, lock=s.lock.reverse) if s.joint == flipped else s for s in fixed.slides))
    assert not try_assembly(joined(panels, joints), shop(), kept=kept, fixed=mended).cases[0].shut_out


def test_m15_a_shelf_in_housings_stopped_at_the_front_leaves_to_the_back_only() -> None:
    """With an applied back on, it does not leave at all."""
    panels = {**PLAIN, "shelf": across(300, enters=6)}
    made = joined(panels, [*CARCASS, *both_sides("shelf", STOPPED)])
    assert leaves(made, "shelf") == {Direction.BACKWARD}

    backed = {**panels, "back": box((0, W), (D, D + 6), (0, H))}
    sides = [(name, "back", SCREWS) for name in ("left", "right", "base", "top", "shelf")]
    assert leaves(joined(backed, [*CARCASS, *both_sides("shelf", STOPPED), *sides]), "shelf") == set()


def test_m13_a_side_dowelled_across_leaves_outward_only() -> None:
    """It is the only way that both dowels and the other panels leave open."""
    assert leaves(joined(PLAIN, [*CARCASS, *both_sides("shelf", DOWELS)]), "left") == {Direction.LEFT}


def test_m16_panels_that_do_not_touch_do_not_stop_each_other() -> None:
    """Two boards apart, in different bodies or in one, have any order."""
    far = {"left": LEFT, "right": box((W + 500, W + 518), (0, D), (0, H))}
    made = joined(far, [])
    body = body_of(made)
    assert all(row == 0 or body.moves[n].out >> 1 == 0 for n, rows in enumerate(body.stops) for row in rows)
    assert not try_assembly(made, shop()).cases[0].shut_out


def many() -> list[Joined]:
    """Return cases of all motions."""
    housed = {**PLAIN, "shelf": across(300, enters=6)}
    backed = {**PLAIN, "back": box((0, W), (D, D + 6), (0, H))}
    return [
        joined(PLAIN, [*CARCASS, *both_sides("shelf", DOWELS)]),
        joined(PLAIN, [*both_sides("base", KEYHOLES), *both_sides("top", KEYHOLES), *both_sides("shelf", KEYHOLES)]),
        joined(housed, [*CARCASS, *both_sides("shelf", HOUSING)]),
        joined(housed, [*CARCASS, *both_sides("shelf", STOPPED)]),
        joined(backed, [*CARCASS, *[(n, "back", SCREWS) for n in PLAIN], *both_sides("shelf", SCREWS)]),
    ]


@pytest.mark.parametrize("which", range(5))
def test_m17_what_was_found_apart_is_accepted_together_at_every_step(which: int) -> None:
    """The order was found by taking apart; replayed in time, by swept boxes and other code, nothing meets."""
    made = many()[which]

    (replay,) = check_plan(made, plan_assembly(made, shop()))

    assert replay.faults == ()
    assert replay.sweeps == len(made.cases[0].panels) * (len(made.cases[0].panels) - 1) // 2
    assert replay.joints == len(made.cases[0].joints)
