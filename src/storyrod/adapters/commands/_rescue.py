"""`storyrod rescue`: a slip recorded, what it breaks, the ways out, and the sheet of the one that is taken."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from storyrod.model.as_built import AsBuilt, Slip
    from storyrod.model.feature import FeatureId
    from storyrod.model.rescue import Rescue, Way
    from storyrod.planning import Plan

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it

_LENGTHS: Final = (
    ("along", "with elsewhere or twice: how much farther from the datum end; below 0 is nearer, as in --along=-3"),
    ("across", "the same from the face edge, or in an edge or end from the face side"),
    ("depth", "how deep the cuts are"),
    ("cut-width", "how wide the cuts are, or their diameter"),
    ("length", "length that the panel has"),
    ("width", "width that the panel has"),
    ("thickness", "thickness that the panel has"),
    ("out-of-square", "by how much its diagonals differ"),
    ("from-end", "where the damage is, from the datum end"),
    ("from-edge", "the same from the face edge"),
    ("size", "how wide the damage is"),
    ("off", "with glued: how far off its lines, to the right, the back or up above 0"),
)


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    from storyrod.model.as_built import SlipKind
    from storyrod.model.panel import Surface
    from storyrod.telling.rescue import BY

    command = subs.add_parser(
        "rescue",
        help="find a way out when something is cut wrong, lost or glued out of place",
        description="Records what went wrong beside the job file, says what it breaks, and works out the ways to put "
        "it right, each one fully checked. What is cut stays as it is. Without a slip it says how things are now.",
    )
    command.add_argument("job", metavar="JOB", type=Path, help="the job file (TOML)")
    slip = command.add_argument_group("what went wrong")
    slip.add_argument("--panel", metavar="MARK", help="mark of the panel, as A3")
    slip.add_argument("--what", metavar="SLIP", choices=[*SlipKind], help=", ".join(SlipKind))
    slip.add_argument("--copy", metavar="N", type=int, default=1, help="which copy of the case (1 unless set)")
    slip.add_argument(
        "--cuts", metavar="CUTS", default="", help="numbers of cuts, joints as J2, or all; commas between"
    )
    slip.add_argument("--surface", choices=[*Surface], help="the surface that is damaged")
    slip.add_argument("--joints", metavar="JOINTS", default="", help="with glued: which joints; all unless set")
    slip.add_argument("--note", metavar="WORDS", default="", help="anything else about it")
    for name, words in _LENGTHS:
        slip.add_argument(f"--{name}", metavar="LENGTH", help=words)
    command.add_argument("--cut", metavar="MARKS", default="", help="what is cut as marked: A3, A4.2; commas between")
    command.add_argument("--log", metavar="LOG", help="a bench log: what is ticked there counts as cut")
    command.add_argument("--undo", action="store_true", help="take back the last entry")
    command.add_argument("--redo", action="store_true", help="put back the last entry taken back")
    command.add_argument("--case", metavar="CODE", help="the case; the last slip's unless set")
    command.add_argument("--by", choices=BY, default=BY[0], help="how to sort the ways (all unless set)")
    command.add_argument("--take", metavar="N", type=int, help="take this way, by its number in the list")
    command.add_argument("--sheet", metavar="FILE", type=Path, help="write the rescue sheet (PDF) of the way taken")
    command.add_argument("--json", action="store_true", help="print breaks and ways as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Record what is told, and say what it breaks and what can be done."""
    from storyrod.adapters.commands._proven import proven_plan
    from storyrod.adapters.rescuing import case_and_copy, take

    plan = proven_plan(arguments.job)
    facts = _recorded(arguments, plan)
    case, copy = case_and_copy(plan, facts, arguments.case or "", arguments.copy if arguments.copy > 1 else 0)
    told = _rescue(plan, facts, case, copy, arguments)
    from storyrod.telling.rescue import in_order

    ways = in_order(told.ways, arguments.by)
    taken = tuple(code for t in facts.taken_for(case, copy) for code in t.moves)
    way = next((w for w in told.ways if w.codes == taken), None)
    if arguments.take is not None:
        way = _nth(ways, arguments.take)
        facts = take(arguments.job, plan, case, copy, way, _now())
    if arguments.json:
        print(json.dumps(_plain(told, ways), indent=1, ensure_ascii=False))
    else:
        print("\n".join(_report(plan, facts, told, ways, way if way is not None and way.moves else None)))
    if arguments.sheet is not None:
        _write_sheet(arguments.sheet, plan, facts, case, copy, way)
    return 0


def _recorded(arguments: argparse.Namespace, plan: Plan) -> AsBuilt:
    """Record what is told, and return all that is recorded."""
    from storyrod.adapters.files.as_built import read_as_built, redone, undone
    from storyrod.adapters.rescuing import changed, record

    if arguments.undo or arguments.redo:
        return changed(arguments.job, plan, undone if arguments.undo else redone)
    cut, slip = _names(arguments.cut), _slip(arguments, plan)
    if slip is None and not cut:
        return read_as_built(arguments.job)
    return record(arguments.job, plan, slips=() if slip is None else (slip,), cut=cut)


def _slip(arguments: argparse.Namespace, plan: Plan) -> Slip | None:
    from storyrod.model.as_built import Slip, SlipKind
    from storyrod.model.panel import Surface

    if arguments.what is None:
        if arguments.panel is not None:
            raise JobError(_needed("--what", "what went wrong with it"))
        return None
    if arguments.panel is None:
        raise JobError(_needed("--panel", "the mark of the panel"))
    measured = {name.replace("-", "_"): _length(arguments, name, plan) for name, _ in _LENGTHS}
    slip = Slip(
        panel=arguments.panel,
        kind=SlipKind(arguments.what),
        copy=arguments.copy,
        cuts=_names(arguments.cuts),
        surface=None if arguments.surface is None else Surface(arguments.surface),
        joints=_names(arguments.joints),
        note=arguments.note,
        when=_now(),
    )
    return replace(slip, **measured)  # type: ignore[arg-type]  # names of its lengths


def _length(arguments: argparse.Namespace, name: str, plan: Plan) -> float | None:
    from storyrod.measure.length import parse_length

    written = getattr(arguments, name.replace("-", "_"))
    if written is None:
        return None
    try:
        return parse_length(written, plan.job.unit)
    except JobError as error:
        raise error.under(f"--{name}") from None


def _needed(field: str, what: str) -> Fault:
    return Fault(code="missing", field=field, found="nothing", allowed=what, do="A slip needs both: add it.")


def _names(words: str) -> tuple[str, ...]:
    return tuple(w.strip() for w in words.split(",") if w.strip())


def _rescue(plan: Plan, facts: AsBuilt, case: str, copy: int, arguments: argparse.Namespace) -> Rescue:
    from storyrod.adapters.commands._report import Progress
    from storyrod.planning import rescue

    ticked = _ticked(plan, arguments, copy)
    with Progress(quiet=arguments.json) as progress:
        progress("looking for ways out")
        return rescue(plan, facts, case, copy, ticked)


def _ticked(plan: Plan, arguments: argparse.Namespace, copy: int) -> frozenset[FeatureId]:
    if arguments.log is None:
        return frozenset()
    from storyrod.adapters.commands._log import refuse_missing
    from storyrod.adapters.log import open_log
    from storyrod.adapters.rescuing import ticked_cuts

    refuse_missing(arguments.log, "--log")
    with open_log(arguments.log) as log:
        return ticked_cuts(log, plan, (plan.job.title, arguments.job.stem), copy)


def _nth(ways: tuple[Way, ...], number: int) -> Way:
    from storyrod.adapters.rescuing import no_such_way

    if not 1 <= number <= len(ways):
        allowed = f"1 to {len(ways)}" if ways else "nothing: there is no way out to take"
        raise no_such_way(f"{number}", allowed)
    return ways[number - 1]


def _write_sheet(path: Path, plan: Plan, facts: AsBuilt, case: str, copy: int, way: Way | None) -> None:
    from storyrod.adapters.files import write_bytes_safely
    from storyrod.adapters.packet import make_rescue_sheet
    from storyrod.adapters.rescuing import no_way_taken, slips_of

    if way is None:
        raise no_way_taken()
    slips = slips_of(plan, facts, case, copy)
    write_bytes_safely(path, make_rescue_sheet(plan, way, slips, date=_now()))
    print(f"Wrote {path}.")


def _report(plan: Plan, facts: AsBuilt, told: Rescue, ways: tuple[Way, ...], taken: Way | None) -> Iterator[str]:
    from storyrod.adapters.rescuing import slips_of
    from storyrod.telling.rescue import Sheet, break_lines, cost_words, found_words, slip_words, way_lines

    lengths, currency = plan.job.lengths, plan.job.currency
    copy = f", copy {told.copy}" if told.copy > 1 else ""
    yield f"{plan.job.title}, case {told.case}{copy}"
    slips = slips_of(plan, facts, told.case, told.copy)
    yield from (
        ("", "Recorded:", *(f"  {slip_words(s, lengths)}" for s in slips)) if slips else ("", "No slip recorded.")
    )
    if taken is not None:
        yield from ("", "Taken:", *(f"  {line}" for line in way_lines(taken)))
        sheet = Sheet(plan, taken)
        yield from ("", "What to watch:", *(f"  {line}" for line in sheet.watch()))
        yield from ("", "Pages of the packet:", *(f"  {line}" for line in sheet.replaced()))
        return
    breaks = break_lines(told.breaks)
    yield from ("", "What it breaks:", *(f"  {line}" for line in breaks)) if breaks else ("", "It breaks nothing.")
    yield from ("", found_words(told))
    for n, way in enumerate(ways, start=1):
        yield from ("", f"{n}. {cost_words(way.cost, currency)}", *(f"   {line}" for line in way_lines(way)))
        yield from (f"   ! {words}" for m in way.moves for words in (m.watch, m.weaker) if words)
    if any(w.moves for w in ways):
        yield from ("", "Take one with --take N, and add --sheet FILE for its rescue sheet.")


def _plain(told: Rescue, ways: tuple[Way, ...]) -> dict[str, object]:
    from storyrod.telling.plain import plain

    return {
        "case": told.case,
        "copy": told.copy,
        "breaks": plain(told.breaks),
        "ways": [
            {
                "moves": plain(w.moves),
                "cost": plain(w.cost),
                "plugs": plain(w.plugs),
                "to_cut": sorted(w.to_cut),
                "again": sorted(w.again),
                "left": list(w.left),
            }
            for w in ways
        ],
        "tried": told.tried,
        "proven": told.proven,
        "is_best": told.is_best,
        "only_remaking": told.only_remaking,
    }


def _now() -> str:
    """Return the day and hour, or the one that the surroundings give for repeatable builds."""
    import datetime as dt
    import os

    given = os.environ.get("SOURCE_DATE_EPOCH")
    when = dt.datetime.fromtimestamp(int(given), dt.UTC) if given else dt.datetime.now(dt.UTC).astimezone()
    return f"{when:%Y-%m-%d %H:%M}"
