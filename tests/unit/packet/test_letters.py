"""Letters that no face of the packet has: told, and printed as a question mark instead of an empty box."""

from __future__ import annotations

import json
import random
import re
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import typst

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.packet._cover import _told_once, caution_section
from storyrod.adapters.packet._letters import MAY_BREAK, _printable, breakable, missing, printed, told
from storyrod.faults import Caution
from storyrod.planning import Plan
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
    sample = random.Random(7).sample(sorted(_printable() - {10, 9, ord("@")}), 400)
    box, *found = drawn(["\u6f22", *map(chr, sample)], tmp_path)

    assert [hex(c) for c, glyphs in zip(sample, found, strict=True) if box[0] in glyphs] == []


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
