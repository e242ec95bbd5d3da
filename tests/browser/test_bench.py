"""The bench in a real browser: nothing lost and nothing doubled while the server dies, tablets that see each other."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from storyrod.adapters.log import open_log
from storyrod.adapters.log.bench import ticks_after
from storyrod.adapters.web._network import own_addresses
from tests.browser.conftest import Served, Windows
from tests.browser.test_model_page import until

pytestmark = pytest.mark.browser

JOB = "first-box"
KEPT = "All ticks are kept."

ABOUT_1_MIN, ABOUT_2_MIN, ABOUT_3_AND_A_HALF_MIN = (re.compile(rf"^{m}\d$") for m in ("1:[0-4]", "2:[0-4]", "3:[3-5]"))
"""The clock also runs while a slow machine goes on from one step of a test to the next."""


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for the tests that do not kill it; each takes a job of its own."""
    server = Served(home=tmp_path_factory.mktemp("bench"))
    for name in (JOB, "percussion-chest", "low-units"):
        server.take(name)
    server.start()
    yield server
    server.kill()


def own_job(server: Served, name: str) -> str:
    """Return a job like the example under a name of its own."""
    text = (server.jobs / f"{JOB}.toml").read_text(encoding="utf-8")
    (server.jobs / f"{name}.toml").write_text(text, encoding="utf-8")
    return name


def bench(windows: Windows, server: Served, job: str = JOB, card: str = "S4", *, touch: bool = True) -> Page:
    page = windows.open(f"{server.address}/job/{job}/bench?card={card}", width=820, height=1180, touch=touch)
    expect(page.locator("#clock-button")).to_be_visible()
    return page


def rows(page: Page, card: str) -> list[str]:
    return [str(b.get_attribute("value")) for b in page.locator(f"#card-{card} .tick").all()]


def press(page: Page, thing: str) -> None:
    row = page.locator(f'.tick[value="{thing}"]')
    row.tap() if page.evaluate("navigator.maxTouchPoints") else row.click()
    expect(row).to_have_attribute("aria-pressed", "true")


def logged(server: Served, job: str = JOB) -> list[tuple[str, bool]]:
    """Return every row of the log, so that a doubled tick would show."""
    with open_log(server.home / "bench-log.sqlite") as log:
        return [(t.thing.id, t.done) for _, t in ticks_after(log, job, 0)]


def test_a_set_up_is_ticked_while_the_server_dies_and_nothing_is_lost_or_doubled(
    served: Served, windows: Windows
) -> None:
    served.take(JOB)
    served.start()
    page = bench(windows, served)
    expect(page.locator("#away-words")).to_have_text("This page opens again even while the server is away.")
    things = rows(page, "S4")
    assert len(things) == 4
    for thing in things[:2]:
        press(page, thing)
    expect(page.locator("#sending")).to_have_text(KEPT)
    assert windows.told == []

    served.kill()
    for thing in things[2:]:
        press(page, thing)
    expect(page.locator("#sending")).to_contain_text("2 ticks wait to be sent: the server is away.")
    expect(page.locator("#left-all")).to_have_text("4 of 46")

    page.wait_for_timeout(300)  # the worker stores the page in its own time
    page.reload()
    for thing in things:
        expect(page.locator(f'.tick[value="{thing}"]')).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#sending")).to_contain_text("2 ticks wait")
    page.locator("#card-choice").select_option("S3")
    more = rows(page, "S3")[0]
    press(page, more)

    served.start()
    expect(page.locator("#sending")).to_have_text(KEPT)
    assert sorted(logged(served)) == sorted((thing, True) for thing in [*things, more])
    page.reload()
    expect(page.locator("#left-all")).to_have_text("5 of 46")
    assert all("ERR_" in words or "WebSocket" in words or "fetch" in words for words in windows.told)


def test_two_tablets_see_each_others_ticks(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "two-tablets")
    one, two = bench(windows, shared, job), bench(windows, shared, job)
    one.locator("#who").fill("saw bench")
    one.locator("#who").blur()
    thing, other = rows(one, "S4")[:2]
    press(one, thing)

    seen = two.locator(f'.tick[value="{thing}"]')
    expect(seen).to_have_attribute("aria-pressed", "true")
    expect(seen.locator(".state")).to_have_text("done, saw bench")
    press(two, other)
    expect(one.locator(f'.tick[value="{other}"]')).to_have_attribute("aria-pressed", "true")
    expect(one.locator("#left-all")).to_have_text("2 of 46")
    seen.evaluate("b => b.closest('details').open = true")
    seen.tap()
    expect(one.locator(f'.tick[value="{thing}"]')).to_have_attribute("aria-pressed", "false")
    assert windows.told == []


def test_a_tablet_that_was_away_is_told_of_another_plan(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "replanned")
    page = bench(windows, shared, job)
    thing = rows(page, "S4")[0]
    page.context.set_offline(True)
    press(page, thing)
    path = shared.jobs / f"{job}.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("width = ", "width = 1"), encoding="utf-8")
    page.context.set_offline(False)
    expect(page.locator("#sending")).to_have_text(KEPT)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.locator("#planned-anew")).to_contain_text("these cards are from the earlier plan")
    assert logged(shared, job) == [(thing, True)]


def test_the_clock_starts_and_stops_with_the_ticks_and_teaches(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "clock")
    page = windows.open("about:blank", let_in_at=shared.address, width=820, height=1180, touch=True)
    page.clock.install()
    page.goto(f"{shared.address}/job/{job}/bench?card=S4")
    face, button = page.locator("#clock-face"), page.locator("#clock-button")
    things = rows(page, "S4")
    expect(face).to_have_text("0:00")

    press(page, things[0])
    expect(button).to_have_text("Pause the clock")
    page.clock.fast_forward(60_000)
    expect(face).to_have_text(ABOUT_1_MIN)
    press(page, things[1])
    button.tap()
    expect(button).to_have_text("Go on")
    page.clock.fast_forward(30_000)
    expect(face).to_have_text(ABOUT_1_MIN)
    button.tap()
    page.clock.fast_forward(90_000)
    press(page, things[2])
    page.clock.fast_forward(60_000)
    press(page, things[3])
    page.clock.fast_forward(10_000)
    expect(face).to_have_text(ABOUT_3_AND_A_HALF_MIN)
    expect(button).to_have_text("Start the clock")
    expect(page.locator("#card-S4 .card-end")).to_have_text("Nothing missed on this card: 4 of 4.")
    expect(page.locator("#sending")).to_have_text(KEPT)

    with open_log(shared.home / "bench-log.sqlite") as log:
        spans = log.spans(job=job)
    holes = [s for s in spans if s.act == "drill a hole"]
    assert sum(s.count for s in holes) == 3, spans  # the first one was drilled before the clock began
    assert sum(s.minutes or 0 for s in spans) == pytest.approx(3.5, abs=0.17)
    assert windows.told == []


def test_the_clock_stops_by_itself_over_a_break(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "break")
    page = windows.open("about:blank", let_in_at=shared.address, width=820, height=1180)
    page.clock.install()
    page.goto(f"{shared.address}/job/{job}/bench?card=S3")
    things = rows(page, "S3")
    press(page, things[0])
    page.clock.fast_forward(120_000)
    press(page, things[1])
    page.clock.fast_forward(21 * 60_000)
    page.clock.run_for(2_000)

    expect(page.locator("#said")).to_contain_text("nothing was ticked for 20 minutes")
    expect(page.locator("#clock-face")).to_have_text(ABOUT_2_MIN)
    page.reload()
    expect(page.locator("#clock-face")).to_have_text(ABOUT_2_MIN)


def test_with_the_keyboard_alone(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "keyboard")
    page = bench(windows, shared, job, touch=False)
    things = rows(page, "S4")
    page.locator("#card-choice").focus()
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.tick')"):
            break
    until(page, "(it) => document.activeElement.value === it", things[0])
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    expect(page.locator(f'.tick[value="{things[1]}"]')).to_have_attribute("aria-pressed", "true")
    until(page, "(it) => document.activeElement.value === it", things[2])  # the next placing is open, and in reach
    page.keyboard.press("Enter")
    page.wait_for_timeout(600)  # a second tap at once is a slip of the finger, and passed over
    page.keyboard.press("Enter")
    expect(page.locator(f'.tick[value="{things[2]}"]')).to_have_attribute("aria-pressed", "false")
    page.wait_for_timeout(600)
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    until(page, "document.activeElement.id === 'card-next'")
    page.keyboard.press("Enter")
    expect(page.locator("#card-S5 h2")).to_be_focused()
    assert windows.told == []


def test_a_whole_job_ends_with_nothing_missed(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "whole")
    page = bench(windows, shared, job, "S1", touch=False)
    for card in ("S1", "S2", "S3", "S4", "S5", "S6", "case-A"):
        page.locator("#card-choice").select_option(card)
        whole = page.locator(f"#card-{card} .whole-card")
        whole.get_by_role("button", name="Tick the whole card").click()
        left = len(rows(page, card))
        expect(whole.locator(".whole-count")).to_contain_text(f"Count what is done: {left} on this card")
        whole.get_by_role("button", name=f"All {left} are there").click()
        expect(page.locator(f"#card-{card} .card-end")).to_contain_text("Nothing missed on this card")
    expect(page.locator("#left-all")).to_have_text("46 of 46")
    expect(page.locator("#nothing-missed h2")).to_have_text("Nothing missed")
    expect(page.locator("#nothing-missed-words")).to_have_text(
        "All 46 are ticked, among them 5 panels cut, 24 cuts made, 6 joints closed."
    )
    expect(page.locator("#sending")).to_have_text(KEPT)
    assert len(logged(shared, job)) == 46


def test_a_whole_card_is_counted_panel_by_panel_ticked_and_taken_back(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "counted-box")
    page = bench(windows, shared, job)
    things = rows(page, "S4")
    press(page, things[0])
    whole = page.locator("#card-S4 .whole-card")
    whole.get_by_role("button", name="Tick the whole card").tap()
    expect(whole.locator(".whole-count")).to_have_text(re.compile(r"^Count what is done: 3 on this card\. A\d .+: \d"))
    counts = re.findall(r": (\d)", str(whole.locator(".whole-count").text_content()).split("card.")[1])
    assert sum(map(int, counts)) == 3
    whole.get_by_role("button", name="Tick one by one").tap()
    expect(page.locator(f'.tick[value="{things[1]}"]')).to_be_focused()
    expect(page.locator("#left-all")).to_have_text("1 of 46")

    whole.get_by_role("button", name="Tick the whole card").tap()
    whole.get_by_role("button", name="All 3 are there").tap()
    expect(page.locator("#left-all")).to_have_text("4 of 46")
    whole.get_by_role("button", name="Take these 3 back").tap()
    expect(page.locator("#left-all")).to_have_text("1 of 46")
    expect(page.locator("#sending")).to_have_text(KEPT)
    assert [done for _, done in logged(shared, job)] == [True] * 4 + [False] * 3
    page.locator("#card-next").tap()
    page.locator("#card-before").tap()
    expect(whole.get_by_role("button", name="Take these")).to_be_hidden()


def test_copies_are_worked_one_after_the_other(shared: Served, windows: Windows) -> None:
    page = bench(windows, shared, "low-units", "S9")
    group = page.locator("#card-S9 .group[open]").first
    group.get_by_role("button", name="Tick all 2 of them").tap()
    expect(group.get_by_role("button", name="copy 1: done")).to_be_visible()
    expect(group.get_by_role("button", name="copy 2: 0 of 2")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#left-here")).to_contain_text("on D1 left side, copy 2")
    group.get_by_role("button", name="Tick all 2 of them").tap()
    expect(page.locator("#card-S9 .group[open] .placed")).to_contain_text("stop B")


@pytest.mark.parametrize(
    ("width", "dark", "addresses"),
    [
        (820, False, ("bench?card=S5", "set-ups?set-up=S5&kind=step&reading=40")),
        (1280, True, ("bench?card=case-A", "set-ups?set-up=S5")),
    ],
)
def test_the_bench_and_the_set_ups_are_within_reach_of_all(
    shared: Served, windows: Windows, width: int, dark: bool, addresses: tuple[str, ...]
) -> None:
    for address in addresses:
        page = windows.open(f"{shared.address}/job/{JOB}/{address}", width=width, height=1180, dark=dark)
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert windows.told == []


def test_what_is_tapped_is_large_enough_and_changes_hands(shared: Served, windows: Windows) -> None:
    page = bench(windows, shared, "percussion-chest", "S12")
    sizes = page.evaluate(
        """() => [...document.querySelectorAll('.bench-card:not([hidden]) button, .bench-bar button, .bench-ways a')]
          .filter(b => b.offsetParent).map(b => [b.textContent, b.offsetHeight, b.offsetWidth])"""
    )
    assert sizes
    assert not [s for s in sizes if s[1] < 64 or s[2] < 64]
    figures = page.evaluate(
        "() => [...document.querySelectorAll('#card-S12 dd')].map(d => parseFloat(getComputedStyle(d).fontSize))"
    )
    assert figures
    assert min(figures) >= 24

    box = page.locator("#card-S12 .group[open] .tick .box").first
    right = box.bounding_box()
    page.get_by_label("Laid out for the left hand").check()
    left = box.bounding_box()
    assert right is not None
    assert left is not None
    assert right["x"] > 410 > left["x"]
    page.reload()
    assert (box.bounding_box() or {"x": 999.0})["x"] < 410


def test_a_trial_joint_is_worked_out_while_it_is_typed(shared: Served, windows: Windows) -> None:
    page = windows.open(f"{shared.address}/job/low-units/set-ups?set-up=S3")
    reading, told = page.get_by_label("How much"), page.locator("#trial-answer")
    reading.fill("40")
    expect(told).to_contain_text("Look for a wrong line, a wrong face or a part the wrong way round")
    reading.fill('1/64"')
    expect(told).to_contain_text("Packer 0.55 mm instead of 0.15")
    page.get_by_role("button", name="Keep it in the bench log").click()
    expect(page.locator("#said")).to_have_text("Kept in the bench log.")
    with open_log(shared.home / "bench-log.sqlite") as log:
        assert [(t.set_up, t.kind) for t in log.trials("low-units")] == [("S3", "step")]
    assert [w for w in windows.told if "422" not in w] == []


@pytest.mark.skipif(not own_addresses(), reason="This machine is in no network.")
def test_a_tablet_comes_in_over_the_network_with_the_code_alone(shared: Served, windows: Windows) -> None:
    job = own_job(shared, "network")
    here = bench(windows, shared, job, touch=False)
    here.get_by_role("button", name="Open it to the network").click()
    address = here.locator("#network .address").first.inner_text()
    code = here.locator("#network .code").inner_text()
    expect(here.locator("#network .qr svg")).to_be_visible()

    there = windows.open(f"{address}/job/{job}/bench", width=820, height=1180, touch=True)
    assert there.url == f"{address}/enter"
    there.get_by_label("Code").fill("abcdefgh")
    there.get_by_role("button", name="Come in").tap()
    expect(there.locator("#wrong")).to_contain_text("That is not the code.")
    assert Axe().run(there).violations_count == 0
    there.get_by_label("Code").fill(code.upper())
    there.get_by_role("button", name="Come in").tap()
    there.wait_for_url(f"{address}/")
    there.goto(f"{address}/job/{job}/bench?card=S4")
    expect(there.locator("#network")).to_contain_text("came in over the workshop")
    expect(there.locator("#away-words")).to_contain_text("Leave this page open")
    expect(there.locator("#awake-words")).to_contain_text("set the tablet's own time until it sleeps")

    scanned = windows.open(f"{address}/enter#code={code.replace(' ', '')}&to=%2Fjob%2F{job}%2Fbench")
    scanned.wait_for_url(f"{address}/job/{job}/bench")
    assert "code" not in scanned.evaluate("performance.getEntriesByType('navigation')[0].name")

    one, two = rows(there, "S4")[:2]
    press(there, one)
    here.goto(f"{shared.address}/job/{job}/bench?card=S4")
    expect(here.locator(f'.tick[value="{one}"]')).to_have_attribute("aria-pressed", "true")
    assert [w for w in windows.told if "401" not in w] == []  # but for the wrong code, nothing was complained of
    here.get_by_role("button", name="Close it to the network").click()
    expect(here.get_by_role("button", name="Open it to the network")).to_be_visible()
    press(there, two)
    expect(there.locator("#sending")).to_contain_text("1 tick waits")
    assert [thing for thing, _ in logged(shared, job)] == [one]


def test_words_and_figures_on_the_cards_are_large_enough(shared: Served, windows: Windows) -> None:
    page = bench(windows, shared, "low-units", "S9")
    small = page.evaluate(
        """() => [...document.querySelectorAll('#card-S9 .section text')]
          .map(t => parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a)
          .filter(px => Math.abs(px) > 0 && Math.abs(px) < 13)"""
    )
    assert small == []
