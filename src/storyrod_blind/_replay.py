"""The steps done again in the printed order: what each brings must be there by then, and nothing is brought twice.

Groups of panels that joints hold together grow from step to step. A step moves one group to others; a drawer goes into
a case whose runners are on; a door is hung once its hinges and their plates are on; a tube is laid
into sockets that are on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._paper import Paper, Step

_MARK = re.compile(r"\b[A-Z]+\d+\b")
_TURN = re.compile(r"^turn the work\b", re.IGNORECASE)
_FIT = re.compile(r"^fit(?:tings on)? ", re.IGNORECASE)
_INTO = re.compile(r"^(?P<body>.+) into the case$|^slide it in$")
_RAIL = r"clothes rail \d+"
_LAID = re.compile(rf"^(?P<body>{_RAIL}) into its sockets$|^cut the tube of (?P<twin>{_RAIL}) to ", re.IGNORECASE)
_SOCKET = "socket of "
_GLUED = re.compile(r"\bGlue ((?:J\d+(?:, | and )?)+):")
_CLAMPED = re.compile(r"\bClamp across ((?:J\d+(?:, | and )?)+):")
_DRIVEN = re.compile(r"\bDrive \d+ × (?:(?!\bDrive\b).)*? at J\d+\.")
_JOINT = re.compile(r"\bJ\d+\b")
_MADE_IN_PLACE = "during the assembly"
_FIXED = re.compile(r"^(?:runner|hinge \d+|socket) of (?P<body>.+)$")
FITTING = re.compile(r"^(?:runner|hinge|socket|foot) ")


def check_replay(paper: Paper) -> Iterator[Finding]:
    """Yield all that goes wrong when the steps are done as printed."""
    yield from _work_order(paper)
    for case in paper.cases:
        bench = _Bench(paper, case)
        steps = [s for s in paper.steps if s.case == case]
        numbers = [s.number for s in steps]
        for before, after in pairwise([0, *numbers]):
            if after != before + 1:
                yield Finding(FindingKind.NOT_READY, f"{case}, step {after}", f"it comes after step {before}")
        for step in steps:
            yield from bench.do(step)
        yield from bench.left_over()


def _work_order(paper: Paper) -> Iterator[Finding]:
    """Yield cards that the order of work has not, or in another order, and panels that it does not edge first."""
    told = [name for name, _ in paper.order]
    cards = [c.id for c in paper.cards]
    if [n for n in told if n in cards] != cards:
        yield Finding(FindingKind.NOT_READY, "order of work", f"cards {', '.join(cards)}, told {', '.join(told)}")
    first = told.index(cards[0]) if cards and cards[0] in told else len(told)
    before = " ".join(what for _, what in paper.order[:first])
    for word, wanted in (("saw", bool(paper.panels)), ("edge", bool(paper.edged))):
        if wanted and not re.search(rf"\b{word} the panels\b", before):
            yield Finding(FindingKind.NOT_READY, "order of work", f"nothing says to {word} the panels before card 1")
    in_place = [c.id for c in paper.cards if _MADE_IN_PLACE in c.title]
    if cards[len(cards) - len(in_place) :] != in_place:
        yield Finding(FindingKind.NOT_READY, "order of work", f"cards follow {', '.join(in_place)}, in the assembly")


class _Bench:
    """What stands on the bench while one case is put together."""

    def __init__(self, paper: Paper, case: str) -> None:
        self._paper = paper
        self._case = case
        self._groups: dict[str, set[str]] = {}
        self._closed: dict[str, int] = {}
        self._wet: dict[str, int] = {}
        self._wet_of: dict[str, list[str]] = {}
        self._glued_ways: set[str] = set()
        self._fixed: set[str] = set()
        self._in_place = {
            (p.panel, n) for c in paper.cards if _MADE_IN_PLACE in c.title for p in c.work for n in p.numbers
        }
        self._inside: set[str] = set()

    def do(self, step: Step) -> Iterator[Finding]:
        """Do a step; yield what is wrong with it."""
        into = _INTO.match(step.title)
        if _TURN.match(step.title):
            return
        if _FIT.match(step.title):
            self._fixed |= set(self._marks(step.title))
        elif into is not None:
            yield from self._slide_in(step, (into["body"] or step.body).lower())
        elif (laid := _LAID.match(step.title)) is not None:
            yield from self._lay_in(step, (laid["body"] or laid["twin"]).lower())
        else:
            yield from self._move(step)
        yield from self._glue(step)

    def left_over(self) -> Iterator[Finding]:
        """Yield what is still open when all steps are done."""
        for joint, number in self._wet.items():
            words = f"glued in step {number}, and never clamped or screwed"
            yield Finding(FindingKind.GLUE_NEVER_CLAMPED, f"{self._case} {joint}", words)
        for mark, uses in self._fittings().items():
            if mark not in self._fixed:
                yield Finding(FindingKind.FITTING_NEVER_FIXED, mark, ", ".join(sorted(uses)))
            for rail in sorted(u.removeprefix(_SOCKET) for u in uses if u.startswith(_SOCKET)):
                if rail not in self._inside:
                    yield Finding(FindingKind.TUBE_NEVER_LAID, mark, rail)

    def _marks(self, words: str) -> list[str]:
        return [m for m in _MARK.findall(words) if m in self._paper.panels]

    def _fittings(self) -> dict[str, set[str]]:
        """Return the panels of the case that have marks for runners, hinges or sockets, with what for."""
        found: dict[str, set[str]] = {}
        for cut in self._paper.cuts.values():
            if FITTING.match(cut.use) and self._paper.panels[cut.id[0]].case == self._case:
                found.setdefault(cut.id[0], set()).add(cut.use)
        return found

    def _wants_fixed(self, body: str, at: str) -> Iterator[Finding]:
        """Yield panels with marks for the runners, hinges or sockets of a body on which these are not fixed yet."""
        for mark, uses in self._fittings().items():
            mine = [u for u in uses if (m := _FIXED.match(u)) is not None and m["body"] == body]
            if mine and mark not in self._fixed:
                yield Finding(FindingKind.NOT_READY, at, f"{mine[0]} is not on {mark} yet")

    def _slide_in(self, step: Step, body: str) -> Iterator[Finding]:
        at = self._at(step)
        yield from self._wants_fixed(body, at)
        if body in self._inside:
            yield Finding(FindingKind.FITTED_TWICE, at, body)
        self._inside.add(body)
        fronts = (f"{body} front",)
        own = {
            m for m, p in self._paper.panels.items()
            if p.case == self._case and p.name.startswith(f"{body} ") and p.name not in fronts
        }  # fmt: skip
        missing = own - set().union(*(self._groups.get(m, set()) for m in sorted(own)[:1]))
        if missing or not own:
            words = f"{body} is not together: {', '.join(sorted(missing))}"
            yield Finding(FindingKind.NOT_READY, at, words)

    def _lay_in(self, step: Step, rail: str) -> Iterator[Finding]:
        """A tube goes in once, where both its sockets are on panels that stand together."""
        at = self._at(step)
        yield from self._wants_fixed(rail, at)
        if rail in self._inside:
            yield Finding(FindingKind.FITTED_TWICE, at, rail)
        self._inside.add(rail)
        held = [m for m, uses in self._fittings().items() if f"{_SOCKET}{rail}" in uses]
        if len(held) != 2 or not set(held) <= self._groups.get(held[0], set()):
            yield Finding(
                FindingKind.NOT_READY, at, f"the panels that carry {rail} are not together: {', '.join(held)}"
            )

    def _move(self, step: Step) -> Iterator[Finding]:
        at = self._at(step)
        left, _, right = step.title.partition(" onto ")
        moving = self._marks(left)
        if not step.joints:
            for mark in moving:
                if mark in self._groups:
                    yield Finding(FindingKind.FITTED_TWICE, at, mark)
                self._groups[mark] = {mark}
                yield from self._wants_fixed(self._paper.panels[mark].name, at)
            return
        movers = set().union(*(self._groups.get(m, {m}) for m in moving))
        if len(moving) > 1 and not all(set(moving) <= self._groups.get(m, {m}) for m in moving):
            yield Finding(FindingKind.NOT_READY, at, f"nothing holds {', '.join(moving)} together yet")
        hosts = set(self._marks(right))
        for number in step.joints:
            yield from self._close(number, step, movers)
            joint = self._paper.joints.get((self._case, number))
            hosts |= {joint.entering, joint.receiving} - movers if joint is not None else set()
        group = movers.union(*(self._groups.get(h, {h}) for h in hosts))
        for mark in group:
            self._groups[mark] = group

    def _close(self, number: str, step: Step, movers: set[str]) -> Iterator[Finding]:
        at = self._at(step)
        joint = self._paper.joints.get((self._case, number))
        if joint is None:
            yield Finding(FindingKind.NOT_READY, at, f"{number} is no joint of the schedule")
            return
        if number in self._closed:
            yield Finding(FindingKind.FITTED_TWICE, at, f"{number}, closed in step {self._closed[number]}")
        if (joint.entering in movers) == (joint.receiving in movers):
            words = f"{number} cannot close: of {joint.entering} and {joint.receiving} just one must move"
            yield Finding(FindingKind.NOT_READY, at, words)
        self._closed[number] = step.number
        in_place = any(self._paper.cuts[c].joint == joint.id for c in self._in_place if c in self._paper.cuts)
        if in_place and not step.body and not re.search(r"\bDrill any pilot holes\b", _before_screws(number, step)):
            words = f"the pilots of {number} are bored in place; the step does not, before it drives its screws"
            yield Finding(FindingKind.NOT_READY, at, words)

    def _glue(self, step: Step) -> Iterator[Finding]:
        """Keep count of what is glued and not pressed yet."""
        for told in _GLUED.findall(step.words):
            for number in _JOINT.findall(told):
                self._wet.setdefault(number, step.number)
                joint = self._paper.joints.get((self._case, number))
                self._glued_ways |= {joint.held_by} if joint is not None else set()
                if self._closed.get(number, step.number) != step.number:
                    yield Finding(FindingKind.NOT_READY, self._at(step), f"{number} is glued, and closed already")
        pressed = {n for told in _CLAMPED.findall(step.words) for n in _JOINT.findall(told)}
        pressed |= {n for told in _DRIVEN.findall(step.words) for n in _JOINT.findall(told)}
        pressed |= set(self._alike(step))
        for number in pressed:
            self._wet.pop(number, None)

    def _alike(self, step: Step) -> Iterator[str]:
        """Count the glue of a step told in a table, as of the joints like it; yield what its clamps press."""
        if not step.body:
            return
        for number in step.joints:
            joint = self._paper.joints.get((self._case, number))
            if joint is not None and joint.held_by in self._glued_ways:
                self._wet_of.setdefault(step.body, []).append(number)
                self._wet[number] = step.number
        if re.search(r"[1-9]\d* clamps?\b", step.hands) or "screw" in step.words:
            yield from self._wet_of.pop(step.body, [])

    def _at(self, step: Step) -> str:
        return f"{self._case}, step {step.number}"


def _before_screws(number: str, step: Step) -> str:
    """Return what a step says before it drives the screws of a joint; all of it where it drives none there."""
    driven = re.search(rf"\bDrive \d+ × (?:(?!\bDrive\b).)*? at {number}\.", step.words)
    return step.words[: driven.start()] if driven else step.words
