"""Whether plan.json says what the paper says: sizes, marks, set-up cards with their settings and places.

The file is in millimetres. What a hand marks stands there as it is printed (`marked`); depths, fences and walls are
exact, so that they may differ from paper by half of its last digit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, MM_PER_INCH, Unit, read_length
from storyrod_blind._paper import Card, Cut, Paper
from storyrod_blind._seats import SAME
from storyrod_blind._what import CHANNELS, OPEN_CUTS
from storyrod_blind._work import figures_in

_FENCE = re.compile(rf"^({LENGTH}) to the (?:centre|near wall)")
_WALLS = re.compile(rf"\bwalls at ({LENGTH}) and ({LENGTH})")
_RUNS = re.compile(rf"\bruns from ({LENGTH}) to ({LENGTH})")
_EDGE = re.compile(rf"\bstraight edge at ({LENGTH}) from")
_LINE = re.compile(rf"\bline at ({LENGTH}) from")
_HUNDREDTH = Fraction(1, 100)
_TEN_THOUSANDTH = MM_PER_INCH / 10_000


def check_plan_file(paper: Paper, plan: Any) -> Iterator[Finding]:  # noqa: ANN401  # what a JSON file holds
    """Yield what plan.json has otherwise than the paper, or not at all."""
    check = _File(paper, plan)
    yield from check.panels()
    yield from check.cards()


class _File:
    def __init__(self, paper: Paper, plan: Mapping[str, Any]) -> None:
        self._paper = paper
        self._plan = plan
        last = _TEN_THOUSANDTH if paper.unit is Unit.INCH else _HUNDREDTH
        self._near = last / 2 + SAME

    def panels(self) -> Iterator[Finding]:
        """Yield panels and marks that differ."""
        there = {p["mark"]: p for p in self._plan["panels"]}
        yield from self._names("panels", there.keys(), self._paper.panels.keys())
        for mark, panel in self._paper.panels.items():
            told = there.get(mark)
            if told is None:
                continue
            for name in ("length", "width", "thickness"):
                yield from self._figure(mark, name, told[name], getattr(panel, name))
            marks = {f["mark"]: f for f in told["features"]}
            cuts = {f"{mark}.{c.id[1]}": c for c in self._paper.cuts_of(mark)}
            yield from self._names(f"marks of {mark}", marks.keys(), cuts.keys())
            for name, cut in cuts.items():
                if name in marks:
                    yield from self._mark(name, cut, marks[name]["marked"])

    def _mark(self, name: str, cut: Cut, marked: Mapping[str, float]) -> Iterator[Finding]:
        spans = {"u": cut.u, "v": cut.v, "w": cut.w}
        for axis, span in spans.items():
            if span is None or cut.what.kind in OPEN_CUTS:
                continue  # of a notch the file has the corner, the paper its walls
            yield from self._figure(name, axis, marked[axis], span.middle, exact=cut.what.kind not in CHANNELS)

    def cards(self) -> Iterator[Finding]:
        """Yield set-ups that differ."""
        there = {s["id"]: s for s in self._plan["setups"] if s["stage"] == "machine" or s["id"] in self._ids()}
        for card in self._paper.cards:
            if card.id not in there:
                yield Finding(FindingKind.FILE_OFF, card.id, "plan.json has no such set-up")
                continue
            told = there[card.id]
            if _bare(told["title"]) not in _bare(card.title):
                yield Finding(FindingKind.FILE_OFF, card.id, f"{told['title']}, printed {card.title}")
            yield from self._setting(card, told["setting"])
            yield from self._work(card, told["operations"])

    def _ids(self) -> set[str]:
        return {c.id for c in self._paper.cards}

    def _setting(self, card: Card, told: Mapping[str, Any]) -> Iterator[Finding]:
        if told["cutter_name"] and _bare(card.settings.get("cutter", "")) != _bare(told["cutter_name"]):
            yield Finding(FindingKind.FILE_OFF, card.id, f"cutter {told['cutter_name']}, {card.settings.get('cutter')}")
        stop = card.depth
        if stop and not told["through"]:
            wanted = told["slope"] if told["slope"] is not None else told["plunge"] if told["guide"] else told["depth"]
            figures = [f.mm for f in figures_in(stop, card)]
            yield from self._figure(card.id, "depth", wanted, figures[0] if figures else None)
        fence = card.settings.get("fence") or card.settings.get("straight edge")
        if (told["fence"] is None) != (fence is None):
            yield Finding(FindingKind.FILE_OFF, card.id, f"fence {told['fence']}, printed {fence}")
        elif fence is not None and (match := _FENCE.match(fence)) is not None:
            yield from self._figure(card.id, "fence", told["fence"], read_length(match[1], card.unit).mm)

    def _work(self, card: Card, told: Sequence[Mapping[str, Any]]) -> Iterator[Finding]:
        there = {(o["panel_mark"], n): o for o in told for n in o["marks"]}
        printed = {(p.panel, n): p for p in card.work for n in p.numbers}
        names = [{f"{m}.{n}" for m, n in marks} for marks in (there, printed)]
        yield from self._names(f"marks of {card.id}", *names)
        for mark, placing in printed.items():
            if mark not in there or mark[1] != placing.numbers[0]:
                continue
            operation = there[mark]
            name = f"{card.id}, {mark[0]}.{mark[1]}"
            if operation["line_at"] is not None and (match := _LINE.search(placing.words)) is not None:
                yield from self._figure(name, "line", operation["line_at"], read_length(match[1], card.unit).mm)
            places = operation["places"]
            for pattern, field in ((_WALLS, "walls"), (_RUNS, "ends")):
                match = pattern.search(placing.words)
                if (match is None) != (not places or places[0][field] is None):
                    yield Finding(FindingKind.FILE_OFF, name, f"{field} are told in one of both only")
                elif match is not None:
                    for n in (0, 1):
                        yield from self._figure(
                            name, field, places[0][field][n], read_length(match[n + 1], card.unit).mm
                        )
            match = _EDGE.search(placing.words)
            if match is not None and places:
                yield from self._figure(
                    name, "straight edge", places[0]["straight_edge"], read_length(match[1], card.unit).mm
                )

    def _names(self, what: str, there: object, printed: object) -> Iterator[Finding]:
        one, other = set(there), set(printed)  # type: ignore[call-overload]  # both are collections of names
        for name in sorted(one ^ other):
            where = "plan.json" if name in one else "the paper"
            yield Finding(FindingKind.FILE_OFF, name, f"{what}: only {where} has it")

    def _figure(
        self, about: str, what: str, there: float | None, printed: Fraction | None, *, exact: bool = False
    ) -> Iterator[Finding]:
        """Yield a figure of the file that is not the printed one: a mark's exactly, others to its last digit."""
        if there is None or printed is None:
            if not (there is None and printed is None):
                yield Finding(FindingKind.FILE_OFF, about, f"{what}: {there} in the file, {printed} on paper")
            return
        off = Fraction(str(there)) - printed
        if abs(off) > (SAME if exact else self._near):
            yield Finding(FindingKind.FILE_OFF, about, f"{what}: {there} in the file", float(off))


def _bare(words: str) -> str:
    return re.sub(r"\s", "", words).replace("\u00d7", "x")
