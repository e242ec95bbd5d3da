"""Source: indeterminatebeam 2.4, an open-source beam program.

Where: its reactions and deflection of a shelf on three supports. Row C3.
"""

from __future__ import annotations

import warnings

import pytest

from tests.reference.planks import CASES, EI_I


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
