"""Storyrod in other places: languages of the machine, folders with odd names, no home, few letters on the terminal.

`python3 run.py harden places`. In each, a job is checked, planned into a folder and listed by a second look; every end
must be in words, with no traceback. A language that the machine has not is made from its sources where those are there
(`localedef`), in a folder of its own; in each the plan must be, byte for byte, that of C.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from benchmarks._timing import show_table

ROOT: Final = Path(__file__).resolve().parent.parent.parent
LANGUAGES: Final = ("C", "C.UTF-8", "POSIX", "tr_TR.UTF-8", "de_DE.UTF-8", "en_US.ISO-8859-1")
FOLDERS: Final = (
    "plain", "two words", "\u00e4\u00f6\u00fc \u4e2d\u6587 \U0001f3b5", "quote'\"$HOME", "-rf", "a;b&c|d", "%s{0}",
    "x" * 200, "line\nbreak", ".hidden", "\u0130\u0131", "trailing ",
)  # fmt: skip
ENCODINGS: Final = ("ascii", "cp1251", "cp437", "latin-1")


def run(words: Sequence[str], folder: Path, **surroundings: str | None) -> tuple[int, str]:
    """Run the command line in a folder; a surrounding that is None is taken away."""
    env = {**os.environ, **{k: v for k, v in surroundings.items() if v is not None}}
    for name in (k for k, v in surroundings.items() if v is None):
        env.pop(name, None)
    done = subprocess.run(
        [sys.executable, "-m", "storyrod", *words], cwd=folder, env=env, capture_output=True, check=False
    )
    return done.returncode, (done.stdout + done.stderr).decode("utf-8", "replace")


TAKEN: Final = "import locale; locale.setlocale(locale.LC_ALL, ''); print(locale.localeconv()['decimal_point'], end='')"
POINTS: Final = {"tr_TR.UTF-8": ",", "de_DE.UTF-8": ","}
"""What stands before the decimals there: by it is seen that a language is really in use."""


def made(language: str, folder: Path) -> None:
    """Make a language from its sources, where the machine has them; without them it goes on as in C."""
    name, _, letters = language.partition(".")
    if letters and name != "C" and shutil.which("localedef"):
        words = ["localedef", "-i", name, "-f", letters, str(folder / language)]
        subprocess.run(words, capture_output=True, check=False)


def in_use(language: str, **surroundings: str) -> bool:
    """Return whether a program that asks for a language gets it."""
    env = {**os.environ, **surroundings}
    told = subprocess.run([sys.executable, "-c", TAKEN], env=env, capture_output=True, text=True, check=False)
    return told.returncode == 0 and told.stdout == POINTS.get(language, ".")


def told_by(folder: Path) -> dict[str, bytes]:
    """Return what a plan's files tell a program: plan.json, the lists and the saw's steps."""
    return {p.name: p.read_bytes() for p in sorted(folder.rglob("*")) if p.suffix in {".json", ".csv", ".dxf"}}


def tried(root: Path) -> Iterator[tuple[str, int, str]]:
    """Yield what was tried, its exit status and what was said."""
    job = ROOT / "examples" / "first-box.toml"
    languages, plans = root / "languages", root / "plans"
    languages.mkdir()
    for n, language in enumerate(LANGUAGES):
        made(language, languages)
        around = {"LC_ALL": language, "LANG": language, "PYTHONUTF8": "0", "LOCPATH": str(languages)}
        there = "" if in_use(language, **around) else " (not on this machine: taken as C)"
        code, said = run(["plan", str(job), "--out", str(plans / str(n))], root, **around)
        if code == 0 and told_by(plans / str(n)) != told_by(plans / "0"):
            code, said = 99, "its plan is another than in C"
        yield f"LC_ALL={language}{there}", code, said
    for encoding in ENCODINGS:
        yield f"terminal in {encoding}", *run(["check", str(job)], root, PYTHONIOENCODING=encoding)
    yield "no HOME", *run(["check", str(job)], root, HOME=None, XDG_CACHE_HOME=None)
    yield "a HOME that is not there", *run(["check", str(job)], root, HOME="/no/such/home")
    for name in FOLDERS:
        folder = root / name
        folder.mkdir()
        shutil.copy(job, folder / f"{name[:100]}.toml")
        words = ["plan", "--print", "none", "--out", "./out", "--", f"{name[:100]}.toml"]
        code, said = run(words, folder, LC_ALL="C", PYTHONUTF8="0")
        if code == 2 and "--print" in said:  # an older version, which prints its packet
            code, said = run([w for w in words if w not in ("--print", "none")], folder, LC_ALL="C", PYTHONUTF8="0")
        if code == 0 and not (folder / "out" / "plan.json").is_file():
            code, said = 99, "no plan.json was written"
        yield f"planned in a folder called {name[:30]!r}", code, said


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where something failed."""
    argparse.ArgumentParser(prog="run.py harden places", description=__doc__).parse_args(argv)
    rows: list[list[object]] = []
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for what, code, said in tried(Path(folder)):
            bad = code != 0 or "Traceback" in said
            failed += bad
            rows.append([what, "failed" if bad else "well"])
            if bad:
                print(f"{what}: exit status {code}: {said[-600:]}")
    show_table(f"{len(rows)} places", ("where", "it went"), rows)
    print(f"{failed:>8}  failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
