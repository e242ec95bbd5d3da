"""Over random small cases the planner finds a plan exactly when plain search does, and at the same cost.

The usual run is modest; `STORYROD_HYPOTHESIS=thorough` compares hundreds.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from itertools import pairwise

import pytest

from storyrod.assembly import check_plan, try_assembly
from storyrod.assembly._body import make_body
from storyrod.assembly._groups import Groups
from storyrod.assembly._parts import bodies_of
from storyrod.measure.space import Box
from storyrod.model.assembly import Verdict
from storyrod.model.detail import Joined
from storyrod.model.method import Method
from tests.unit.assembly.brute import NEVER, Brute, Passing, all_locks, consistent_locks
from tests.unit.assembly.pieces import (
    BUTT,
    CAMS,
    DOWELS,
    DRY,
    KEYHOLES,
    LEFT,
    RIGHT,
    SCREWS,
    SLIDES,
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

SMALL, LARGE = (400, 100) if os.environ.get("STORYROD_HYPOTHESIS") == "thorough" else (20, 3)
"""How many cases of up to six and of eight panels are drawn."""

CHOICE = (DOWELS, DOWELS, DRY, CAMS, SCREWS, KEYHOLES, KEYHOLES, SLIDES, BUTT)


def random_case(chance: random.Random, most: int) -> Joined:
    """Return a random case of up to `most` panels: sides, levels, dividers between levels, a back, a plinth."""
    panels: dict[str, Box] = {"left": LEFT, "right": RIGHT}
    joints: list[tuple[str, str, Method]] = []
    mixed = chance.random() < 0.5
    usual = chance.choice(CHOICE)

    def method() -> Method:
        return chance.choice(CHOICE) if mixed else usual

    levels = sorted(chance.sample([0.0, 100.0, 250.0, 400.0, 550.0, H - T], chance.randint(1, min(4, most - 2))))
    for i, z in enumerate(levels):
        panels[f"shelf {i}"] = across(z)
        joints += [(f"shelf {i}", side, method()) for side in ("left", "right")]
    for i, (low, high) in enumerate(pairwise(levels)):
        if len(panels) < most and chance.random() < 0.5:
            panels[f"divider {i}"] = box((291, 309), (0, D), (low + T, high))
            joints += [(f"divider {i}", f"shelf {i}", method()), (f"divider {i}", f"shelf {i + 1}", method())]
    if len(panels) < most and chance.random() < 0.4:
        panels["back"] = box((0, W), (D, D + 6), (0, H))
        joints += [(name, "back", SCREWS) for name in list(panels) if name != "back"]
    if len(panels) < most and levels[0] >= 100 and chance.random() < 0.7:
        panels["plinth"] = box((T, W - T), (40, 58), (levels[0] - 100, levels[0]))
        joints += [("plinth", "shelf 0", method()), *both_sides("plinth", method())]
    return joined(panels, joints)


def cases(most: int, count: int) -> Iterator[tuple[int, Joined]]:
    for seed in range(count):
        yield seed, random_case(random.Random(f"{most} {seed}"), most)


def brute_least(made: Joined) -> tuple[bool, int]:
    """Return whether an order exists with any locks, and the least points with slots of one panel alike."""
    case, workshop = made.cases[0], shop()
    (parts,) = bodies_of(made, case, workshop, ())
    groups = Groups(make_body(parts, {}), workshop.handling)
    least, passing = NEVER, Passing(case)
    for locks in consistent_locks(case):
        brute = Brute(passing, groups, locks)
        if brute.exists(groups.body.everything):
            least = min(least, brute.least(groups.body.everything))
    if least < NEVER:
        return True, least
    return any(Brute(passing, groups, locks).exists(groups.body.everything) for locks in all_locks(case)), NEVER


def compare(made: Joined) -> str:
    whole = try_assembly(made, shop())
    plan = whole.cases[0]
    exists, least = brute_least(made)
    assert exists is (not plan.shut_out)
    if not exists:
        return "none"
    (replay,) = check_plan(made, whole)
    assert replay.faults == ()
    if least < NEVER:
        assert plan.verdict is Verdict.PROVEN_BEST
        assert plan.bodies[0].cost == least
        return "best"
    return "mixed"


def test_small_cases_agree_with_plain_search() -> None:
    """Up to 6 panels, methods mixed at random: plans and cases without a plan both come up."""
    told = [compare(made) for _, made in cases(6, SMALL) if _few_locks(made)]

    assert told.count("best") >= 3
    assert told.count("none") >= 1


@pytest.mark.slow
def test_cases_of_eight_panels_agree_with_plain_search() -> None:
    told = [compare(made) for _, made in cases(8, LARGE) if _few_locks(made, 4)]

    assert "best" in told


def _few_locks(made: Joined, most: int = 6) -> bool:
    return sum(1 for j in made.cases[0].joints if j.method in {"keyholes", "slides"}) <= most
