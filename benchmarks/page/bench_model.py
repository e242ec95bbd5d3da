"""The model in the round in a real browser: milliseconds for a frame while it is turned, and to lay it out anew.

Script time only, as the page's own modules take it (order of painting, matrices, elements moved); beside it the time
that the order alone takes, which grows with the square of the pieces. Aim: 1.5 ms a frame for about thirty panels.
"""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from benchmarks._needs import ROOT, NotHereError
from benchmarks._timing import show_table

if TYPE_CHECKING:
    from playwright.sync_api import Route

EXAMPLES: Final = ("first-box", "hymn-book-unit", "rehearsal-room")
STATIC: Final = ROOT / "src" / "storyrod" / "adapters" / "web" / "static"
TIMED: Final = """
async (data) => {
  const {ModelView} = await import("/js/model_view.js");
  const {ordered} = await import("/js/model_order.js");
  const stage = document.createElement("div");
  stage.style.width = "650px"; stage.style.height = "520px";
  document.body.replaceChildren(stage);
  const view = new ModelView(stage, data);
  view.names = false;
  view.layOut();
  await new Promise((done) => setTimeout(done, 200));
  const middle = (times) => times.sort((a, b) => a - b)[times.length >> 1];
  const timed = (count, each, act) => {
    const times = [];
    for (let n = 0; n < count; n++) {
      const start = performance.now();
      for (let k = 0; k < each; k++) act(each * n + k);
      times.push((performance.now() - start) / each);
    }
    return middle(times);
  };
  const turned = (n) => { view.turn = (n * 3) % 360; view.tilt = 20 + 30 * Math.sin(n / 9); };
  const frame = timed(15, 40, (n) => { turned(n); view.drawNow(); });
  const order = timed(15, 200, (n) => { turned(n); ordered(view.pieces, view.eye); });
  const apart = timed(8, 20, (n) => { view.apart = (n % 40) / 40; view.layOut(); view.drawNow(); });
  return {frame, order, apart, pieces: view.pieces.length};
}
"""


def main() -> None:
    """Print the table."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError as error:
        raise NotHereError("playwright is not installed") from error
    program = os.environ.get("STORYROD_CHROMIUM") or shutil.which("chromium")
    if program is None:
        raise NotHereError("Chromium is not there")
    rows = []
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=program, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page()
        page.route("http://model.test/**", _answer)
        page.goto("http://model.test/")
        for example in EXAMPLES:
            data = _data(example)
            told: dict[str, Any] = page.evaluate(TIMED, data)
            rows.append(
                (
                    example,
                    len(data["panels"]),
                    told["pieces"],
                    round(len(json.dumps(data)) / 1000),
                    told["frame"],
                    told["order"],
                    told["frame"] / told["order"],
                    told["apart"],
                )
            )
        browser.close()
    columns = ("case", "panels", "pieces", "data kB", "frame ms", "order ms", "times the order", "pulled apart ms")
    show_table("The model, turned", columns, rows)


def _answer(route: Route) -> None:
    path: Path = STATIC / route.request.url.removeprefix("http://model.test/")
    if path.is_file():
        route.fulfill(body=path.read_text(encoding="utf-8"), content_type="text/javascript")
    else:
        route.fulfill(body="<!doctype html><title>model</title>", content_type="text/html")


def _data(example: str) -> dict[str, Any]:
    from storyrod.adapters.files import read_job
    from storyrod.adapters.web._model import model_data
    from storyrod.planning import Plan

    read = read_job(ROOT / "examples" / f"{example}.toml")
    plan = Plan(read.job, read.workshop)
    return model_data(plan.details, plan.details.cases[0])


if __name__ == "__main__":
    main()
