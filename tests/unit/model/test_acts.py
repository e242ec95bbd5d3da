"""Acts have one name each and their minutes in one place; one without minutes is a fault."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.log.acts import BY_HAND, PLACED
from storyrod.faults import JobError
from storyrod.machining._minutes import minutes_of
from storyrod.model.act import Act
from storyrod.model.assembly import HandAct
from tests import builders


def test_every_act_has_its_minutes_in_the_packaged_workshop_and_nothing_else_has() -> None:
    assert {t.act for t in packaged_workshop().times} == {a.value for a in Act}


def test_the_acts_of_packaged_ways_are_acts_of_the_plan() -> None:
    taken = {act for w in packaged_workshop().ways for act in (w.place_act, w.cut_act) if act}

    assert taken <= {a.value for a in Act}


@pytest.mark.parametrize("act", [Act.CLAMP_JIG, "rout by moonlight"])
def test_an_act_without_minutes_is_a_fault(act: str) -> None:
    with pytest.raises(JobError) as caught:
        minutes_of(builders.workshop(), act)

    assert caught.value.faults[0].code == "unknown-act"
    assert f'"{act}"' in caught.value.faults[0].found


def test_no_act_takes_no_minutes() -> None:
    assert minutes_of(builders.workshop(), "") == 0


def test_what_is_done_by_hand_comes_to_each_act_once() -> None:
    """Two halves of a runner on the case, two on the drawer, and the drawer goes in; two sockets, and their rail."""
    times = {HandAct.RUNNER_CASE: 2, HandAct.RUNNER_DRAWER: 2, HandAct.SOCKET: 2}
    whole: dict[Act, float] = {}
    shares = [
        (act, share * times.get(one, 1)) for one, (act, share) in BY_HAND.items() if one is not HandAct.RUNNER_CATCH
    ]
    for act, share in (*shares, *PLACED.values()):
        whole[act] = whole.get(act, 0.0) + share

    assert whole == pytest.approx(dict.fromkeys(whole, 1.0))
    assert BY_HAND[HandAct.RUNNER_CATCH][1] == pytest.approx(2 * BY_HAND[HandAct.RUNNER_DRAWER][1])
    assert set(BY_HAND) == set(HandAct) - {
        HandAct.DRIVE,
        HandAct.FRONT,
        HandAct.WORKTOP,
        HandAct.FILLER,
    }  # ticked with their joint, front or worktop
