"""Laws that any plank keeps (row C11), and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.soundness._beam import Bent, Line, PointLoad, Spread, Support, bend
from storyrod.soundness._plate import POISSON, plate_sag
from storyrod.soundness._section import plank
from storyrod.soundness._span import LONGEST, greatest_span, sag

EI = 3.2e8


@st.composite
def planks(draw: st.DrawFn) -> Line:
    """Planks on two to four supports, loaded all over and at a place."""
    gaps = draw(st.lists(st.floats(200, 900), min_size=1, max_size=3))
    xs = [0.0]
    for gap in gaps:
        xs.append(xs[-1] + gap)
    return Line(
        start=0.0,
        end=xs[-1],
        rigidity_n_mm2=draw(st.floats(1e8, 1e10)),
        shear_n=draw(st.sampled_from([math.inf, 6e5, 3e6])),
        supports=tuple(Support(x=x) for x in xs),
        spreads=(Spread(start=0.0, end=xs[-1], n_per_mm=draw(st.floats(0.01, 1))),),
        points=(PointLoad(x=draw(st.floats(0.1, 0.9)) * xs[-1], n=draw(st.floats(0, 300))),),
    )


def one(line: Line) -> Bent:
    return bend([line])[0]


def times(line: Line, k: float) -> Line:
    return replace(
        line,
        spreads=tuple(replace(s, n_per_mm=s.n_per_mm * k) for s in line.spreads),
        points=tuple(replace(p, n=p.n * k) for p in line.points),
    )


@given(line=planks(), k=st.floats(0.1, 10))
def test_k_times_the_load_sags_k_times_as_far(line: Line, k: float) -> None:
    plain, more = one(line), one(times(line, k))

    x = 0.37 * line.end
    assert more.down(x) == pytest.approx(k * plain.down(x), rel=1e-6, abs=1e-9)


@given(line=planks())
def test_supports_carry_all_that_lies_there(line: Line) -> None:
    bent = one(line)

    assert sum(bent.reactions_n) == pytest.approx(bent.total_n, rel=1e-8)
    turning = sum(s.x * n for s, n in zip(bent.supports, bent.reactions_n, strict=True))
    loads = sum(s.n_per_mm * (s.end - s.start) * (s.start + s.end) / 2 for s in line.spreads)
    assert turning == pytest.approx(loads + sum(p.n * p.x for p in line.points), rel=1e-7)


@given(line=planks(), k=st.floats(1.01, 5))
def test_a_stiffer_plank_sags_less_and_never_upward_in_all(line: Line, k: float) -> None:
    stiffer = replace(line, rigidity_n_mm2=line.rigidity_n_mm2 * k, shear_n=line.shear_n * k)
    a, b = one(line), one(stiffer)

    ends = (line.supports[0].x, line.supports[-1].x)
    assert 0 <= b.lowest(*ends)[1] <= a.lowest(*ends)[1]


@given(line=planks())
def test_left_to_right_mirrors(line: Line) -> None:
    end = line.end
    mirrored = replace(
        line,
        supports=tuple(Support(x=end - s.x) for s in reversed(line.supports)),
        points=tuple(PointLoad(x=end - p.x, n=p.n) for p in line.points),
    )

    assert one(mirrored).down(0.3 * end) == pytest.approx(one(line).down(0.7 * end), rel=1e-6, abs=1e-9)


@given(load=st.floats(0.01, 1), span=st.floats(200, 1500), t=st.floats(6, 40))
def test_double_span_is_sixteenfold_and_double_thickness_an_eighth(load: float, span: float, t: float) -> None:
    def down(length: float, thickness: float) -> float:
        return sag(load * length, length, plank(300, thickness, 2200).rigidity_n_mm2)

    assert down(2 * span, t) == pytest.approx(16 * down(span, t))
    assert down(span, 2 * t) == pytest.approx(down(span, t) / 8)


@given(load=st.floats(0.001, 2), share=st.floats(100, 800), shear=st.sampled_from([math.inf, 6e5, 3e6]))
def test_the_greatest_span_is_on_the_limit(load: float, share: float, shear: float) -> None:
    span = greatest_span(load, EI, share, shear)

    if span < LONGEST:
        assert sag(load * span, span, EI, shear) == pytest.approx(span / share, rel=1e-6)


def test_nothing_on_it_nothing_bends() -> None:
    assert greatest_span(0.0, EI, 240) == LONGEST


def test_a_plank_held_by_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="held by nothing"):
        one(Line(start=0, end=500, rigidity_n_mm2=EI, supports=(Support(x=0),)))


@pytest.mark.parametrize(("ratio", "constant"), [(1.0, 0.00406), (1.5, 0.00772), (2.0, 0.01013), (3.0, 0.01223)])
def test_plates_of_the_tables(ratio: float, constant: float) -> None:
    """Sag = constant q b^4 / D, b the shorter side, Poisson 0.3: textbooks on plates, from memory."""
    b, t, e, q = 400.0, 6.0, 2700.0, 1e-4
    d = e * t**3 / 12 / (1 - POISSON**2)

    assert plate_sag(ratio * b, b, t, q, e, e) == pytest.approx(constant * q * b**4 / d, rel=0.004)


def test_a_very_long_plate_is_a_strip() -> None:
    """Far from its ends it bends one way only: 5 q b^4 / 384 D."""
    b, t, e, q = 300.0, 6.0, 2700.0, 1e-4
    d = e * t**3 / 12 / (1 - POISSON**2)

    assert plate_sag(20 * b, b, t, q, e, e) == pytest.approx(5 * q * b**4 / (384 * d), rel=0.02)


def test_turning_a_plate_with_its_grain_changes_nothing() -> None:
    assert plate_sag(600, 400, 6, 1e-4, 8000, 5200) == pytest.approx(plate_sag(400, 600, 6, 1e-4, 5200, 8000))
