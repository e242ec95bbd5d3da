"""Set-out: every mark is told with its reason, joint, mate and set-up; rods; odd requests are answered in words."""

from __future__ import annotations

from html import unescape
from urllib.parse import quote

import pytest

from storyrod.drawing import rod_tiles
from storyrod.model.job import Paper
from tests.unit.web.conftest import Asked
from tests.unit.web.test_panels import plan_of


def words(html: str) -> str:
    """Return HTML as plain text is searched."""
    return unescape(html)


def test_every_panel_has_its_drawing_and_table(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    plan = plan_of("rehearsal-room")

    for out in plan.set_out.cases[0].panels:
        told = asked.client.get(f"/job/{job}/set-out?panel={out.panel.id}").text
        assert f"{out.panel.mark} {out.panel.name}" in told
        assert told.count("<tr data-label=") == len(out.marks)
        assert 'class="drawing"' in told
        for mark in out.marks[:3]:
            assert f'data-id="{mark.feature.id}"' in told.split('id="set-out-drawn"')[1].split("</section>")[0]


def test_a_mark_is_told_whole(asked: Asked) -> None:
    job = asked.take("rehearsal-room")

    told = words(asked.client.get(f"/job/{job}/set-out/mark?mark=A1.2").text)

    assert "A1.2: hole Ø8, 13 deep" in told
    assert "<dd>88.85</dd>" in told
    assert "<dd>50</dd>" in told
    assert "dowels of base in left side" in told
    assert "Its mate: A4.17, on base" in told
    assert 'class="mark lit"' in told
    assert "J2</a>, dowels" in told
    assert f"/job/{job}/set-ups?set-up=S" in told
    assert f"/job/{job}/assembly?case=A&step=" in told


def test_every_mark_of_a_job_finds_its_mate_and_its_set_up(asked: Asked) -> None:
    """The mate of a mate is the mark itself, told on either page; and no cut is without a set-up."""
    job = asked.take("hymn-book-unit")
    plan = plan_of("hymn-book-unit")
    marks = [m for c in plan.set_out.cases for p in c.panels for m in p.marks]
    mates = {m.label: m.mate for m in marks}

    for mark in marks[::9]:
        told = words(asked.client.get(f"/job/{job}/set-out/mark?mark={mark.label}").text)
        assert "Set-up S" in told, mark.label
        assert mark.feature.why in told
        if mark.mate:
            assert f"Its mate: {mark.mate}" in told
            assert mates[mark.mate] == mark.label
        else:
            assert "It has no mate" in told


def test_the_address_of_a_mark_shows_its_panel_without_a_script(asked: Asked) -> None:
    job = asked.take("first-box")

    told = words(asked.client.get(f"/job/{job}/set-out?mark=A4.1").text)

    assert '<h2 class="panel-head">A4 base' in told
    assert "A4.1: " in told
    assert 'data-label="A4.1"' in told.split('class="chosen"')[0][-400:]


def test_a_wider_room_gets_a_larger_drawing_in_the_same_letters(asked: Asked) -> None:
    job = asked.take("first-box")

    def drawn(width: int) -> tuple[float, str]:
        svg = asked.client.get(f"/job/{job}/set-out/drawn?panel=A1&width={width}").text
        size = float(svg.split('width="')[1].split('"')[0])
        view = float(svg.split('viewBox="0 0 ')[1].split(" ")[0])
        em = float(svg.split('font-size="')[1].split('"')[0])
        return size, f"{em * size / view:.1f}"

    small, letters = drawn(500)
    large, same = drawn(1500)

    assert large > 1.5 * small
    assert letters == same


@pytest.mark.parametrize("width", ["nan", "-5", "1e9", "wide", "inf", ""])
def test_odd_widths_are_taken_within_reason(asked: Asked, width: str) -> None:
    job = asked.take("first-box")

    answer = asked.client.get(f"/job/{job}/set-out/drawn?panel=A1&width={width}")

    assert answer.status_code == 200
    assert len(answer.content) < 200_000


@pytest.mark.parametrize(
    "query",
    [
        "mark=A9.1",
        "mark=A1.999",
        "mark=.",
        "mark=<script>alert(1)</script>",
        "panel=../../etc",
        "panel=A99",
        "mark=" + "A" * 5000,
    ],
)
def test_what_is_not_there_is_told_in_words(asked: Asked, query: str) -> None:
    job = asked.take("first-box")
    key, _, value = query.partition("=")

    answer = asked.client.get(f"/job/{job}/set-out?{key}={quote(value)}")

    assert answer.status_code == 422
    assert "<script>alert" not in answer.text
    assert "allowed" in answer.text
    assert len(answer.text) < 5000


def test_panels_that_are_marked_together_are_told_and_drawn(asked: Asked) -> None:
    job = asked.take("rehearsal-room")

    told = words(asked.client.get(f"/job/{job}/set-out?panel=A9").text)

    assert "Marked together: A9 + A10" in told
    assert "?panel=A.drawer-1.side-right" in told


def test_rods_are_drawn_whole_and_in_tiles(asked: Asked) -> None:
    job = asked.take("first-box")
    plan = plan_of("first-box")
    gangs = [r.gang for r in plan.set_out.rods if r.lengths or r.widths]

    assert f"Rod {gangs[-1]}" in words(asked.client.get(f"/job/{job}/set-out/rod?gang={gangs[-1]}").text)
    every = asked.client.get(f"/job/{job}/set-out/rods").text
    one = asked.client.get(f"/job/{job}/set-out/rods?gang={gangs[0]}&paper=A3").text
    assert every.count('class="tile"') > one.count('class="tile"') >= 1
    tile = rod_tiles(plan.set_out.rods[0], Paper.A3)[0]
    assert f'width="{tile.paper_size[0]:.2f}mm"' in one  # at full size
    assert tile.unit == 1
    assert asked.client.get(f"/job/{job}/set-out/rods?gang=Q9").status_code == 422


@pytest.mark.parametrize("example", ["rehearsal-room", "low-units"])
def test_in_a_narrow_room_the_panel_is_still_seen_among_its_words(asked: Asked, example: str) -> None:
    """The words keep their size; a drawing that cannot hold both is wider than the room, and is scrolled."""
    job = asked.take(example)
    plan = plan_of(example)

    for out in [p for c in plan.set_out.cases for p in c.panels][::5]:
        told = asked.client.get(f"/job/{job}/set-out/drawn?panel={out.panel.id}&width=380").text
        svg = told.split("<svg")[1].split(">")[0]
        size = float(svg.split('width="')[1].split('"')[0])
        view = float(svg.split('viewBox="0 0 ')[1].split(" ")[0])
        shown = max(out.panel.length, out.panel.width) * size / view
        assert shown >= 0.3 * 380
