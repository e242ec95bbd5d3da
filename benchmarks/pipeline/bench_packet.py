"""Pages of the packet for each second of the processor, all threads counted, beside plain pages by the same typesetter.

Each making is in a process of its own: the first finds nothing in memory, the second what the first left there. The
plan is worked out before. How fast the machine is stands beside it, so that figures of two machines can be compared.
"""

from __future__ import annotations

import io
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from benchmarks._timing import apart, machine_s, show_table
from storyrod.adapters.files import read_job
from storyrod.adapters.packet import make_packet
from storyrod.adapters.printing._kept import FOLDER, kept_or_made
from storyrod.planning import Plan
from storyrod.telling.purposes import Wishes

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
JOBS = ("first-box.toml", "rehearsal-room.toml", "low-units.toml")
PLAIN = "the quick brown fox jumps over the lazy dog and runs along the rail "
REPEATS = 3


def pages_of(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    from pypdf import PdfReader

    return len(PdfReader(io.BytesIO(pdf)).pages)


def plain_pages(count: int) -> bytes:
    """Return as many pages full of plain words."""
    import typst

    text = "#pagebreak()\n".join(PLAIN * 40 + "\n" for _ in range(count))
    return bytes(typst.compile(text.encode(), timestamp=0))


def work_s(work: Callable[[], object]) -> float:
    """Return how long the processor is at it."""
    began = time.process_time()
    work()
    return time.process_time() - began


def packet_s(plan: Plan) -> tuple[float, float, float, float]:
    """Return seconds of the processor for a packet, the same again and a kept one; and how fast the machine is."""
    measure = machine_s()
    first, later = (work_s(lambda: make_packet(plan)) for _ in range(2))
    with tempfile.TemporaryDirectory(prefix="storyrod-") as folder:
        os.environ[FOLDER] = folder

        def ask() -> bytes:
            return kept_or_made(plan, "packet.pdf", Wishes(), lambda: make_packet(plan))

        ask()
        return first, later, work_s(ask), measure


def plain_s(count: int) -> float:
    """Return seconds of the processor for so many plain pages."""
    return work_s(lambda: plain_pages(count))


def main() -> None:
    """Print pages for each second, for a small and two larger jobs."""
    rows, measures = [], []
    for name in JOBS:
        told = read_job(EXAMPLES / name)
        plan = Plan(told.job, told.workshop)
        plan.faults, plan.machining, plan.sheets, plan.soundness, plan.assembly  # noqa: B018  # not the packet's own work
        count = pages_of(make_packet(plan))
        ours = [apart(packet_s, plan) for _ in range(REPEATS)]
        peer = min(apart(plain_s, count) for _ in range(REPEATS))
        first, later, again, measure = (min(values) for values in zip(*ours, strict=True))
        measures.append(measure)
        rows.append(
            [name, count, first, count / first, count / later, again * 1000, first / peer, count / first * measure]
        )
    heads = (
        "job",
        "pages",
        "s, first",
        "pages a second, first",
        "later",
        "ms, kept",
        "of plain pages' time",
        "pages a loop",
    )
    show_table("Packet, by the processor's time", heads, rows)
    print(f"The loop (ten million multiplications and additions) takes {statistics.median(measures):.2f} s here.")


if __name__ == "__main__":
    main()
