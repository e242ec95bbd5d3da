"""The papers of a batch: what it saves and who pays what, one buying list, sheets, set-ups and jigs for all jobs.

How each job is marked out and put together stands in its own bench packet: there its parts have the same marks without
the job's own before them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.adapters.packet._blocks import AS_IT_IS, AT_FULL_SIZE, Block, Packet, Section
from storyrod.adapters.packet._jig_tiles import jig_tile_sections
from storyrod.adapters.packet._labels import make_labels
from storyrod.adapters.packet._machining import jig_sections, machining_sections, run_section
from storyrod.adapters.packet._sheets import sheet_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import raise_if_any
from storyrod.planning import Batch
from storyrod.telling.batch import buying_blocks, first_blocks, patterns_of, trace_blocks
from storyrod.telling.blocks import Words

_MARKS: Final = (
    "A part's mark begins with its job's: 2-A1 is A1 of job 2. Use the sheets and set-up cards here instead of those "
    "in each job's own packet; mark out and assemble by that packet."
)


def make_batch_packet(batch: Batch, *, date: str = "") -> bytes:
    """Return the bench packet of a batch as PDF.

    Raises:
        JobError: a job has faults, or the whole was not proven; such a batch is not printed.
    """
    raise_if_any(batch.faults)
    return typeset(_packet(batch, tuple(_bench(batch)), date, AS_IT_IS))


def make_batch_buying(batch: Batch, *, date: str = "") -> bytes:
    """Return the buying list of a batch as PDF: what is bought where, then where each thing goes.

    Raises:
        JobError: as `make_batch_packet`.
    """
    raise_if_any(batch.faults)
    blocks: tuple[Block, ...] = (
        Words(text="One list for all jobs. What is on your shelf is already taken off."),
        *buying_blocks(batch),
    )
    sections = (
        Section(title=f"Buying list: {batch.title}", head="buying list", blocks=blocks),
        Section(title="Where it goes", head="where it goes", blocks=tuple(trace_blocks(batch))),
    )
    return typeset(_packet(batch, sections, date))


def make_batch_jigs(batch: Batch, *, date: str = "") -> bytes:
    """Return how each jig of a batch is made, checked and held, and those to be made at full size, as PDF.

    Raises:
        JobError: as `make_batch_packet`.
    """
    raise_if_any(batch.faults)
    plan = batch.together
    return typeset(_packet(batch, (*jig_sections(plan), *jig_tile_sections(plan)), date, AT_FULL_SIZE))


def make_batch_labels(batch: Batch) -> bytes:
    """Return a label for every part of every job as PDF, in the order in which the sheets give them.

    Raises:
        JobError: as `make_batch_packet`.
    """
    raise_if_any(batch.faults)
    return make_labels(batch.together)


def _packet(batch: Batch, sections: tuple[Section, ...], date: str, foot: str = "") -> Packet:
    job = batch.together.job
    return Packet(
        title=batch.title,
        mark=f"batch {batch.version}",
        maker=job.maker,
        date=date,
        paper=job.paper.value,
        sections=sections,
        unit=job.lengths.named,
        foot=foot,
    )


def _bench(batch: Batch) -> Iterator[Section]:
    plan = batch.together
    blocks = (*first_blocks(batch), Words(text=_MARKS))
    yield Section(title=f"Batch: {batch.title}", head="batch", blocks=blocks)
    yield run_section(plan)
    yield from sheet_sections(plan, patterns_of(batch))
    yield from machining_sections(plan)
