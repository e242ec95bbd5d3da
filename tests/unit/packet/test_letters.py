"""Letters that no face of the packet has: told, and printed as a question mark instead of an empty box."""

from __future__ import annotations

import json
import random
import re
from dataclasses import replace
from importlib.resources import as_file, files
from pathlib import Path

import pytest
import typst

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.packet._blocks import Section, packet_of
from storyrod.adapters.packet._cover import _told_once, caution_section
from storyrod.adapters.packet._letters import MAY_BREAK, _printable, breakable, held, missing, printed, told
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import Caution
from storyrod.planning import Plan
from storyrod.telling.blocks import table, wide
from storyrod_blind._page import lines_of, read_pages
from tests.builders import case, job

_PAGE = """#set page(width: 60mm, height: auto, margin: 2mm)
#set text(font: "B612")
#for c in json("letters.json") [#text(c)#linebreak()#text("@")#linebreak()]
"""


def drawn(letters: list[str], folder: Path) -> list[list[str]]:
    """Return the glyphs with which the typesetter draws each letter; the first is one that nothing has."""
    (folder / "letters.json").write_text(json.dumps(letters), encoding="utf-8")
    (folder / "page.typ").write_text(_PAGE, encoding="utf-8")
    fonts = str(files("storyrod") / "data" / "fonts")
    page = typst.compile(
        str(folder / "page.typ"), root=str(folder), font_paths=[fonts], ignore_system_fonts=True, format="svg"
    )
    glyphs = re.findall(r'<use xlink:href="#(g[0-9A-F]+)"', bytes(page).decode())
    stop = glyphs[1]
    parts: list[list[str]] = [[]]
    for glyph in glyphs:
        if glyph == stop:
            parts.append([])
        else:
            parts[-1].append(glyph)
    return parts[:-1]


def test_what_is_taken_for_printable_is_drawn_by_some_face(tmp_path: Path) -> None:
    """The first letter is a Han sign, which no face has: a letter drawn with its glyph is an empty box."""
    sample = random.Random(7).sample(sorted(_printable() - {"\n", "\t", "@"}), 400)
    box, *found = drawn(["\u6f22", *sample], tmp_path)

    assert [hex(ord(c)) for c, glyphs in zip(sample, found, strict=True) if box[0] in glyphs] == []


def test_what_is_taken_for_missing_is_an_empty_box(tmp_path: Path) -> None:
    letters = ["\u6f22", "\u30a2", "\U0001f3b9", "\u0e01"]
    box, *found = drawn(letters, tmp_path)

    assert missing(letters) == tuple(sorted(letters))
    assert [glyphs == box for glyphs in found] == [True, True, True]


def test_usual_names_stay_as_they_are() -> None:
    for text in ("Rehearsal room, 23 5/8\u2033", "Schränke für Noten", "Łódź, Ελλάδα, Жанна", "½ × Ø8 – €"):
        assert printed(text) == text
    assert printed("piano \U0001f3b9") == "piano ?"


def test_the_packet_says_which_letters_it_had_to_leave_out() -> None:
    """By their names, since it cannot print them."""
    made = Plan(replace(job(case(name="\u6f22 cabinet")), title="Piano \U0001f3b9"), packaged_workshop())
    section = caution_section(made)

    (warning,) = (b for b in section.blocks if getattr(b, "title", "") == "Names")
    assert "cjk unified ideograph-6f22, musical keyboard." in warning.text  # type: ignore[union-attr]
    assert told("\ue000") == "number e000"


def test_a_long_word_may_go_on_in_the_next_line_of_its_cell() -> None:
    """A board's name of 21 letters ran into the sizes beside it."""
    assert breakable("birch plywood 18 mm, 60.5") == "birch plywood 18 mm, 60.5"
    parted = breakable("Birkensperrholzplatte 18")
    assert parted.replace(MAY_BREAK, "") == "Birkensperrholzplatte 18"
    assert parted.startswith(f"Birkensp{MAY_BREAK}e{MAY_BREAK}r")
    assert printed(parted) == parted


_NARROW = """#set page(width: 60mm, height: auto, margin: 1mm)
#set text(font: "B612", size: 10pt)
#context for t in json("texts.json") { block(width: measure(t.at(0)).width + 0.2pt, text(t.at(0) + " " + t.at(1))) }
"""
_KINDS = "a1()[]{}!?/,.:;\u2026\"'_-=#\\%&+*<>|~^$@\u2013\u2014\u00bd\u00d7\u2032\u2033"


def test_the_typesetter_ends_no_line_at_just_the_spaces_that_are_reckoned_to_hold(tmp_path: Path) -> None:
    """A board called `=hc2 ]c{1c08` ran into the sizes beside it: no line ends before a closing bracket."""
    pairs = [(f"mmm{a}", f"{b}ooo") for c in _KINDS for a, b in (("n", c), (c, "n"))]
    (tmp_path / "texts.json").write_text(json.dumps(pairs), encoding="utf-8")
    (tmp_path / "page.typ").write_text(_NARROW, encoding="utf-8")
    with as_file(files("storyrod") / "data" / "fonts") as fonts:
        pdf = typst.compile(str(tmp_path / "page.typ"), root=str(tmp_path), font_paths=[str(fonts)])
    lines = iter("".join(r.text for r in line) for page in read_pages(pdf) for line in lines_of(page.runs))

    for a, b in pairs:
        first = read = next(lines)
        while not read.endswith("ooo"):  # a line may end within a word too
            read += next(lines)
        assert (first == a) == (" " in held(f"{a} {b}")), f"{a} {b}"


_NAMES = ("=hc2\\0 ]c{1c08", "WWWWWWWWWWWWWW", "a [ WWWWWWWWWWWW ]", "WWW\u00a0WWWW\u00a0WWWWW")
_HELD_TOGETHER = "\u00a0".join(["Birkensperrholz"] * 6)


@pytest.mark.parametrize("last", ["ply", _HELD_TOGETHER])
def test_a_name_of_any_letters_stays_in_its_column(last: str) -> None:
    """Also where the words of the columns together, each whole, are wider than the page."""
    columns = (wide("board", 0.6), wide("pieces, finished", 2.4), wide("sheets", 0.7))
    sizes = "; ".join(f"1 off 1,{n}50 \u00d7 450 (A{n})" for n in range(9))
    rows = [(name, sizes, "2 of 2,440 \u00d7 1,220") for name in (*_NAMES, last)]
    plan = Plan(job(case()), packaged_workshop())
    (page,) = read_pages(typeset(packet_of(plan, (Section(title="t", blocks=(table(columns, rows),)),))))
    heads = [next(r for r in page.runs if r.text == head) for head in ("board", "pieces, finished")]
    names = [r for r in page.runs if r.x0 < heads[1].x0 - 2 and page.foot < r.y < heads[0].y]

    assert not any(r.is_overprinted for r in page.runs)
    assert max(r.x1 for r in names) < heads[1].x0
    assert "".join(r.text for r in names).replace(" ", "").replace(MAY_BREAK, "") == re.sub(
        r"\s", "", "".join([*_NAMES, last])
    )


def test_a_job_in_letters_that_print_has_no_such_word() -> None:
    section = caution_section(Plan(job(case(name="Schrank für Noten")), packaged_workshop()))

    assert all(getattr(b, "title", "") != "Names" for b in section.blocks)


def test_a_caution_of_several_things_is_told_once() -> None:
    cautions = [
        Caution(code="x", about=f"case {c}", text="It tips.", do=do) for c, do in zip("LMR", "aba", strict=True)
    ]

    assert [(w.title, w.text) for w in _told_once(cautions)] == [
        ("case L; case R", "It tips. a"),
        ("case M", "It tips. b"),
    ]
