"""`storyrod log`: what the bench has taught, which ticks still hold, and the log's way out and back in."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from storyrod.adapters.log import BenchLog
    from storyrod.model.workshop import Workshop

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "log",
        help="what the bench log has learned; export, import or rescue it",
        description="Reads a bench log and says what is in it: jobs, stop-watches running, and the standard times "
        "learned so far. With a job, it says which ticks still hold in its plan as it is now.",
    )
    command.add_argument("log", metavar="LOG", help="the log's file, or the address of a database")
    command.add_argument("--job", metavar="JOB", type=Path, help="a job file: which of its ticks still hold")
    command.add_argument("--export", metavar="DIR", type=Path, help="write the whole log into DIR as CSV files")
    command.add_argument("--import", metavar="DIR", type=Path, dest="import_from", help="add an export to the log")
    command.add_argument("--rescue-to", metavar="FILE", type=Path, help="read what can be read into a new log")
    command.add_argument("--rack", action="store_true", help="list the offcuts on the rack")
    command.add_argument(
        "--cut",
        metavar="PLAN",
        type=Path,
        help="confirm that the sheets of a plan.json are cut: rack pieces it used come off the rack, "
        "its offcuts worth keeping go on it",
    )
    command.add_argument(
        "--copy", metavar="N", type=int, default=1, help="with --cut: which making of the job it is (1 unless set)"
    )
    command.add_argument("--take-off", metavar="CODE", help="take an offcut off the rack: used up or thrown away")
    command.add_argument("--json", action="store_true", help="print the learned times as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Do what is asked of the log, and say what it holds."""
    from storyrod.adapters.log import export_log, fresh_timings, import_log, open_log, rescue

    if arguments.rescue_to is not None:
        told = rescue(Path(arguments.log), arguments.rescue_to)
        print("\n".join((f"Read into {arguments.rescue_to}:", *(f"  {line}" for line in told.lines()))))
        return 0
    begins = arguments.import_from is not None or arguments.cut is not None  # these may make a new log
    if not begins:
        refuse_missing(arguments.log, "LOG")
    with open_log(arguments.log) as log:
        if arguments.rack or arguments.cut is not None or arguments.take_off is not None:
            print("\n".join(_rack(log, arguments)))
            return 0
        if arguments.import_from is not None:
            print(f"{import_log(log, arguments.import_from)} rows added.")
        if arguments.export is not None:
            files = export_log(log, arguments.export)
            print(f"{len(files)} files written to {arguments.export}.")
        workshop = _workshop(arguments.job)
        if arguments.json:
            from storyrod.ledger import teach
            from storyrod.telling.plain import plain

            print(json.dumps(plain(teach(workshop, fresh_timings(log, workshop))[1]), indent=1, ensure_ascii=False))
        else:
            print("\n".join(_report(log, workshop, arguments.job)))
    return 0


def refuse_missing(log: str, field: str) -> None:
    """Refuse the name of a log that is not there, so that a slip of the pen makes no empty one.

    Raises:
        JobError: no such file.
    """
    if "://" not in log and not Path(log).exists():
        raise JobError(
            Fault(
                code="file-missing",
                field=field,
                found=f'no file "{log}"',
                allowed="a bench log",
                do="Check the name, and the folder. A new log begins with the first tick at the "
                "bench (`storyrod open`), with the first sheets cut (`--cut PLAN`), or from the tables of another "
                "(`--import DIR`).",
            )
        )


def _rack(log: BenchLog, arguments: argparse.Namespace) -> Iterator[str]:
    """Do what is asked of the rack, and say what was done and what lies there now."""
    from storyrod.adapters.log import keep_offcuts, read_cut_sheets, take_off
    from storyrod.measure.writing import METRIC

    if arguments.take_off is not None:
        taken = take_off(log, arguments.take_off)
        yield f"Off the rack: {taken.code}, {taken.board}, {METRIC.told_size(taken.length, taken.width)}."
    if arguments.cut is not None:
        cut = read_cut_sheets(arguments.cut)
        yield f"{cut.job}, plan version {cut.version}, is cut."
        yield from keep_offcuts(log, cut, copy=arguments.copy).lines()
    there = log.rack()
    yield f"{len(there)} offcut{'s' * (len(there) != 1)} on the rack{':' if there else '.'}"
    for o in there:
        yield f"  {o.code}: {o.board}, {METRIC.told(o.length)} along the grain x {METRIC.told(o.width)}"


def _workshop(job: Path | None) -> Workshop:
    from storyrod.adapters.files import packaged_workshop, read_job

    return packaged_workshop() if job is None else read_job(job).workshop


def _report(log: BenchLog, workshop: Workshop, job: Path | None) -> Iterator[str]:
    jobs = log.jobs()
    yield f"{len(jobs)} job{'s' * (len(jobs) != 1)}: {', '.join(jobs) or 'none yet'}."
    for span in log.running():
        yield f"A stop-watch is running: {span.act} ({span.job})."
    yield from _learned(log, workshop)
    if job is not None:
        yield from _carried(log, job)


def _learned(log: BenchLog, workshop: Workshop) -> Iterator[str]:
    from storyrod.adapters.log import fresh_timings
    from storyrod.ledger import curve_of, teach

    timings = fresh_timings(log, workshop)
    yield f"{len(timings)} timing{'s' * (len(timings) != 1)}."
    for told in teach(workshop, timings)[1]:
        yield f"  {told.text}" if not told.method else f"    by {told.method}: {told.text}"
        if told.method:
            continue
        for aside in told.set_aside:
            yield f"    set aside: {aside.why}"
        odd = {aside.timing.id for aside in told.set_aside}
        curve = curve_of([t for t in timings if t.act == told.act and t.id not in odd])
        if curve is not None:
            yield f"    {curve.text}"


def _carried(log: BenchLog, job: Path) -> Iterator[str]:
    from storyrod.adapters.files import read_job
    from storyrod.adapters.log import carry_over
    from storyrod.planning import Plan
    from storyrod.telling.cards import things_of

    read = read_job(job)
    plan = Plan(read.job, read.workshop)
    try:
        things = things_of(plan)
    except JobError as error:
        raise read.located(error) from None
    yield f"{plan.job.title}, plan version {plan.version}:"
    names = dict.fromkeys((plan.job.title, job.stem))  # the page knows a job by its file, a script by its title
    for line in carry_over([t for name in names for t in log.ticks(name)], things).lines():
        yield f"  {line}"
