"""Running dimensions: one origin, figures apart, long even rows told by their step."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from storyrod.drawing import Figures, Running
from storyrod.drawing._running import LINE_GAP, Side, Wanted, laid_out
from storyrod.measure.length import Unit

FIGURES = Figures()


def along(values: list[float], *, extent: float = 600.0, unit: float = 5.0, way: int = 1) -> Running:
    side = Side(along_x=True, way=way, line_at=-50.0, toward=-1, extent=extent)
    return laid_out([Wanted(v, -10.0) for v in values], FIGURES, unit, side)


def test_equal_figures_are_shown_once() -> None:
    run = along([0.0, 37.0, 37.0, 37.004, 600.0])

    assert [s.text for s in run.stops] == ["0", "37", "600"]


def test_the_line_starts_at_the_lowest_of_equal_places() -> None:
    side = Side(along_x=True, way=1, line_at=-50.0, toward=-1, extent=600.0)

    run = laid_out([Wanted(37.0, 300.0), Wanted(37.0, 20.0)], FIGURES, 5.0, side)

    assert run.stops[0].start == 20.0


def test_a_datum_at_the_right_runs_to_the_left() -> None:
    run = along([0.0, 100.0, 600.0], way=-1)

    assert [s.at for s in run.stops] == [0.0, -100.0, -600.0]
    assert [s.text for s in run.stops] == ["0", "100", "600"]


def test_a_long_even_row_keeps_its_ends_and_says_its_step() -> None:
    values = [0.0, *(64.0 + 32.0 * n for n in range(40)), 1400.0]

    shown = [s.text for s in along(values, extent=1400.0, unit=14.0).stops if s.text]

    assert shown == ["0", "64", "each 32", "1312", "1400"]


def test_figures_that_may_go_are_left_out_when_room_is_short() -> None:
    side = Side(along_x=True, way=1, line_at=-50.0, toward=-1, extent=100.0)
    wanted = [Wanted(float(n), 0.0, needed=n % 3 == 0) for n in range(0, 100, 7)]

    kept = [s.value for s in laid_out(wanted, FIGURES, 5.0, side).stops]

    assert kept == [0.0, 21.0, 42.0, 63.0, 84.0]


@given(values=st.lists(st.integers(0, 4000), min_size=1, max_size=60, unique=True))
def test_no_two_figures_stand_closer_than_a_line(values: list[int]) -> None:
    unit = 10.0

    run = along([v / 2 for v in values], extent=2000.0, unit=unit)
    places = sorted(s.label_at for s in run.stops if s.text)

    assert all(b - a >= LINE_GAP * run.height * unit - 1e-6 for a, b in pairwise(places))


def test_inches_are_shown_as_fractions_without_the_mark() -> None:
    side = Side(along_x=True, way=1, line_at=0.0, toward=-1, extent=600.0)
    figures = Figures(unit=Unit.INCH, fraction=32)

    run = laid_out([Wanted(600.075, 0.0)], figures, 5.0, side)

    assert run.stops[0].text == "23 5/8"
    assert figures.said == "Figures in inches: a fraction where a rule shows it, decimals where it does not."
