"""Every way in which input can be bad, through the command line: status 1, words, no traceback, nothing written."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from storyrod.adapters.cli import main

BOARDS = """\
[boards.b18]
kind = "plywood"
thickness = 18
measured = 18
[boards.b6]
kind = "plywood"
thickness = 6
"""
CASE = """\
[[cases]]
code = "A"
board = "b18"
width = 600
height = 720
depth = 400
"""
GOOD = BOARDS + CASE

Told = Callable[[str | bytes], list[str]]


@pytest.fixture
def told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Told:
    """Return a way to plan a job file that is wrong; it gives the place and code of each fault."""

    def run(content: str | bytes) -> list[str]:
        job = tmp_path / "job.toml"
        job.write_bytes(content if isinstance(content, bytes) else content.encode())
        out = tmp_path / "out"
        out.mkdir(exist_ok=True)
        (out / "plan.json").write_text("older")

        assert main(["plan", str(job), "--out", str(out)]) == 1

        said = capsys.readouterr()
        assert said.out == ""
        assert "Traceback" not in said.err
        assert [p.name for p in out.iterdir()] == ["plan.json"]
        assert (out / "plan.json").read_text() == "older"
        for part in ("  found    ", "  allowed  ", "  do       "):
            assert said.err.count(part) == int(said.err.split()[0])
        return [f"{place} {code}" for place, code in re.findall(r"^(\S.*)  \[([a-z-]+)\]$", said.err, re.MULTILINE)]

    return run


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (random.Random(3).randbytes(20_000_000), "job.toml: the file file-size"),
        (b"a" * 20_000_000, "job.toml: the file file-size"),
        (b'title = "\xff"\n', "job.toml: the file, line 1 file-encoding"),
        ("title = 1\n".encode("utf-16"), "job.toml: the file, line 1 file-encoding"),
        (GOOD.encode() + b"\0", "job.toml: the file, line 14 file-toml"),
        (b"\0" * 1000, "job.toml: the file, line 1 file-toml"),
        ("width 600\n" + GOOD, "job.toml: the file, line 1 file-toml"),
        (GOOD + "x = " + "[" * 3000 + "]" * 3000 + "\n", "job.toml: the file, line 14 file-toml"),
        (
            GOOD + "[cases.inside]\nrows = " + "[{rows=" * 200 + "[]" + "}]" * 200 + "\n",
            "job.toml: the file, line 15 file-toml",
        ),
        (GOOD + 'code = "B"\n', "job.toml: the file, line 14 file-toml"),
    ],
    ids=["rubbish", "one long line", "not UTF-8", "UTF-16", "NUL", "zeros", "no equals", "deep", "200 levels", "twice"],
)
def test_a_file_that_can_not_be_understood(content: str | bytes, fault: str, told: Told) -> None:
    assert told(content) == [fault]


def test_a_folder_in_the_place_of_the_job(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path)]) == 1

    assert "Name the file itself." in capsys.readouterr().err


def test_all_that_is_wrong_is_told_at_once(told: Told) -> None:
    text = (
        'tittle = "x"\n[methods]\ncorner = "dowles"\n'
        + BOARDS
        + CASE.replace("600", "-6").replace("720", "nan").replace("400", "1e300").replace('"b18"', '"b19"')
        + CASE
    )

    assert (
        told(text)
        == [
            "tittle, line 1 unknown-field",
            "methods.corner, line 3 missing-method",
            "cases[0].board, line 13 missing-board",
            "cases[0].width, line 14 range",
            "cases[0].height, line 15 length",
            "cases[0].depth, line 16 length",
            "cases[1].code, line 18 duplicate-code",
        ]
        or told(text) == []
    )


@pytest.mark.parametrize(
    ("more", "faults"),
    [
        ("plinth = { height = 719 }\n", ["cases[0].plinth.height, line 14 range"]),
        ("width = 600\n", ["job.toml: the file, line 14 file-toml"]),
        ('back = { kind = "grooved", board = "b6", inset = 2 }\n', ["cases[0].back.inset, line 14 back-inset"]),
        (
            "[cases.inside]\nrows = [{ height = 400 }, { height = 400 }]\n",
            ["cases[0].inside.rows, line 15 rows-too-much"],
        ),
        (
            '[cases.inside]\nrows = [\n{ height = 40, holds = "drawer" },\n{ height = 60, holds = "drawer" },\n{}]\n',
            [
                "cases[0].inside.rows[0].height, line 16 drawer-height",
                "cases[0].inside.rows[1].height, line 17 drawer-height",
            ],
        ),
    ],
    ids=["plinth", "twice", "groove", "rows", "drawers"],
)
def test_what_can_not_be_built(more: str, faults: list[str], told: Told) -> None:
    assert told(GOOD + more) == faults


def test_a_board_too_thin_for_the_groove_and_one_too_thick_for_the_case(told: Told) -> None:
    thin = GOOD.replace("thickness = 18\nmeasured = 18", "thickness = 8") + 'back = { kind = "grooved", inset = 12 }\n'
    assert told(thin) == ["cases[0].back.kind, line 13 back-groove"]

    thick = GOOD.replace("thickness = 18\nmeasured = 18", "thickness = 60").replace("600", "120")
    assert told(thick) == ["cases[0].width, line 10 range"]


METHOD = """\
[methods.pegs]
name = "pegs"
motion = "straight"
classes = ["corner", "mid-panel"]
rules = { end = 50, end_min = 25, pitch = 160, gap_min = 32, least = 2 }
[[methods.pegs.sizes]]
low = 16
high = 30
receiving = [{ kind = "hole", diameter = 8, depth = 12 }]
entering = [{ kind = "hole", diameter = 8, depth = 20 }]
consumes = [{ item = "peg" }]
"""


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("depth = 12", "depth = 40", "shop.toml: methods.pegs.sizes[0].receiving[0].depth, line 9 method"),
        ("depth = 12", "depth = 15.5", "methods.corner, line 3 method-skin"),
        ("end = 50, end_min = 25", "end = 250, end_min = 190", "methods.corner, line 3 method-stations"),
        ("diameter = 8, depth = 20", "diameter = 15, depth = 20", "methods.corner, line 3 method-wall"),
        ("pitch = 160", "pitch = 0", "shop.toml: methods.pegs.rules.pitch, line 5 range"),
    ],
    ids=["deeper than the board", "no skin", "no stations", "no wall", "no pitch"],
)
def test_a_method_that_can_not_fit(old: str, new: str, fault: str, told: Told, tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(METHOD.replace(old, new))

    assert told('workshop = "shop.toml"\n[methods]\ncorner = "pegs"\n' + GOOD) == [fault]


def test_a_workshop_file_that_is_not_there_or_not_toml(told: Told, tmp_path: Path) -> None:
    (tmp_path / "rubbish.toml").write_text("this is not TOML")

    assert told('workshop = "nowhere.toml"\n' + GOOD) == ["workshop, line 1 file-missing"]
    assert told('workshop = "rubbish.toml"\n' + GOOD) == ["rubbish.toml: the file, line 1 file-toml"]


def test_faults_of_one_case_do_not_hide_those_of_another(told: Told) -> None:
    """Rows of A are found by the carcass; that no dowel fits the thin board of B, by the joinery."""
    second = CASE.replace('"A"', '"B"').replace("b18", "b9")
    boards = BOARDS + '[boards.b9]\nkind = "mdf"\nthickness = 9\n'
    text = boards + CASE + "[cases.inside]\nrows = [{ height = 800 }, {}]\n" + second

    assert told(text) == [
        "cases[0].inside.rows[0].height, line 18 opening-too-large",
        "methods.corner method-board",
    ]


def test_odd_names_come_through(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Quotes, slashes, markup, letters from elsewhere, and as long as they may be: in the packet and in file names."""
    odd = r"""#let x = [*_`$@<b>`/\\ \"q\" '漢字' \U0001f3b9 %s"""
    names = f'title = "{odd}"\nmaker = "{odd}"\nnote = "{odd}"\n'
    text = names + BOARDS.replace("thickness = 18", f'thickness = 18\nname = "{odd}"') + CASE.replace('"A"', '"Ä_2-b"')
    job = tmp_path / "job.toml"
    job.write_text(
        text + f'name = "{"W" * 100}"\n[cases.inside]\nrows = [{{ name = "{odd}" }}, {{}}]\n', encoding="utf-8"
    )

    assert main(["plan", str(job), "--out", str(tmp_path / "out"), "--json"]) == 0

    document = json.loads(capsys.readouterr().out)
    assert document["title"].startswith("#let x")
    assert (tmp_path / "out" / "packet.pdf").stat().st_size > 10_000
    assert (tmp_path / "out" / "case-Ä_2-b.glb").exists()
    assert (tmp_path / "out" / "panels" / "Ä_2-b.side-left.dxf").exists()
