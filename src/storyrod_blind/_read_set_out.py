"""A set-out sheet: how its panels lie, the lines on which mates stand, every mark, and the mates of each panel.

A sheet for parts of one kind has letters in place of the figures that differ, and a row for each part in a table of
what they come to. It is read as a maker reads it: part by part, each letter looked up in the part's row.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from storyrod_blind._chapter import Chapter
from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, Length, Span, Unit, UnreadError, read_length, read_span, unit_said
from storyrod_blind._paper import FACES, Cut, CutId, Line, Paper
from storyrod_blind._read_kind import AXES, Kind, is_mates_of_kind, read_kind
from storyrod_blind._sums import sums_in
from storyrod_blind._table import Row, Table
from storyrod_blind._what import CHANNELS, OPEN_CUTS, read_what

_LIES = re.compile(
    r"(Face\s+side|Far\s+face)\s+up,\s+face\s+edge\s+toward\s+you,\s+datum\s+end\s+at\s+the\s+(left|right)"
)
_JOINT = re.compile(r"^[A-Z]+\d+$")
_MATE = re.compile(r"^(.+)\.(\d+(?:–\d+|(?:, \d+)+)?)$")
_OTHER_HAND = re.compile(r"^The other hand:\s+(\S+)", re.MULTILINE)
_BY = re.compile(rf"({LENGTH}) past the (datum end|far end|face edge|far edge)")
_PAST = re.compile(
    r"\bOn (\S+), \S+ \((J\d+)\) runs (.+? past the (?:datum|far|face) (?:end|edge)(?: and .+? past the \w+ \w+)?)\."
)


def read_sheet(paper: Paper, chapter: Chapter, unit: Unit) -> None:
    """Read one sheet into the paper; what cannot be read becomes a finding."""
    panels = _panels(chapter)
    _read_hands(paper, chapter, panels)
    told = sums_in(chapter.text)
    if told is not None:
        paper.sums |= dict.fromkeys(panels, told)
    for panel, joint, told in _PAST.findall(" ".join(chapter.text.split())):
        ends = {surface: read_length(by, unit).mm for by, surface in _BY.findall(told)}
        paper.past[panel, (_case(panel), joint)] = ends
    kind = read_kind(chapter)
    paper.sums |= kind.sums
    for table in chapter.tables:
        here = unit_said(table.title) or unit
        for row in table.rows:
            try:
                _read_row(paper, table, row, here, panels, kind)
            except UnreadError as fault:
                paper.findings.append(Finding(FindingKind.UNREAD, f"{' + '.join(panels)}", str(fault)))
    for table in chapter.tables:
        if table.has("mark") and not table.has("what"):
            _read_mates(paper, table)
        elif is_mates_of_kind(table):
            _read_mates_of_kind(paper, table, kind)


def _read_row(paper: Paper, table: Table, row: Row, unit: Unit, panels: list[str], kind: Kind) -> None:
    """Read a row of lines or of marks; one of a kind, part by part."""
    if table.has("mate", "joint", "datum end", "face edge") and not table.has("what"):
        paper.lines += _lines(row, unit)
    elif table.has("mate", "face side at"):
        paper.lines += [_line_of_kind(kind, row, unit, panel) for panel in panels]
    elif table.has("mark", "what") and kind.is_told:
        for panel in panels:
            _read_mark(paper, [panel], kind.spelled(paper, panel, row), unit)
    elif table.has("mark", "what"):
        _read_mark(paper, panels, row, unit)


def _line_of_kind(kind: Kind, row: Row, unit: Unit, panel: str) -> Line:
    if (panel, row["mate"]) not in kind.mates:
        raise UnreadError(f"{panel}: nothing says what stands on the line of the {row['mate']}")
    joint, mate, surface = kind.mates[panel, row["mate"]]
    spelled = replace(row, cells=tuple(kind.figures(panel, c) if n else c for n, c in enumerate(row.cells)))
    return _line(spelled, unit, panel, row.group.partition(", ")[2], {"joint": joint, "mate": mate, "by its": surface})


def _read_mates_of_kind(paper: Paper, table: Table, kind: Kind) -> None:
    """Read joint and mates of each mark, part by part."""
    for row in table.rows:
        for head, cell in zip(row.heads[1:], row.cells[1:], strict=True):
            if head[:1].isdigit() and cell:
                _read_met(paper, row["part"], head, kind.with_joint(row["part"], cell))


def _panels(chapter: Chapter) -> list[str]:
    if ": " in chapter.title:
        return [chapter.title.partition(":")[0]]
    return re.split(r" \+ |; ", chapter.title)


def _read_hands(paper: Paper, chapter: Chapter, panels: list[str]) -> None:
    """Read how each panel lies, face edge toward the maker, and so whether its frame is left- or right-handed.

    With the face side up, u runs to the right from a datum end at the left, v away from the maker and w down into
    the board: that frame is left-handed, (1, 0, 0) x (0, 1, 0) = (0, 0, 1) being up.
    """
    others = {m for m in _OTHER_HAND.findall(chapter.text) if m in panels}
    twinned = "mirrored hands" in " ".join(chapter.text.split())
    parts = re.split(r"^The other hand:.*$", chapter.text, flags=re.MULTILINE)
    hands: list[int] = []
    for part in parts:
        lie = _LIES.search(part)
        hands.append(0 if lie is None else (-1 if lie[1].startswith("Face") == (lie[2] == "left") else 1))
    for mark in panels:
        second = twinned and (mark in others or _is_twin(paper, mark, panels))
        hand = hands[1] if second and len(hands) > 1 else hands[0]
        if mark in paper.panels and hand:
            paper.panels[mark] = replace(paper.panels[mark], hand=hand)


def _is_twin(paper: Paper, mark: str, panels: list[str]) -> bool:
    """Whether a panel of a mirrored gang is of the other hand than the first, by its name."""
    names = [paper.panels[m].name if m in paper.panels else "" for m in (panels[0], mark)]
    sides = [next((s for s in ("left", "right") if re.search(rf"\b{s}\b", n)), "") for n in names]
    return sides[0] != sides[1]


def _lines(row: Row, unit: Unit) -> Iterator[Line]:
    """Yield the line of a row on each panel that it is told of: `A9 / A10` have the same figures, and mates apart."""
    panels, _, surface = row.group.partition(", ")
    marks = panels.split(" / ")
    for n, panel in enumerate(marks):
        own = {h: row[h].split(" / ") for h in ("mate", "by its", "joint")}
        yield _line(row, unit, panel, surface, {h: t[n] if len(t) == len(marks) else t[0] for h, t in own.items()})


def _line(row: Row, unit: Unit, panel: str, surface: str, own: Mapping[str, str]) -> Line:
    told = row["face side at"]
    face = "far face" if told.startswith("far face ") else "face side"
    return Line(
        joint=(_case(panel), own["joint"]),
        panel=panel,
        surface=surface,
        mate=own["mate"],
        mate_surface=own["by its"],
        u=read_span(row["datum end"], unit),
        v=read_span(row["face edge"], unit),
        face=face,
        face_at=read_span(told.removeprefix("far face "), unit).low.mm,
    )


def _case(panel: str) -> str:
    return re.sub(r"\d+$", "", panel)


def _read_mark(paper: Paper, panels: list[str], row: Row, unit: Unit) -> None:
    first, _, last = row["mark"].partition("\u2013")
    what = read_what(row["what"], unit)
    places = {axis: _places(row[head], unit) for axis, head in AXES.items()}
    uses, mates = row["for"].split(" / "), row["mate"].split(" / ")
    count = int(last or first) - int(first) + 1
    if count != what.count:
        raise UnreadError(f"marks {row['mark']} are {count}, and told as {what.count}")
    for at, panel in enumerate(panels):
        use = uses[at] if len(uses) == len(panels) else uses[0]
        mate_words = mates[at] if len(mates) == len(panels) else mates[0]
        joint = (_case(panel), use) if _JOINT.match(use) else None
        for n in range(count):
            mark: CutId = (panel, int(first) + n)
            paper.cuts[mark] = Cut(
                id=mark,
                surface=row.group.lower(),
                what=replace(what, count=1),
                **{axis: _nth(spans, n, count) for axis, spans in places.items()},
                joint=joint,
                mate=_mate(mate_words, n, count),
                use="" if joint else use,
                words=row["what"],
            )


def _mate(words: str, n: int, count: int) -> CutId | None:
    """Return the mate of the n-th mark of a row: `A4.17–19` are those of three marks, up or down."""
    match = _MATE.match(words)
    if match is None:
        return None
    first, _, last = match[2].partition("–")
    numbers = [int(w) for w in match[2].split(", ")] if not last else _from_to(int(first), int(last))
    if len(numbers) != count:
        raise UnreadError(f"{count} marks have the mates {words}")
    return match[1], numbers[n]


def _from_to(first: int, last: int) -> list[int]:
    step = 1 if last >= first else -1
    return list(range(first, last + step, step))


def _places(words: str, unit: Unit) -> list[Span]:
    """Return one place, one stretch, or several places: `39, 167, 263`."""
    return [read_span(w, unit) for w in words.split(", ")] if words else []


def _nth(spans: list[Span], n: int, count: int) -> Span | None:
    """Return the n-th of several places, or that of a row that goes from low to high in equal steps."""
    if not spans:
        return None
    if len(spans) > 1:
        if len(spans) != count:
            raise UnreadError(f"{count} marks have {len(spans)} places")
        return spans[n]
    (span,) = spans
    if count == 1 or span.low == span.high:
        return span
    at = span.low.mm + Fraction(n, count - 1) * span.width
    one = Length(at, span.low.unit, span.low.is_said)
    return Span(one, one)


def _read_mates(paper: Paper, table: Table) -> None:
    """Read what each mark is for and its mate, panel by panel, as a larger gang has them."""
    for row in table.rows:
        for panel, words in zip(table.heads[1:], row.cells[1:], strict=True):
            if words:
                _read_met(paper, panel, row["mark"], words)


def _read_met(paper: Paper, panel: str, numbers: str, words: str) -> None:
    """Read what a row of marks of a panel is for, and its mates: `J15: A11.4–5`."""
    first, _, last = numbers.partition("–")
    count = int(last or first) - int(first) + 1
    use, _, mate = words.partition(": ")
    joint = (_case(panel), use) if _JOINT.match(use) else None
    for n in range(count):
        mark = (panel, int(first) + n)
        if mark in paper.cuts:
            told = replace(paper.cuts[mark], joint=joint, mate=_mate(mate, n, count), use="" if joint else use)
            paper.cuts[mark] = told


def unsaid_of(cut: Cut) -> list[FindingKind]:
    """Return what the sheet leaves unsaid of a cut."""
    found: list[FindingKind] = []
    spans = [s for s in (cut.u, cut.v, cut.w) if s is not None]
    if cut.what.kind in CHANNELS | OPEN_CUTS and any(s.low == s.high for s in spans):
        found.append(FindingKind.CUT_WITHOUT_ENDS)
    if not cut.what.through and cut.what.kind not in OPEN_CUTS and not _depth_known(cut):
        found.append(FindingKind.CUT_WITHOUT_DEPTH)
    if _needs_way(cut) and not (cut.what.run or cut.what.toward):
        found.append(FindingKind.CUT_WITHOUT_WAY)
    if cut.joint is None and not cut.use:
        found.append(FindingKind.MARK_WITHOUT_USE)
    return found


def _depth_known(cut: Cut) -> bool:
    return "depth" in cut.what.sizes or ("length" in cut.what.sizes and cut.what.kind.value == "pocket")


def _needs_way(cut: Cut) -> bool:
    if cut.surface not in FACES:
        return False
    if cut.what.kind.value in ("keyhole", "pocket"):
        return True
    return cut.what.kind.value in ("slot", "undercut slot", "disc pocket") or (
        cut.what.kind.value == "cut-out" and "diameter" not in cut.what.sizes
    )
