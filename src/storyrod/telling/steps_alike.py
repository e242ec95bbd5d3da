"""Steps that are alike, as those of equal drawers, are told once."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from storyrod.model.assembly import Step, StepKind

_NUMBERED = re.compile(r"\d+(\.\d+)?")
_LENGTH = re.compile(r'\d[\d./ ]*(?: ?mm\b|")')
_LIST = re.compile(r"J#(?:, J#)*(?: and J#)?")


@dataclass(frozen=True, slots=True)
class Run:
    """Steps told in full, and the runs of steps that go the same way for other drawers, fronts or shelves."""

    steps: tuple[Step, ...]
    twins: tuple[tuple[Step, ...], ...] = ()


def runs_of(steps: Sequence[Step]) -> tuple[Run, ...]:
    """Return the steps in order, body by body; a run that goes like the one told before it becomes its twin."""
    runs: list[Run] = []
    for body in (tuple(own) for _, own in groupby(steps, key=lambda s: s.body)):
        if runs and _way(body) == _way(runs[-1].steps) and body[0].body != "carcass":
            runs[-1] = Run(runs[-1].steps, (*runs[-1].twins, body))
        else:
            runs.append(Run(body))
    return tuple(runs)


def _way(steps: Sequence[Step]) -> tuple[object, ...]:
    """Return what makes two runs alike: the same moves, words and connectors, whatever the numbers in them.

    Lengths are the same: a pilot or a gap stands in the words that are told once, and in no table of the others.
    """
    return tuple(
        (
            step.kind,
            tuple(_plain(p) for p in step.moving),
            tuple(_plain(p) for p in step.onto) if step.kind is StepKind.JOIN else (),
            tuple(leg.way for leg in step.legs),
            step.down,
            step.was_down,
            len(step.joints),
            tuple(_plain(c.item) for c in step.fit_first),
            step.persons,
            step.go,
            tuple(c.code for c in step.cautions),
            _plain(f"{step.lay_first} {step.text}"),
            tuple(_LENGTH.findall(" ".join((step.text, *(one.text for one in step.by_hand))))),
        )
        for step in steps
    )


def _plain(text: str) -> str:
    return _LIST.sub("J#", _NUMBERED.sub("#", text))
