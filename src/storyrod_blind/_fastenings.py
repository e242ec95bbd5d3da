"""Whether the steps use as many fastenings as there are marks for them, and as many as are bought."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, read_length
from storyrod_blind._paper import Cut, Paper, Step
from storyrod_blind._replay import FITTING
from storyrod_blind._seats import SAME
from storyrod_blind._what import Kind

_FIT = re.compile(r"^fit(?:tings on)? ", re.IGNORECASE)
_MARK = re.compile(r"\b[A-Z]+\d+\b")
_WHERE = re.compile(r"\b(?:(\d+) )?(?:in |and |, )*([A-Z]+\d+) \((J\d+)\)")
_AT = re.compile(r"\bDrive (\d+) × (?:(?!\bDrive\b).)*? at (J\d+)\.")
_SCREWED = re.compile(rf"(\d+) × [^×:;]*?screw [^×:;()]*? \(pilots ({LENGTH}), ({LENGTH}) deep\)")
_PLURAL = re.compile(r"^(?P<what>.*\bpin)s\b.*$")


def check_fastenings(paper: Paper) -> Iterator[Finding]:
    """Yield steps and lists that do not agree on how many fastenings there are."""
    for step in paper.steps:
        yield from _inserted(paper, step)
        if _FIT.match(step.title) and not step.body:
            yield from _screwed_on(paper, step)
    yield from _bought(paper)


def _inserted(paper: Paper, step: Step) -> Iterator[Finding]:
    """Yield connectors of a step that are not as many as the marks of their joint on that panel."""
    for item in (b.name for b in paper.bought):
        for count, panel, number in _places(item, step.words):
            joint = (step.case, number)
            marks = Counter(_sizes(c) for c in paper.cuts_of(panel) if c.joint == joint)
            if count not in (*marks.values(), marks.total()):  # a joint may have marks of several kinds
                words = f"{count} × {item} in {panel} ({number}), where {marks.total()} marks are"
                yield Finding(FindingKind.FASTENINGS_OFF, f"{step.case}, step {step.number}", words)
    for count, number in _AT.findall(step.words):
        yield from _driven(paper, step, int(count), number)


def _sizes(cut: Cut) -> tuple[str, tuple[float, ...]]:
    """Return what cuts of one kind have alike; those of a row are told together, and in other words than one alone."""
    return cut.what.kind.value, tuple(float(cut.what.sizes[name].mm) for name in sorted(cut.what.sizes))


def _driven(paper: Paper, step: Step, count: int, number: str) -> Iterator[Finding]:
    """Yield screws of a joint that are not as many as its marks, on one of its panels at the least."""
    told = paper.joints.get((step.case, number))
    if told is None:
        return  # told elsewhere
    marks = [sum(c.joint == told.id for c in paper.cuts_of(panel)) for panel in (told.receiving, told.entering)]
    if count not in marks:
        words = f"{count} screws at {number}, where {' and '.join(map(str, marks))} marks are"
        yield Finding(FindingKind.FASTENINGS_OFF, f"{step.case}, step {step.number}", words)


def _places(item: str, words: str) -> Iterator[tuple[int, str, str]]:
    """Yield how many of an item go into which panel for which joint: `2 × dowel 6 x 25 each in A29 (J42) and ...`."""
    for match in re.finditer(rf"\b(\d+) × {re.escape(item)}\b(?: each)?", words):
        tail = re.split(r"[.;×]", words[match.end() :], maxsplit=1)[0]
        for own, panel, number in _WHERE.findall(tail):
            yield int(own or match[1]), panel, number


def _used(item: str, words: str) -> int:
    """Return how many of an item a step uses; cams that are turned were put in before."""
    total = 0
    for match in re.finditer(rf"(?<!turn )\b(\d+) × {re.escape(item)}\b( each)?", words):
        tail = re.split(r"[.;×]", words[match.end() :], maxsplit=1)[0]
        total += int(match[1]) * (len(_WHERE.findall(tail)) if match[2] else 1)
    return total


def _screwed_on(paper: Paper, step: Step) -> Iterator[Finding]:
    """Yield screws of a fitting that are not as many as its pilots on the panel, or pilots of another size."""
    asked: dict[tuple[Fraction, Fraction], int] = defaultdict(int)
    for count, wide, deep in _SCREWED.findall(step.words):
        asked[read_length(wide, paper.unit).mm, read_length(deep, paper.unit).mm] += int(count)
    panels = [m for m in _MARK.findall(step.title) if m in paper.panels]
    pilots = [c for m in panels for c in paper.cuts_of(m) if _is_pilot(c) and _is_of(step, c)]
    for size, count in asked.items():
        there = [c for c in pilots if _is_size(c, size)]
        if len(there) != count:
            words = f"{count} screws, and {len(there)} pilots of that size on {', '.join(panels)}"
            yield Finding(FindingKind.FASTENINGS_OFF, f"{step.case}, step {step.number}", words)


def _is_pilot(cut: Cut) -> bool:
    return bool(FITTING.match(cut.use)) and cut.what.kind is Kind.HOLE and not cut.what.through


def _is_of(step: Step, cut: Cut) -> bool:
    """Whether a pilot's fitting is one that the step names: the runner, plates or hinges of that drawer or door."""
    body = cut.use.partition(" of ")[2]
    return re.search(rf"\b{re.escape(body)}\b", step.words, re.IGNORECASE) is not None


def _is_size(cut: Cut, size: tuple[Fraction, Fraction]) -> bool:
    wide, deep = cut.what.sizes["diameter"].mm, cut.what.sizes["depth"].mm
    return abs(wide - size[0]) <= SAME and abs(deep - size[1]) <= SAME


def _bought(paper: Paper) -> Iterator[Finding]:
    """Yield what the steps use in another number than is bought; what they never name by number is told elsewhere."""
    for bought in paper.bought:
        plural = _PLURAL.match(bought.name)
        item = plural["what"] if plural else bought.name
        used = sum(_used(item, s.words) * paper.cases[s.case].count for s in paper.steps)
        if used and used != bought.count:
            words = f"{bought.name}: {bought.count} are bought, the steps use {used}"
            yield Finding(FindingKind.FASTENINGS_OFF, "hardware", words)
