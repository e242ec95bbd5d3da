"""Whether a case carries, stands and closes: what paper and page say of it alike."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.measure.writing import LengthWriter
from storyrod.model.soundness import CaseSoundness, Racking, RailLoad, Sag, Tipping, TipTest
from storyrod.model.worktop import Overhang

_BACKS = {"stiffens": "The back stiffens it ({by}).", "locates": "The back is {by}.", "none": "It has no back."}


def back_words(racking: Racking) -> str:
    """Return what the back does for a case that leans sideways."""
    return _BACKS[racking.back].format(by=racking.by)


def strain(sag: Sag) -> float:
    """Return how much of the sag that is allowed a plank takes in the long run; 0 where it is not known."""
    return 0.0 if sag.lasting is None else sag.lasting / sag.limit


def planks_by_strain(found: CaseSoundness) -> tuple[Sag, ...]:
    """Return the planks that bend, those nearest to what is allowed, or over it, first."""
    return tuple(sorted((s for s in found.sags if s.curve), key=strain, reverse=True))


def stiffness_words(sag: Sag) -> str:
    """Return how stiff a plank's board is taken to be, and where that is from."""
    return "not known" if sag.stiffness_n_mm2 is None else f"{sag.stiffness_n_mm2:,.0f} N/mm² ({sag.stiffness_from})"


def counted_tests(tipping: Tipping) -> tuple[TipTest, ...]:
    """Return the conditions that count, the one nearest to tipping first."""
    return tuple(sorted((t for t in tipping.tests if t.counts), key=lambda t: t.ratio))


def tipping_sources(tipping: Tipping) -> tuple[str, ...]:
    """Return where the conditions are from."""
    return tuple(sorted({t.source for t in tipping.tests if t.counts}))


def rail_cells(rail: RailLoad, lengths: LengthWriter) -> tuple[str, ...]:
    """Return a clothes rail in figures: name, span, kg, sag, allowed, on each screw, what that may carry, a verdict."""
    return (
        rail.name,
        lengths.n(rail.span),
        f"{rail.load_kg:.1f}",
        lengths.about_n(rail.lasting or rail.at_once),
        lengths.about_n(rail.limit),
        f"{rail.each_n:.0f}",
        "not known" if rail.usable_n is None else f"{rail.usable_n:.0f}",
        _rail_verdict(rail),
    )


def _rail_verdict(rail: RailLoad) -> str:
    if rail.bends_too_much:
        return "bends too much"
    if rail.used is not None and rail.used > 1:
        return "screws too weak"
    return "holds" if rail.used is not None else "screws not known"


def rails_reckoned_with(rails: Sequence[RailLoad]) -> str:
    """Return what the figures of clothes rails rest on, in sentences."""
    loads = sorted({r.why for r in rails})
    sources = sorted({r.source for r in rails})
    return (
        f"Assumes {'; '.join(loads)}, spread evenly; the tube is free to turn in its sockets. What a screw may carry "
        f"permanently: {'; '.join(sources)}, with its factors for long loads and safety. An estimate: test a socket "
        "first."
    )


def overhang_cells(one: Overhang, lengths: LengthWriter) -> tuple[str, ...]:
    """Return an overhang in figures: side, reach, drop, allowed, stress, may be, on a screw, it holds, a verdict."""
    return (
        one.side.value,
        lengths.n(one.reach),
        "not known" if one.sag is None else lengths.about_n(one.sag),
        lengths.about_n(one.limit),
        f"{one.stress_n_mm2:.1f}",
        "not known" if one.usable_n_mm2 is None else f"{one.usable_n_mm2:.1f}",
        f"{one.screw_n:,.0f}",
        "not known" if one.holds_n is None else f"{one.holds_n:,.0f}",
        _overhang_verdict(one),
    )


def _overhang_verdict(one: Overhang) -> str:
    if one.bends_too_much:
        return "bends too much"
    if one.pulls_out:
        return "screws too weak"
    if one.ratio is not None and one.ratio < 1:
        return "turns the case over"
    return "holds" if one.holds_n is not None else "screws not known"


def overhangs_reckoned_with(overhangs: Sequence[Overhang]) -> str:
    """Return what the figures of overhangs rest on, in sentences."""
    sources = sorted({o.source for o in overhangs})
    return (
        f"Assumes {overhangs[0].force_n:,.0f} N on the edge, as tests of tables load it (from memory), on a strip "
        f"that spreads at 45°; the worktop is stiff and turns about the case's edge. A third of the board's "
        f"strength and of what a screw holds is used. A screw holds: {'; '.join(sources)}. An estimate."
    )
