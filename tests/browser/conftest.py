"""The page served to a real Chromium: each test gets a server and folders of its own; a picture is kept on failure."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Error,
    FloatRect,
    Locator,
    Page,
    Playwright,
    expect,
    sync_playwright,
)

from storyrod.adapters.web._key import Key
from tests.browser.firefox import as_program, find_firefox, is_asked_for
from tests.browser.nest import CAN_FORK, Born, born
from tests.places import EXAMPLES, ROOT
from tests.ports import free_port

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

HANGS_MS = 120_000
"""What has not come by now never will: a machine that does much else at once is no fault of the page."""

expect.set_options(timeout=HANGS_MS)

PICTURES = ROOT / "out" / "browser-failures"


def place_of(element: Locator) -> FloatRect:
    """Return where an element is, once it stands still: a page that has just come may draw it anew for its width."""
    expect(element).to_be_visible()
    before = None
    for _ in range(200):
        box = element.bounding_box()
        if box is not None and box == before:
            return box
        before = box
        element.page.wait_for_timeout(50)
    raise AssertionError(f"{element} does not stand still: last at {before}")


HOMES: dict[int, Path] = {}
"""The folder of each server's own things, by its port: what a window needs to be let in."""


def let_in(context: BrowserContext, address: str) -> None:
    """Have a window be let in by the server of an address, as one that was opened by the address of its start."""
    port = urlsplit(address).port
    if port in HOMES:
        name, value = Key(HOMES[port], port).given().split(";")[0].split("=", 1)
        context.add_cookies([{"name": name, "value": value, "url": f"http://127.0.0.1:{port}"}])


@dataclass(kw_only=True)
class Served:
    """A server in a process of its own; it can be killed and started again at the same port."""

    home: Path
    port: int = 0
    before: str = ""
    """Python that the server runs before it begins, as to wait less long for something."""
    process: subprocess.Popen[str] | Born | None = None

    @property
    def jobs(self) -> Path:
        """The folder of its jobs."""
        return self.home / "jobs"

    @property
    def address(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"

    def take(self, example: str) -> str:
        """Put an example among the jobs, with the workshop file that it may name; return its name."""
        self.jobs.mkdir(parents=True, exist_ok=True)
        shutil.copy(EXAMPLES / f"{example}.toml", self.jobs)
        if "workshop = " in (self.jobs / f"{example}.toml").read_text(encoding="utf-8"):
            shutil.copy(EXAMPLES / "choir-workshop.toml", self.jobs)
        return example

    def start(self) -> None:
        """Start it, and wait until it answers."""
        self.port = self.port or free_port()
        words = ["open", "--no-browser", "--port", str(self.port)]
        env = {**os.environ, "STORYROD_HOME": str(self.home)}
        if CAN_FORK:
            self.process = born(words, env, self.before)
        else:
            run = f"{self.before}\nfrom storyrod.adapters.cli import main\nraise SystemExit(main())"
            self.process = subprocess.Popen(
                [sys.executable, "-c", run, *words], env=env, stdout=subprocess.PIPE, text=True
            )
        assert self.process.stdout is not None
        told = self.process.stdout.readline()
        assert told, "the page did not start"
        assert f"127.0.0.1:{self.port}/" in told
        HOMES[self.port] = self.home
        for _ in range(200):
            try:
                urllib.request.urlopen(f"{self.address}/static/mark.svg", timeout=5).close()
            except OSError:
                time.sleep(0.05)
            else:
                return
        raise AssertionError("the page does not answer")

    def kill(self) -> None:
        """End it without warning, as a power cut would."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL if os.name != "nt" else signal.SIGTERM)
            self.process.wait(timeout=300)
            if self.process.stdout is not None:
                self.process.stdout.close()
            self.process = None


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A server with no jobs of its own but what the test takes; on a first visit, with the example."""
    server = Served(home=tmp_path / "home")
    try:
        yield server
    finally:
        server.kill()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Playwright, started once."""
    with sync_playwright() as started:
        yield started


@dataclass(frozen=True, kw_only=True)
class Engine:
    """A browser as it opens light windows, and dark ones: the same, where a window can be told which it is."""

    light: Browser
    dark: Browser


@pytest.fixture(scope="session")
def chromium_engine(chromium: str, playwright: Playwright) -> Iterator[Engine]:
    """One Chromium for all tests; each opens contexts of its own."""
    opened = playwright.chromium.launch(executable_path=chromium, headless=True, args=list(ARGUMENTS))
    yield Engine(light=opened, dark=opened)
    opened.close()


@pytest.fixture(scope="session")
def firefox(playwright: Playwright, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """One Firefox for light windows, where there is one that opens a page."""
    found = find_firefox()
    if found is None:
        pytest.skip("Passed over: there is no Firefox on this machine.")
    try:
        opened = launched(playwright, as_program(found, tmp_path_factory.mktemp("firefox")), scheme=1)
        page = opened.new_page()
        page.goto("data:text/html,<title>open</title>", timeout=HANGS_MS)
        page.close()
    except Error as error:
        pytest.skip(f"Passed over: {found} opens no page here ({error.message.splitlines()[0]}).")
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def firefox_engine(
    request: pytest.FixtureRequest, playwright: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Engine]:
    """One Firefox for light windows and one for dark, by its own setting."""
    if not is_asked_for():
        pytest.skip("This is walked in Firefox as well where STORYROD_FIREFOX names the program.")
    light: Browser = request.getfixturevalue("firefox")
    found = find_firefox()
    assert found is not None
    dark = launched(playwright, as_program(found, tmp_path_factory.mktemp("firefox")), scheme=0)
    yield Engine(light=light, dark=dark)
    dark.close()


def launched(playwright: Playwright, program: Path, *, scheme: int) -> Browser:
    """Start a Firefox whose pages see this setting of the system: 0 for dark, 1 for light."""
    return playwright.firefox.launch(
        channel="moz-firefox",
        executable_path=program,
        headless=True,
        firefox_user_prefs={
            "layout.css.prefers-color-scheme.content-override": scheme,
            "ui.prefersReducedMotion": 1,
        },
    )


@pytest.fixture(scope="session")
def engine(request: pytest.FixtureRequest) -> Engine:
    """The browser that all is walked in: Chromium, or the one that STORYROD_BROWSER says."""
    name = os.environ.get("STORYROD_BROWSER", "chromium")
    found: Engine = request.getfixturevalue(f"{name}_engine")
    return found


@pytest.fixture(scope="session")
def browser(engine: Engine) -> Browser:
    """The browser itself, for a test that opens windows of its own kind."""
    return engine.light


@dataclass(kw_only=True)
class Windows:
    """Opens windows of a test, and remembers them for a picture when it fails."""

    engine: Engine
    contexts: list[BrowserContext] = field(default_factory=list)
    told: list[str] = field(default_factory=list)

    def open(
        self,
        address: str,
        *,
        let_in_at: str = "",
        width: int = 1280,
        height: int = 900,
        dark: bool = False,
        touch: bool = False,
    ) -> Page:
        """Open an address in a window of its own (own cookies); what it complains of is kept in `told`.

        A window that opens blank says by `let_in_at` which server it goes to afterwards.
        """
        context = (self.engine.dark if dark else self.engine.light).new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            has_touch=touch,
            reduced_motion="reduce",
        )
        self.contexts.append(context)
        let_in(context, let_in_at or address)
        page = context.new_page()
        page.on("console", lambda m: self.told.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda e: self.told.append(str(e)))
        page.set_default_timeout(HANGS_MS)
        page.goto(address)
        return page


@pytest.fixture
def windows(engine: Engine, request: pytest.FixtureRequest) -> Iterator[Windows]:
    """Windows of this test; closed at its end, pictured when it failed."""
    opened = Windows(engine=engine)
    before = request.session.testsfailed
    yield opened
    if request.session.testsfailed > before:
        PICTURES.mkdir(parents=True, exist_ok=True)
        for number, page in enumerate(p for c in opened.contexts for p in c.pages):
            page.screenshot(path=PICTURES / f"{request.node.name}-{number}.png", full_page=True)
    for context in opened.contexts:
        context.close()
