"""The rules by which panels are sized, joints found, stations spread and marks rounded, each taken out in turn.

`python -m benchmarks.mutants.named [WORD]` changes the code of one rule after the other (those with the word in their
name) and runs the tests that are about it; it tells which rule no test notices, and returns 1 where there is one.
A test holds every text that is changed here against the code.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchmarks.mutants.mutants import ROOT, SOURCE, Mutant, tried

SETOUT: Final = ("tests/unit/setout", "tests/unit/proof/test_printed.py", "tests/unit/test_hand_worked_jobs.py")
STATIONS: Final = ("tests/unit/joinery/test_spread_of_stations.py", "tests/unit/joinery/test_sizes_that_joints_give.py")
SHELL: Final = (
    "tests/unit/carcass/test_shell.py",
    "tests/unit/carcass/test_sums.py",
    "tests/unit/carcass/test_back.py",
)
BACK: Final = ("tests/unit/carcass/test_back.py", "tests/unit/test_hand_worked_jobs.py")
FRONTS: Final = ("tests/unit/carcass/test_fronts_and_doors.py",)
JOINTS: Final = (
    "tests/unit/joinery/test_contacts_found.py",
    "tests/unit/joinery/test_cuts_on_both_panels.py",
    "tests/unit/joinery/test_clashes.py",
)


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule, the text of the code that keeps it, what stands there without it, and the tests that are about it."""

    name: str
    module: str
    was: str
    now: str
    tests: tuple[str, ...]

    @property
    def mutant(self) -> Mutant:
        """The module without the rule."""
        path = SOURCE.joinpath(*f"storyrod.{self.module}".split(".")).with_suffix(".py")
        source = path.read_text(encoding="utf-8")
        line = source[: source.index(self.was)].count("\n") + 1
        return Mutant(f"storyrod.{self.module}", path, line, 0.0, source.replace(self.was, self.now, 1))


RULES: Final = (
    Rule(
        "a flush corner line is not rounded",
        "setout._standing",
        "    if any(j.at_corner for j in joints):\n        return True\n",
        "",
        SETOUT,
    ),
    Rule(
        "the line of a panel that something is fitted to is not rounded",
        "setout._standing",
        "any(f.surface in _FACES and not f.joint for f in case.on(panel.id))",
        "False",
        SETOUT,
    ),
    Rule(
        "lines round an opening with a drawer or door are not rounded",
        "setout._standing",
        "or any(_lies_against(box, panel) for box in fitted)",
        "",
        SETOUT,
    ),
    Rule(
        "a line against which another panel stands is not rounded",
        "setout._standing",
        "or _is_stood_against(panel, {j.receiving for j in joints}, case.panels)",
        "",
        SETOUT,
    ),
    Rule(
        "a line is rounded to the step",
        "setout._standing",
        "(rounded_to(distance, step) - distance) * datum.sign",
        "0.0",
        SETOUT,
    ),
    Rule(
        "a joint's cuts go with its line",
        "setout._rounding",
        "_sum(lines[joint.id], station) if key[2] else station",
        "station",
        SETOUT,
    ),
    Rule(
        "a station is rounded along its joint",
        "setout._rounding",
        "STILL.with_(joint.run.axis, by * joint.run.sign) if by else STILL",
        "STILL",
        SETOUT,
    ),
    Rule(
        "both halves have one move across the board",
        "setout._rounding",
        "station = _sum(station, across.get(joint.id, STILL))",
        "pass",
        SETOUT,
    ),
    Rule(
        "a pattern is rounded as one",
        "setout._rounding",
        "        elif feature.pattern:\n            moves[feature.id] = patterns[feature.pattern]\n",
        "",
        SETOUT,
    ),
    Rule(
        "what lies on an edge itself is not rounded off it",
        "setout._rounding",
        "if axis is flat or at < step or at > end - step:",
        "if axis is flat:",
        SETOUT,
    ),
    Rule(
        "a ladder has one more station where over a pitch is left",
        "joinery._stations",
        "if length - reached > rules.pitch + DUST:",
        "if False:",
        STATIONS,
    ),
    Rule(
        "a ladder ends at the least distance from the end",
        "joinery._stations",
        "last = length - rules.end_min + DUST",
        "last = length + DUST",
        STATIONS,
    ),
    Rule(
        "even stations are no farther apart than the pitch",
        "joinery._stations",
        "max(rules.least, math.ceil(room / rules.pitch - DUST) + 1)",
        "rules.least",
        STATIONS,
    ),
    Rule(
        "a short joint draws its stations to its ends",
        "joinery._stations",
        "e = min(rules.end, (length - rules.gap_min * spaces) / 2)",
        "e = rules.end",
        STATIONS,
    ),
    Rule(
        "too near to the end is refused",
        "joinery._stations",
        "if e >= rules.end_min - DUST:",
        "if True:",
        STATIONS,
    ),
    Rule(
        "one in the middle will do where the method says so",
        "joinery._stations",
        "    if rules.single and length / 2 >= reach - DUST:\n        return (length / 2,)\n",
        "",
        STATIONS,
    ),
    Rule(
        "stations keep the least gap",
        "joinery._stations",
        "return all(b - a >= rules.gap_min - DUST for a, b in pairwise(spaced))",
        "return True",
        STATIONS,
    ),
    Rule(
        "joints back to back are staggered by half a pitch",
        "joinery._stations",
        "rules.end + (rules.pitch / 2 if staggered else 0.0)",
        "rules.end",
        (*STATIONS, *JOINTS),
    ),
    Rule("a rebate is half the board wide", "carcass._back", "depth = shell.t / 2", "depth = shell.t / 3", BACK),
    Rule("a groove is a third of the board deep", "carcass._back", "depth = shell.t / 3", "depth = shell.t / 2", BACK),
    Rule(
        "a grooved back has play on either side",
        "carcass._back",
        "enters=depth - BACK_CLEARANCE",
        "enters=depth",
        BACK,
    ),
    Rule(
        "an applied back begins at the base's underside",
        "carcass._back",
        "z=(shell.floor, case.height),\n        sums=(told(unit, case.width)",
        "z=(0.0, case.height),\n        sums=(told(unit, case.width)",
        BACK,
    ),
    Rule(
        "top and base stand between the sides",
        "carcass._shell",
        "box=box_of((0.0, case.width) if whole else (t, case.width - t), (0.0, rear), z),",
        "box=box_of((0.0, case.width), (0.0, rear), z),",
        SHELL,
    ),
    Rule(
        "the plinth is set back",
        "carcass._shell",
        '("plinth", "plinth", (plinth.setback, plinth.setback + thick))',
        '("plinth", "plinth", (0.0, thick))',
        SHELL,
    ),
    Rule(
        "the base's underside is at the plinth's height",
        "carcass._shell",
        "else (shell.floor, shell.floor + t)",
        "else (0.0, t)",
        SHELL,
    ),
    Rule(
        "sides are a mirrored pair",
        "carcass._shell",
        'twin=f"side-{other}" if left == right else None,',
        "",
        (*SHELL, "tests/unit/setout"),
    ),
    Rule(
        "an inset front keeps its gap",
        "carcass._covers",
        "else fronts.gap)\n    return bound",
        "else 0.0)\n    return bound",
        FRONTS,
    ),
    Rule(
        "overlay fronts leave a reveal outside and half a gap between",
        "carcass._covers",
        "return bound.reach - fronts.outer(side, inset=False) if bound.outside else (bound.reach - fronts.gap) / 2",
        "return bound.reach",
        FRONTS,
    ),
    Rule(
        "a front behind a door is inset",
        "carcass._inside",
        "stands_inset(making, bay) or bay.behind_door",
        "stands_inset(making, bay)",
        ("tests/unit/carcass/test_drawers.py",),
    ),
)


def asked_for(word: str) -> Iterator[Rule]:
    """Yield the rules with a word in their name."""
    return (r for r in RULES if word in r.name)


def main(words: Sequence[str]) -> int:
    """Take each rule out; return 1 where no test noticed."""
    sys.path.insert(0, str(ROOT))
    os.chdir(ROOT)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    missed = 0
    for rule in asked_for(words[0] if words else ""):
        began = time.monotonic()
        noticed = tried(rule.mutant, [str(ROOT / t) for t in rule.tests]) != 0
        missed += not noticed
        print(f"{'noticed' if noticed else 'NOT    '} {time.monotonic() - began:4.0f} s  {rule.name}", flush=True)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
