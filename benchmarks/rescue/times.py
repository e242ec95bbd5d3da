"""The processor's time from a slip in the folder cabinet to the first way out, and to the last.

    python -m benchmarks.rescue.times

Wanted: the first within 1 s, all of them within 10 s. Processor time, so that a busy machine does not count.
"""

from __future__ import annotations

import time
from pathlib import Path
from typing import Final

from benchmarks._timing import show_table
from storyrod.adapters.commands._proven import proven_plan
from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.planning import rescue

ROOT: Final = Path(__file__).resolve().parent.parent.parent
K = SlipKind

SLIPS: Final = {
    "a plinth's hole 4 mm too high, the plinth cut": AsBuilt(
        cut=("A5",), slips=(Slip(panel="A1", kind=K.ELSEWHERE, cuts=("J3",), along=4.0),)
    ),
    "a side drilled on the wrong face": AsBuilt(slips=(Slip(panel="A1", kind=K.OTHER_FACE, cuts=("all",)),)),
    "a side of 17.4 mm": AsBuilt(cut=("A2",), slips=(Slip(panel="A1", kind=K.SIZE, thickness=17.4),)),
    "the divider lost": AsBuilt(slips=(Slip(panel="A7", kind=K.LOST),)),
    "three at once": AsBuilt(
        slips=(
            Slip(panel="A1", kind=K.ELSEWHERE, cuts=("J3",), along=4.0),
            Slip(panel="A3", kind=K.LOST),
            Slip(panel="A9", kind=K.LOST),
        )
    ),
}


def main() -> None:
    """Print a row for each slip."""
    plan = proven_plan(ROOT / "examples" / "rehearsal-room.toml")
    rows = []
    for words, facts in SLIPS.items():
        first: list[float] = []
        began = time.process_time()
        told = rescue(plan, facts, "A", told=lambda _, f=first, b=began: f.append(time.process_time() - b))  # type: ignore[misc]
        took = time.process_time() - began
        rows.append(
            (words, f"{first[0]:.2f}" if first else "none", f"{took:.2f}", str(len(told.ways)), str(told.tried))
        )
    show_table("from a slip to the ways out, processor time", ("slip", "first, s", "all, s", "ways", "tried"), rows)


if __name__ == "__main__":
    main()
