"""The command line: exit status, words, and that no traceback reaches a maker."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from pypdf import PdfReader

from storyrod.adapters.cli import main
from tests.places import EXAMPLES


def test_plan_writes_everything_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["plan", str(EXAMPLES / "first-box.toml"), "--out", str(tmp_path)])

    said = capsys.readouterr()
    assert status == 0
    assert "checks, none failed" in said.out
    made = (
        "plan.json",
        "packet.pdf",
        "cutting-list.csv",
        "connectors.csv",
        "buying-list.csv",
        "case-A.glb",
        "case-A.stl",
    )
    for name in made:
        assert (tmp_path / name).stat().st_size > 0
    assert sorted(p.name for p in tmp_path.glob("*.pdf")) == [
        "buying-list.pdf",
        "labels.pdf",
        "packet.pdf",
    ]  # a price is missing
    assert len(list((tmp_path / "panels").glob("*.dxf"))) == 5


def test_no_quotation_where_a_customer_would_get_something_for_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The first box has no price of its sheet and no hourly rate: it is refused, and both are named."""
    plan = ["plan", str(EXAMPLES / "first-box.toml"), "--out", str(tmp_path), "--print", "quotation"]
    assert main(plan) == 0

    said = capsys.readouterr().out
    assert not (tmp_path / "quotation.pdf").exists()
    assert "no price for 1 sheet of 18 mm plywood" in said
    assert "minutes of work" in said
    assert main([*plan, "--quote-without"]) == 0
    text = PdfReader(tmp_path / "quotation.pdf").pages[0].extract_text()
    assert "This price is without 18 mm plywood and the work itself." in " ".join(text.split())


def test_the_papers_that_are_asked_for_are_made_and_no_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = ["plan", str(EXAMPLES / "first-box.toml"), "--out", str(tmp_path), "--print"]
    assert main([*plan, "rods", "--rods", "A3"]) == 0
    assert [p.name for p in tmp_path.glob("*.pdf")] == ["rods.pdf"]
    words = "".join(page.extract_text() for page in PdfReader(tmp_path / "rods.pdf").pages)
    assert "A3 + A4 + A5" in words
    assert "A1 + A2" not in words
    assert main([*plan, "rods", "--rods", "A99"]) == 1
    assert main([*plan, "rods, wheels"]) == 2
    said = capsys.readouterr().err
    assert '"A99"' in said
    assert 'found "wheels"; allowed: bench, ' in said


def test_plan_json_is_the_same_as_the_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["plan", str(EXAMPLES / "first-box.toml"), "--out", str(tmp_path), "--json", "--print", "none"])

    assert status == 0
    assert not (tmp_path / "quotation.pdf").exists()
    assert json.loads(capsys.readouterr().out) == json.loads((tmp_path / "plan.json").read_text())


def test_the_folder_is_named_after_the_job_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["plan", str(EXAMPLES / "first-box.toml"), "--print", "none"]) == 0

    assert (tmp_path / "out" / "first-box" / "plan.json").exists()
    assert "out/first-box" in capsys.readouterr().out.replace(os.sep, "/")


def test_check_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["check", str(EXAMPLES / "first-box.toml")]) == 0

    assert list(tmp_path.iterdir()) == []
    assert (
        "Peg box: can be built. Plan version" in capsys.readouterr().out
    )  # it may tip: that is one of the things to watch


def test_check_with_solids_calls_the_second_witness(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLES / "first-box.toml"), "--solids"]) == 0

    assert "second witness" in capsys.readouterr().out


def test_faults_are_told_with_field_line_and_way_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (EXAMPLES / "first-box.toml").read_text(encoding="utf-8")
    broken = tmp_path / "broken.toml"
    broken.write_text(text.replace("width = ", "widht = ", 1), encoding="utf-8")
    before = broken.read_bytes()

    assert main(["plan", str(broken), "--out", str(tmp_path / "out")]) == 1
    said = capsys.readouterr().err
    assert "widht" in said
    assert "line " in said
    assert "width" in said
    assert not (tmp_path / "out").exists()
    assert broken.read_bytes() == before


def test_a_fault_of_a_later_stage_has_its_line_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Rows that ask for more than the opening are found by the carcass stage; the line is the file's."""
    text = (EXAMPLES / "first-box.toml").read_text(encoding="utf-8")
    broken = tmp_path / "broken.toml"
    broken.write_text(text.replace("rows = [{}, {}]", "rows = [{ height = 9000 }, {}]"), encoding="utf-8")
    number = next(n for n, line in enumerate(text.splitlines(), start=1) if line.startswith("rows = "))

    assert main(["check", str(broken)]) == 1
    said = capsys.readouterr().err
    assert "cases[0].inside.rows" in said
    assert f"line {number}" in said


def test_faults_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path / "nowhere.toml"), "--json"]) == 1

    (fault,) = json.loads(capsys.readouterr().out)["faults"]
    assert fault["do"]


@pytest.mark.parametrize("words", [["saw"], ["plan"], ["plan", "--out"]])
def test_bad_use_is_status_two(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 2

    said = capsys.readouterr()
    assert "storyrod" in said.out + said.err


def test_new_writes_a_job_that_can_be_planned_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "stand.toml"
    assert main(["new", str(path), "--width", "60 cm", "--height", "720", "--depth", "400"]) == 0
    assert main(["check", str(path)]) == 0

    assert "stand.toml" in capsys.readouterr().out


def test_new_in_inches(tmp_path: Path) -> None:
    path = tmp_path / "stand.toml"
    words = ["--inches", "--width", '23 5/8"', "--height", "30", "--depth", "16", "--plinth", "3", "--drawers", "0"]

    assert main(["new", str(path), *words]) == 0
    assert main(["check", str(path)]) == 0


@pytest.mark.parametrize(
    ("words", "options"),
    [
        (["--width", "80", "--height", "60", "--depth", "60", "--plinth", "0", "--drawers", "0"], ["the case"]),
        (["--height", "300", "--drawers", "20", "--plinth", "0"], ["--drawers"]),
        (["--width", "9000", "--depth", "5000"], ["--width", "--depth"]),
        (["--depth", "100"], ["--depth"]),
        (["--plinth", "700"], ["--plinth"]),
        (["--drawers", "-1"], ["--drawers"]),
    ],
)
def test_new_writes_nothing_that_could_not_be_planned(
    words: list[str], options: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "odd.toml"

    assert main(["new", str(path), *words]) == 1

    said = capsys.readouterr().err
    told = [line.split("  [")[0] for line in said.splitlines() if line.endswith("]")]
    assert list(dict.fromkeys(told)) == options
    assert not path.exists()


@pytest.mark.parametrize(
    "words",
    [
        ["--width", "5000", "--height", "4000", "--depth", "2000"],
        ["--width", "150", "--height", "200", "--depth", "150", "--plinth", "0", "--drawers", "0"],
        ["--inches", "--width", "24", "--height", "30", "--depth", "15 3/4", "--plinth", "3", "--drawers", "3"],
    ],
)
def test_new_for_odd_sizes_can_be_planned(words: list[str], tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"

    assert main(["new", str(path), *words]) == 0
    assert main(["check", str(path)]) == 0


def test_new_never_overwrites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("mine")

    assert main(["new", str(path), "--width", "wide"]) == 1
    assert path.read_text() == "mine"
    said = capsys.readouterr().err
    assert "--width" in said
    assert "never overwritten" in said


def test_a_mistake_of_ours_has_no_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from storyrod.adapters import files

    def slip(_: object) -> None:
        raise RuntimeError("slip")

    monkeypatch.setattr(files, "read_job", slip)
    monkeypatch.delenv("STORYROD_DEBUG", raising=False)
    assert main(["check", "any.toml"]) == 3

    said = capsys.readouterr().err
    assert "Traceback" not in said
    assert "not in your job" in said


def test_check_imports_nothing_heavy() -> None:
    """The solid kernel, the typesetter, the DXF writer and their like are not imported by `check`."""
    heavy = ("manifold3d", "trimesh", "typst", "ezdxf", "ortools", "sqlalchemy", "starlette", "tomlkit", "numpy")
    code = (
        "import sys; from storyrod.adapters.cli import main; "
        f"status = main(['check', {str(EXAMPLES / 'first-box.toml')!r}]); "
        f"print([m for m in {heavy!r} if m in sys.modules], status)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.splitlines()[-1] == "[] 0"


def test_a_read_only_folder_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Root may write anywhere, so the refusal itself is put in the way."""

    def refused(**_: object) -> str:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(tempfile, "mkdtemp", refused)
    assert main(["plan", str(EXAMPLES / "first-box.toml"), "--out", str(tmp_path / "out")]) == 1

    said = capsys.readouterr().err
    assert "--out" in said
    assert "Permission denied" in said


def test_what_to_watch_comes_before_what_was_proven(capsys: pytest.CaptureFixture[str]) -> None:
    """At the bench a list of checks is in the way: it is one line, and whole when asked for."""
    assert main(["check", str(EXAMPLES / "first-box.toml")]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[2] == "3 things to watch:"
    assert said[3].startswith("  case A: It would tip over")
    assert said[-1].startswith("Proven by 23 checks, none failed")
    assert said[5].startswith("  case A: A glue-up takes longer than the 5 min the glue stays open"), (
        "after what can hurt"
    )
    assert len(said) == 8

    assert main(["check", str(EXAMPLES / "first-box.toml"), "--why"]) == 0
    whole = capsys.readouterr().out.splitlines()
    assert whole[:6] == said[:6]
    assert whole[7] == "Proven:"
    assert len(whole) == 8 + 23
