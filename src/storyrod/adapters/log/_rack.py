"""The rack between jobs: what lies on it goes into the next plan first; what a plan cut from it is gone for good.

The workshop's file may list offcuts; the log knows what has happened to them since, and what later jobs left over. The
log has the last word on a code, so a piece that was taken never comes back through the file.

Nothing is taken twice, by however many writers. The entry that takes a piece gets its uid from the piece and from the
entry that put it on the rack: two writers who both saw it there make the same uid, the database keeps one of them, and
the other's whole change falls away.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from storyrod.adapters.log._faults import refused
from storyrod.adapters.log._log import BenchLog
from storyrod.adapters.log._types import Offcut, RackEntry, Tick
from storyrod.faults import JobError
from storyrod.measure.writing import METRIC
from storyrod.model.job import Job
from storyrod.model.stock import rack_code
from storyrod.model.workshop import RackOffcut, Workshop
from storyrod.planning import Plan
from storyrod.telling.identity import book_line_of_sheets, of_sheets
from storyrod.telling.things import Thing, ThingKind, is_sheets_cut

_SAME: Final = 0.5  # mm: a piece of one code and this size is the piece that the log knows


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheets:
    """What a plan's sheets do to the rack once they are cut.

    Attributes:
        job, version: title and version of the plan.
        layout: a digest of where every part lies; the same plan may be laid out in more than one way.
        used: the rack's offcuts that are cut up.
        left: the new offcuts worth keeping, by the code to be written on each.
    """

    job: str
    version: str
    layout: str
    used: tuple[Offcut, ...]
    left: tuple[Offcut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptOffcuts:
    """What a confirmation did: pieces taken off the rack and put on it; with `before`, it had been done already."""

    taken: tuple[Offcut, ...]
    put: tuple[Offcut, ...]
    before: bool = False

    def lines(self) -> tuple[str, ...]:
        """Return it in words."""
        if self.before:
            return ("These sheets were confirmed as cut before: the rack is left as it is.",)
        told = [*(f"Off the rack: {_piece(o)}." for o in self.taken), *(f"On the rack: {_piece(o)}." for o in self.put)]
        return tuple(told) or ("Nothing came off the rack, and nothing worth keeping is left.",)


def with_rack(workshop: Workshop, log: BenchLog) -> Workshop:
    """Return the workshop with the rack as it is now: the file's offcuts and the log's, none that was taken.

    A code that the log knows is as the log says. A piece in the file with a code that was taken but of another size
    is another piece.
    """
    return _with_book(workshop, log.rack_book())


def _with_book(workshop: Workshop, book: Iterable[RackEntry]) -> Workshop:
    latest = _latest(book)
    rack = [o for o in workshop.rack if o.code not in latest or _is_another(o, latest[o.code])]
    listed = {o.code for o in rack}
    rack += [
        RackOffcut(code=o.code, board=o.board, length=o.length, width=o.width, field=f"rack of the bench log, {o.code}")
        for o in (e.offcut for e in latest.values() if e.here)
        if o.code not in listed
    ]
    return replace(workshop, rack=tuple(rack))


def plan_with_rack(job: Job, workshop: Workshop, log: BenchLog, *, again: bool = False) -> Plan:
    """Return the job's plan with the rack's offcuts in stock.

    A job whose sheets are confirmed as cut is planned with the rack that it found, so that its plan stays the one
    that was cut and never eats its own leftovers; once the job is changed, or with `again` (it is made a second
    time), with the rack as it is now.
    """
    if again:
        return Plan(job, with_rack(workshop, log))
    for cut in reversed(_confirmed(log, job.title)):
        found = Plan(job, _with_book(workshop, _found_by(cut, log.rack_book(), job.title)))
        if found.version == cut.version:
            return found
    return Plan(job, with_rack(workshop, log))


def _found_by(cut: Tick, book: Sequence[RackEntry], job: str) -> list[RackEntry]:
    """Return the rack's book as a job found it that was cut then: up to the line told, by the log's own count.

    A confirmation that was written before they told it goes by the time, which a clock set back makes wrong.
    """
    last = book_line_of_sheets(cut.thing.key)
    uids = [e.uid for e in book]
    if last == "":
        before: Sequence[RackEntry] = ()
    elif last in uids:
        before = book[: uids.index(last) + 1]
    else:
        before = [e for e in book if e.at <= cut.at]
    return [e for e in before if e.job != job]


def confirmed_versions(log: BenchLog, job: str) -> frozenset[str]:
    """Return the versions of a job whose sheets are confirmed as cut."""
    return frozenset(t.version for t in _confirmed(log, job))


def _confirmed(log: BenchLog, job: str) -> list[Tick]:
    """Return the ticks that confirm a job's sheets as cut, the oldest first."""
    return [t for t in log.ticks(job) if t.done and is_sheets_cut(t.thing.id)]


def cut_sheets_of(plan: Plan) -> CutSheets:
    """Return what the plan's sheets do to the rack.

    Raises:
        JobError: the sheets cannot be laid out.
    """
    sheets = plan.sheets.sheets
    places = sorted((s.stock, sorted((p.part, p.copy, p.x, p.y) for p in s.placements)) for s in sheets)
    return _cut_sheets(
        plan.job.title,
        plan.version,
        places,
        [Offcut(code=s.stock, board=s.board, length=s.length, width=s.width) for s in sheets if s.offcut],
        [(o.name, o.board, o.length, o.width) for s in sheets for o in s.offcuts if o.keep],
    )


def read_cut_sheets(path: Path) -> CutSheets:
    """Return the same from a plan.json that was written, whatever found its layout.

    Raises:
        JobError: the file is not there, or is no plan.
    """
    try:
        plan = json.loads(path.read_text(encoding="utf-8"))
        told: list[dict[str, Any]] = plan["sheets"]
        return _cut_sheets(
            str(plan["title"]),
            str(plan["version"]),
            sorted((s["stock"], sorted((p["part"], p["copy"], p["x"], p["y"]) for p in s["placements"])) for s in told),
            [
                Offcut(code=s["stock"], board=s["board"], length=float(s["length"]), width=float(s["width"]))
                for s in told
                if s["offcut"]
            ],
            [
                (o["name"], o["board"], float(o["length"]), float(o["width"]))
                for s in told
                for o in s["offcuts"]
                if o["keep"]
            ],
        )
    except OSError as error:
        raise refused(
            "file-missing", str(path), "no file that can be read", "a plan.json", "Check the name."
        ) from error
    except (ValueError, KeyError, TypeError) as error:
        do = "Plan the job again; plan.json is in the folder that storyrod plan names."
        raise refused("log-plan", str(path), "a file that is no plan", "a plan.json of this tool", do) from error


def _cut_sheets(
    job: str,
    version: str,
    places: Sequence[object],
    used: Sequence[Offcut],
    left: Sequence[tuple[str, str, float, float]],
) -> CutSheets:
    return CutSheets(
        job=job,
        version=version,
        layout=_digest(json.dumps(places))[:8],
        used=tuple(used),
        left=tuple(Offcut(code=rack_code(n, version), board=b, length=x, width=y) for n, b, x, y in left),
    )


def keep_offcuts(log: BenchLog, plan: Plan | CutSheets, *, copy: int = 1) -> KeptOffcuts:
    """Confirm that a plan's sheets are cut: its rack pieces leave the rack, its offcuts worth keeping go on it.

    All of it or nothing, and once for each version of a job and each `copy` (a job made a second time is copy 2): asked
    again, it changes nothing and says so.

    Raises:
        JobError: an offcut that the plan uses is no longer on the rack (`offcut-taken`), this version was confirmed
            in another layout (`sheets-confirmed`), or the log cannot be written.
    """
    cut = cut_sheets_of(plan) if isinstance(plan, Plan) else plan
    before = _before(log, cut, copy)
    if before is not None:
        return before
    book = log.rack_book()
    latest = _latest(book)
    gone = [_taken_fault(o, latest[o.code]) for o in cut.used if _is_gone(o, latest)]
    if gone:
        raise JobError(*(f for error in gone for f in error.faults))
    left = [_put(o, copy) for o in cut.left]
    same = log.others_with(ThingKind.SHEETS.of(cut.version), copy, but=cut.job)
    entries = (
        *(RackEntry(uid=_taking(o, latest), offcut=o, here=False, at=0.0, job=cut.job) for o in cut.used),
        *(RackEntry(uid=_putting(o, cut, copy, same), offcut=o, here=True, at=0.0, job=cut.job) for o in left),
    )
    key = of_sheets(cut.layout, book[-1].uid if book else "")
    thing = Thing(id=ThingKind.SHEETS.of(cut.version), name="sheets cut", content=cut.layout, key=key)
    uid = _digest(ThingKind.SHEETS.value, cut.job, cut.version, str(copy), *_life(same))
    try:
        log.keep_cut(cut.job, cut.version, thing, uid=uid, copy=copy, entries=entries)
    except JobError as error:
        if error.faults[0].code != "log-twice":
            raise
        return _other_was_quicker(log, cut, copy, error)
    return KeptOffcuts(taken=cut.used, put=tuple(left))


def take_off(log: BenchLog, code: str) -> Offcut:
    """Take a piece off the rack by hand, used up or thrown away; return it.

    Raises:
        JobError: no such piece lies there, or another writer was quicker.
    """
    latest = _latest(log.rack_book())
    entry = latest.get(code)
    if entry is None or not entry.here:
        there = ", ".join(e.offcut.code for e in latest.values() if e.here) or "nothing"
        raise refused(
            "offcut-taken", code, "not on the log's rack", f"one of: {there}", "Check the code written on the piece."
        )
    taken = RackEntry(uid=_taking(entry.offcut, latest), offcut=entry.offcut, here=False, at=0.0, job="")
    log.note_rack(taken)
    return entry.offcut


def _before(log: BenchLog, cut: CutSheets, copy: int) -> KeptOffcuts | None:
    """Return what to say where this version and copy was confirmed before; None where it was not."""
    wanted = ThingKind.SHEETS.of(cut.version)
    for tick in log.ticks(cut.job):
        if tick.thing.id == wanted and tick.copy == copy and tick.done:
            layout = tick.thing.content
            if layout == cut.layout:
                return KeptOffcuts(taken=(), put=(), before=True)
            raise refused(
                "sheets-confirmed",
                f"{cut.job}, plan version {cut.version}",
                f"layout {cut.layout}, where layout {layout} was confirmed as cut",
                "one layout for each copy of the job",
                f"The rack is left as it is. Where the job is made once more, confirm it as copy {copy + 1}.",
            )
    return None


def _other_was_quicker(log: BenchLog, cut: CutSheets, copy: int, error: JobError) -> KeptOffcuts:
    """Say what another writer did between our look and our write."""
    before = _before(log, cut, copy)
    if before is not None:
        return before
    latest = _latest(log.rack_book())
    gone = [_taken_fault(o, latest[o.code]) for o in cut.used if _is_gone(o, latest)]
    raise JobError(*(f for told in gone for f in told.faults)) if gone else error


def _latest(book: Iterable[RackEntry]) -> dict[str, RackEntry]:
    return {e.offcut.code: e for e in book}


def _is_another(offcut: RackOffcut | Offcut, entry: RackEntry) -> bool:
    """Tell whether a piece is not the one that was taken, although it bears its code."""
    known = entry.offcut
    apart = max(abs(offcut.length - known.length), abs(offcut.width - known.width))
    return not entry.here and (offcut.board != known.board or apart > _SAME)


def _is_gone(offcut: Offcut, latest: dict[str, RackEntry]) -> bool:
    entry = latest.get(offcut.code)
    return entry is not None and not entry.here and not _is_another(offcut, entry)


def _taken_fault(offcut: Offcut, entry: RackEntry) -> JobError:
    whose = f" for {entry.job}" if entry.job else ""
    return refused(
        "offcut-taken",
        f"rack, {offcut.code}",
        f"taken off the rack{whose}",
        "pieces that lie on the rack",
        "Plan the job again with this log, then cut by the new plan. Nothing was changed in the log.",
    )


def _taking(offcut: Offcut, latest: dict[str, RackEntry]) -> str:
    """Return the uid of the entry that takes a piece: whoever saw the same piece lie there makes the same one."""
    entry = latest.get(offcut.code)
    put = entry.uid if entry is not None else "workshop file"
    return _digest("taken", offcut.code, put, f"{offcut.length:.2f}", f"{offcut.width:.2f}")


def _putting(offcut: Offcut, cut: CutSheets, copy: int, same: int) -> str:
    return _digest("put", cut.job, cut.version, cut.layout, str(copy), offcut.code, *_life(same))


def _life(same: int) -> tuple[str, ...]:
    """Return what tells a job from one just like it that was set aside: how many there were before."""
    return (f"after {same}",) if same else ()


def _put(offcut: Offcut, copy: int) -> Offcut:
    """Return the piece as it is put on the rack: those of a second copy bear its number too."""
    return offcut if copy == 1 else replace(offcut, code=f"{offcut.code}-{copy}")


def _piece(offcut: Offcut) -> str:
    return f"{offcut.code}, {offcut.board}, {METRIC.told_size(offcut.length, offcut.width)}"


def _digest(*words: str) -> str:
    return hashlib.sha256("|".join(words).encode()).hexdigest()[:32]
