"""Source: indeterminatebeam 2.4, an open-source beam program.

Where: its reactions and deflection of a shelf on three supports. Row C3.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass

import pytest

from storyrod.soundness._beam import Bent, Line, PointLoad, Spread, Support, bend

EI_I = 145_800.0


@dataclass(frozen=True)
class Case:
    """One plank: its length, supports (place, clamped), even loads and point loads."""

    name: str
    length: float
    supports: tuple[tuple[float, bool], ...]
    spreads: tuple[tuple[float, float, float], ...] = ()
    points: tuple[tuple[float, float], ...] = ()
    e: float = 2200.0

    def ours(self) -> Bent:
        return bend(
            [
                Line(
                    start=0.0,
                    end=self.length,
                    rigidity_n_mm2=self.e * EI_I,
                    supports=tuple(Support(x=x, clamped=c) for x, c in self.supports),
                    spreads=tuple(Spread(start=a, end=b, n_per_mm=w) for a, b, w in self.spreads),
                    points=tuple(PointLoad(x=x, n=n) for x, n in self.points),
                )
            ]
        )[0]


CASES = (
    Case("simple, even", 800, ((0, False), (800, False)), ((0, 800, 0.3),)),
    Case("clamped, even", 800, ((0, True), (800, True)), ((0, 800, 0.3),)),
    Case("simple, in the middle", 900, ((0, False), (900, False)), (), ((450, 120),)),
    Case("simple, off the middle", 900, ((0, False), (900, False)), (), ((270, 150),)),
    Case("one end clamped", 750, ((0, True), (750, False)), ((0, 750, 0.25),)),
    Case("two equal spans", 1600, ((0, False), (800, False), (1600, False)), ((0, 1600, 0.3),)),
    Case("three equal spans", 1800, ((0, False), (600, False), (1200, False), (1800, False)), ((0, 1800, 0.3),)),
    Case("two unequal spans", 1200, ((0, False), (500, False), (1200, False)), ((0, 1200, 0.3),)),
    Case("overhanging both sides", 900, ((150, False), (750, False)), ((0, 900, 0.3),)),
    Case("one bay loaded of three", 1500, ((0, False), (500, False), (900, False), (1500, False)), ((900, 1500, 0.4),)),
    Case("part of a bay, and a point", 1000, ((0, False), (1000, False)), ((150, 600, 0.35),), ((800, 60),)),
    Case("cantilever", 300, ((0, True),), ((0, 300, 0.2),), ((300, 20),)),
    Case(
        "chipboard, two bays, three loads", 1300, ((0, False), (700, False), (1300, False)), ((0, 1300, 0.1),),
        ((200, 50), (900, 70)), e=1600.0,
    ),
)  # fmt: skip


def test_a_second_opinion_from_a_beam_program() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        indeterminatebeam = pytest.importorskip("indeterminatebeam")
        beam = indeterminatebeam.Beam(1.6, E=2200e6, I=EI_I * 1e-12)
        beam.add_supports(*(indeterminatebeam.Support(x, (1 if x == 0 else 0, 1, 0)) for x in (0, 0.8, 1.6)))
        beam.add_loads(indeterminatebeam.UDLV(-300, (0, 1.6)))
        beam.analyse()
        theirs = [beam.get_reaction(x, "y") for x in (0, 0.8, 1.6)]
        deflection = -float(beam.get_deflection(0.3372)) * 1000

    ours = CASES[5].ours()
    assert list(ours.reactions_n) == pytest.approx(theirs, rel=1e-4)
    assert ours.down(337.2) == pytest.approx(deflection, rel=0.005)
