"""One small box by dowels for all tests of rescue: A1 and A2 sides, A3 top, A4 base, A5 a shelf in the middle."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from storyrod.model.as_built import AsBuilt, Slip, SlipKind, Taken
from storyrod.model.job import Plinth
from storyrod.model.rescue import Rescue
from storyrod.planning import Plan, rescue
from tests.slips import SHOP, box, job_of, plan_of

type Rescued = Callable[..., Rescue]


@pytest.fixture(scope="session")
def plan() -> Plan:
    """The box, proven."""
    made = plan_of(box())
    assert not made.faults
    return made


@pytest.fixture(scope="session")
def housed() -> Plan:
    """The same box with its shelf let into housings."""
    made = plan_of(box(), "housing")
    assert not made.faults
    return made


@pytest.fixture(scope="session")
def plinthed() -> Plan:
    """The same box on a plinth 80 high, set back 40 and held by biscuits."""
    job = job_of(box(plinth=Plinth(height=80.0, setback=40.0)))
    made = Plan(replace(job, methods=replace(job.methods, plinth="biscuits")), SHOP)
    assert not made.faults
    return made


@pytest.fixture
def rescued(plan: Plan) -> Rescued:
    """Return what comes of one slip of the box, with what is cut besides."""

    def of(panel: str, kind: str, *, cut: tuple[str, ...] = (), before: tuple[Slip, ...] = (), **said: Any) -> Rescue:
        slip = Slip(panel=panel, kind=SlipKind(kind), **said)
        return rescue(plan, AsBuilt(cut=cut, slips=(*before, slip)), "A")

    return of


def taken(*moves: str) -> Taken:
    """Return a way of case A that was taken."""
    return Taken(case="A", moves=moves)
