"""What the command line says: faults, the check, the summary of a plan, and progress."""

from __future__ import annotations

import dataclasses
import json
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Self

from storyrod.faults import Caution, Fault, JobError
from storyrod.telling.purposes import USUAL, Purpose, Wishes

if TYPE_CHECKING:
    from storyrod.adapters.output import Written
    from storyrod.adapters.solid import SolidWitness
    from storyrod.planning import Plan


def show_faults(error: JobError, *, as_json: bool) -> None:
    """Print every fault: to standard error in words, or to standard output as JSON."""
    if as_json:
        told = {"faults": [dataclasses.asdict(f) for f in error.faults]}
        json.dump(told, sys.stdout, indent=1, ensure_ascii=False)
        print()
        return
    count = len(error.faults)
    print(f"{count} fault{'' if count == 1 else 's'} found, nothing written.\n", file=sys.stderr)
    for fault in error.faults:
        print(_fault_words(fault), file=sys.stderr)


def _fault_words(fault: Fault) -> str:
    place = fault.field or "the file"
    if fault.line is not None:
        place += f", line {fault.line}"
    if fault.file:
        place = f"{fault.file}: {place}"
    return f"{place}  [{fault.code}]\n  found    {fault.found}\n  allowed  {fault.allowed}\n  do       {fault.do}\n"


def check_report(plan: Plan, witness: SolidWitness | None, *, why: bool = False) -> str:
    """Return whether the job is sound, what to watch, and that it was proven; with `why` each check of the proof."""
    word = "can be built" if plan.cautions else "sound"
    lines = [f"{plan.job.title}: {word}. Plan version {plan.version}.", *_caution_lines(plan.cautions), ""]
    lines += ["Proven:", *(f"  {line}" for line in plan.proven)] if why else [_proven_in_one(plan)]
    if witness is not None:
        lines += ["", "By the solids, as a second witness:"]
        lines += [f"  {line}" for line in witness.lines()]
    return "\n".join(lines)


def plan_summary(plan: Plan, written: Written, *, prints: Sequence[Purpose], wishes: Wishes) -> str:
    """Return the summary of a plan: cases, counts, what to watch, where it was written, what was not printed."""
    from storyrod.telling.connectors import connector_items
    from storyrod.telling.panels import panels_of

    lines = [f"{plan.job.title}, plan version {plan.version}"]
    lines += [f"  {_case_words(plan, index)}" for index in range(len(plan.job.cases))]
    panels = sum(count for _, count in panels_of(plan))
    joints = sum(len(c.joints) * c.built.case.count for c in plan.details.cases)
    cuts = sum(len(c.features) * c.built.case.count for c in plan.details.cases)
    lines.append(f"  {panels:,} panels, {joints:,} joints, {cuts:,} cuts to mark and make")
    lines += [f"  {count:,} \u00d7 {item}" for item, count in sorted(connector_items(plan).items())]
    lines += [f"  {line}" for line in _sheet_lines(plan)]
    lines += list(_caution_lines(plan.cautions))
    lines += ["", _proven_in_one(plan)]
    lines += ["", f"Written to {written.folder}:", f"  {_files_words(written.files)}"]
    if written.removed:
        lines.append(f"  {_files_count(len(written.removed))} of the older plan removed")
    lines += [f"  your own {name} was in the way: it is kept as {kept}" for name, kept in written.yours]
    lines += _not_printed(plan, prints, wishes)
    return "\n".join(lines)


def _proven_in_one(plan: Plan) -> str:
    """Return one line for all that was proven: at the bench the list of it is in the way."""
    return f"Proven by {len(plan.proven)} checks, none failed; `storyrod check JOB --why` lists them."


_NO_QUOTATION = "No quotation: a customer would get this for nothing."


def _not_printed(plan: Plan, prints: Sequence[Purpose], wishes: Wishes) -> Iterable[str]:
    """Yield which papers were asked for and not made, and why."""
    from storyrod.adapters.packet import prints_of

    for one, why_not in prints_of(plan, prints, wishes) if prints else ():
        if not why_not or (one.purpose is Purpose.JIGS and tuple(prints) == USUAL):
            continue  # a job without jigs lacks nothing
        is_quotation = one.purpose is Purpose.QUOTATION
        yield ""
        yield _NO_QUOTATION if is_quotation else f"No {one.file}:"
        yield from (f"  {fault}" for fault in why_not)
        if is_quotation:
            yield "  Or make it with --quote-without: the quotation then says what it leaves out."


def _sheet_lines(plan: Plan) -> Iterable[str]:
    stock = {s.id: s for s in plan.stock}
    for board in plan.sheets.boards:
        used = ", ".join(
            stock[code].name if stock[code].offcut else f"{n} of {stock[code].name}" for code, n in board.figures.sheets
        )
        name = plan.job.board(board.board).name
        yield f"sheets of {name}: {used}; {board.figures.yield_share:.0%} used. {board.claim}"


def _case_words(plan: Plan, index: int) -> str:
    case = plan.job.cases[index]
    w, h, d = (plan.job.lengths.n(v) for v in (case.width, case.height, case.depth))
    times = f", {case.count} of them" if case.count > 1 else ""
    unit = "" if plan.job.unit.value == "in" else " mm"
    return f"{case.code}: {case.name}, {w} wide, {h} high, {d} deep{unit}{times}"


def _files_words(files: Iterable[str]) -> str:
    names = list(files)
    plain = [n for n in names if "/" not in n]
    folders = sorted({n.split("/")[0] for n in names if "/" in n})
    grouped = [f"{f}/ ({_files_count(sum(1 for n in names if n.startswith(f + '/')))})" for f in folders]
    return ", ".join(plain + grouped)


def _files_count(count: int) -> str:
    return f"{count:,} {'file' if count == 1 else 'files'}"


def _caution_lines(cautions: Iterable[Caution]) -> Iterable[str]:
    told = list(cautions)
    if told:
        yield ""
        yield f"{len(told)} {'thing' if len(told) == 1 else 'things'} to watch:"
        yield from (f"  {c} [{c.code}]" for c in told)


class Progress:
    """A line on standard error that says what is being made, when someone is watching."""

    def __init__(self, *, quiet: bool = False) -> None:
        self._shown = not quiet and sys.stderr.isatty()

    def __enter__(self) -> Self:
        return self

    def __call__(self, what: str) -> None:
        """Say what is being made now."""
        if self._shown:
            print(f"\r\033[K{what} ...", end="", file=sys.stderr, flush=True)

    def __exit__(self, *_: object) -> None:
        if self._shown:
            print("\r\033[K", end="", file=sys.stderr, flush=True)
