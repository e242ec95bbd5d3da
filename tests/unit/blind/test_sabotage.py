"""The blind builder is not fooled: one printed figure of each kind is changed, and it notices.

The packet of the rehearsal room is read once; then a run of words on a page is altered as if it had been printed so.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from storyrod_blind import Finding, FindingKind
from storyrod_blind._build import build_from
from storyrod_blind._chapter import chapters_of
from storyrod_blind._hung import check_hung
from storyrod_blind._length import Length, Span
from storyrod_blind._page import Page, Run
from storyrod_blind._poses import build_bodies
from storyrod_blind._read import read_paper
from storyrod_blind._seats import seats_of
from tests.unit.blind.papers import example_pages

EXAMPLE = "rehearsal-room"
Pages = tuple[Page, ...]
Change = Callable[[str], str]


@pytest.fixture(scope="module")
def pages() -> Pages:
    return example_pages(EXAMPLE)


@pytest.fixture(scope="module")
def honest(pages: Pages) -> Counter[tuple[FindingKind, str, str]]:
    """Return what is found in the packet as it is printed."""
    return counted(build_from(pages).findings)


def counted(findings: Sequence[Finding]) -> Counter[tuple[FindingKind, str, str]]:
    return Counter((f.kind, f.about, f"{f.words} {f.by_mm:.3f}") for f in findings)


def more(by: float) -> Change:
    """Return a change that adds to the last figure of some words."""

    def change(text: str) -> str:
        *_, last = re.finditer(r"\d+(?:\.\d+)?", text)
        return f"{text[: last.start()]}{float(last[0]) + by:g}{text[last.end() :]}"

    return change


def more_first(by: float) -> Change:
    """Return a change that adds to the first figure of some words."""

    def change(text: str) -> str:
        first = re.search(r"\d+(?:\.\d+)?", text)
        assert first, text
        return f"{text[: first.start()]}{float(first[0]) + by:g}{text[first.end() :]}"

    return change


def swap(old: str, new: str) -> Change:
    """Return a change of a part of some words."""

    def change(text: str) -> str:
        assert re.search(old, text), (old, text)
        return re.sub(old, new, text, count=1)

    return change


def turned(text: str) -> str:
    """Return words with the other hand."""
    return text.replace("left", "-").replace("right", "left").replace("-", "right")


def cell(label: str, head: str, change: Change, *, on: str, group: str = "") -> Callable[[Pages], Pages]:
    """Return a sabotage of the cell under `head` in the row that begins with `label`, on a page with the words `on`."""

    def sabotage(pages: Pages) -> Pages:
        for page in parts_with(pages, on):
            if group not in page.text:
                continue
            floor = next((r.y for r in page.runs if group and r.text == group), 1e9)
            heads = [r for r in page.runs if r.text == head and r.y < floor + 40]
            for row in (r for r in page.runs if r.text == label and r.x0 < 90 and r.y < floor):
                over = [h for h in heads if h.y > row.y]
                if not over:
                    continue
                column = min(over, key=lambda h: h.y - row.y)
                beside = [r for r in page.runs if abs(r.y - row.y) < 7.5 and r is not row]  # a cell may have two lines
                lined = [r for r in beside if min(abs(r.x0 - column.x0), abs(r.x1 - column.x1)) < 3.0]
                for run in lined:
                    if (text := changed(run.text, change)) is not None:
                        return altered(pages, page, run, text)
        raise AssertionError(f"no cell {label!r} under {head!r} on a page with {on!r}")

    return sabotage


def changed(text: str, change: Change) -> str | None:
    """Return words as they are changed, or None where there is nothing in them to change."""
    try:
        return change(text)
    except (AssertionError, ValueError):
        return None


def words(pattern: str, change: Change, *, on: str = "") -> Callable[[Pages], Pages]:
    """Return a sabotage of the first words that a pattern matches, on a page whose words have `on`."""

    def sabotage(pages: Pages) -> Pages:
        for page in parts_with(pages, on):
            for run in page.runs:
                if re.search(pattern, run.text):
                    return altered(pages, page, run, change(run.text))
        raise AssertionError(f"no words like {pattern!r} on a page with {on!r}")

    return sabotage


def without_unit(on: str) -> Callable[[Pages], Pages]:
    """Return a sabotage of all that says the unit on a page whose words have `on`."""

    def sabotage(pages: Pages) -> Pages:
        page = next(p for p in pages if on in p.text)
        runs = tuple(replace(r, text=r.text.replace("millimetres", "hands")) for r in page.runs)
        return tuple(replace(p, runs=runs) if p is page else p for p in pages)

    return sabotage


def parts_with(pages: Pages, on: str) -> list[Page]:
    """Return the parts of pages under a heading that has the words `on`; where none has them, pages that do."""
    headed = [p for c in chapters_of(pages) if on and on in c.title for p in c.pages]
    return headed or [p for p in pages if on in p.text]


def altered(pages: Pages, part: Page, run: Run, text: str) -> Pages:
    assert text != run.text
    page = next(p for p in pages if p.number == part.number)
    runs = tuple(replace(r, text=text) if r is run else r for r in page.runs)
    return tuple(replace(p, runs=runs) if p is page else p for p in pages)


_RIGHT = "A2: right side"
_TOP = "A3: top"
_LEFT = "A1: left side"
_SIDES = "A9 + A10; A15 + A16"
_FACE = {"on": _RIGHT, "group": "Face side"}
K = FindingKind

Sabotage = Callable[[Pages], Pages]
SABOTAGES: dict[str, tuple[Sabotage, FindingKind]] = {
    "a mark's distance from the datum end": (cell("5–7", "datum end", more(1), **_FACE), K.MATES_APART),
    "a mark's distance from the face edge": (cell("5–7", "face edge", more(1), **_FACE), K.MATES_APART),
    "a mark's distance from the face side": (cell("11–13", "face side", more(0.5), on=_TOP), K.MATES_APART),
    "a mark's mate": (words(r"A3\.14–", swap(r"\.14–", ".1–"), on=_RIGHT), K.MATE_MISSING),
    "what a mark is for": (cell("5–7", "for", swap(r"J\d+", "J99"), **_FACE), K.MATE_MISSING),
    "a hole's depth": (cell("5–7", "what", swap(r"\b13\b", "15"), **_FACE), K.CARD_OFF),
    "a hole's diameter": (cell("5–7", "what", swap("Ø8", "Ø10"), **_FACE), K.CARD_OFF),
    "a line's far side": (cell("A4", "datum end", more(1), on=_RIGHT), K.LINE_OFF),
    "where a face side stands": (cell("A4", "face side at", more(-3), on=_RIGHT), K.LINE_OFF),
    "the end of a rebate": (cell("8", "face edge", swap(r" to .*", ""), on=_LEFT), K.CUT_WITHOUT_ENDS),
    "a runner's height": (cell("13–16", "datum end", more(1.5), on=_LEFT), K.RUNNER_OFF),
    "a hinge plate's height": (words(r"^742\.|^77\d\.", more(3), on=_RIGHT), K.HINGE_OFF),
    "a row of pins": (words(r"^\d+ to 758", more(32), on=_RIGHT), K.PINS_OFF),
    "how a panel lies": (words(r"datum end at the (left|right)|^the (left|right)\.", turned, on=_TOP), K.HAND_WRONG),
    "a panel's length": (cell("A7", "finished", swap(r"^\d+", "748"), on="Cutting list"), K.PANEL_BETWEEN_LINES),
    "a panel's width": (cell("A3", "finished", swap(r"\d+$", "460"), on="Cutting list"), K.OUTSIDE_OFF),
    "a board's thickness": (words(r"17\.7 thick", swap("17.7", "18.7"), on="Cutting list"), K.LINE_OFF),
    "a drawer's width": (words(r"11\.8 thick", swap("11.8", "51.8"), on="Cutting list"), K.DRAWER_TIGHT),
    "a drawer's height": (cell("A9", "finished", swap("85$", "185"), on="Cutting list"), K.DRAWER_TIGHT),
    "a drawer's depth": (cell("A9", "finished", swap("^400", "450"), on="Cutting list"), K.DRAWER_TIGHT),
    "a front's height": (cell("A14", "finished", more(0.5), on="Cutting list"), K.FRONT_OFF),
    "a front's width": (cell("A20", "finished", more_first(0.5), on="Cutting list"), K.FRONT_OFF),
    "a door's height": (cell("A32", "finished", more(0.5), on="Cutting list"), K.FRONT_OFF),
    "the gap at a front": (words(r"gap of 3 mm", swap("3 mm", "4 mm"), on="putting together"), K.FRONT_OFF),
    "what a front is opened by": (words(r"^hand hold$", swap("hold", "notch"), on="A32: door 1"), K.HANDLE_UNSAID),
    "a size's sum": (words(r"^Length: 473", swap("473", "474")), K.SIZES_DISAGREE),
    "the case's width": (words(r"^1000 × 860", swap("^1000", "1001")), K.OUTSIDE_OFF),
    "a rebate's depth": (words(r"wide, 8\.85", swap("8.85", "7.85"), on=_LEFT), K.BACK_TIGHT),
    "a card's depth": (words(r"^13 into|= 25 \+ 13$|^13$", swap("13", "12"), on="set-up S"), K.CARD_OFF),
    "a card's drill": (words(r"^drill 8", swap("8", "6"), on="set-up S"), K.CARD_OFF),
    "a card's line": (words(r"line at 473\.45", swap("473", "1473"), on="set-up S"), K.CARD_OFF),
    "a card's walls": (words(r"walls at \d", swap(r"walls at (\d)", r"walls at 1\1"), on="set-up S"), K.CARD_OFF),
    "a card's straight edge": (words(r"^\d+ to the near wall$", more_first(1), on="set-up S"), K.CARD_OFF),
    "a card's fence": (words(r"^\d+(\.\d+)? to the centre$", more_first(1), on="set-up S"), K.CARD_OFF),
    "a card's marks": (words(r"^\d+–\d+ \(J\d+\)$", swap(r"^\d+–(\d+)", r"\1"), on="set-up S"), K.MARK_ON_NO_CARD),
    "a mark that is not there": (words(r"^\d+–\d+ \(J\d+\)$", swap("–", "–9"), on="set-up S"), K.CARD_WITHOUT_MARK),
    "a card's setting": (words(r"^depth stop$", swap("stop", "stock"), on="set-up S"), K.CARD_WITHOUT_SETTING),
    "a screw's size": (words(r"^screw 3 x 25", swap(" 3 x 25", "")), K.SCREW_WITHOUT_SIZE),
    "a sheet's unit": (without_unit(on="set-out drawer sides"), K.PAGE_WITHOUT_UNIT),
    "a step's panel": (words(r"^\d+\. A6 back", swap("A6", "It"), on="putting together"), K.PANEL_NEVER_FITTED),
    "a step's joint": (words(r"\bonto .*\(J7\)\.$", swap(r"\(J7\)", ""), on="putting together"), K.JOINT_NEVER_CLOSED),
    "a step's number": (words(r"^6\. A5 plinth", swap("6", "16"), on="putting together"), K.NOT_READY),
    "what a step moves": (words(r"^5\. A4 base", swap("A4 base", "A5 plinth"), on="putting together"), K.NOT_READY),
    "a panel put in twice": (words(r"^\d+\. A32 door 1", swap("A32", "A8"), on="putting together"), K.FITTED_TWICE),
    "a fitting's step": (words(r"^2\. Fittings on A2", swap("A2", "A3"), on="putting together"), K.FITTING_NEVER_FIXED),
    "what is clamped": (words(r"Clamp across J8", swap("J8", "J9"), on="putting together"), K.GLUE_NEVER_CLAMPED),
    "what is bored in place": (words("Drill any", swap("Drill any", "Mind the")), K.NOT_READY),
    "when it is bored": (words("Drill any", swap("Drill", "Drive 4 × screw 3 x 25 at J10. Drill")), K.NOT_READY),
    "that panels are edged": (words(r"^edge the panels$", swap("edge", "dust")), K.NOT_READY),
    "how many dowels go in": (words(r"Fit 3 × dowel 8", swap("3", "2"), on="putting together"), K.FASTENINGS_OFF),
    "how many screws go in": (words(r"Drive 6 ×", swap("6", "5"), on="putting together"), K.FASTENINGS_OFF),
    "how many are bought": (cell("dowel 6 x 25", "how many", more(1), on="Connectors and"), K.FASTENINGS_OFF),
    "a pilot's size": (words(r"pilots 2\.5 mm, 10", swap(r"2\.5", "3.5"), on="putting together"), K.FASTENINGS_OFF),
    "what a letter is on a part": (cell("A15, A16", "a", more(1), on=_SIDES), K.MATES_APART),
    "which letter a mark is at": (cell("1–2", "face edge", swap("a", "b"), on=_SIDES), K.MATES_APART),
    "a part's mates": (words(r"^A17\.4", swap("A17", "A18"), on=_SIDES), K.MATE_MISSING),
    "what stands on a part's line": (words(r"^J25: A19", swap("A19", "A18"), on=_SIDES), K.LINE_OFF),
    "a part's sum": (words(r"^150 - 10 - 15", swap("150", "160"), on=_SIDES), K.SIZES_DISAGREE),
    "words for a cut": (cell("5–7", "what", swap("hole", "hollow"), **_FACE), K.UNREAD),
}  # fmt: skip


@pytest.mark.parametrize("name", SABOTAGES)
def test_a_printed_figure_that_is_wrong_is_noticed(
    name: str, pages: Pages, honest: Counter[tuple[FindingKind, str, str]]
) -> None:
    sabotage, kind = SABOTAGES[name]
    new = counted(build_from(sabotage(pages)).findings) - honest

    assert kind in {k for k, _, _ in new}, sorted(new)[:8]


def test_a_drawer_s_two_halves_that_are_not_level_are_noticed(pages: Pages) -> None:
    """Both sides of a drawer are marked together, so that no one printed figure can part them."""
    paper = read_paper(pages)
    mark = ("A9", 8)
    span = paper.cuts[mark].v
    assert span is not None
    higher = Length(span.low.mm + 1, span.low.unit, span.low.is_said)
    bodies, _ = build_bodies(paper, seats_of(paper))
    assert not list(check_hung(paper, bodies))

    for number in range(6, 10):
        cut = paper.cuts["A9", number]
        paper.cuts["A9", number] = replace(cut, v=Span(higher, higher))
    assert {f.kind for f in check_hung(paper, bodies)} == {K.RUNNER_OFF}
