"""Ticks while the log cannot be written: in a real browser, none is lost, none doubled, and none taken away unseen."""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows
from tests.browser.test_bench import JOB, KEPT, bench, logged, press, rows

pytestmark = pytest.mark.browser

SHORT = "import storyrod.adapters.log._open as waiting\nwaiting.WAIT_S = 0.2"
"""A writer of the log waits its turn for so long only: half a minute is no good in a test."""

WAITING = "the log cannot be written now. Go on; they are kept here."


@contextmanager
def full_disk(server: Served) -> Iterator[None]:
    """No byte more can be written to any file by the server, as on a full disk."""
    resource = pytest.importorskip("resource")
    assert server.process is not None
    before = resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE)
    resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (0, before[1]))
    yield
    resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, before)


@contextmanager
def held(server: Served) -> Iterator[None]:
    """Another program is in the midst of a change."""
    other = sqlite3.connect(server.home / "bench-log.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    yield
    other.execute("ROLLBACK")
    other.close()


@contextmanager
def not_writable(server: Served) -> Iterator[None]:
    """The server comes back with a log whose beginning is gone; then the log is put back as it was."""
    path = server.home / "bench-log.sqlite"
    server.kill()
    sound = path.read_bytes()
    path.write_bytes(b"Dear altos" + sound[10:])
    server.start()
    yield
    path.write_bytes(sound)


@pytest.mark.skipif(sys.platform != "linux", reason="a full disk is made by a limit that Linux knows")
@pytest.mark.parametrize("trouble", [full_disk, held, not_writable])
def test_ticks_wait_on_the_tablet_until_the_log_can_be_written(
    served: Served, windows: Windows, trouble: Callable[[Served], Iterator[None]]
) -> None:
    served.before = SHORT
    served.take(JOB)
    served.start()
    page = bench(windows, served)
    expect(page.locator("#away-words")).to_have_text("This page opens again even while the server is away.")
    things = rows(page, "S4")
    press(page, things[0])
    expect(page.locator("#sending")).to_have_text(KEPT)
    with sqlite3.connect(served.home / "bench-log.sqlite") as settled:
        settled.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    with trouble(served):  # type: ignore[attr-defined]
        for thing in things[1:]:
            press(page, thing)
        expect(page.locator("#sending")).to_contain_text(f"3 ticks wait to be sent: {WAITING}")
        page.wait_for_timeout(2500)  # a second attempt, and a third
        expect(page.locator("#sending")).to_contain_text("3 ticks wait")
        expect(page.locator("#set-aside")).to_be_hidden()

    expect(page.locator("#sending")).to_have_text(KEPT)
    assert sorted(logged(served)) == sorted((thing, True) for thing in things)
    page.reload()
    expect(page.locator("#left-all")).to_have_text("4 of 46")


def put_aside(page: Page, thing: str) -> None:
    """Have a tick wait in the browser that no server can read, beside those made by hand."""
    page.evaluate(
        """thing => localStorage.setItem(`storyrod-tick:first-box:${"f".repeat(32)}`, JSON.stringify({
            uid: "f".repeat(32), thing, name: "a tick of another world", content: "x".repeat(3000), copy: 1,
            done: true, version: "another plan", made: Date.now(), n: 99}))""",
        thing,
    )


def test_what_can_not_be_read_is_shown_until_it_is_dismissed_by_hand(served: Served, windows: Windows) -> None:
    served.take(JOB)
    served.start()
    page = bench(windows, served)
    things = rows(page, "S4")
    put_aside(page, "cut that no plan has")
    page.reload()
    press(page, things[0])
    aside = page.locator("#set-aside li")

    expect(aside).to_have_count(1)
    expect(aside).to_contain_text("a tick of another world, ticked: Content: found")
    expect(page.locator("#sending")).to_contain_text("All ticks are kept. 1 not kept: see below.")
    assert logged(served) == [(things[0], True)]
    page.reload()
    expect(aside).to_have_count(1)
    aside.get_by_role("button", name="Send again").click()
    expect(aside).to_have_count(1)
    aside.get_by_role("button", name="Dismiss").click()
    expect(page.locator("#set-aside")).to_be_hidden()
    page.reload()
    expect(page.locator("#sending")).to_have_text(KEPT)
    expect(page.locator("#set-aside")).to_be_hidden()
    assert page.evaluate("Object.keys(localStorage).filter(k => /-(tick|aside):/.test(k))") == []
    assert logged(served) == [(things[0], True)]
