"""Build every case of a job; the faults of all of them are told at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from storyrod.carcass._back import add_back
from storyrod.carcass._cautions import warn
from storyrod.carcass._feet import add_feet, check_feet
from storyrod.carcass._fillers import add_fillers, check_fillers, fix_fillers
from storyrod.carcass._fronts import leave_gaps
from storyrod.carcass._holding import check_holding
from storyrod.carcass._hung import add_hanging_rail, check_hung, place_fixings
from storyrod.carcass._inside import lay_inside
from storyrod.carcass._making import Making, with_unit
from storyrod.carcass._openings import fill_openings
from storyrod.carcass._pipes import cut_for_pipes
from storyrod.carcass._place import check_place
from storyrod.carcass._screws import settle_fixings
from storyrod.carcass._shell import Shell, add_shell, plan_shell
from storyrod.carcass._skirting import check_skirting, notch_sides
from storyrod.carcass._worktop import add_worktop, check_worktop, fix_worktop
from storyrod.faults import Caution, Fault, JobError
from storyrod.model.carcass import BuiltCase, Carcass
from storyrod.model.fixing import Fixing
from storyrod.model.hung import HungPlace
from storyrod.model.job import Board, Job
from storyrod.model.workshop import Workshop
from storyrod.trade.boards import thickness_limits


def build(job: Job, workshop: Workshop, known: Mapping[int, BuiltCase] | None = None) -> Carcass:
    """Return every panel of the job in its place, with openings, drawers, doors, fittings and hardware.

    Joinery may still make a panel longer by what its housing or rebate swallows; all else is final. Cases that are
    `known` already, by their number, are not built again.

    Raises:
        JobError: every reason, in all cases, why the job cannot be built as written.
    """
    cases: list[BuiltCase] = []
    faults: list[Fault] = []
    for n, case in enumerate(job.cases):
        if known and n in known:
            cases.append(known[n])
            continue
        making = Making(job=job, case=case, workshop=workshop)
        shell = plan_shell(making)
        if shell is not None:
            check_hung(making, shell)
            check_worktop(making)
            check_feet(making, shell)
            check_skirting(making, shell)
            check_fillers(making)
        if shell is not None and not making.faults:
            cases.append(_build_case(making, shell))
        faults += making.faults
    if faults:
        raise JobError(*faults)
    return Carcass(job=job, cases=tuple(cases), cautions=_not_measured(job, cases))


def _not_measured(job: Job, cases: list[BuiltCase]) -> tuple[Caution, ...]:
    """Return a caution for each board in use whose thickness nobody has measured."""
    used = {p.board for c in cases for p in c.panels}
    return tuple(
        Caution(
            code="board-not-measured",
            about=board.name,
            text=_taken_words(job, board),
            do="Measure it at eight places, 50 mm in from the edges, and write the mean down as `measured`.",
        )
        for board in job.boards
        if board.code in used and not board.measured_given
    )


def _taken_words(job: Job, board: Board) -> str:
    """Return what a board is taken as, and by how much the room between two of them may come out otherwise."""
    said = f"It is not measured: every size takes it as {with_unit(job, board.measured)} thick."
    under, over = thickness_limits(board.kind, board.thickness)
    least, most, narrower, wider = (
        with_unit(job, x) for x in (board.thickness - under, board.thickness + over, 2 * over, 2 * under)
    )
    return (
        f"{said} Such a sheet is {least} to {most}: "
        f"a width between two of them comes out up to {narrower} less or {wider} more."
    )


def _build_case(making: Making, shell: Shell) -> BuiltCase:
    add_shell(making, shell)
    notch_sides(making)
    add_back(making, shell)
    add_hanging_rail(making, shell)
    bays = lay_inside(making, shell)
    add_worktop(making)
    add_fillers(making)
    hung = place_fixings(making)
    fix_worktop(making, shell)
    feet = add_feet(making, shell)
    for bay in bays:
        check_holding(making, bay)
    fill_openings(making, bays)
    cut_for_pipes(making)
    fix_fillers(making)
    leave_gaps(making)
    check_place(making)
    fixings = settle_fixings(making)
    if not making.faults:
        warn(making, bays)
    return replace(_finished(making, shell, fixings, hung), feet=feet)


def _finished(making: Making, shell: Shell, fixings: tuple[Fixing, ...], hung: HungPlace | None) -> BuiltCase:
    return BuiltCase(
        case=making.case,
        panels=tuple(making.panels.values()),
        inside=shell.inside,
        openings=tuple(making.openings),
        drawers=tuple(making.drawers),
        doors=tuple(making.doors),
        fittings=tuple(f for features in making.fittings.values() for f in features),
        hardware=tuple(making.hardware),
        clearances=tuple(making.clearances),
        cautions=tuple(making.cautions),
        fixings=fixings,
        hung=hung,
        rails=tuple(making.rails),
    )
