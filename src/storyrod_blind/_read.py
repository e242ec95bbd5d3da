"""From the parts of a packet to what it says: the cover, the cutting list, the joint schedule, things to buy."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from storyrod_blind._chapter import TOGETHER, Chapter, chapters_of
from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, Length, Unit, UnreadError, read_length, read_span
from storyrod_blind._page import Page
from storyrod_blind._paper import Bought, Case, Joint, JointId, Panel, Paper
from storyrod_blind._read_cards import read_card, read_steps
from storyrod_blind._read_set_out import read_sheet
from storyrod_blind._table import Row, Table

_THICK = re.compile(rf", ({LENGTH}) thick \(")
_HANDLES = re.compile(r"\b\d+ for case (\S+) \(([^)]*)\)")
_SIZES = re.compile(rf"^({LENGTH}) × ({LENGTH})(?: × ({LENGTH}))?$")


def read_paper(pages: Sequence[Page]) -> Paper:
    """Return all that the pages of a packet say."""
    paper = Paper()
    chapters = chapters_of(pages)
    whole = chapters[0].unit_of(pages[-1].number) or Unit.MM
    paper.unit = whole
    _units(paper, chapters)
    _overprinted(paper, chapters)
    for chapter in chapters:
        _read_lists(paper, chapter, whole)
        for case, fronts in (
            _HANDLES.findall(" ".join(chapter.text.split())) if "handles or knobs" in chapter.text else ()
        ):
            paper.handles[case] = tuple(fronts.split(", "))
    for chapter in chapters:
        unit = chapter.unit_of(chapter.pages[-1].number) or whole
        if chapter.is_card:
            read_card(paper, chapter, unit)
        elif TOGETHER.match(chapter.title):
            read_steps(paper, chapter)
        elif chapter.is_set_out:
            read_sheet(paper, chapter, unit)
    return paper


def _read_lists(paper: Paper, chapter: Chapter, unit: Unit) -> None:
    for table in chapter.tables:
        for row in table.rows:
            try:
                _read_row(paper, table, row, unit)
            except UnreadError as fault:
                paper.findings.append(Finding(FindingKind.UNREAD, f"page {row.page}", str(fault)))


def _read_row(paper: Paper, table: Table, row: Row, unit: Unit) -> None:
    if table.has("case", "how many", "wide × high × deep"):
        wide, high, deep = _sizes(row["wide × high × deep"], unit)
        assert deep is not None  # noqa: S101  # three are asked for by the head
        paper.cases[row["case"]] = Case(row["case"], int(row["how many"]), wide, high, deep)
    elif table.has("mark", "panel", "pieces", "finished"):
        panel = _panel(paper, table, row, unit)
        paper.panels[panel.mark] = panel
        paper.edged |= {panel.mark} if row["edging"] else set()
    elif table.has("joint", "entering", "receiving"):
        joint = _joint(table, row, unit)
        paper.joints[joint.id] = joint
    elif table.has("set-up", "what", "cuts"):
        paper.order.append((row["set-up"], row["what"]))
    elif table.has("connector", "how many"):
        paper.bought.append(Bought(row["connector"], row["used by"], _count(row["how many"])))
    elif table.has("item", "how many", "where"):
        paper.bought.append(Bought(row["item"], row["where"], _count(row["how many"])))


def _panel(paper: Paper, table: Table, row: Row, unit: Unit) -> Panel:
    thick = _THICK.search(table.title)
    if thick is None:
        raise UnreadError(f"no thickness in {table.title!r}")
    length, width, _ = _sizes(row["finished"], unit)
    code = next((c for c in sorted(paper.cases, key=len, reverse=True) if row["mark"].startswith(c)), "")
    return Panel(
        mark=row["mark"],
        name=row["panel"],
        case=code,
        pieces=int(row["pieces"]),
        length=length.mm,
        width=width.mm,
        thickness=read_length(thick[1], unit).mm,
    )


def _joint(table: Table, row: Row, unit: Unit) -> Joint:
    code = table.title.partition(":")[0]
    joint: JointId = (code, row["joint"])
    length: Fraction = read_span(row["length"], unit).high.mm
    return Joint(joint, _mark(row["entering"]), _mark(row["receiving"]), row.group.partition(", ")[2], length)


def _count(words: str) -> int:
    """Return the number of `4 pair`."""
    match = re.match(r"\d+", words)
    if match is None:
        raise UnreadError(f"no number: {words!r}")
    return int(match[0])


def _mark(words: str) -> str:
    return words.split(" ", 1)[0]


def _sizes(text: str, unit: Unit) -> tuple[Length, Length, Length | None]:
    match = _SIZES.match(" ".join(text.split()))
    if match is None:
        raise UnreadError(f"no sizes: {text!r}")
    third = read_length(match[3], unit) if match[3] else None
    return read_length(match[1], unit), read_length(match[2], unit), third


def _units(paper: Paper, chapters: Sequence[Chapter]) -> None:
    """Find pages that carry lengths to work from and do not say what they are in."""
    for chapter in chapters:
        sort = _sort(chapter)
        for page in chapter.pages if sort else ():
            own = Chapter(chapter.title, (page,), ())
            if own.unit_of(page.number) is None and re.search(r"\d", page.text):
                words = f"a page of {sort} says no unit"
                paper.findings.append(Finding(FindingKind.PAGE_WITHOUT_UNIT, f"page {page.number}", words))


def _sort(chapter: Chapter) -> str:
    """Return what sort of part it is, where its pages carry lengths to work from."""
    if chapter.is_card:
        return "a set-up card"
    if TOGETHER.match(chapter.title):
        return "the assembly"
    if chapter.is_set_out:
        return "a set-out sheet"
    if chapter.title.startswith("Jig "):
        return "a jig"
    return {"Cutting list": "the cutting list", "Joint schedule": "the joint schedule"}.get(chapter.title, "")


def _overprinted(paper: Paper, chapters: Sequence[Chapter]) -> None:
    for chapter in chapters:
        for page in chapter.pages:
            for run in page.runs:
                if run.is_overprinted:
                    words = f"“{run.text}” in “{chapter.title}”"
                    paper.findings.append(Finding(FindingKind.OVERPRINTED, f"page {page.number}", words))
