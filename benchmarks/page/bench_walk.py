"""The newcomer's walk in a real browser, and the waits for papers: what is waited for, how long, beside the machine.

The walk is the one that the tests count taps and keys of, each time from nothing. The papers are those of three
examples: the packet when its plan is known, the same again unchanged, the labels, and everything in one archive, on
a server that has made none of them before. Aims: each wait of the walk within 3 s; the packet in 8 s, again at once;
labels in 1 s; the archive in 15 s. The first line measures the machine: Python adding up ten million whole numbers.
Beside each wait stands the processor's time of the server and its children: what the wait comes to where nothing else
runs, which other work on the machine hardly moves.
"""

from __future__ import annotations

import os
import statistics
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from benchmarks._needs import NotHereError
from benchmarks._timing import show_table

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

    from tests.browser.conftest import Served

WALKS: Final = 3
EXAMPLES: Final = ("first-box", "rehearsal-room", "low-units")
PAPERS: Final = (
    ("page", ""),
    ("packet", "packet.pdf"),
    ("packet again", "packet.pdf"),
    ("labels", "labels.pdf"),
    ("archive", "everything.zip"),
)
LONGEST_MS: Final = 600_000


def machine_words() -> str:
    """Return how long Python takes to add up ten million whole numbers, the middle of five, and how busy the rest is.

    The wall's time over the processor's is how many times longer everything takes than on an idle machine.
    """
    walls, works = [], []
    for _ in range(5):
        began, worked = time.perf_counter(), time.process_time()
        sum(range(10_000_000))
        walls.append(time.perf_counter() - began)
        works.append(time.process_time() - worked)
    wall, work = statistics.median(walls), statistics.median(works)
    return f"ten million numbers in {wall:.2f} s, {work:.2f} s of the processor; load {os.getloadavg()[0]:.1f}"


@contextmanager
def serving(example: str = "") -> Iterator[Served]:
    """Serve the page from folders of its own, with no paper kept from before."""
    from tests.browser.conftest import Served

    with tempfile.TemporaryDirectory() as folder:
        before = os.environ.get("STORYROD_CACHE")
        os.environ["STORYROD_CACHE"] = str(Path(folder) / "cache")
        server = Served(home=Path(folder) / "home")
        if example:
            server.take(example)
        server.start()
        try:
            yield server
        finally:
            server.kill()
            if before is None:
                del os.environ["STORYROD_CACHE"]
            else:
                os.environ["STORYROD_CACHE"] = before


def window(browser: Browser, server: Served) -> Page:
    """Return a tablet's window that is let in."""
    from tests.browser.conftest import let_in

    context = browser.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    let_in(context, server.address)
    page = context.new_page()
    page.set_default_timeout(LONGEST_MS)
    return page


def processor_s(pid: int) -> float:
    """Return the processor's time of a process and its children, those that ended too, in seconds; 0 off Linux."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    except OSError:
        return 0.0
    own = sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")
    found = Path(f"/proc/{pid}/task").glob("*/children")
    return own + sum(processor_s(int(child)) for tasks in found for child in tasks.read_text(encoding="ascii").split())


def walks(browser: Browser) -> None:
    """Print the waits of the walk."""
    from tests.browser.newcomer import Hand, walk

    spans: dict[str, list[tuple[float, float]]] = {}
    counts = ""
    for _ in range(WALKS):
        with serving() as server:
            page = window(browser, server)
            hand = Hand(page=page, worked=lambda: processor_s(server_pid(server)))
            walk(hand, server.address)
            counts = f"{hand.taps} taps, {hand.keys} keys"
            for what, seconds, worked in hand.waits:
                spans.setdefault(what, []).append((seconds, worked))
            page.context.close()
    rows = [
        [what, statistics.median(w for w, _ in s), max(w for w, _ in s), statistics.median(p for _, p in s)]
        for what, s in spans.items()
    ]
    show_table(f"The newcomer's walk: {counts}", ["wait for", "median s", "most s", "processor s"], rows)


def papers(browser: Browser) -> None:
    """Print how long papers are waited for."""
    rows = []
    for example in EXAMPLES:
        with serving(example) as server:
            page = window(browser, server)
            at = f"{server.address}/job/{example}"
            page.goto(f"{at}/print")
            page.locator("#printing:not([data-waiting])").wait_for()
            for what, name in PAPERS:
                worked = processor_s(server_pid(server))
                seconds = taken(page, f"{at}/files/{name}" if name else f"{at}/print")
                rows.append([example, what, seconds, processor_s(server_pid(server)) - worked])
            page.context.close()
    show_table("Papers of a plan that is known", ["job", "wait for", "s", "processor s"], rows)


def server_pid(server: Served) -> int:
    """Return the server's process."""
    if server.process is None:
        raise RuntimeError("the server does not run")
    return server.process.pid


def taken(page: Page, address: str) -> float:
    """Return how long a file is waited for, in seconds."""
    began = time.perf_counter()
    answered = page.request.get(address, timeout=LONGEST_MS)
    seconds = time.perf_counter() - began
    if answered.status != 200:
        raise RuntimeError(f"{address}: {answered.status}")
    return seconds


def main() -> None:
    """Print the tables."""
    try:
        from playwright.sync_api import sync_playwright

        from tests.browser.conftest import ARGUMENTS
        from tests.places import find_chromium
    except ImportError:
        raise NotHereError("Playwright is not installed: `python3 run.py test` installs it.") from None
    chromium = find_chromium()
    if chromium is None:
        raise NotHereError("There is no Chromium on this machine.")
    print(f"The machine: {machine_words()}")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, headless=True, args=list(ARGUMENTS))
        try:
            walks(browser)
            papers(browser)
        finally:
            browser.close()
    print(f"The machine: {machine_words()}")


if __name__ == "__main__":
    main()
