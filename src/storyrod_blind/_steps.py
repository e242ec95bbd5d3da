"""Whether the steps put in every panel, close every joint and fit every piece of hardware, and name their screws."""

from __future__ import annotations

import re
from collections.abc import Iterator

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._paper import Paper

_SCREW_SIZE = re.compile(r"\d+(?:\.\d+)?(?: mm)? [x×] \d+|\d+/\d+\"? [x×] \d")
_SENTENCE = re.compile(r"(?<=[.:;])\s+(?=[A-Z\u2013])")
_SCREWED = re.compile(r"\b[Dd]rive\b.*\bscrews?\b|\bScrew\b(?! driver)|\bscrew (?:it|them|the \w+) on\b")
_FITTED: dict[str, re.Pattern[str]] = {
    "runner": re.compile(r"\brunners?\b"),
    "hinge": re.compile(r"\b(?:hinges?|hinge plates?|cups?)\b"),
    "tube": re.compile(r"\btubes?\b"),
    "pin": re.compile(r"\bpins?\b"),
    "handle": re.compile(r"\bhandles?\b"),
    "cam": re.compile(r"\bcams?\b"),
}


_ON_WALL = "wall cleat"
"""What is screwed to the wall is no step of the case's assembly: the case is lifted onto it afterwards."""


def check_steps(paper: Paper) -> Iterator[Finding]:
    """Yield what no step does, and screws that are driven without their size."""
    for panel in paper.panels.values():
        if panel.name == _ON_WALL:
            continue
        titles = " ".join(s.title for s in paper.steps if s.case == panel.case)
        if not re.search(rf"\b{re.escape(panel.mark)}\b", titles):
            yield Finding(FindingKind.PANEL_NEVER_FITTED, panel.mark, panel.name)
    for case, number in paper.joints:
        if not any(number in s.joints for s in paper.steps if s.case == case):
            yield Finding(FindingKind.JOINT_NEVER_CLOSED, f"{case} {number}", paper.joints[case, number].held_by)
    yield from _hardware(paper, " ".join(f"{s.title} {s.words}" for s in paper.steps))
    for step in paper.steps:
        for sentence in _SENTENCE.split(step.words):
            if _SCREWED.search(sentence) and not _SCREW_SIZE.search(sentence):
                yield Finding(FindingKind.SCREW_WITHOUT_SIZE, f"{step.case}, step {step.number}", sentence)


def _hardware(paper: Paper, words: str) -> Iterator[Finding]:
    cards = " ".join(card.title for card in paper.cards)
    for bought in paper.bought:
        if "screw" in bought.name and not _SCREW_SIZE.search(bought.name):
            yield Finding(FindingKind.SCREW_WITHOUT_SIZE, "hardware", bought.name)
        for name, pattern in _FITTED.items():
            if re.search(rf"\b{name}s?\b", bought.name) and not (pattern.search(words) or pattern.search(cards)):
                yield Finding(FindingKind.HARDWARE_NEVER_FITTED, "hardware", bought.name)
