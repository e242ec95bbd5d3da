"""The commands: what each takes, and what it does."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.adapters.commands._edition import today
from storyrod.adapters.commands._proven import proven_plan
from storyrod.telling.purposes import ALL as ALL_PRINTS
from storyrod.telling.purposes import NONE, USUAL, Purpose, Wishes, purposes_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from storyrod.model.saw_list import SheetProgress
    from storyrod.planning import Plan

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it

LABEL_CODES = ("a4-24", "a4-21", "letter-30")
"""Label papers, as `adapters/packet` has them; told here so that nothing of it is imported for `check`."""

_MOST_SECONDS = 86_400.0


def _add_plan(subs: Subparsers) -> None:
    command = _command(
        subs,
        "plan",
        "work out a job and write the packet, drawings and lists",
        "Works out the whole job, proves it, and writes plan.json, the bench packet and the papers that go with it, a "
        "drawing of every panel and sheet, the cutting list, the saw's list, the connector list and the solids. A "
        "folder with an older plan gets the newer one.",
    )
    _job(command)
    command.add_argument(
        "--out", metavar="DIR", type=Path, help="folder to write into (out/<name of the job file>/ unless set)"
    )
    command.add_argument(
        "--print",
        metavar="PAPERS",
        dest="prints",
        type=_prints,
        default=USUAL,
        help=f"which papers, with commas between: {', '.join(Purpose)}; or {ALL_PRINTS}, or {NONE} "
        f"({', '.join(USUAL)} unless set)",
    )
    command.add_argument(
        "--rods", metavar="MARKS", default="", help="with --print rods: only those of panels with these marks, as A1,A5"
    )
    command.add_argument(
        "--quote-without",
        action="store_true",
        help="make the quotation even though something has no price; it says what it leaves out",
    )
    command.add_argument("--step", action="store_true", help="write STEP files too (needs the extra `step`)")
    command.add_argument(
        "--seconds",
        metavar="N",
        type=_seconds,
        help="search for a better layout of the sheets for N seconds, with a second engine where it is installed "
        "(unless set: a second or a few, by our own engine, the same layout each time)",
    )
    command.add_argument("--log", metavar="LOG", help="cut from the offcuts on the rack of this bench log first")
    command.add_argument(
        "--again",
        action="store_true",
        help="with --log: the job was cut before and is made once more, from the rack as it is now",
    )
    command.add_argument(
        "--labels",
        metavar="PAPER",
        choices=LABEL_CODES,
        default="",
        help=f"label paper for labels.pdf: {', '.join(LABEL_CODES)} (what goes with the job's paper unless set)",
    )
    _as_json(command, "print the plan as JSON (the same as plan.json) instead of the summary")
    command.set_defaults(run=_run_plan)


def _run_plan(arguments: argparse.Namespace) -> int:
    from storyrod.adapters.commands._report import Progress, plan_summary
    from storyrod.adapters.output import plan_document, write_plan
    from storyrod.adapters.printing import plan_files

    with Progress(quiet=arguments.json) as progress:
        progress("working out the job")
        plan = proven_plan(
            arguments.job,
            then=lambda p: _laid_out(p, arguments.seconds, progress),
            log=arguments.log,
            again=arguments.again,
        )
        wishes = Wishes(
            date=today(),
            labels=arguments.labels,
            rods=tuple(m.strip() for m in arguments.rods.split(",") if m.strip()),
            quote_without=arguments.quote_without,
        )
        files = plan_files(plan, prints=arguments.prints, wishes=wishes, step=arguments.step)
        folder = arguments.out or Path("out") / arguments.job.stem
        written = write_plan(files, folder, progress)
    if arguments.json:
        json.dump(plan_document(plan), sys.stdout, indent=1, ensure_ascii=False, allow_nan=False)
        print()
    else:
        print(plan_summary(plan, written, prints=arguments.prints, wishes=wishes))
    return 0


def _prints(words: str) -> tuple[Purpose, ...]:
    try:
        return purposes_of(words)
    except ValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _seconds(words: str) -> float:
    try:
        seconds = float(words)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= _MOST_SECONDS:  # turns away what is no number, too
        raise argparse.ArgumentTypeError(f"found {words}; allowed: seconds above 0, up to {_MOST_SECONDS:.0f}")
    return seconds


def _laid_out(plan: Plan, seconds: float | None, progress: Callable[[str], None]) -> Plan:
    """Return the plan with its sheets laid out, so that a fault of them is told before anything is written."""
    progress("laying out the sheets")
    if seconds is None:
        plan.sheets  # noqa: B018  # worked out when first asked for
        return plan
    from storyrod.adapters.packing import PackingEngine

    def told(at: SheetProgress) -> None:
        sheets = f"{at.sheets} {'sheet' if at.sheets == 1 else 'sheets'}"
        progress(f"laying out {at.board}: {sheets} so far, {at.share:.0%} of its time gone")

    return plan.with_sheets_laid_out(seconds, PackingEngine(), told)


def _add_check(subs: Subparsers) -> None:
    command = _command(
        subs,
        "check",
        "say what is wrong with a job, and what to watch",
        "Reads the job, works it out, proves it and writes nothing. It lists every fault at once, with its field and "
        "line, what was found, what is allowed and what to do.",
    )
    _job(command)
    command.add_argument("--why", action="store_true", help="list every check that proves it, with its figures")
    command.add_argument("--solids", action="store_true", help="build the solids too, as a second witness (slower)")
    _as_json(command, "print what was proven, and the cautions, as JSON")
    command.set_defaults(run=_run_check)


def _run_check(arguments: argparse.Namespace) -> int:
    from storyrod.adapters.commands._report import check_report

    plan = proven_plan(arguments.job)
    witness = None
    if arguments.solids:
        from storyrod.adapters.solid import witness as solid_witness

        witness = solid_witness(plan.details)
    if arguments.json:
        from storyrod.telling.plain import plain

        told = {"proof": plain(plan.proof), "solids": plain(witness), "cautions": plain(plan.cautions)}
        json.dump(told, sys.stdout, indent=1, ensure_ascii=False, allow_nan=False)
        print()
    else:
        print(check_report(plan, witness, why=arguments.why))
        _print_wish(arguments.job, plan)
    return 0 if witness is None or witness.passed else 1


def _print_wish(job: Path, plan: Plan) -> None:
    """Say what no longer fits in of the wish that is kept beside a job, if one is."""
    from storyrod.adapters.files.kept_wish import kept_wish
    from storyrod.planning import misfits_of
    from storyrod.telling.wish import kept_lines

    kept = kept_wish(job)
    if kept is not None:
        print("\n" + "\n".join(kept_lines(misfits_of(plan, kept.wish, kept.goods), kept.goods, kept.name)))


def _add_new(subs: Subparsers) -> None:
    command = _command(
        subs,
        "new",
        "begin a job file from three sizes",
        "Writes a small, commented job file for one cabinet, ready to be planned and changed. "
        "An existing file is never overwritten.",
    )
    command.add_argument("job", metavar="JOB", type=Path, help="the job file to write, such as first-cabinet.toml")
    command.add_argument("--width", default="600", help='outside width (600 unless set; 23 5/8\\" will do)')
    command.add_argument("--height", default="720", help="outside height (720 unless set)")
    command.add_argument("--depth", default="400", help="outside depth (400 unless set)")
    command.add_argument(
        "--drawers", type=int, default=2, metavar="N", help="drawers, one above another (2 unless set)"
    )
    command.add_argument(
        "--plinth", default="80", metavar="HEIGHT", help="height of the plinth, 0 for none (80 unless set)"
    )
    command.add_argument("--title", default="", help="what the job is called")
    command.add_argument("--inches", action="store_true", help="write the job in inches")
    command.set_defaults(run=_run_new)


def _run_new(arguments: argparse.Namespace) -> int:
    from storyrod.adapters.commands._new import write_new_job

    path = write_new_job(arguments)
    print(f"Wrote {path}. Next: storyrod plan {path}, or python3 run.py plan {path} in the project's folder.")
    return 0


def _add_trial(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _trial

    _trial.add(subs)


def _add_compare(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _compare

    _compare.add(subs)


def _add_study(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _study

    _study.add(subs)


def _add_wish(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _wish

    _wish.add(subs)


def _add_batch(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _batch

    _batch.add(subs)


def _add_day(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _day

    _day.add(subs)


def _add_jigs(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _jigs

    _jigs.add(subs)


def _add_beside(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _beside

    _beside.add(subs)


def _add_edges(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _edges

    _edges.add(subs)


def _add_log(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _log

    _log.add(subs)


def _add_rescue(subs: Subparsers) -> None:
    from storyrod.adapters.commands import _rescue

    _rescue.add(subs)


ALL = (
    _add_plan,
    _add_check,
    _add_batch,
    _add_day,
    _add_jigs,
    _add_compare,
    _add_beside,
    _add_study,
    _add_edges,
    _add_trial,
    _add_rescue,
    _add_log,
    _add_wish,
    _add_new,
)


def _command(subs: Subparsers, name: str, short: str, long: str) -> argparse.ArgumentParser:
    return subs.add_parser(name, help=short, description=long)


def _job(command: argparse.ArgumentParser) -> None:
    command.add_argument("job", metavar="JOB", type=Path, help="the job file (TOML)")


def _as_json(command: argparse.ArgumentParser, text: str) -> None:
    command.add_argument("--json", action="store_true", help=text)
