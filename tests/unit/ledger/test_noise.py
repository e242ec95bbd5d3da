"""The noise of a day, beside the minutes: of the tools whose level the workshop states."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from storyrod.ledger import account
from storyrod.model.account import Account, DailyNoise, NoisySpell
from storyrod.planning import Plan
from storyrod.telling.account import noise_words
from tests.unit.soundness.pieces import BOOKCASE, plan_of


@cache
def plan() -> Plan:
    return plan_of('[methods]\ncorner = "dowels"\n' + BOOKCASE)


def accounted(*, times: float = 1.0, **levels: float) -> Account:
    """Return the account where tools of these codes (`_` for a blank) are so loud, and sawing takes `times` as long."""
    shop, run = plan().workshop, plan().machining
    tools = tuple(replace(t, noise_db=levels.get(t.code.replace(" ", "_"))) for t in shop.tools)
    first, *rest = run.set_ups
    slow = replace(first, operations=tuple(replace(o, cut_min=o.cut_min * times) for o in first.operations))
    return account(plan().details, replace(shop, tools=tools), run=replace(run, set_ups=(slow, *rest)))


def test_where_no_level_is_stated_nothing_is_reckoned() -> None:
    told = accounted()

    assert told.noise is None
    assert noise_words(told) == ""
    assert account(plan().details, plan().workshop).noise is None


def test_sawing_and_boring_add_up_by_their_energy_over_eight_hours() -> None:
    """Four panels by the track saw, four minutes each; the jig by what its set-ups say."""
    told = accounted(track_saw=97.0, dowel_jig=88.0)
    bored = sum(
        o.copies * o.cut_min
        for s in plan().machining.set_ups
        if s.setting is not None and s.setting.tool == "dowel jig"
        for o in s.operations
    )
    sawn = 4 * plan().workshop.minutes("cut a panel, track saw")
    energy = sawn / 480 * 10**9.7 + bored / 480 * 10**8.8

    assert bored > 0
    assert told.noise is not None
    assert [s.minutes for s in told.noise.spells] == pytest.approx([sawn, bored])
    assert told.noise.level_db == pytest.approx(10 * math.log10(energy))


def test_tools_that_cut_and_state_no_level_are_named() -> None:
    told = accounted(track_saw=97.0)
    jig = next(t.name for t in plan().workshop.tools if t.code == "dowel jig")

    assert told.noise is not None
    assert told.noise.not_known == (jig,)
    assert f"Your workshop file gives no noise level for {jig}." in noise_words(told)


def test_a_batch_of_many_days_is_reckoned_as_a_day_of_it() -> None:
    told = accounted(times=1000.0, track_saw=90.0)

    assert told.noise is not None
    assert told.noise.level_db == pytest.approx(90.0)


@pytest.mark.parametrize(
    ("level", "heed"),
    [
        (79.4, "under 80, the level from which ear protection must be to hand; wear it all the same"),
        (79.6, "80 or more, so ear protection must be to hand; wear it"),
        (84.4, "80 or more"),
        (84.6, "85 or more, so ear protection must be worn"),
        (87.4, "85 or more"),
        (87.6, "more than 87, the most an ear may get even with protection on"),
    ],
)
def test_what_is_said_goes_by_the_figure_that_is_told(level: float, heed: str) -> None:
    spells = (NoisySpell(tool="track saw", level_db=97.0, minutes=16.0), NoisySpell(tool="jig", level_db=88, minutes=9))
    told = replace(accounted(), noise=DailyNoise(spells=spells, level_db=level))

    words = noise_words(told)

    assert words.startswith("Noise: track saw 97 dB(A) for 16 minutes and jig 88 dB(A) for 9 minutes.")
    assert f"about {level:.0f} dB(A) over eight hours: {heed}" in words
    assert "Look up those where you work" in words
