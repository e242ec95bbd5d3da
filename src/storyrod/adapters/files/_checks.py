"""What the fields of a job and its workshop say together: all that can be known before anything is worked out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator

from storyrod.adapters.files._fields import nearest
from storyrod.faults import Fault, WayOut
from storyrod.measure.tolerance import TOUCH
from storyrod.model.job import (
    BackKind,
    BetweenOrOver,
    Board,
    Case,
    Holds,
    Job,
    JointClass,
    MethodChoice,
    Opening,
)
from storyrod.model.workshop import Workshop

DEEPEST = 12
"""No inside is cut into openings more than so many times over."""

MOST_OPENINGS = 200
"""No case has more openings."""

Told = Callable[[float], str]
"""Tells a length with its unit."""

FARTHEST_OFF = 2.0
"""A measured thickness further from the nominal one than this (mm) is a slip of the pen."""


def check_job(job: Job, workshop: Workshop) -> tuple[Fault, ...]:
    """Return every fault that job and workshop show together."""
    return tuple(
        fault
        for part in (
            _check_boards(job),
            _check_codes(job),
            _check_overrides(job, workshop),
            _check_choice(job.methods, workshop),
            *(_check_case(case, job, workshop) for case in job.cases),
        )
        for fault in part
    )


def _named(code: str, field: str, found: str, known: Iterable[str], what: str, do: str) -> Fault:
    words = list(known)
    near = nearest(found, words)
    return Fault(
        code=code,
        field=field,
        found=f'"{found}"',
        allowed=f"{what}: {', '.join(words)}" if words else f"{what}; there is none yet",
        do=f'Did you mean "{near}"?' if near else do,
        ways=tuple(WayOut(field=field, value=w) for w in (*([near] if near else []), None, *words[:3])),
    )


def _check_boards(job: Job) -> Iterator[Fault]:
    if not job.boards:
        yield Fault(
            code="missing",
            field="boards",
            found="no board",
            allowed="at least one board",
            do="Describe one, such as `[boards.birch18]` with kind and thickness.",
        )
    told = job.lengths.told
    for board in job.boards:
        if abs(board.measured - board.thickness) > FARTHEST_OFF:
            yield Fault(
                code="range",
                field=f"{board.field}.measured",
                found=f"{told(board.measured)} for a board of {told(board.thickness)}",
                allowed=f"within {told(FARTHEST_OFF)} of the nominal thickness",
                do="Measure it again, or correct the nominal thickness.",
            )
        edging = board.edging
        if edging is not None and edging not in {e.code for e in job.edgings}:
            yield _named(
                "missing-edging",
                f"{board.field}.edging",
                edging,
                (e.code for e in job.edgings),
                "the code of an edging",
                f"Describe it in a table `[edgings.{edging}]`.",
            )


def _check_codes(job: Job) -> Iterator[Fault]:
    if not job.cases:
        yield Fault(
            code="missing",
            field="cases",
            found="no case",
            allowed="at least one case",
            do="Write one in a `[[cases]]` table.",
        )
    first: dict[str, int] = {}
    for number, case in enumerate(job.cases):
        before = first.setdefault(case.code.casefold(), number)
        if before != number:
            yield Fault(
                code="duplicate-code",
                field=f"{case.field}.code",
                found=f'"{case.code}", which cases[{before}] has too',
                allowed="a code that no other case has",
                do="Give one of the two another code; write `count = 2` for two identical cases.",
            )


def _check_overrides(job: Job, workshop: Workshop) -> Iterator[Fault]:
    codes = [c.code for c in job.cases]
    for joint in job.overrides:
        if joint.case not in codes:
            do = "Write the code of a case of this job."
            yield _named("missing-case", f"{joint.field}.case", joint.case, codes, "the code of a case", do)
        if joint.between[0].casefold() == joint.between[1].casefold():
            yield Fault(
                code="joint",
                field=f"{joint.field}.between",
                found=f'"{joint.between[0]}" twice',
                allowed="the names of two panels",
                do="Name the two panels that meet, as the packet prints them.",
            )
        if joint.method is None and joint.spread is None:
            yield Fault(
                code="missing",
                field=f"{joint.field}.method",
                found="neither a method nor a spread",
                allowed="a method, a spread, or both",
                do="Say what is different about this joint, or delete the table.",
            )
        if joint.method is not None:
            yield from _check_method(f"{joint.field}.method", joint.method, None, workshop)


def _check_choice(choice: MethodChoice, workshop: Workshop) -> Iterator[Fault]:
    for joint_class in JointClass:
        code = choice.of(joint_class)
        if code is not None:
            yield from _check_method(f"{choice.field}.{joint_class.name.lower()}", code, joint_class, workshop)


def _check_method(field: str, code: str, joint_class: JointClass | None, workshop: Workshop) -> Iterator[Fault]:
    method = workshop.method(code)
    if method is None:
        yield _named(
            "missing-method",
            field,
            code,
            (m.code for m in workshop.methods if joint_class is None or joint_class in m.classes),
            "the code of a method of the workshop",
            "Choose one of these, or describe yours in the workshop file.",
        )
    elif joint_class is not None and joint_class not in method.classes:
        yield Fault(
            code="method-class",
            field=field,
            found=f'"{code}", which is for {_words(method.classes)} joints',
            ways=tuple(WayOut(field=field, value=m.code) for m in workshop.methods if joint_class in m.classes)[:3],
            allowed=f"a method for {joint_class.value} joints: "
            + ", ".join(m.code for m in workshop.methods if joint_class in m.classes),
            do="Choose one of these.",
        )


def _words(classes: Iterable[JointClass]) -> str:
    *most, last = (c.value for c in classes)
    return f"{', '.join(most)} and {last}" if most else last


def _check_case(case: Case, job: Job, workshop: Workshop) -> Iterator[Fault]:
    yield from _check_case_boards(case, job)
    if case.methods is not None:
        yield from _check_choice(case.methods, workshop)
    yield from _check_fittings(case, workshop)
    yield from _check_inside(case)
    boards = {b.code: b for b in job.boards}
    yield from _check_place(case, boards, job.lengths.told)
    if case.board in boards:
        yield from _check_room(case, boards[case.board], boards, job.lengths.told)


def _check_case_boards(case: Case, job: Job) -> Iterator[Fault]:
    codes = [b.code for b in job.boards]
    used = [
        (f"{case.field}.board", case.board or None),
        (f"{case.field}.plinth.board", case.plinth.board if case.plinth else None),
        (f"{case.field}.hung.board", case.hung.board if case.hung else None),
        (f"{case.field}.feet.board", case.feet.board if case.feet else None),
        (f"{case.field}.worktop.board", case.worktop.board if case.worktop else None),
        (f"{case.field}.fillers.board", case.fillers.board if case.fillers else None),
        (f"{case.back.field}.board", case.back.board),
        (f"{case.fronts.field}.board", case.fronts.board),
        (f"{case.drawers.field}.board", case.drawers.board),
        (f"{case.drawers.field}.bottom_board", case.drawers.bottom_board),
        (f"{case.loose_shelves.field}.board", case.loose_shelves.board),
        *((f"{o.field}.board", o.divider_board) for o, _ in _openings(case.inside)),
    ]
    for field, code in used:
        if code is not None and code not in codes:
            do = f"Describe it in a table `[boards.{code}]`."
            yield _named("missing-board", field, code, codes, "the code of a board of this job", do)


def _openings(root: Opening) -> Iterator[tuple[Opening, int]]:
    """Every opening of the tree with its depth in it, from the outermost in."""
    waiting = [(root, 0)]
    while waiting:
        opening, depth = waiting.pop()
        yield opening, depth
        waiting.extend((o, depth + 1) for o in reversed(opening.inside))


def _check_fittings(case: Case, workshop: Workshop) -> Iterator[Fault]:
    held = {o.holds for o, _ in _openings(case.inside)}
    runners = [r.code for r in workshop.runners]
    runner = case.drawers.runner
    if runner is not None and runner not in runners:
        do = "Choose one of these, or describe yours in the workshop file."
        field = f"{case.drawers.field}.runner"
        yield _named("missing-runner", field, runner, runners, "the code of a runner of the workshop", do)
    yield from _check_feet(case, workshop)
    screw = case.worktop.fixed_with if case.worktop is not None else None
    if case.worktop is not None and screw is not None and workshop.screw(screw) is None:
        known = [s.code for s in workshop.screws]
        do = "Choose one of these, or describe yours in the workshop file."
        yield _named("missing-screw", f"{case.worktop.field}.fixed_with", screw, known, "a kind of screw", do)
    if Holds.DRAWER in held and runner is None and workshop.runner(workshop.default_runner) is None:
        yield Fault(
            code="missing-runner",
            field=f"{case.drawers.field}.runner",
            found="drawers, but no runner for them",
            allowed="the code of a runner of the workshop",
            do="Name one here, or as `runner` under `[defaults]` in the workshop file.",
        )
    yield from _check_rails(case, workshop)
    doors = {Holds.DOOR, Holds.PAIR_OF_DOORS}
    if held & doors and workshop.hinge(workshop.default_hinge) is None:
        yield Fault(
            code="missing-hinge",
            field=case.inside.field,
            found="doors, but no hinge for them",
            allowed="a hinge in the workshop",
            do="Name one as `hinge` under `[defaults]` in the workshop file.",
        )


def _check_feet(case: Case, workshop: Workshop) -> Iterator[Fault]:
    if case.feet is None:
        return
    known, kind = [f.code for f in workshop.feet], case.feet.kind
    field = f"{case.feet.field}.kind"
    if kind is not None and kind not in known:
        do = "Choose one of these, or describe yours in the workshop file."
        yield _named("missing-foot", field, kind, known, "the code of a levelling foot", do)
    elif kind is None and workshop.default_foot not in known:
        yield Fault(
            code="missing-foot",
            field=field,
            found="feet, but no kind of foot",
            allowed="the code of a levelling foot of the workshop",
            do="Name one here, or as `foot` under `[defaults]` in the workshop file.",
        )


def _check_rails(case: Case, workshop: Workshop) -> Iterator[Fault]:
    known = [r.code for r in workshop.clothes_rails]
    for opening, _ in _openings(case.inside):
        rail = opening.clothes_rail
        if rail is None:
            continue
        field = f"{rail.field}.kind"
        if rail.kind is not None and rail.kind not in known:
            do = "Choose one of these, or describe yours in the workshop file."
            yield _named("missing-clothes-rail", field, rail.kind, known, "the code of a clothes rail", do)
        elif rail.kind is None and workshop.default_rail not in known:
            yield Fault(
                code="missing-clothes-rail",
                field=field,
                found="a clothes rail, but no kind for it",
                allowed="the code of a clothes rail of the workshop",
                do="Name one here, or as `clothes_rail` under `[defaults]` in the workshop file.",
            )


def _check_inside(case: Case) -> Iterator[Fault]:
    openings = list(_openings(case.inside))
    deepest = max(depth for _, depth in openings)
    if deepest > DEEPEST or len(openings) > MOST_OPENINGS:
        found = f"{len(openings)} openings, cut {deepest} times over"
        allowed = f"at most {MOST_OPENINGS} openings, cut at most {DEEPEST} times over"
        do = "Make more than one case of it."
        yield Fault(code="inside", field=case.inside.field, found=found, allowed=allowed, do=do)


def _check_place(case: Case, boards: dict[str, Board], told: Told) -> Iterator[Fault]:
    fits = case.fits
    if fits is None:
        return
    for name in ("width", "height", "depth"):
        place = getattr(fits, name)
        size = getattr(case, name)
        above = _worktop_adds(case, name, boards)
        beside = case.fillers.gaps if case.fillers is not None and name == "width" else 0.0
        if place is not None and size > place - fits.clearance - above - beside + TOUCH:
            most = told(place - fits.clearance - above - beside)
            worktop = f", and {told(above)} for the worktop" if above else ""
            worktop += f", and {told(beside)} for fillers" if beside else ""
            yield Fault(
                code="fits",
                field=f"{case.field}.{name}",
                found=f"{told(size)}",
                allowed=f"at most {most}: the place has {told(place)}, less {told(fits.clearance)} clearance{worktop}",
                do=f"Leave `{name}` out, and it becomes {most}.",
                ways=(WayOut(field=f"{case.field}.{name}", value=None),),
            )


def _worktop_adds(case: Case, size: str, boards: dict[str, Board]) -> float:
    if case.worktop is None:
        return 0.0
    board = boards.get(case.worktop.board or case.board)
    return case.worktop.adds(size, board.measured if board is not None else 0.0)


def _check_room(case: Case, board: Board, boards: dict[str, Board], told: Told) -> Iterator[Fault]:
    t = board.measured
    thick = f"boards of {told(t)}"
    if case.width <= 2 * t + 10:
        yield _too_small(
            case, "width", case.width, (2 * t + 10, f"two sides in {thick} and {told(10.0)} between them"), told
        )
    plinth = case.plinth.height if case.plinth else 0.0
    panels = (case.top in {BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.OVER_SIDES, BetweenOrOver.RAILS}) + (
        case.base is not BetweenOrOver.NONE
    )
    least = panels * t + 10
    if case.plinth and plinth >= case.height - least:
        yield Fault(
            code="plinth-height",
            field=f"{case.plinth.field}.height",
            found=f"{told(plinth)}, in a case {told(case.height)} high",
            allowed=f"below {told(case.height - least)}",
            do="Make the plinth lower or the case higher.",
            ways=_lower(f"{case.plinth.field}.height", case.height - least),
        )
    elif case.height <= least:
        yield _too_small(
            case, "height", case.height, (least, f"top and base in {thick} and {told(10.0)} between them"), told
        )
    if case.plinth and case.plinth.setback >= case.depth - t:
        yield Fault(
            code="range",
            field=f"{case.plinth.field}.setback",
            found=f"{told(case.plinth.setback)}, in a case {told(case.depth)} deep",
            allowed=f"below {told(case.depth - t)}",
            do="Set the plinth back less.",
            ways=_lower(f"{case.plinth.field}.setback", case.depth - t),
        )
    yield from _check_back(case, board, boards, told)


def _too_small(case: Case, name: str, size: float, least: tuple[float, str], told: Told) -> Fault:
    """Return the fault of a case too small for its boards; `least` is the size, and why."""
    return Fault(
        code="range",
        field=f"{case.field}.{name}",
        found=f"{told(size)}",
        allowed=f"more than {told(least[0])}: {least[1]}",
        do="Make the case larger or its board thinner.",
        ways=(WayOut(field=f"{case.field}.{name}", value=float(math.floor(least[0]) + 1), is_length=True),),
    )


def _lower(field: str, below: float) -> tuple[WayOut, ...]:
    """Return the way out that makes a length lower than a bound, on a whole millimetre; none where nothing is left."""
    value = float(math.ceil(below) - 1)
    return (WayOut(field=field, value=value, is_length=True),) if value > 0 else ()


def _check_back(case: Case, board: Board, boards: dict[str, Board], told: Told) -> Iterator[Fault]:
    back = case.back
    thickness = boards.get(back.board or case.board, board).measured
    room = back.inset + thickness
    if back.kind is not BackKind.NONE and room >= case.depth - 20:
        field = f"{back.field}.inset" if back.inset else f"{case.field}.depth"
        found = f"a back that takes {told(room)} of a depth of {told(case.depth)}"
        do = "Set the back in less, or make the case deeper."
        yield Fault(code="range", field=field, found=found, allowed=f"below {told(case.depth - 20)}", do=do)
