"""The page in a real browser: first load, edit to drawing shown, and the server's memory.

Times are beside a bare static page served by the same libraries and read by the same browser in turns with ours;
memory beside a server of that bare page. Sizes are as they go over the line, compressed. Aims: first load under 200 KB;
an edit of the folder cabinet shown in under
140 ms in the middle of repeats.
"""

from __future__ import annotations

import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from benchmarks._needs import ROOT, NotHereError
from benchmarks._timing import show_table
from storyrod.adapters.web._key import Key

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Request

EXAMPLES = ROOT / "examples"
EDITS = 25
LOADS = 7
PAGES = 20

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

BARE = """
import sys
import uvicorn
from starlette.applications import Starlette
from starlette.responses import HTMLResponse
from starlette.routing import Route
app = Starlette(routes=[Route("/", lambda _: HTMLResponse("<!doctype html><title>Bare</title><p id='done'>Bare"))])
uvicorn.run(app, port=int(sys.argv[1]), log_level="warning")
"""

EDIT = """
([path, value]) => new Promise((resolve) => {
  const field = document.querySelector(`[data-field="${path}"]`);
  const began = performance.now();
  document.addEventListener("storyrod:planned", () => {
    requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - began)));
  }, {once: true});
  field.focus();
  field.value = value;
  field.dispatchEvent(new Event("change", {bubbles: true}));
})
"""


FETCH = """
() => new Promise(async (resolve) => {
  const began = performance.now();
  await (await fetch("/")).text();
  requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - began)));
})
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Server:
    """A server of its own process."""

    address: str
    process: subprocess.Popen[str]
    cookie: tuple[str, str] | None = None
    """What lets a window in."""

    def window(self, browser: Browser) -> BrowserContext:
        """Return a new window that is let in."""
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        if self.cookie is not None:
            name, value = self.cookie
            context.add_cookies([{"name": name, "value": value, "url": self.address}])
        return context

    def memory_mib(self) -> float:
        """Return what it holds in memory (resident, MiB)."""
        told = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        found = re.search(r"VmRSS:\s+(\d+) kB", told)
        return int(found[1]) / 1024 if found else float("nan")


def twelve_cases() -> str:
    """Return the folder cabinet's job with its case twelve times over, each a little wider."""
    text = (EXAMPLES / "rehearsal-room.toml").read_text(encoding="utf-8")
    head, _, case = text.partition("[[cases]]")
    many = [
        "[[cases]]"
        + case.replace('code = "A"', f'code = "{chr(65 + n)}"').replace("width = 1000", f"width = {900 + 10 * n}")
        for n in range(12)
    ]
    return head + "\n".join(many)


@contextmanager
def _serving(words: list[str], home: Path, port: int = 0) -> Iterator[Server]:
    process = subprocess.Popen(words, env={**os.environ, "STORYROD_HOME": str(home)}, stdout=subprocess.PIPE, text=True)
    cookie: list[str] = []
    try:
        if not port:
            assert process.stdout is not None
            port = int(process.stdout.readline().split("127.0.0.1:")[1].split("/")[0])
            cookie = Key(home, port).given().split(";")[0].split("=", 1)
        server = Server(
            address=f"http://127.0.0.1:{port}", process=process, cookie=(cookie[0], cookie[1]) if cookie else None
        )
        for _ in range(200):
            try:
                urllib.request.urlopen(
                    f"{server.address}/static/page.css" if cookie else server.address, timeout=5
                ).close()
                break
            except OSError:
                time.sleep(0.05)
        yield server
    finally:
        process.terminate()
        process.wait(timeout=20)


def _free_port() -> int:
    import socket

    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        port: int = sock.getsockname()[1]
        return port


def main() -> None:
    """Print the tables."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        raise NotHereError("Playwright is not installed: `python3 run.py test` installs it.") from None
    chromium = next((p for n in ("chromium", "chromium-browser", "google-chrome") if (p := shutil.which(n))), None)
    if chromium is None:
        raise NotHereError("There is no Chromium on this machine.")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        home = Path(folder)
        (home / "jobs").mkdir()
        shutil.copy(EXAMPLES / "rehearsal-room.toml", home / "jobs" / "cabinet.toml")
        (home / "jobs" / "twelve.toml").write_text(twelve_cases(), encoding="utf-8")
        port = _free_port()
        page_words = [sys.executable, "-m", "storyrod", "open", "--no-browser"]
        with (
            _serving(page_words, home) as page,
            _serving([sys.executable, "-c", BARE, str(port)], home, port) as bare,
        ):
            browser = playwright.chromium.launch(executable_path=chromium, headless=True, args=list(ARGUMENTS))
            try:
                _loads(browser, page, bare)
                _edits(browser, page, bare)
                _memory(browser, page, bare)
            finally:
                browser.close()


def _loads(browser: Browser, page: Server, bare: Server) -> None:
    spans: dict[str, list[float]] = {}
    sizes: dict[str, list[int]] = {}
    addresses = {
        "bare page": bare.address,
        "list of jobs": page.address,
        "brief, folder cabinet": f"{page.address}/job/cabinet/brief",
        "brief, twelve cases": f"{page.address}/job/twelve/brief",
        "bench, folder cabinet": f"{page.address}/job/cabinet/bench",
    }
    for turn in range(LOADS + 1):
        for name, address in addresses.items():
            context = page.window(browser)
            window = context.new_page()
            got: list[Request] = []
            window.on("requestfinished", _kept_in(got))
            began = time.perf_counter()
            window.goto(address, wait_until="load")
            span = (time.perf_counter() - began) * 1000
            window.wait_for_timeout(150)
            if turn:  # the first warms the server up
                spans.setdefault(name, []).append(span)
                sizes.setdefault(name, []).append(sum(_size(r) for r in got))
            context.close()
    peer = statistics.median(spans["bare page"])
    rows = [
        [name, statistics.median(sizes[name]) / 1000, statistics.median(v), max(v), statistics.median(v) / peer]
        for name, v in spans.items()
    ]
    show_table("First load, nothing kept by the browser", ["what", "KB", "median ms", "most", "of the bare page"], rows)


def _kept_in(got: list[Request]) -> Callable[[Request], None]:
    return lambda request: got.append(request)  # noqa: PLW0108  # the listener must be a function of our own


def _size(request: Request) -> int:
    sizes = request.sizes()
    return sizes["responseBodySize"] + sizes["responseHeadersSize"]


def _edits(browser: Browser, page: Server, bare: Server) -> None:
    rows = []
    peers = browser.new_context().new_page()
    peers.goto(bare.address)
    peer = statistics.median(peers.evaluate(FETCH) for _ in range(EDITS))
    peers.context.close()
    for job, what in (("cabinet", "folder cabinet"), ("twelve", "twelve cases")):
        context = page.window(browser)
        window = context.new_page()
        window.goto(f"{page.address}/job/{job}/brief")
        window.wait_for_selector(".parting", state="attached")
        window.wait_for_timeout(4000 if job == "cabinet" else 15000)  # the later stages are checked behind the page
        spans = []
        for n in range(EDITS + 2):
            spans.append(window.evaluate(EDIT, ["cases[0].width", str(1000 + 5 * (n % 20) + 3)]))
            window.wait_for_timeout(150)
        spans = sorted(spans[2:])
        middle = statistics.median(spans)
        rows.append([what, middle, spans[int(0.95 * len(spans))], spans[-1], len(spans), middle / peer])
        context.close()
    show_table(
        "Edit of a width to the drawing shown", ["job", "median ms", "p95", "most", "edits", "of a bare fetch"], rows
    )


def _memory(browser: Browser, page: Server, bare: Server) -> None:
    context = page.window(browser)
    rows = []
    for wanted in (1, PAGES):
        while len(context.pages) < wanted:
            context.new_page().goto(f"{page.address}/job/cabinet/brief")
        context.pages[-1].wait_for_timeout(1500)
        held, peer = page.memory_mib(), bare.memory_mib()
        rows.append([f"{wanted} page{'s' if wanted > 1 else ''} open", held, peer, held / peer])
    context.close()
    show_table("Memory of the server", ["with", "MiB", "bare page's server, MiB", "ratio"], rows)


if __name__ == "__main__":
    main()
