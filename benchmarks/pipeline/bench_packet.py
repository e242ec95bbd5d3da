"""Pages of the packet for each second, beside as many plain pages of words by the same typesetter in the same run."""

from __future__ import annotations

from pathlib import Path

from benchmarks._timing import show_table, time_in_turns
from storyrod.adapters.files import read_job
from storyrod.adapters.packet import make_packet
from storyrod.planning import Plan

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


def main() -> None:
    """Print pages for each second, for a small and a larger job."""
    rows = []
    for name in ("first-box.toml", "rehearsal-room.toml", "low-units.toml"):
        told = read_job(EXAMPLES / name)
        plan = Plan(told.job, told.workshop)
        count = pages_of(make_packet(plan))
        ours, peer = time_in_turns(
            {"packet": lambda plan=plan: make_packet(plan), "plain": lambda count=count: plain_pages(count)},  # type: ignore[misc]
            repeats=3,
        )
        rows.append([name, count, ours.median_ms, count / ours.median_ms * 1000, ours.ratio_to(peer)])
    show_table("Packet", ("job", "pages", "ms", "pages a second", "of plain pages' time"), rows)


if __name__ == "__main__":
    main()
