"""Pages of the packet for each second, beside as many plain pages of words by the same typesetter in the same run.

By the clock on the wall and by the processor's, all threads counted, which other work on the machine hardly moves. The
first making counts by itself: later ones find pictures in the typesetter's memory. A packet asked for again is read.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from benchmarks._timing import show_table, time_in_turns
from storyrod.adapters.files import read_job
from storyrod.adapters.packet import make_packet
from storyrod.adapters.printing._kept import FOLDER, kept_or_made
from storyrod.planning import Plan
from storyrod.telling.purposes import Wishes

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PLAIN = "the quick brown fox jumps over the lazy dog and runs along the rail "


def pages_of(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    import io

    from pypdf import PdfReader

    return len(PdfReader(io.BytesIO(pdf)).pages)


def plain_pages(count: int) -> bytes:
    """Return as many pages full of plain words."""
    import typst

    text = "#pagebreak()\n".join(PLAIN * 40 + "\n" for _ in range(count))
    return bytes(typst.compile(text.encode(), timestamp=0))


def work_ms(work: Callable[[], object]) -> float:
    """Return how long the processor is at it, in ms."""
    began = time.process_time()
    work()
    return (time.process_time() - began) * 1000


def again_ms(plan: Plan) -> float:
    """Return how long the processor is at a packet that was made before, in ms."""
    with tempfile.TemporaryDirectory(prefix="storyrod-") as folder:
        os.environ[FOLDER] = folder

        def ask() -> bytes:
            return kept_or_made(plan, "packet.pdf", Wishes(), lambda: make_packet(plan))

        ask()
        return work_ms(ask)


def main() -> None:
    """Print pages for each second, for a small and a larger job."""
    rows = []
    for name in ("first-box.toml", "rehearsal-room.toml", "low-units.toml"):
        told = read_job(EXAMPLES / name)
        plan = Plan(told.job, told.workshop)
        plan.faults, plan.machining, plan.sheets, plan.soundness, plan.assembly  # noqa: B018  # not the packet's own work
        first = work_ms(lambda plan=plan: make_packet(plan))  # type: ignore[misc]
        count = pages_of(make_packet(plan))
        ours, peer = time_in_turns(
            {"packet": lambda plan=plan: make_packet(plan), "plain": lambda count=count: plain_pages(count)},  # type: ignore[misc]
            repeats=3,
        )
        later = min(work_ms(lambda plan=plan: make_packet(plan)) for _ in range(3))  # type: ignore[misc]
        speeds = [count / ours.median_ms * 1000, count / first * 1000, count / later * 1000]
        rows.append([name, count, ours.median_ms, *speeds, again_ms(plan), ours.ratio_to(peer)])
    heads = ("job", "pages", "ms", "pages a second", "of processor, first", "later", "ms again", "of plain pages' time")
    show_table("Packet", heads, rows)


if __name__ == "__main__":
    main()
