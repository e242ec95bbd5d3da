"""The stage as a whole: every claim, in the order in which a maker asks."""

from __future__ import annotations

from storyrod.model.detail import Details
from storyrod.model.mark import SetOut
from storyrod.model.proof import Proof
from storyrod.proof._cuts import cuts_stay_inside, skin_is_left, wall_is_left
from storyrod.proof._mates import marks_agree, marks_are_true, mates_agree
from storyrod.proof._meetings import cuts_keep_apart
from storyrod.proof._places import frames_are_sound, panels_keep_apart, sizes_add_up, twins_are_mirrored
from storyrod.proof._printed import (
    drawers_keep_room,
    lengths_agree,
    mates_agree_as_printed,
    patterns_keep_their_shape,
)
from storyrod.proof._room import clearances_are_left, clearances_are_measured, drawers_come_out
from storyrod.proof._screws import screws_do_not_pierce
from storyrod.proof._stations import connectors_add_up, stations_keep_their_rules
from storyrod.proof._tally import CaseView


def prove(details: Details, setout: SetOut) -> Proof:
    """Return what was checked about a detailed and set-out job, each claim with its figures.

    Nothing is raised for what does not hold: the findings tell it, every fault at once.
    """
    views = tuple(CaseView(case, details.job.lengths) for case in details.cases)
    return Proof(
        findings=(
            mates_agree(details, views),
            marks_agree(views, setout),
            marks_are_true(views, setout),
            stations_keep_their_rules(details, views),
            connectors_add_up(details, views),
            cuts_stay_inside(views),
            skin_is_left(details, views),
            wall_is_left(details, views),
            *cuts_keep_apart(details, views),
            screws_do_not_pierce(details, views),
            panels_keep_apart(views),
            sizes_add_up(views),
            frames_are_sound(views),
            twins_are_mirrored(views),
            clearances_are_left(views),
            clearances_are_measured(views),
            drawers_come_out(views),
            lengths_agree(details.job, views, setout),
            mates_agree_as_printed(details.job, views, setout),
            patterns_keep_their_shape(details.job, views, setout),
            drawers_keep_room(details.job, views, setout),
        )
    )
