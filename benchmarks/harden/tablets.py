"""Kills of the server under tablets that are real: pages in Chromium, whose ticks are pressed all the while.

`python3 run.py harden tablets [--kills N] [--pages P]`. As `ticks`, with the bench page itself: each press is noted in
the page by the tick that it made. Pages are loaded anew now and then, with the server or without it. At the end every
tick that was made must stand in the log once, and no page may have put one aside or still hold one back.
"""

from __future__ import annotations

import argparse
import random
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final

from benchmarks._timing import show_table
from benchmarks.harden.ticks import JOB, KINDS, ROOT, Shop, free_port, held, kept, only_read

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

CHROMIUM: Final = ("chromium", "chromium-browser", "google-chrome")
ARGUMENTS: Final = (
    *("--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"),
    *("--disable-background-timer-throttling", "--disable-renderer-backgrounding"),  # each page is in front, to itself
    "--disable-backgrounding-occluded-windows",
)
HANGS_MS: Final = 300_000

NOTE: Final = """
const keep = Storage.prototype.setItem;
Storage.prototype.setItem = function (key, value) {
    const tick = key.match(/^storyrod-tick:.*:([0-9a-f]{32})$/);
    if (tick) keep.call(localStorage, "made:" + tick[1], "1");
    keep.call(this, key, value);
};
"""
"""Note each tick that the page is about to keep, beside it: what is told as made is never what the log knows."""

PRESS: Final = """
clearInterval(window.pressing);
window.pressing = setInterval(() => {
    const all = document.querySelectorAll(".tick");
    if (all.length) all[Math.floor(Math.random() * all.length)].click();
}, 250);
"""


def pages_of(browser: Browser, shop: Shop, count: int) -> list[Page]:
    """Open the bench as so many tablets, each with cookies and a memory of its own, and begin to press."""
    name, value = shop.headers["Cookie"].split("=", 1)
    pages = []
    for _ in range(count):
        context = browser.new_context(viewport={"width": 820, "height": 1180})
        context.add_cookies([{"name": name, "value": value, "url": f"http://127.0.0.1:{shop.port}"}])
        context.add_init_script(NOTE)
        page = context.new_page()
        page.set_default_timeout(HANGS_MS)
        page.goto(f"http://127.0.0.1:{shop.port}/job/{JOB}/bench")
        page.locator("#away-words").filter(has_text="opens again even while").wait_for(state="attached")
        page.evaluate(PRESS)
        pages.append(page)
    return pages


def let_run(pages: Sequence[Page], seconds: float) -> None:
    """Let the pages go on, and the browser be heard, for a while."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        pages[0].wait_for_timeout(100)


def loaded_anew(page: Page) -> None:
    """Load a page anew, whoever may answer, and go on pressing."""
    with suppress(Exception):  # it may come from the worker, or in the midst of a kill: what counts is what was made
        page.reload(timeout=30_000)
    page.evaluate(PRESS)


@contextmanager
def trouble(shop: Shop, kind: str) -> Iterator[None]:
    """Start the server in the trouble of a round."""
    full = shop.log.stat().st_size if kind == KINDS[2] and shop.log.exists() else 0
    with only_read(shop.log) if kind == KINDS[3] else nullcontext():
        shop.start(most_bytes=full, read_only=kind == KINDS[3])
        yield
        shop.kill()


def settled(shop: Shop, pages: Sequence[Page]) -> tuple[set[str], int, int]:
    """Stop pressing, let all be sent, and return what was made, put aside and still held back."""
    for page in pages:
        page.evaluate("clearInterval(window.pressing)")
    let_run(pages, 1.0)
    shop.start()
    for page in pages:
        if page.locator("#sending").count() == 0:  # it was loaded anew in the midst of a kill, and has no page to show
            print("opened again by hand:", page.evaluate("document.body?.innerText?.slice(0, 100)"))
            page.goto(f"http://127.0.0.1:{shop.port}/job/{JOB}/bench")
    made: set[str] = set()
    aside = waiting = 0
    for page in pages:
        keys: list[str] = []
        for _ in range(600):
            keys = page.evaluate("Object.keys(localStorage)")
            if not any(k.startswith("storyrod-tick:") for k in keys):
                break
            let_run(pages, 0.2)
        made |= {k.split(":")[1] for k in keys if k.startswith("made:")}
        aside += sum("-aside:" in k for k in keys)
        held_back = [k for k in keys if k.startswith("storyrod-tick:")]
        if held_back:
            print(page.url, page.evaluate("document.body?.innerText?.slice(0, 300)"), held_back[:3])
        waiting += len(held_back)
    shop.end()
    return made, aside, waiting


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where a tick was lost, doubled, put aside or held back."""
    parser = argparse.ArgumentParser(prog="run.py harden tablets", description=__doc__)
    parser.add_argument("--kills", type=int, default=30, metavar="N")
    parser.add_argument("--pages", type=int, default=4, metavar="P")
    parser.add_argument("--seed", type=int, default=None, metavar="S")
    arguments = parser.parse_args(argv)
    seed = random.SystemRandom().randrange(10**6) if arguments.seed is None else arguments.seed
    chromium = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if chromium is None:
        print("There is no Chromium here.")
        return 2
    from playwright.sync_api import sync_playwright

    print(f"seed {seed}", flush=True)
    chance, rounds = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as started:
        shop = Shop(home=Path(folder), port=free_port())
        (shop.home / "jobs").mkdir()
        shutil.copy(ROOT / "examples" / f"{JOB}.toml", shop.home / "jobs")
        browser = started.chromium.launch(executable_path=chromium, headless=True, args=list(ARGUMENTS))
        shop.start()
        pages = pages_of(browser, shop, arguments.pages)
        let_run(pages, 1.0)
        shop.kill()
        with suppress(KeyboardInterrupt):
            for n in range(arguments.kills):
                kind = KINDS[0] if n % 5 < 3 else KINDS[1 + n % 3]
                with trouble(shop, kind):
                    let_run(pages, chance.uniform(1.0, 3.0))
                    if kind == KINDS[1]:
                        held(shop.log, chance.uniform(0.1, 0.6))
                    if n % 4 == 1:
                        loaded_anew(chance.choice(pages))
                if n % 4 == 3:
                    loaded_anew(chance.choice(pages))
                rounds[kind] += 1
                print(f"{n + 1} kills", flush=True)
        made, aside, waiting = settled(shop, pages)
        found = kept(shop)
        browser.close()
    lost, twice = [u for u in made if not found[u]], [u for u, n in found.items() if n > 1]
    show_table(
        f"{rounds.total()} kills under {len(pages)} pages in Chromium", ("round", "kills"), sorted(rounds.items())
    )
    print(f"{len(made):>8}  ticks made by presses\n{len(lost):>8}  lost\n{len(twice):>8}  kept twice")
    print(f"{aside:>8}  put aside on a tablet\n{waiting:>8}  held back at the end")
    print(f"{len(set(found) - made):>8}  in the log that no page made")
    failed = len(lost) + len(twice) + aside + waiting + len(set(found) - made)
    print(f"{failed:>8}  failed")
    return 1 if failed or not made else 0


if __name__ == "__main__":
    sys.exit(main())
