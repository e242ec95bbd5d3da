"""Hostile and plausible files by the thousand: each is told its faults, or planned whole; none breaks anything.

`python3 run.py harden [jobs | workshops] [--files N] [--seed S] [--packet] [--quick]`. Every file is made from an
example by mutations drawn from the seed and its number, so that one that fails can be made again: `--only NUMBER`. A
table tells what was tried and what failed: a traceback, more than 30 s of processor time, more than 1 GB of memory.

The rest by its own word: `pages` (every stage of each sound job, asked of a server), `kills` (while files are
written), `power` (what was not yet on the disk is dropped), `ticks` (the server is killed under tablets), `tablets`
(the same under pages in Chromium), `cuts` (what the log's database did not sync is dropped), `doors` (every route and
socket from the wrong side), `places` (other languages, folders and homes).
"""

from __future__ import annotations

import argparse
import contextlib
import functools
import importlib
import random
import re
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from storyrod.adapters.files import job_from_text
from storyrod.adapters.output import plan_document
from storyrod.faults import OUR_SLIP, Fault, JobError
from storyrod.planning import Plan

ROOT: Final = Path(__file__).resolve().parent.parent.parent
EXAMPLES: Final = ROOT / "examples"
WORKSHOP: Final = "choir-workshop.toml"
ITS_JOB: Final = "hymn-book-unit.toml"
"""The job that each mutated workshop file is tried with."""

OTHERS: Final = ("pages", "kills", "power", "ticks", "tablets", "cuts", "doors", "places")
"""What else is tried, each by its own module."""

OF_THE_PLAN: Final = ("proof-", "replay", "run-check", "buying-list", "half-missing")
"""How the codes of faults begin that are found in what was planned, not in what was asked for."""

BY_THE_PLAN: Final = "told by a check of the plan alone"

MOST_S: Final = 30.0
MOST_MB: Final = 1024
PIECE: Final = 250
"""How many files a worker takes at a time."""

QUICK_ROUNDS: Final = 60

ODD_VALUES: Final = (
    "0", "-1", "1", "0.001", "156.1", "3.175", "1e9", "1e308", "nan", "inf", "-inf", "true", "[]", "{}", '""', '"x"',
    "'1/8\"'", "'5/64\"'", "'23 5/8\"'", '"60 cm"', "1979-05-27", "[[1]]", "{a = 1}", '"' + "x" * 3000 + '"', "9" * 30,
    '"<script>alert(1)</script>"', '"=1+1"', '"../../x"', '"\\u202e\\u0000"', '"dowels"', '"drawer"', '"plywood"',
)  # fmt: skip
"""Values put in the place of others, whatever was there."""

LINES: Final = (
    "matching_grain = true", "edged = false", 'spread = "shared"', "mark_to = 0.1", "mark_to = 5", 'units = "in"',
    "[use]", "fixed_to_wall = true", "count = 7", 'workshop = "choir-workshop.toml"', "[[cases]]", 'code = "A"',
    "plinth = { height = 100, setback = 40 }", 'back = { kind = "grooved", inset = 15 }', "[limits]", "skin = 1",
    "wall = 5", "[methods]", 'corner = "cams"', 'mid_panel = "biscuits"', "columns = [{}, {}, {}]", "rows = [{}, {}]",
)  # fmt: skip


@dataclass(slots=True)
class Tally:
    """What was tried, and what failed."""

    counts: Counter[str] = field(default_factory=Counter)
    failed: list[str] = field(default_factory=list)
    slowest: float = 0.0
    most_mb: float = 0.0

    def add(self, other: Tally) -> None:
        """Count what another worker tried with what is counted here."""
        self.counts += other.counts
        self.failed += other.failed
        self.slowest = max(self.slowest, other.slowest)
        self.most_mb = max(self.most_mb, other.most_mb)


# Making files --------------------------------------------------------------------------------------------------------


def made(seed: int, number: int) -> str:
    """Return the text of one file: an example, changed once to eight times."""
    chance = random.Random(f"{seed} {number}")
    paths = sorted(p for p in EXAMPLES.glob("*.toml") if "workshop" not in p.name)
    text = chance.choice(paths).read_text(encoding="utf-8")
    kind = chance.random()
    acts = SIZES if kind < 0.5 else PLAUSIBLE if kind < 0.7 else (*PLAUSIBLE, *HOSTILE)
    for _ in range(chance.randint(1, 4 if kind < 0.7 else 8)):
        text = chance.choice(acts)(text, chance)
    return text


def made_workshop(seed: int, number: int) -> str:
    """Return the text of one workshop file: the example's, changed once to eight times."""
    chance = random.Random(f"workshop {seed} {number}")
    text = (EXAMPLES / WORKSHOP).read_text(encoding="utf-8")
    kind = chance.random()
    acts = SIZES if kind < 0.5 else PLAUSIBLE if kind < 0.7 else (*PLAUSIBLE, *HOSTILE)
    for _ in range(chance.randint(1, 4 if kind < 0.7 else 8)):
        text = chance.choice(acts)(text, chance)
    return text


def _other_size(text: str, chance: random.Random) -> str:
    found = list(re.finditer(r"(?<== )\d+(?:\.\d+)?(?=\s|,|$| })", text, re.MULTILINE))
    if not found:
        return text
    at = chance.choice(found)
    value = float(at[0]) * chance.choice([0.3, 0.5, 0.8, 0.97, 1.03, 1.2, 1.7, 2.5])
    written = f"{value:.0f}" if chance.random() < 0.6 else f"{value:.{chance.randint(1, 5)}f}"
    return text[: at.start()] + written + text[at.end() :]


def _other_word(text: str, chance: random.Random) -> str:
    words = sorted(set(re.findall(r'"[a-z ]{3,20}"', text)))
    if len(words) < 2:
        return text
    one, other = chance.sample(words, 2)
    return text.replace(one, other, chance.randint(1, 2))


def _line_of_another(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    lines.insert(chance.randrange(len(lines) + 1), chance.choice(LINES))
    return "\n".join(lines)


def _line_out(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines) or "\n"


def _odd_value(text: str, chance: random.Random) -> str:
    found = list(re.finditer(r"(?<== )[^\n#{\[]+", text))
    if not found:
        return text
    at = chance.choice(found)
    return text[: at.start()] + chance.choice(ODD_VALUES) + text[at.end() :]


def _line_again(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    line = chance.choice(lines)
    at = chance.randrange(len(lines) + 1)
    return "\n".join([*lines[:at], *[line] * chance.choice([1, 1, 2, 300]), *lines[at:]])


def _letters(text: str, chance: random.Random) -> str:
    at = chance.randrange(len(text) + 1)
    junk = "".join(chance.choice("[]{}=.,\"'#\\\n\0é\u202e0-aZ") for _ in range(chance.randint(1, 40)))
    return text[:at] + junk + text[at + chance.randint(0, 20) :]


def _much(text: str, chance: random.Random) -> str:
    much = ("a" + ".a" * 5000 + " = 1", "x = " + "[" * 900 + "]" * 900, "\n".join(f"u{n} = 1" for n in range(3000)))
    return text + "\n" + chance.choice(much) + "\n"


SIZES: Final = (_other_size,)
PLAUSIBLE: Final[tuple[Callable[[str, random.Random], str], ...]] = (
    _other_size, _other_size, _other_size, _other_word, _line_of_another, _line_out,
)  # fmt: skip
HOSTILE: Final[tuple[Callable[[str, random.Random], str], ...]] = (_odd_value, _line_again, _letters, _much)


# Trying them ---------------------------------------------------------------------------------------------------------


def try_text(text: str, *, packet: bool, quick: bool = False, folder: Path = EXAMPLES) -> str:
    """Read a text and, where it is sound, plan it whole; return how far it came.

    With `quick` the sheets are laid out in a few rounds: most of the time of a plan goes into laying them out well.
    """
    try:
        read = job_from_text(text, name="job.toml", folder=folder)
    except JobError as error:
        return _told(error, "told its faults")
    plan = Plan(read.job, read.workshop)
    try:
        if plan.faults:
            return _told_by_checks(plan.faults, "told what the checks found")
        if quick:
            plan = _laid_out_soon(plan)
        plan_document(plan)
        plan.saw_lists, plan.part_labels, plan.account, plan.cautions  # noqa: B018  # worked out when asked for
        if packet:
            from storyrod.adapters.packet import make_book

            make_book(plan)
    except JobError as error:
        return _told_by_checks(error.faults, _told(read.located(error), "told why it cannot be built"))
    return "planned whole"


def _told_by_checks(faults: Iterable[Fault], outcome: str) -> str:
    """Return the outcome, or `BY_THE_PLAN` where a check of the finished plan found what no stage had told.

    Then the plan was wrong, not the job: nothing goes out wrong, but a maker cannot mend it.
    """
    ours = any(fault.do == OUR_SLIP or fault.code.startswith(OF_THE_PLAN) for fault in faults)
    return BY_THE_PLAN if ours else outcome


def try_workshop(text: str, *, packet: bool, quick: bool = False) -> str:
    """Read a job by a workshop file of this text, and go on as with a job's."""
    job = (EXAMPLES / ITS_JOB).read_text(encoding="utf-8")
    if "workshop = " not in job:
        job = f'workshop = "{WORKSHOP}"\n{job}'
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, WORKSHOP).write_text(text, encoding="utf-8")
        return try_text(job, packet=packet, quick=quick, folder=Path(folder))


def _laid_out_soon(plan: Plan) -> Plan:
    from storyrod.sheets import lay_out

    boards = {s.board for s in plan.stock}
    parts = [p for p in plan.parts if p.board in boards]
    return plan.with_sheets(lay_out(parts, plan.stock, plan.cut_rules, rounds=QUICK_ROUNDS))


def _told(error: JobError, how: str) -> str:
    """See that every fault says what was found, what is allowed and what to do."""
    for fault in error.faults:
        if not (fault.found and fault.allowed and fault.do):
            raise AssertionError(f"a fault without words: {fault}")
    return how


def run(
    numbers: Sequence[int],
    seed: int,
    *,
    packet: bool = False,
    quick: bool = False,
    workshops: bool = False,
    say: Callable[[str], None] = print,
) -> Tally:
    """Try the files of some numbers; ended by hand (Ctrl+C), tell what was tried until then."""
    tally = Tally()
    with contextlib.suppress(KeyboardInterrupt):
        _try_each(tally, numbers, seed, packet=packet, quick=quick, workshops=workshops, say=say)
    tally.most_mb = memory_mb()
    return tally


def run_beside(
    numbers: Sequence[int], seed: int, kinds: dict[str, bool], *, workers: int, say: Callable[[str], None] = print
) -> Tally:
    """Try the files of some numbers in several processes, `PIECE` at a time; the same files fail as in one."""
    tally = Tally()
    pieces = [numbers[at : at + PIECE] for at in range(0, len(numbers), PIECE)]
    with ProcessPoolExecutor(workers) as pool, contextlib.suppress(KeyboardInterrupt):
        tried = 0
        for done in as_completed([pool.submit(_piece, piece, seed, kinds) for piece in pieces]):
            found, size = done.result()
            tally.add(found)
            tried += size
            say(f"{tried} files, {len(tally.failed)} failed")
    return tally


def _piece(numbers: Sequence[int], seed: int, kinds: dict[str, bool]) -> tuple[Tally, int]:
    def say(told: str) -> None:
        if told.startswith("number"):  # how many were tried is said by the one who waits for all
            print(told, flush=True)

    return run(numbers, seed, **kinds, say=say), len(numbers)


def _try_each(  # keyword-only, as `run` has them
    tally: Tally,
    numbers: Sequence[int],
    seed: int,
    *,
    packet: bool,
    quick: bool,
    workshops: bool,
    say: Callable[[str], None],
) -> None:
    for number in numbers:
        text = made_workshop(seed, number) if workshops else made(seed, number)
        trying, began = try_workshop if workshops else try_text, time.process_time()
        try:
            outcome = trying(text, packet=packet, quick=quick)
            tally.counts[outcome] += 1
            if outcome == BY_THE_PLAN:
                say(f"number {number}: {outcome}")
        except Exception:  # noqa: BLE001  # what is looked for
            last = traceback.format_exc().strip().splitlines()
            where = next((line.strip() for line in reversed(last) if line.strip().startswith("File")), "")
            tally.failed.append(f"number {number}: {last[-1][:200]} at {where}")
        took = time.process_time() - began
        tally.slowest = max(tally.slowest, took)
        if took > MOST_S:
            tally.failed.append(f"number {number}: {took:.0f} s of processor time")
        if number % 100 == 99:
            say(f"{number + 1} files, {len(tally.failed)} failed")


def memory_mb() -> float:
    """Return the most memory this process ever had (MB); 0 where the system does not tell.

    Linux hands its `ru_maxrss` on to every program that is started: begun from a large process, a small one is told
    large. `VmHWM` is of this program alone.
    """
    with contextlib.suppress(OSError):
        found = re.search(r"^VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text(encoding="ascii"), re.MULTILINE)
        if found:
            return int(found[1]) / 1024
    with contextlib.suppress(ImportError):
        import resource

        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        return most / (1024 if sys.platform != "darwin" else 1024 * 1024)
    return 0.0


def rows(tally: Tally, seed: int) -> Iterator[str]:
    """Yield the table of what was tried and what failed."""
    yield f"seed {seed}"
    for what, count in sorted(tally.counts.items()):
        yield f"{count:>8}  {what}"
    yield f"{tally.slowest:>8.1f}  seconds of processor time for the slowest"
    yield f"{len(tally.failed):>8}  failed"
    yield from (f"          {told}" for told in tally.failed)


def main(argv: Sequence[str] | None = None) -> int:
    """Try as many files as are asked for; the exit status is 1 where one failed."""
    words = list(sys.argv[1:] if argv is None else argv)
    if words and words[0] in OTHERS:
        return int(importlib.import_module(f"benchmarks.harden.{words[0]}").main(words[1:]))
    parser = argparse.ArgumentParser(prog="run.py harden", description=__doc__)
    parser.add_argument("what", nargs="?", choices=("jobs", "workshops"), default="jobs", help="which files are made")
    parser.add_argument("--files", type=int, default=500, metavar="N")
    parser.add_argument("--seed", type=int, default=None, metavar="S", help="one drawn by chance unless said")
    parser.add_argument("--only", type=int, default=None, metavar="NUMBER", help="the file of this number alone")
    parser.add_argument("--packet", action="store_true", help="make the packet of each sound job as well")
    parser.add_argument("--quick", action="store_true", help="lay the sheets out in a few rounds")
    parser.add_argument("--workers", type=int, default=1, metavar="N", help="how many processes share the files")
    parser.add_argument("--show", action="store_true", help="with --only: print the file, and do not try it")
    arguments = parser.parse_args(words)
    seed = random.SystemRandom().randrange(10**6) if arguments.seed is None else arguments.seed
    if arguments.only is not None and arguments.show:
        print((made_workshop if arguments.what == "workshops" else made)(seed, arguments.only))
        return 0
    workshops = arguments.what == "workshops"
    numbers = range(arguments.files) if arguments.only is None else [arguments.only]
    print(f"seed {seed}", flush=True)
    kinds = {"packet": arguments.packet, "quick": arguments.quick, "workshops": workshops}
    say = functools.partial(print, flush=True)
    if arguments.workers > 1:
        tally = run_beside(numbers, seed, kinds, workers=arguments.workers, say=say)
    else:
        tally = run(numbers, seed, **kinds, say=say)
    if tally.most_mb > MOST_MB:
        tally.failed.append(f"{tally.most_mb:.0f} MB of memory")
    print("\n".join(rows(tally, seed)))
    print(f"{tally.most_mb:>8.0f}  MB of memory at the most")
    return 1 if tally.failed else 0


if __name__ == "__main__":
    sys.exit(main())
