"""Every example, built from its paper alone: what is found there is known, and the list of it only shrinks."""

from __future__ import annotations

import os
from functools import cache

import pypdfium2
import pytest

from storyrod_blind import Report
from storyrod_blind._build import build_from
from tests.kept import example_packet, example_plan
from tests.places import EXAMPLES
from tests.unit.blind.papers import example_pages

NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))
WHOLE = NAMES if os.environ.get("STORYROD_BLIND") == "whole" else ["first-box", "music-stand-shelf-inches"]
"""Examples whose packets are also made with all their pictures, as a maker gets them. Set STORYROD_BLIND=whole to make
all of them so; it takes some minutes."""
PACKETS = pytest.mark.parametrize(
    ("name", "whole"),
    [
        *(pytest.param(n, False, id=n) for n in NAMES),
        *(pytest.param(n, True, id=f"{n}-whole") for n in WHOLE),
    ],
)


@cache
def report_on(name: str, *, whole: bool) -> Report:
    return build_from(example_pages(name, whole=whole))


PAGES = {
    "first-box": (26, 11),
    "hymn-book-unit": (70, 24),
    "low-units": (138, 52),
    "music-stand-shelf-inches": (68, 28),
    "percussion-chest": (93, 34),
    "rehearsal-room": (129, 40),
    "robe-cupboard": (71, 25),
    "score-shelves": (97, 37),
}
"""Pages of each example: of the one book that was printed for everything, and the most of the bench packet now."""


LATER = {"choir-alcove-cupboard": 27, "hymn-wall-cupboard": 21, "sheet-music-counter": 43}
"""The most pages of examples that are younger than that one book."""


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_the_bench_packet_takes_no_more_pages_than_it_may(name: str) -> None:
    """Packets are counted here and not read, which would take longer than making them."""
    pdf = example_packet(name)

    assert len(pypdfium2.PdfDocument(pdf)) <= (LATER[name] if name in LATER else PAGES[name][1])


def test_every_example_has_its_pages_counted() -> None:
    assert set(PAGES) | set(LATER) == set(NAMES)
    assert sum(now for _, now in PAGES.values()) < 0.37 * sum(before for before, _ in PAGES.values())
    assert PAGES["rehearsal-room"][1] <= 40
    assert PAGES["first-box"][1] <= 12


def told(report: Report) -> str:
    return "\n".join(f"{f.kind.name} {f.about}: {f.words} {f.by_mm:+.3f}" for f in report.findings)


@PACKETS
def test_an_example_s_paper_leaves_nothing_open(name: str, *, whole: bool) -> None:
    report = report_on(name, whole=whole)

    assert not report.findings, told(report)


@PACKETS
def test_all_of_an_example_is_read_from_its_paper(name: str, *, whole: bool) -> None:
    """The builder is no witness of what it passed over: it has read each panel, joint, cut and mate that there is."""
    report = report_on(name, whole=whole)
    plan = example_plan(name)
    panels = [p for c in plan.set_out.cases for p in c.panels]
    marks = [m for p in panels for m in p.marks]

    assert report.panels == len(panels)
    assert report.joints == sum(len(c.joints) for c in plan.details.cases)
    assert report.cuts == len(marks)
    assert report.mates == sum(bool(m.mate) for m in marks) / 2
    jointed = {p for c in plan.details.cases for j in c.joints for p in (j.entering, j.receiving)}
    assert report.placed == len(jointed)


@pytest.mark.parametrize("name", WHOLE)
def test_pictures_change_nothing_of_what_is_read(name: str) -> None:
    assert sorted(report_on(name, whole=True).findings) == sorted(report_on(name, whole=False).findings)
