"""Jigs worth keeping as a paper: why, how each is made and checked, and each at full size."""

from __future__ import annotations

from storyrod.adapters.packet._blocks import AT_FULL_SIZE, Packet, Section
from storyrod.adapters.packet._jig_tiles import tiles_of
from storyrod.adapters.packet._machining import jigs_told
from storyrod.adapters.packet._typeset import typeset
from storyrod.drawing import Figures
from storyrod.faults import raise_if_any
from storyrod.planning import Family
from storyrod.telling.standing import standing_blocks


def make_standing_jigs(family: Family, *, date: str = "") -> bytes:
    """Return the jigs worth keeping as PDF.

    Raises:
        JobError: a job that is planned with them does not pass its checkers; such jigs are not printed.
    """
    raise_if_any(family.faults)
    job = family.plans[0].job
    jigs = family.standing.jigs
    first = Section(title="Jigs worth keeping", head="jigs worth keeping", blocks=tuple(standing_blocks(family)))
    return typeset(
        Packet(
            title=job.title if len(family.jobs) == 1 else f"{len(family.jobs)} jobs",
            mark=f"plan {family.plans[0].version}",
            maker=job.maker,
            date=date,
            paper=job.paper.value,
            sections=(first, *jigs_told(jigs, Figures.of_job(job)), *tiles_of(jigs, job)),
            unit=job.lengths.named,
            foot=AT_FULL_SIZE,
        )
    )
