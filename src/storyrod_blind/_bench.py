"""Whether the bench page says what the paper says: every setting, every place, every step, and nothing left out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from storyrod_blind._bench_page import Bench, BenchCard, BenchGroup, BenchRow
from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, Span, read_length, unit_said
from storyrod_blind._paper import Card, Cut, Paper, Placing, Step
from storyrod_blind._seats import SAME

_AT = re.compile(rf"({LENGTH})(?: to ({LENGTH}))? from the (datum end|face edge|face side)")
_STEP = re.compile(r"^step (\d+)$")
_AXIS = {"datum end": "u", "face edge": "v", "face side": "w"}
_JOINT = re.compile(r"\bJ\d+\b")
_FIRST = re.compile(r": (first .+)$")
_TURNED = re.compile(r"[,;] jig turned over$")


def check_bench(paper: Paper, bench: Bench) -> Iterator[Finding]:
    """Yield what the bench page has otherwise than the paper, or not at all."""
    if unit_said(bench.text) is not paper.unit:
        words = f"the bench page does not say that its lengths are in {paper.unit.value}"
        yield Finding(FindingKind.PAGE_WITHOUT_UNIT, "bench page", words)
    for card in paper.cards:
        if card.id not in bench.cards:
            yield Finding(FindingKind.BENCH_MISSING, card.id, card.title)
            continue
        yield from _settings(card, bench.cards[card.id])
        yield from _work(paper, card, bench.cards[card.id])
    printed = {c.id for c in paper.cards}
    for name, card_there in bench.cards.items():
        if name not in printed and any(r.label.isdigit() for g in card_there.groups for r in g.rows):
            yield Finding(FindingKind.BENCH_OFF, name, f"{card_there.title}: no such card is printed")
    for case in paper.cases:
        yield from _steps(paper, case, bench)


def _bare(words: str) -> str:
    """Return words without spaces: lines of a table are broken anywhere."""
    return re.sub(r"[\s\u00ad]", "", words).replace("\u00d7", "x")


def _settings(card: Card, there: BenchCard) -> Iterator[Finding]:
    for name in sorted(card.settings.keys() | there.settings.keys()):
        printed, shown = card.settings.get(name), there.settings.get(name)
        if printed is None or shown is None:
            words = f"{name}: printed {printed}, at the bench {shown}"
            yield Finding(FindingKind.BENCH_MISSING, card.id, words)
        elif _bare(printed) != _bare(shown):
            yield Finding(FindingKind.BENCH_OFF, card.id, f"{name}: printed {printed}, at the bench {shown}")


def _work(paper: Paper, card: Card, there: BenchCard) -> Iterator[Finding]:
    rows: dict[tuple[str, int], tuple[BenchGroup, BenchRow]] = {
        (group.title.split(" ", 1)[0], int(row.label)): (group, row)
        for group in there.groups
        for row in group.rows
        if row.label.isdigit()
    }
    printed: set[tuple[str, int]] = set()
    before = ""
    for placing in card.work:
        first = _FIRST.search(placing.group) if placing.group != before else None
        before = placing.group
        group = _group_of(rows, placing)
        if first and group and not any(_bare(first[1]) in _bare(note) for note in group.notes):
            yield Finding(FindingKind.BENCH_MISSING, card.id, f"{placing.panel}: {first[1]}")
        for number in placing.numbers:
            mark = (placing.panel, number)
            printed.add(mark)
            if mark not in rows:
                yield Finding(FindingKind.BENCH_MISSING, card.id, f"{placing.panel}.{number}")
                continue
            yield from _place(paper, card, placing, mark, *rows[mark])
    for panel, number in sorted(rows.keys() - printed):
        yield Finding(FindingKind.BENCH_OFF, card.id, f"{panel}.{number} is not on the printed card")


def _group_of(rows: Mapping[tuple[str, int], tuple[BenchGroup, BenchRow]], placing: Placing) -> BenchGroup | None:
    found = (rows.get((placing.panel, n)) for n in placing.numbers)
    return next((row[0] for row in found if row is not None), None)


def _place(
    paper: Paper, card: Card, placing: Placing, mark: tuple[str, int], group: BenchGroup, row: BenchRow
) -> Iterator[Finding]:
    name = f"{mark[0]}.{mark[1]}"
    _, _, placed = group.placed.partition("placed from ")
    is_turned = _TURNED.search(placed) is not None
    if _bare(_TURNED.sub("", placed)) not in _bare(placing.words) or is_turned != _is_turned(placing):
        words = f"{name}: placed from {placed}; printed {placing.words}"
        yield Finding(FindingKind.BENCH_OFF, card.id, words)
    cut = paper.cuts.get(mark)
    if cut is None:
        return  # told elsewhere
    told = _AT.findall(row.what)
    if not told or len(told) != sum(s is not None for s in (cut.u, cut.v, cut.w)):
        yield Finding(FindingKind.BENCH_MISSING, card.id, f"{name}: {row.what}")
    for low, high, surface in told:
        off = _off(paper, cut, (low, high or low), _AXIS[surface])
        if off is None or off > SAME:
            yield Finding(FindingKind.BENCH_OFF, card.id, f"{name}: {low} from the {surface}", float(off or 0))


def _is_turned(placing: Placing) -> bool:
    return "turned over" in placing.group or "jig turned over" in placing.words


def _off(paper: Paper, cut: Cut, ends: tuple[str, str], axis: str) -> Fraction | None:
    """Return by how much a stretch is off that of the set-out sheet; None where that has none."""
    span: Span | None = getattr(cut, axis)
    if span is None:
        return None
    low, high = (read_length(end, paper.unit).mm for end in ends)
    return max(abs(low - span.low.mm), abs(high - span.high.mm))


def _steps(paper: Paper, case: str, bench: Bench) -> Iterator[Finding]:
    card = bench.cards.get(f"case-{case}")
    groups = card.groups if card is not None else []
    there = {int(m[1]): g for g in groups if (m := _STEP.match(g.title)) is not None}
    printed = {s.number: s for s in paper.steps if s.case == case}
    for number in sorted(there.keys() - printed.keys()):
        yield Finding(FindingKind.BENCH_OFF, f"{case}, step {number}", "it is not printed")
    for number, step in printed.items():
        if number not in there:
            yield Finding(FindingKind.BENCH_MISSING, f"{case}, step {number}", step.title)
        else:
            yield from _step(step, there[number])


def _step(step: Step, group: BenchGroup) -> Iterator[Finding]:
    at = f"{step.case}, step {step.number}"
    shown = " ".join([group.placed, *group.notes, *(r.what for r in group.rows)])
    missing = [j for j in step.joints if not any(re.search(rf"\b{j}\b", r.label) for r in group.rows)]
    if missing:
        yield Finding(FindingKind.BENCH_MISSING, at, f"{', '.join(missing)} cannot be ticked")
    if step.hands.lower() != group.hands.lower().rstrip("."):
        yield Finding(FindingKind.BENCH_OFF, at, f"printed {step.hands}, at the bench {group.hands}")
    if step.body:  # a row of a table says it in short
        extra = set(_JOINT.findall(group.placed)) ^ set(step.joints)
        if extra:
            yield Finding(FindingKind.BENCH_OFF, at, f"joints {', '.join(sorted(extra))}")
        return
    wanted = _bare(shown)
    for sentence in re.split(r"(?<=\.) (?=[A-Z\u2013])", step.told):
        if _bare(sentence).strip("\u2013") not in wanted:
            yield Finding(FindingKind.BENCH_MISSING, at, sentence)
    if _bare(group.placed) not in _bare(step.words):
        yield Finding(FindingKind.BENCH_OFF, at, f"{group.placed} is printed otherwise")
