"""A batch from its files: read, planned and proven, and every file that comes of it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Final

from storyrod.adapters.output import (
    LAST,
    OutFile,
    batch_buying_csv,
    batch_document,
    batch_paid_csv,
    batch_traces_csv,
    saw_list_csv,
)
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.planning import Batch, Plan, faults_alone, plan_batch
from storyrod.telling.batch import patterns_of
from storyrod.telling.file_names import sheet_names
from storyrod.telling.sheets import SHEET_UNIT, sheet_drawing

if TYPE_CHECKING:
    from storyrod.adapters.files.batching import BatchRead

PACKET: Final = "batch-packet.pdf"
BUYING: Final = "buying-list.pdf"
JIGS: Final = "jigs.pdf"
LABELS: Final = "labels.pdf"
DOCUMENT: Final = LAST


def planned(read: BatchRead, progress: Callable[[str], None] = lambda _: None) -> Batch:
    """Return a batch planned and proven.

    Raises:
        JobError: every fault of every job, each with its file and line; or there is not enough stock for all.
    """
    plans: dict[str, Plan] = {}
    faults: list[Fault] = []
    for member in read.members:
        progress(f"working out {member.job.title}")
        plan = plans[member.mark] = Plan(member.marked, read.workshop)
        try:
            raise_if_any(faults_alone(plan))
        except JobError as error:
            faults += read.located(error, member.mark).faults
    raise_if_any(faults)
    progress("planning all of them together")
    batch = plan_batch(read.members, read.workshop, title=read.title, paid_by=read.paid_by, known=plans)
    raise_if_any(batch.faults)
    return batch


def batch_files(batch: Batch, *, date: str = "", prints: bool = True) -> Iterator[OutFile]:
    """Yield every file of a batch, `plan.json` last; nothing is made until its bytes are asked for."""
    yield OutFile(name="buying-list.csv", make=lambda: batch_buying_csv(batch).encode())
    yield OutFile(name="where-it-goes.csv", make=lambda: batch_traces_csv(batch).encode())
    yield OutFile(name="who-pays-what.csv", make=lambda: batch_paid_csv(batch).encode())
    if batch.together.sheets.boards:
        yield OutFile(name="saw-list.csv", make=lambda: saw_list_csv(batch.together).encode())
        yield from _sheet_files(batch)
    if prints:
        yield from _prints(batch, date)
    yield OutFile(name=DOCUMENT, make=partial(_document, batch))


def _prints(batch: Batch, date: str) -> Iterator[OutFile]:
    from storyrod.adapters.packet import make_batch_buying, make_batch_jigs, make_batch_labels, make_batch_packet

    yield OutFile(name=PACKET, make=partial(make_batch_packet, batch, date=date))
    yield OutFile(name=BUYING, make=partial(make_batch_buying, batch, date=date))
    if batch.together.machining.jigs:
        yield OutFile(name=JIGS, make=partial(make_batch_jigs, batch, date=date))
    if batch.together.sheets.boards:
        yield OutFile(name=LABELS, make=partial(make_batch_labels, batch))


def _sheet_files(batch: Batch) -> Iterator[OutFile]:
    patterns, plan = patterns_of(batch), batch.together
    names = sheet_names(plan)

    def made(name: str, kind: str) -> bytes:
        from storyrod.adapters import dxf, svg

        sheet = next(s for s in plan.sheets.sheets if s.name == name)
        if kind == "dxf":
            return dxf.write(sheet_drawing(plan, sheet, unit=SHEET_UNIT)).encode()
        return svg.write(sheet_drawing(plan, sheet, patterns=patterns)).encode()

    for sheet in plan.sheets.sheets:
        for kind in ("dxf", "svg"):
            yield OutFile(name=f"sheets/{names[sheet.name]}.{kind}", make=partial(made, sheet.name, kind))


def _document(batch: Batch) -> bytes:
    return (json.dumps(batch_document(batch), indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()
