"""Trial joints: which way a setting goes, and what is on the shelf to make it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from storyrod.faults import JobError
from storyrod.machining import trial_fence, trial_gap, trial_step
from storyrod.model.machining import Correction, PackerSide

SHELF = (0.2, 0.3, 0.5, 1.0, 2.0)


@pytest.mark.parametrize(
    ("step", "half", "side", "becomes"),
    [
        (0.3, "face", PackerSide.FENCE, 0.7),  # proud: the face half must come further from the line
        (0.3, "edge", PackerSide.FENCE, 1.3),  # proud: the edge half must come nearer to the face
        (-0.3, "face", PackerSide.WORK, 1.3),
        (-0.3, "edge", PackerSide.WORK, 0.7),
        (0.3, "face", PackerSide.TOOL, 1.3),  # under the tool a packer works the other way
    ],
)
def test_the_packer_goes_the_right_way(step: float, half: str, side: PackerSide, becomes: float) -> None:
    correction = trial_step(step, packer=1.0, shelf=SHELF, half=half, side=side)

    assert correction.becomes == pytest.approx(becomes)
    assert correction.change == pytest.approx(becomes - 1.0)


def test_cutting_both_again_takes_the_step_out() -> None:
    """Edge cut at 9.3 from the face, face cut at 9.0 from the line: proud by 0.3; b 10 and packers 0.7 and 1.0."""
    base, edge_packer, face_packer = 10.0, 0.7, 1.0
    step = (base - edge_packer) - (base - face_packer)
    corrected = trial_step(step, packer=face_packer, shelf=SHELF, half="face").becomes

    assert base - corrected == pytest.approx(base - edge_packer)


def test_the_shelf_is_told() -> None:
    correction = trial_step(0.3, packer=1.0, shelf=SHELF)

    assert correction.packer is not None
    assert correction.packer.pieces == (0.5, 0.2)
    assert "0.5 + 0.2" in correction.text
    assert "proud" in correction.direction


def test_under_the_work_becomes_under_the_tool() -> None:
    correction = trial_step(0.8, packer=0.3, shelf=SHELF, half="face", side=PackerSide.WORK)

    assert correction.becomes == pytest.approx(0.5)
    assert "under the tool" in correction.text


@pytest.mark.parametrize("reading", [40.0, -40.0, float("nan")])
def test_a_reading_of_40_is_no_trial_error(reading: float) -> None:
    calls: tuple[Callable[[], Correction], ...] = (
        lambda: trial_step(reading, packer=1, shelf=SHELF),
        lambda: trial_gap(reading, plunge=20, skin_left=5),
        lambda: trial_fence(reading, fence=30),
    )
    for call in calls:
        with pytest.raises(JobError) as caught:
            call()
        fault = caught.value.faults[0]
        assert (fault.code, fault.allowed) == ("trial-reading", "-5 to 5 mm")
        assert "wrong line" in fault.do


def test_less_than_a_fingernail_tells_is_left_alone() -> None:
    with pytest.raises(JobError) as caught:
        trial_step(0.02, packer=1, shelf=SHELF)
    assert caught.value.faults[0].code == "trial-small"


def test_a_packer_of_less_than_nothing_names_the_other_half() -> None:
    with pytest.raises(JobError) as caught:
        trial_step(1.5, packer=1.0, shelf=SHELF, half="face")
    assert "Cut the edge half again" in caught.value.faults[0].do


def test_a_gap_is_closed_by_a_deeper_plunge() -> None:
    correction = trial_gap(0.6, plunge=22, skin_left=5)

    assert (correction.was, correction.becomes) == (22, 22.6)


def test_not_deeper_than_the_skin_allows() -> None:
    with pytest.raises(JobError) as caught:
        trial_gap(2.5, plunge=22, skin_left=5, skin_least=3)
    assert "2 mm deeper at most" in caught.value.faults[0].allowed


def test_the_fence_goes_toward_the_cutter_when_the_cut_is_too_far() -> None:
    assert trial_fence(0.4, fence=37).becomes == pytest.approx(36.6)
    assert "toward the cutter" in trial_fence(0.4, fence=37).direction
    assert trial_fence(-0.4, fence=37).becomes == pytest.approx(37.4)
    with pytest.raises(JobError):
        trial_fence(2.0, fence=1.0)
