"""Planks that more than one reference works out: ours, to be held against each source in its own file."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.soundness._beam import Bent, Line, PointLoad, Spread, Support, bend

EI = 2200 * 145_800.0


def even(end: float, *supports: float, clamped: bool = False, n_per_mm: float = 0.30, ei: float = EI) -> Line:
    """Return an evenly loaded plank from 0 to `end` on supports at these places."""
    return Line(
        start=0.0,
        end=end,
        rigidity_n_mm2=ei,
        supports=tuple(Support(x=x, clamped=clamped) for x in supports),
        spreads=(Spread(start=0.0, end=end, n_per_mm=n_per_mm),),
    )


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
