"""The walk of one who has never seen the page: from nothing to the bench packet of a unit under a bench, by touch.

Every tap and key is counted, and every wait is timed; the test holds the counts, the benchmark shows the waits.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from playwright.sync_api import Locator, Page, expect

SIZES = ("900", "820", "600", "80")
"""Width, height, depth and plinth of the unit, in millimetres."""


@dataclass(kw_only=True)
class Hand:
    """A hand at a tablet.

    Attributes:
        taps: touches so far; a swipe to bring a thing into sight is one more.
        keys: keys pressed so far.
        worked: tells how long the processor worked so far (seconds).
        waits: what was waited for, how long, and how long the processor worked for it (seconds).
    """

    page: Page
    taps: int = 0
    keys: int = 0
    worked: Callable[[], float] = time.process_time
    waits: list[tuple[str, float, float]] = field(default_factory=list)

    def tap(self, thing: Locator) -> None:
        """Tap a thing, after a swipe where it is out of sight."""
        expect(thing).to_be_visible()
        if not is_in_sight(thing):
            self.taps += 1
        thing.tap()
        self.taps += 1

    def type(self, words: str) -> None:
        """Type words where the cursor is."""
        self.page.keyboard.type(words)
        self.keys += len(words)

    def press(self, key: str) -> None:
        """Press one key."""
        self.page.keyboard.press(key)
        self.keys += 1

    @contextmanager
    def waiting(self, what: str) -> Iterator[None]:
        """Time what is waited for, from the touch that asks for it."""
        began, worked = time.perf_counter(), self.worked()
        yield
        self.waits.append((what, time.perf_counter() - began, self.worked() - worked))


def is_in_sight(thing: Locator) -> bool:
    """Return whether all of a thing is on the screen, with nothing before it."""
    return bool(
        thing.evaluate(
            """(e) => { const b = e.getBoundingClientRect(), x = b.x + b.width / 2, y = b.y + b.height / 2;
            const seen = document.elementFromPoint(x, y);
            return b.top >= 0 && b.left >= 0 && b.bottom <= innerHeight && b.right <= innerWidth
              && seen !== null && (e.contains(seen) || seen.contains(e)); }"""
        )
    )


def walk(hand: Hand, address: str) -> bytes:
    """Go from the first screen to the bench packet; return the packet as it came."""
    page = hand.page
    with hand.waiting("the first screen, with its pictures"):
        page.goto(address)
        expect(page.locator("#about-pictures svg.drawing")).to_have_count(3)
    with hand.waiting("the questions of a new job"):
        hand.tap(page.get_by_role("link", name="Begin mine"))
        page.wait_for_url("**/new")
        page.wait_for_load_state()
    hand.tap(page.get_by_text("two unequal drawers under a shallow full-width one"))
    hand.tap(page.get_by_role("textbox", name="Width"))
    for size in SIZES[:-1]:
        hand.type(size)
        hand.press("Tab")
    with hand.waiting("its drawing, after the last answer"):
        hand.type(SIZES[-1])
        expect(page.locator("#new-picture")).to_contain_text(SIZES[1])
    with hand.waiting("the brief"):
        hand.tap(page.get_by_role("button", name="Make the job"))
        page.wait_for_url("**/brief")
        expect(page.locator("#brief-figure svg.drawing").first).to_be_visible()
    with hand.waiting("what can be printed"):
        hand.tap(page.locator(".rod").get_by_role("link", name="Print"))
        page.wait_for_url("**/print")
        expect(page.get_by_role("button", name="Open the packet")).to_be_visible()
    with hand.waiting("the bench packet"):
        with page.context.expect_event("response", lambda r: "/files/packet.pdf" in r.url, timeout=300_000) as got:
            hand.tap(page.get_by_role("button", name="Open the packet"))
        address = got.value.url
    return page.request.get(address).body()  # a browser without a screen keeps no PDF
