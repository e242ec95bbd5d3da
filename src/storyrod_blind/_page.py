"""Pages of a PDF as a reader sees them: runs of words at their places, and the rules drawn across.

Places are in points, y upward, as the PDF has them. Words and strokes of a drawing are the drawing's own and are not
read; the PDF's tags tell them from the page's. Only text that stands upright is read.
"""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import pypdfium2
import pypdfium2.raw as pdfium

from storyrod_blind._figures import figure_content

_SAME_LINE = 1.5  # pt by which baselines of one line may differ
GOES_ON = "\u200b"
"""What stands between two letters of a long word, which may go on in the next line there."""
_HYPHEN = re.compile(r"(?<=[a-z])- (?=[a-z])")
_WORD_GAP = 3.2  # pt between two letters from which on they belong to different runs
_SPACED_GAP = 0.645  # of the size of the letters: the same where a written space lies between
_FRACTION = re.compile(r"\d{1,2}/")
_SAME_PLACE = 0.01  # pt
_LEAST_SPACE = 0.35  # of the size of the letters: a written space leaves more between them
_OVER = 0.5  # of a letter's width that the next may lie over it
_OTHER_SIZE = 1.0  # pt of size from which on letters belong to different cells
_LEAST_RULE = 30.0  # pt: shorter strokes are no rules of a table
_FLAT = 2.5  # pt of height up to which a stroke is a rule
_HEAD = 43.0  # pt from the upper edge of a page to the last of what it says of itself
_FOOT_WORDS = "Print at 100 %"  # with which a page's foot begins
_FOOT_LINE = 6.0  # pt from the foot's line up to what stands over it
_HEAD_RULE = 0.7  # pt of stroke from which on a rule closes the head of a table


@dataclass(frozen=True, slots=True)
class Run:
    """Letters that follow each other without a wide gap: mostly a cell, or a line of a paragraph."""

    text: str
    x0: float
    x1: float
    y: float
    size: float
    is_bold: bool
    is_overprinted: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """A stroke across; `is_head` where it is the stronger one under a table's head."""

    x0: float
    x1: float
    y: float
    is_head: bool


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its runs from the top down and from the left, and its rules from the top down.

    What stands below `foot` or above `head` (pt) is said of the whole page.
    """

    number: int
    runs: tuple[Run, ...]
    rules: tuple[Rule, ...]
    foot: float = 0.0
    head: float = 1e9

    @property
    def text(self) -> str:
        """All words, line by line."""
        return "\n".join(" ".join(r.text for r in line) for line in lines_of(self.runs))


def read_pages(pdf: bytes) -> tuple[Page, ...]:
    """Return the pages of a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return tuple(_page(document[n], n + 1) for n in range(len(document)))
    finally:
        document.close()


def joined(lines: Sequence[str]) -> str:
    """Return lines of one text in one; a word that goes on after its hyphen is one word."""
    return _HYPHEN.sub("-", " ".join(lines).replace(f"{GOES_ON} ", ""))


def lines_of(runs: Sequence[Run]) -> list[list[Run]]:
    """Return runs gathered by line, from the top down, each from the left."""
    lines: list[list[Run]] = []
    for run in sorted(runs, key=lambda r: -r.y):
        if lines and abs(lines[-1][0].y - run.y) <= _SAME_LINE:
            lines[-1].append(run)
        else:
            lines.append([run])
    return [sorted(line, key=lambda r: r.x0) for line in lines]


def _page(page: pypdfium2.PdfPage, number: int) -> Page:
    text = page.get_textpage()
    drawn = figure_content(page)
    letters = list(_letters(text, drawn))
    rules = sorted(_rules(page, drawn), key=lambda r: -r.y)
    runs = [run for line in _by_line(letters) for run in _runs(line)]
    words = tuple(sorted(runs, key=lambda r: (-r.y, r.x0)))
    foot = max((r.y for r in words if r.text.startswith(_FOOT_WORDS)), default=0.0) + _FOOT_LINE
    return Page(number, words, tuple(rules), foot=foot, head=page.get_height() - _HEAD)


@dataclass(frozen=True, slots=True)
class _Letter:
    char: str
    x0: float
    x1: float
    y: float
    size: float
    is_bold: bool
    goes_on: bool = False


def _letters(text: pypdfium2.PdfTextPage, drawn: frozenset[int]) -> Iterator[_Letter]:
    raw = text.raw
    x, y = ctypes.c_double(), ctypes.c_double()
    name, flags = ctypes.create_string_buffer(128), ctypes.c_int()
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    count = text.count_chars()
    for index in range(count):
        if abs(pdfium.FPDFText_GetCharAngle(raw, index)) > 0.01:
            continue
        made_up = pdfium.FPDFText_IsGenerated(raw, index) == 1
        if made_up and not _stands_for_written(raw, index, count):
            continue
        if pdfium.FPDFPageObj_GetMarkedContentID(pdfium.FPDFText_GetTextObject(raw, index)) in drawn:
            continue
        pdfium.FPDFText_GetCharOrigin(raw, index, x, y)
        pdfium.FPDFText_GetCharBox(raw, index, left, right, bottom, top)
        char = chr(pdfium.FPDFText_GetUnicode(raw, index))
        if char in "\r\n\ufffe\x00":
            continue
        size = pdfium.FPDFText_GetFontSize(raw, index)
        bold = _is_bold(raw, index, name, flags)
        x0, x1 = (_box(raw, index - 1)[1],) * 2 if made_up else (left.value, right.value)
        yield _Letter("-" if char in "\x02\u00ad" else char, x0, x1, y.value, size, bold)


def _stands_for_written(raw: object, index: int, count: int) -> bool:
    """Whether a space that the reader made up stands for the written one between a whole figure and its fraction.

    Now and then it takes that out and puts its own in, at the place where the letter before begins. It puts one there
    between two narrow figures as well, as in 11, which no space parts.
    """
    after = "".join(chr(pdfium.FPDFText_GetUnicode(raw, n)) for n in range(index + 1, min(index + 4, count)))
    if index < 1 or not _FRACTION.match(after):
        return False
    gap = _box(raw, index + 1)[0] - _box(raw, index - 1)[1]
    same = abs(_origin(raw, index) - _origin(raw, index - 1)) < _SAME_PLACE
    return same and gap > _LEAST_SPACE * pdfium.FPDFText_GetFontSize(raw, index - 1)


def _origin(raw: object, index: int) -> float:
    x, y = ctypes.c_double(), ctypes.c_double()
    pdfium.FPDFText_GetCharOrigin(raw, index, x, y)
    return x.value


def _box(raw: object, index: int) -> tuple[float, float]:
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    pdfium.FPDFText_GetCharBox(raw, index, left, right, bottom, top)
    return left.value, right.value


def _is_bold(raw: object, index: int, name: ctypes.Array[ctypes.c_char], flags: ctypes.c_int) -> bool:
    pdfium.FPDFText_GetFontInfo(raw, index, name, len(name), flags)
    return b"Bold" in name.value


def _by_line(letters: Sequence[_Letter]) -> list[list[_Letter]]:
    """Return letters by line. A raised or lowered figure keeps the line of its own baseline."""
    lines: list[list[_Letter]] = []
    for letter in sorted(letters, key=lambda c: -c.y):
        if lines and abs(lines[-1][0].y - letter.y) <= _SAME_LINE:
            lines[-1].append(letter)
        else:
            lines.append([letter])
    return [sorted(line, key=lambda c: c.x0) for line in lines]


def _runs(line: Sequence[_Letter]) -> Iterator[Run]:
    part: list[_Letter] = []
    spaces = 0
    for letter in line:
        if letter.char == GOES_ON:  # it takes half the width of the letter that it is printed with
            if part:
                part[-1] = replace(part[-1], x1=max(part[-1].x1, letter.x1), goes_on=True)
            continue
        if letter.char.isspace():
            spaces += 1
            continue
        alike = bool(part) and abs(part[-1].size - letter.size) < _OTHER_SIZE
        wide = _SPACED_GAP * letter.size if spaces and alike else _WORD_GAP
        if part and letter.x0 - part[-1].x1 > wide:
            yield _run(part)
            part = []
        elif part and spaces:
            part.append(_Letter(" ", part[-1].x1, letter.x0, letter.y, letter.size, letter.is_bold))
        part.append(letter)
        spaces = 0
    if part:
        yield _run(part)


def _run(part: Sequence[_Letter]) -> Run:
    bold = sum(c.is_bold for c in part) > len(part) / 2
    text = "".join(c.char for c in part) + (GOES_ON if part[-1].goes_on else "")
    over = any(b.x0 < a.x1 - _OVER * (a.x1 - a.x0) for a, b in pairwise(part) if b.char != " " != a.char)
    return Run(text, part[0].x0, part[-1].x1, part[0].y, max(c.size for c in part), bold, over)


def _rules(page: pypdfium2.PdfPage, drawn: frozenset[int]) -> Iterator[Rule]:
    width = ctypes.c_float()
    for thing in page.get_objects(max_depth=3):
        if thing.type != pdfium.FPDF_PAGEOBJ_PATH or pdfium.FPDFPageObj_GetMarkedContentID(thing.raw) in drawn:
            continue
        left, bottom, right, top = thing.get_bounds()
        if top - bottom > _FLAT or right - left < _LEAST_RULE:
            continue
        pdfium.FPDFPageObj_GetStrokeWidth(thing.raw, width)
        yield Rule(left, right, (top + bottom) / 2, width.value >= _HEAD_RULE)
