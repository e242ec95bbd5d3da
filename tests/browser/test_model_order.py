"""The live model paints its boxes in the right order, for any way of looking: probed by rays of exact geometry.

The page's own module is run in the browser; the rays are followed here, by code that knows nothing of painting.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import pytest
from playwright.sync_api import Browser, Page

from storyrod import carcass, joinery
from storyrod.adapters.files import read_job
from storyrod.drawing import let_in
from storyrod.measure.space import AXES, Box, Point
from storyrod.model.detail import Choices
from tests.places import EXAMPLES, ROOT

pytestmark = pytest.mark.browser

STATIC: Final = ROOT / "src" / "storyrod" / "adapters" / "web" / "static"

ORDER = """
async ({boxes, taking, looks}) => {
  const {madeApart, ordered} = await import("/js/model_order.js");
  const {eyeAt} = await import("/js/model_eye.js");
  const takes = new Set(taking.map(([a, b]) => `${a} ${b}`));
  const given = boxes.map(([low, high]) => ({low, high}));
  const volume = (b) => (b.high[0] - b.low[0]) * (b.high[1] - b.low[1]) * (b.high[2] - b.low[2]);
  const takesIn = (a, b) => takes.has(`${a} ${b}`) || (!takes.has(`${b} ${a}`) && volume(given[a]) >= volume(given[b]));
  return looks.map(([turn, tilt, lies]) => {
    const eye = lies ? eyeAt(turn, tilt, lies) : eyeAt(turn, tilt);
    const {pieces, order} = ordered(madeApart(given, takesIn), eye);
    return {eye, pieces, order};
  });
}
"""

Vec = Sequence[float]
Ends = tuple[Vec, Vec]


@dataclass(frozen=True)
class Seen:
    """How the page paints boxes for one way of looking."""

    right: Vec
    up: Vec
    toward: Vec
    painted: tuple[tuple[int, Vec, Vec], ...]


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """A page that can load the model's modules from their folder, without a server."""
    context = browser.new_context()
    context.route("http://model.test/**", lambda route: route.fulfill(**_file(route.request.url)))
    opened = context.new_page()
    opened.goto("http://model.test/")
    yield opened
    context.close()


def _file(url: str) -> dict[str, Any]:
    path = STATIC / url.removeprefix("http://model.test/")
    if not path.is_file():
        return {"body": "<!doctype html><title>model</title>", "content_type": "text/html"}
    return {"body": path.read_text(encoding="utf-8"), "content_type": "text/javascript"}


def painted(page: Page, boxes: Sequence[Ends], looks: Sequence[Any], taking: Sequence[Any] = ()) -> list[Seen]:
    given = {"boxes": [[list(lo), list(hi)] for lo, hi in boxes], "taking": list(taking), "looks": list(looks)}
    found = page.evaluate(ORDER, given)
    return [
        Seen(
            right=f["eye"]["right"],
            up=f["eye"]["up"],
            toward=f["eye"]["toward"],
            painted=tuple((f["pieces"][n]["thing"], f["pieces"][n]["low"], f["pieces"][n]["high"]) for n in f["order"]),
        )
        for f in found
    ]


def crossing(start: Vec, way: Vec, low: Vec, high: Vec) -> tuple[float, float] | None:
    """Where a ray goes into a box and out of it; None where it passes by, or within a hundredth mm of its edge."""
    enter, leave = -math.inf, math.inf
    for s, d, lo, hi in zip(start, way, low, high, strict=True):
        if abs(d) < 1e-12:
            if not lo < s < hi:
                return None
            continue
        a, b = sorted(((lo - s) / d, (hi - s) / d))
        enter, leave = max(enter, a), min(leave, b)
    return (enter, leave) if enter < leave - 0.01 else None


def wrong_rays(
    seen: Seen, boxes: Sequence[Ends], taking: set[tuple[int, int]], chance: random.Random, rays: int
) -> int:
    """How many rays meet another box first than the one painted last; one that enters goes before what takes it in."""
    wrong = 0
    inward = [-t for t in seen.toward]
    aims = [*boxes, *shared(boxes)]
    for _ in range(rays):
        lo, hi = aims[chance.randrange(len(aims))]
        aim = [chance.uniform(a, b) for a, b in zip(lo, hi, strict=True)]
        start = [p + 5000.0 * t for p, t in zip(aim, seen.toward, strict=True)]
        hits = [(c[0], n) for n, (a, b) in enumerate(boxes) if (c := crossing(start, inward, a, b)) is not None]
        if not hits:
            continue
        nearest = min(t for t, _ in hits)
        first = {n for t, n in hits if t < nearest + 0.02}
        first -= {a for a in first for b in first if (a, b) in taking}
        last = next(
            (thing for thing, a, b in reversed(seen.painted) if crossing(start, inward, a, b) is not None), None
        )
        wrong += last not in first
    return wrong


def shared(boxes: Sequence[Ends]) -> list[Ends]:
    """The rooms that two boxes share: what is let in, where the wrong one is most likely to be seen."""
    found: list[Ends] = []
    for n, (lo, hi) in enumerate(boxes):
        for low, high in boxes[n + 1 :]:
            room = tuple(map(max, lo, low)), tuple(map(min, hi, high))
            if all(b - a > 0.01 for a, b in zip(*room, strict=True)):
                found.append(room)
    return found


LOOKS: Final = [[28, 22], [0, 0], [-90, 0], [180, 0], [0, 90], [0, -90], [135, 40], [-50, -30], [250, 75], [90.5, 0.5]]


@pytest.mark.parametrize("seed", range(4))
def test_boxes_of_chance_are_painted_right_from_everywhere(page: Page, seed: int) -> None:
    chance = random.Random(seed)
    made: list[Box] = []
    while len(made) < 14:
        size = [chance.choice([18.0, 60.0, 200.0, 400.0]) for _ in range(3)]
        low = Point(*(chance.uniform(0, 600) for _ in range(3)))
        new = Box(low, low + Point(*size))
        if not any(new.intersects(other) for other in made):
            made.append(new)
    boxes = [ends(b) for b in made]

    for look, seen in zip(LOOKS, painted(page, boxes, LOOKS), strict=True):
        assert wrong_rays(seen, boxes, set(), chance, 250) == 0, look


def test_bars_in_a_ring_are_cut_and_painted_right(page: Page) -> None:
    """Each bar lies before the next: no order of whole boxes is right."""
    boxes: list[Ends] = [
        ((-60, 20, 10), (60, 30, 20)),
        ((-30, -50, 40), (-20, 70, 50)),
        ((-20, 40, -40), (-10, 50, 80)),
    ]
    looks = [[t, e] for t in (10, 28, 45, 60, 208, 245) for e in (-40, -30, 22, 35, 60)]

    told = painted(page, boxes, looks)

    assert max(len(seen.painted) for seen in told) > 3
    for look, seen in zip(looks, told, strict=True):
        assert wrong_rays(seen, boxes, set(), random.Random(3), 200) == 0, look


@pytest.mark.parametrize("example", ["hymn-book-unit", "rehearsal-room", "percussion-chest"])
def test_cabinets_with_housings_grooves_and_rebates_are_painted_right(page: Page, example: str) -> None:
    boxes, taking = cabinet(EXAMPLES / f"{example}.toml")
    on_its_side = [[0, 0, 1], [0, 1, 0], [-1, 0, 0]]
    looks = [*LOOKS, [28, 22, on_its_side]]

    told = painted(page, boxes, looks, [list(pair) for pair in taking])

    for look, seen in zip(looks, told, strict=True):
        assert wrong_rays(seen, boxes, taking, random.Random(5), 250) == 0, look


def test_pieces_fill_what_the_boxes_fill_and_no_place_twice(page: Page) -> None:
    boxes, taking = cabinet(EXAMPLES / "rehearsal-room.toml")
    (seen,) = painted(page, boxes, [[28, 22]], [list(pair) for pair in taking])
    common = sum(math.prod(b - a for a, b in zip(lo, hi, strict=True)) for lo, hi in shared(boxes))

    whole = sum(math.prod(hi[k] - lo[k] for k in range(3)) for lo, hi in boxes)
    pieces = sum(math.prod(hi[k] - lo[k] for k in range(3)) for _, lo, hi in seen.painted)

    assert common > 0
    assert pieces == pytest.approx(whole - common, rel=1e-9)


def test_a_turn_of_the_eye_stays_square_and_ends_where_it_should(page: Page) -> None:
    told = page.evaluate(
        """async () => {
          const {eyeAt, eyeBetween, dot} = await import("/js/model_eye.js");
          const ways = [[28, 22], [-90, 0], [180, 0], [10, 90], [208, -60]];
          const worst = [];
          for (const a of ways) for (const b of ways) {
            const from = eyeAt(...a), to = eyeAt(...b);
            for (const share of [0, 0.3, 0.5, 1]) {
              const e = eyeBetween(from, to, share);
              worst.push(Math.abs(dot(e.right, e.up)), Math.abs(dot(e.right, e.toward)), Math.abs(dot(e.up, e.up) - 1));
              if (share === 1) worst.push(1 - dot(e.right, to.right), 1 - dot(e.toward, to.toward));
              if (share === 0) worst.push(1 - dot(e.right, from.right), 1 - dot(e.up, from.up));
            }
          }
          return Math.max(...worst);
        }"""
    )

    assert told < 1e-9


def ends(box: Box) -> Ends:
    return tuple(box.low.along(a) for a in AXES), tuple(box.high.along(a) for a in AXES)


def cabinet(path: Path) -> tuple[list[Ends], set[tuple[int, int]]]:
    """Return a case's boxes, and which takes in which."""
    read = read_job(path)
    details = joinery.detail(joinery.join(carcass.build(read.job, read.workshop), read.workshop), Choices())
    case = details.cases[0]
    places = {p.id: n for n, p in enumerate(case.panels)}
    return [ends(p.box) for p in case.panels], {(places[a], places[b]) for a, b in let_in(case)}
