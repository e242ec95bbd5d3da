"""What the pages say is so: links lead somewhere, snippets run, and nothing that a maker may meet is left untold."""

from __future__ import annotations

import ast
import contextlib
import importlib.util
import io
import re
import shlex
import shutil
import tomllib
from collections.abc import Iterator
from dataclasses import fields
from functools import cache
from pathlib import Path

import pytest

from storyrod.adapters.cli import main, make_parser
from storyrod.adapters.files import read_job
from storyrod.adapters.output import plan_document
from storyrod.measure.space import PanelAxis
from storyrod.model.job import Case, Drawers, Fronts, HandHold, Job, Limits, LooseShelves
from storyrod.model.panel import Panel
from storyrod.planning import Plan
from tests.places import EXAMPLES, ROOT
from tests.source_reading import PACKAGE, of_family, read_codes, unsourced

DOCS = ROOT / "docs"
PAGES = sorted([*ROOT.glob("*.md"), *DOCS.rglob("*.md")])

FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"(?<!\!)\[[^\]]*\]\(([^)\s]+)\)|!\[[^\]]*\]\(([^)\s]+)\)")


def page(name: str) -> str:
    return (DOCS / name).read_text(encoding="utf-8")


def snippets(text: str, language: str) -> list[str]:
    return [body for tongue, body in FENCE.findall(text) if tongue == language]


def ids_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


# Links


def slug(heading: str) -> str:
    plain = re.sub(r"[^\w\- ]", "", heading.replace("`", "").strip().lower())
    return plain.replace(" ", "-")


def anchors(path: Path) -> set[str]:
    text = FENCE.sub("", path.read_text(encoding="utf-8"))
    return {slug(h) for h in re.findall(r"^#+\s+(.*)$", text, re.MULTILINE)}


@pytest.mark.parametrize("path", PAGES, ids=ids_of)
def test_links_lead_somewhere(path: Path) -> None:
    text = FENCE.sub("", path.read_text(encoding="utf-8"))
    broken = []
    for target in (a or b for a, b in LINK.findall(text)):
        if re.match(r"https?:|mailto:", target):
            continue
        file, _, anchor = target.partition("#")
        place = (path.parent / file).resolve() if file else path
        if not place.exists() or (anchor and place.suffix == ".md" and anchor not in anchors(place)):
            broken.append(target)

    assert broken == [], f"{ids_of(path)} links to what is not there"


# The README


def test_the_readme_has_two_commands_and_both_are_understood() -> None:
    block = re.search(
        r"## Two commands.*?((?:^    [^\n]*\n)+)", (ROOT / "README.md").read_text(), re.DOTALL | re.MULTILINE
    )
    assert block is not None
    commands = [shlex.split(line) for line in block[1].splitlines()]

    assert [c[:2] for c in commands] == [["python3", "run.py"]] * 2
    plan, tests = (c[2:] for c in commands)
    assert tests == ["test"]
    assert '"test"' in (ROOT / "set_up.py").read_text(encoding="utf-8")
    told = make_parser().parse_args(plan)
    assert (ROOT / told.job).is_file()


def test_the_readme_begins_with_one_short_sentence() -> None:
    first = (ROOT / "README.md").read_text().split("\n\n")[1]

    assert len(first.split()) < 30
    assert "worth it" in first


@pytest.mark.slow
def test_every_command_of_the_readme_runs_on_the_files_that_it_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """In the text's own order, in an empty folder but for the examples; all but `test` and `open`."""
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    commands = re.findall(r"^    python3 run\.py (\w+.*)$", (ROOT / "README.md").read_text(), re.MULTILINE)
    left_out = [c for c in commands if c in {"test", "open"}]

    assert sorted(left_out) == ["open", "test"]
    for words in commands:
        if words not in left_out:
            quick = ["--print", "none"] if words.startswith("plan ") else []  # the packet has tests of its own
            assert main([*shlex.split(words), *quick]) == 0, words
    assert (tmp_path / "out/my-cabinet/plan.json").is_file()
    assert "Packer" in capsys.readouterr().out


def test_every_command_of_the_readme_is_understood() -> None:
    commands = re.findall(r"^    python3 run\.py (\w+.*)$", (ROOT / "README.md").read_text(), re.MULTILINE)

    for words in commands:
        if words != "test":
            assert make_parser().parse_args(shlex.split(words)).run is not None


# Snippets


@pytest.fixture
def in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder as a newcomer has it: the examples beside."""
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_first_cabinet_is_made_as_told(in_a_folder: Path) -> None:
    text = page("first-cabinet.md")
    commands = [shlex.split(line) for body in snippets(text, "console") for line in body.splitlines()]

    assert [c[:2] for c in commands] == [["storyrod", "new"], ["storyrod", "check"], ["storyrod", "plan"]]
    for words in commands:
        with contextlib.redirect_stdout(io.StringIO()) as out:
            assert main(words[1:]) == 0, out.getvalue()
    made = in_a_folder / "out" / "first-cabinet"
    named = re.findall(r"^\| (`.*?`) \|", text, re.MULTILINE)
    files = [n for n in re.findall(r"`([^`]+)`", " ".join(named)) if "." in n or "/" in n]
    assert len(files) > 8
    for name in files:
        assert (made / name).exists(), f"{name} is told in first-cabinet.md and was not written"


def test_the_snippets_of_the_notebook_page_run(in_a_folder: Path) -> None:
    names: dict[str, object] = {"__name__": "snippets"}
    blocks = snippets(page("notebook.md"), "python")

    assert len(blocks) >= 5
    with contextlib.redirect_stdout(io.StringIO()) as out:
        for number, body in enumerate(blocks, start=1):
            exec(compile(body, f"notebook.md, snippet {number}", "exec"), names)
    assert "case-too-small" in out.getvalue() or "range" in out.getvalue()
    assert (in_a_folder / "left-side.svg").read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize("path", PAGES, ids=ids_of)
def test_toml_snippets_are_toml(path: Path) -> None:
    for body in snippets(path.read_text(encoding="utf-8"), "toml"):
        tomllib.loads(body)


# Faults and cautions


@cache
def told_codes() -> dict[str, str]:
    """Return the codes of fault-codes.md with their paragraphs; one heading may stand for several."""
    found: dict[str, str] = {}
    for heading, body in re.findall(
        r"^### ([^\n]*)\n(.*?)(?=^##|\Z)", page("fault-codes.md"), re.MULTILINE | re.DOTALL
    ):
        for code in re.findall(r"`([^`]+)`", heading):
            assert code not in found, f"{code} has two paragraphs"
            found[code] = body
    return found


def test_every_code_in_the_source_can_be_read() -> None:
    """A code that is neither written out nor handed on needs tests/source_reading.py to learn its way."""
    assert read_codes().unread == []
    assert len(read_codes().exact) > 100


def test_every_fault_and_caution_has_its_paragraph() -> None:
    codes, told = read_codes(), told_codes()
    missing = sorted(f"{code} ({place})" for code, place in codes.exact.items() if code not in told)
    missing += [f"{f} ({p})" for f, p in codes.families.items() if not any(of_family(code, f) for code in told)]

    assert missing == [], "write a paragraph in docs/fault-codes.md for: " + ", ".join(missing)


def test_no_paragraph_is_left_of_a_code_that_is_gone() -> None:
    codes = read_codes()
    stale = [code for code in told_codes() if not codes.knows(code)]

    assert stale == [], "docs/fault-codes.md tells codes that the source no longer has"


def test_every_paragraph_tells_cause_example_and_ways_out() -> None:
    for code, body in told_codes().items():
        first = body.strip().splitlines()[0]
        assert not first.startswith("*"), f"{code}: no cause"
        assert "*Example:* " in body, f"{code}: no example"
        assert "*Ways out:* " in body, f"{code}: no way out"


def test_codes_are_read_however_they_are_handed_on() -> None:
    """The reader of the source is tested on the ways in which the source writes codes today."""
    codes = read_codes()

    assert codes.exact["clash"].startswith("joinery/")  # written where the fault is made
    assert "case-too-small" in codes.exact  # handed to a case in the making
    assert "method-skin" in codes.exact  # kept in a reason first
    assert "proof-mates" in codes.exact  # kept in a tally first
    assert "disk-full" in codes.exact  # looked up in a table
    assert "log-busy" in codes.exact  # looped over in a table
    assert "file-folder" in codes.exact  # handed to a function within a function
    assert "*-too-much" in codes.families  # made of parts


# Assumptions


@cache
def rows_of(name: str) -> list[list[str]]:
    lines = [line for line in page(name).splitlines() if line.startswith("| ") and not line.startswith("| ---")]
    return [[cell.strip() for cell in line.strip().strip("|").split(" | ")] for line in lines]


@cache
def told_figures() -> set[tuple[str, str]]:
    """Return (file, name) of every row of assumptions.md; a table of one file names it above its rows."""
    found: set[tuple[str, str]] = set()
    file = ""
    for line in page("assumptions.md").splitlines():
        if line.startswith("## "):
            file = ""
        whole = re.search(r"\*Where\* is `([^`]+)` for all", line)
        file = whole[1] if whole else file
        names = re.match(r"\| `([^`]+)` \|", line)
        if names:
            own = re.search(r"\| `([\w/]+\.(?:py|toml))` \|", line)
            found.add((own[1] if own else file, names[1]))
    return found


def test_every_figure_without_a_source_has_its_row() -> None:
    """Marked in the source by "common practice", "rule of thumb", "from memory", "no source" or "unsourced"."""
    missing = [str(one) for one in unsourced() if (one.file, one.owner) not in told_figures()]

    assert len(unsourced()) > 50
    assert missing == [], "write a row in docs/assumptions.md for: " + ", ".join(missing)


def test_no_row_is_left_of_a_figure_that_is_gone_or_has_a_source_now() -> None:
    here = {(one.file, one.owner) for one in unsourced()}
    stale = sorted(name for file, name in told_figures() if file and (file, name) not in here)

    assert stale == [], "docs/assumptions.md tells figures that the source no longer marks"


def test_values_told_of_constants_are_the_ones_in_the_code() -> None:
    for cells in rows_of("assumptions.md"):
        where = re.fullmatch(r"`([\w/]+\.py)`", cells[2]) if len(cells) > 3 else None
        name = re.fullmatch(r"`([A-Z_]+)`", cells[0])
        told = re.match(r"(\d+(?:\.\d+)?) ?(?:mm|kg|s\b|cuts|pitches|m/s|$)", cells[1])
        if where and name and told and (PACKAGE / where[1]).is_file():
            value = constant(PACKAGE / where[1], name[1])
            assert value == float(told[1]), f"{name[1]} is {value} in the code and {told[1]} in docs/assumptions.md"


def constant(path: Path, name: str) -> float:
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        target = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
        if isinstance(node, ast.Assign | ast.AnnAssign) and isinstance(target, ast.Name) and target.id == name:
            assert node.value is not None
            return float(ast.literal_eval(node.value))
    raise AssertionError(f"{path.name} has no {name}")


USUAL: dict[str, type] = {
    "limits": Limits,
    "fronts": Fronts,
    "drawers": Drawers,
    "loose_shelves": LooseShelves,
    "hand_hold": HandHold,
}


def test_usual_values_of_the_job_file_are_told_as_they_are() -> None:
    section = page("assumptions.md").split("## In a job file")[1].split("\n## ")[0]
    told = dict(re.findall(r"^\| `([\w.]+)` \| ([\d.]+) \|", section, re.MULTILINE))

    assert {name: float(value) for name, value in told.items()} == dict(usual_values(told))


def usual_values(names: dict[str, str]) -> Iterator[tuple[str, float]]:
    """Yield what the model takes for each name, and every length of the tables that a name was told of."""
    for name in names:
        if "." not in name:
            owner = Job if name in {f.name for f in fields(Job)} else Case
            (value,) = (f.default for f in fields(owner) if f.name == name)
            assert isinstance(value, int | float)
            yield name, float(value)
    for word, table in USUAL.items():
        for field in fields(table):
            # "At the front edge" needs no source: only lengths that someone chose are told.
            if isinstance(field.default, float) and field.default:
                yield f"{word}.{field.name}", field.default


# plan.json


def keys_of(value: object, path: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            here = f"{path}.{key}" if path else key
            if not isinstance(inner, dict | list):
                yield "connectors.*" if path == "connectors" else here
            elif isinstance(inner, list) and not any(isinstance(x, dict) for x in inner):
                # A list of plain values is one value; an empty one may be anything.
                if inner:
                    yield here
            else:
                yield from keys_of(inner, here)
    elif isinstance(value, list):
        for inner in value:
            yield from keys_of(inner, f"{path}[]")


@cache
def told_keys() -> frozenset[str]:
    return frozenset(re.findall(r"^\| `([^`]+)` \|", page("plan-json.md"), re.MULTILINE))


@pytest.mark.parametrize(
    "name", ["first-box.toml", "rehearsal-room.toml", "hymn-wall-cupboard.toml", "sheet-music-counter.toml"]
)
def test_every_key_of_plan_json_is_told(name: str) -> None:
    read = read_job(EXAMPLES / name)
    document = plan_document(Plan(read.job, read.workshop))
    missing = sorted(set(keys_of(document)) - told_keys())

    assert missing == [], "write a row in docs/plan-json.md for: " + ", ".join(missing)


def test_plan_json_has_all_that_is_told_at_its_top() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    document = plan_document(Plan(read.job, read.workshop))

    assert {re.split(r"[.\[]", key)[0] for key in told_keys()} == set(document)


# Pictures and conventions


@cache
def picture_maker() -> dict[str, object]:
    spec = importlib.util.spec_from_file_location("make_pictures", DOCS / "pictures" / "make.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    pictures = module.PICTURES
    assert isinstance(pictures, dict)
    return pictures


def test_every_picture_can_be_drawn_anew_and_is_shown_somewhere() -> None:
    drawn = picture_maker()
    kept = {p.stem for p in (DOCS / "pictures").glob("*.svg")}
    shown = {Path(b).stem for p in PAGES for _, b in LINK.findall(p.read_text(encoding="utf-8")) if b.endswith(".svg")}

    assert kept == set(drawn)
    assert kept <= shown
    for draw in drawn.values():
        assert callable(draw)
        assert draw().items


def test_the_table_of_frames_is_what_panels_have() -> None:
    """Face edge and datum end by role, as conventions.md tells them, against a real case."""
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    panels = Plan(read.job, read.workshop).details.cases[0].panels
    table = page("conventions.md").split("| panel | face side | face edge | datum end |")[1].split("\n\n")[0]
    told = {c.strip(): cells[2:4] for cells in _cells(table) for c in re.split(", | and ", cells[0])}
    named = {"side left": "left", "side right": "right side", "drawer box front": "box front"}

    assert len(panels) > 10
    for panel in panels:
        name = named.get(panel.role.value, panel.role.value)
        assert told[name] == [_beginning(panel, PanelAxis.V), _beginning(panel, PanelAxis.U)], panel.name


def _cells(table: str) -> Iterator[list[str]]:
    for line in table.splitlines():
        if line.startswith("| ") and "---" not in line:
            yield [cell.strip() for cell in line.strip("| ").split("|")]


def _beginning(panel: Panel, axis: PanelAxis) -> str:
    return {"up": "bottom", "back": "front", "right": "left"}[panel.frame.direction(axis).word]
