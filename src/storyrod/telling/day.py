"""The day's work in words: what is done when, what waits, when each job is ready, what is bought by when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from storyrod.model.buying import BuyKind
from storyrod.model.day import DAY_MIN, Found, Slot, Task, TaskKind
from storyrod.model.machining import WorkStage
from storyrod.model.work import work_words
from storyrod.planning import Days, DayTasks
from storyrod.telling.blocks import TICK, Block, Bullets, Heading, Words, right, table, wide
from storyrod.telling.buying import row_of
from storyrod.telling.cards import Card
from storyrod.telling.things import ThingKind

_TO_MIN: Final = 5
"""Minutes to which moments are told: nobody plans finer."""

MOST_LATER: Final = 7
"""Days after today that go on the page one by one."""

MOST_WAITS: Final = 10
"""Things that wait today which go on the page."""

MOST_BOUGHT: Final = 12
"""Things to buy for one day that go on the page; the buying list has all of them."""

_WEEKDAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRow:
    """One task of a day, as it is told.

    Attributes:
        begins: when, by the clock, to five minutes.
        words: what is done, and with what.
        task, slot: what it is.
    """

    begins: str
    words: str
    task: Task
    slot: Slot


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyBy:
    """One thing to buy, and the day on which its first task stands."""

    day: int
    when: str
    what: str
    buy: str


# --- Moments ----------------------------------------------------------------------------------------------------------


def day_words(first: date, moment: int) -> str:
    """Return the day of a moment: `Thursday 3 December`."""
    day = first + timedelta(days=moment // DAY_MIN)
    return f"{_WEEKDAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def clock_words(moment: int) -> str:
    """Return a moment by the clock, to five minutes: `8:05`."""
    rounded = _TO_MIN * round(moment % DAY_MIN / _TO_MIN)
    return f"{rounded // 60}:{rounded % 60:02d}"


def moment_words(first: date, moment: int) -> str:
    """Return a moment with its day: `Thursday 3 December, 8:05`."""
    return f"{day_words(first, moment)}, {clock_words(moment)}"


def _range_words(first: date, early: int, late: int) -> str:
    if early // DAY_MIN == late // DAY_MIN:
        return f"{day_words(first, early)}, {clock_words(early)} to {clock_words(late)}"
    return f"{moment_words(first, early)}, to {moment_words(first, late)}"


# --- The day ----------------------------------------------------------------------------------------------------------


def days_told(days: Days) -> tuple[tuple[int, tuple[DayRow, ...]], ...]:
    """Return the days on which something is begun, each with its tasks."""
    found: dict[int, list[DayRow]] = {}
    several = len(days.work.jobs) > 1
    for slot in days.plan.slots:
        task = days.plan.task(slot.task)
        words = task_words(task, several=several)
        if slot.end // DAY_MIN > slot.start // DAY_MIN:
            words += f" (until {clock_words(slot.end)} on {day_words(days.first, slot.end)})"
        row = DayRow(begins=clock_words(slot.start), words=words, task=task, slot=slot)
        found.setdefault(slot.start // DAY_MIN, []).append(row)
    return tuple((n, tuple(rows)) for n, rows in found.items())


def task_words(task: Task, *, several: bool) -> str:
    """Return what is done, with the marks of its jobs where several are made and its case does not begin with one."""
    jobs = f"{' + '.join(task.jobs)}: " if several and not task.case else ""
    return f"{jobs}{task.name}"


def waiting_words(days: Days, slots: Sequence[Slot]) -> Iterator[str]:
    """Yield what waits while other work goes on: glue and coats, and until when."""
    for slot in slots:
        task = days.plan.task(slot.task)
        if task.wait_min:
            what = "coat on it is dry" if task.kind is TaskKind.COAT else "glue has set"
            clamps = f" Leave its {task.clamps} clamps on." if task.clamps > 1 else ""
            yield f"{task.name}: the {what} at {_when(days, slot.dry, slot.end)}.{clamps}"


def _when(days: Days, moment: int, seen_from: int) -> str:
    same = moment // DAY_MIN == seen_from // DAY_MIN
    return clock_words(moment) if same else f"{clock_words(moment)} on {day_words(days.first, moment)}"


def helper_words(days: Days) -> Iterator[str]:
    """Yield on which days, and from when to when, a second person is needed."""
    by_day: dict[int, list[Slot]] = {}
    for slot in days.plan.slots:
        if days.plan.task(slot.task).people > 1:
            by_day.setdefault(slot.start // DAY_MIN, []).append(slot)
    for own in by_day.values():
        minutes = work_words(sum(s.end - s.start for s in own))
        begin, end = clock_words(own[0].start), clock_words(own[-1].end)
        yield f"{day_words(days.first, own[0].start)}, between {begin} and {end}: {minutes} at most."


def ready_rows(days: Days) -> Iterator[tuple[str, str, str, str]]:
    """Yield of each job its mark, title, when it is ready as planned, and between when eight times in ten."""
    by_mark = {r.job: r for r in days.plan.ready}
    for job in days.work.jobs:
        one = by_mark.get(job.mark)
        if one is None or one.planned <= days.now:
            yield job.mark, job.title, "ready", ""
        else:
            planned = moment_words(days.first, one.planned)
            yield job.mark, job.title, planned, _range_words(days.first, one.early, one.late)


def sureness_words(days: Days) -> str:
    """Return how good the order is, in a sentence."""
    match days.plan.found:
        case Found.PROVEN_BEST:
            return "No order has the jobs ready sooner."
        case Found.FOUND:
            last = max((r.planned for r in days.plan.ready), default=0)
            over = last - days.plan.bound
            return f"The last job may be ready up to {work_words(over)} sooner by another order; none was found."
        case _:
            return "A good order by rule. The extra storyrod[day], which `run.py day` gets, looks for a better one."


# --- What to buy by when ----------------------------------------------------------------------------------------------


def buy_by(days: Days) -> tuple[BuyBy, ...]:
    """Return what is not here yet, by the day on which it is first used, soonest first."""
    starts = {s.task: s.start for s in days.plan.slots}
    tasks = [t for t in days.plan.tasks if t.id in starts]
    stages = {f"{p}{s.id}": s.stage for p, plan in days.work.plans.items() for s in plan.machining.set_ups}
    found = []
    for line in days.work.to_buy:
        row = row_of(line)
        moment = min((starts[t.id] for t in tasks if _uses(line.kind, t, stages.get(t.id))), default=None)
        if not row.is_here and row.buy and moment is not None:
            when = day_words(days.first, moment)
            found.append(BuyBy(day=moment // DAY_MIN, when=when, what=row.name, buy=row.buy))
    return tuple(sorted(found, key=lambda b: b.day))


def _uses(kind: BuyKind, task: Task, stage: WorkStage | None) -> bool:
    """Return whether a task, of this stage of the run where it is a set-up, uses things of a kind."""
    match kind:
        case BuyKind.SHEETS:
            return stage is WorkStage.CUT
        case BuyKind.EDGING:
            return stage is WorkStage.EDGE
        case BuyKind.JIGS:
            return task.kind is TaskKind.JIGS
        case BuyKind.CUTTERS | BuyKind.TOOLS:
            return stage is not None or task.kind is TaskKind.JIGS
        case BuyKind.FINISH:
            return task.kind is TaskKind.COAT
        case BuyKind.WALL:
            return task.kind is TaskKind.FIT
        case _:
            return stage is WorkStage.FIT or task.kind in {TaskKind.GLUE, TaskKind.TOGETHER, TaskKind.FIT}


# --- What is ticked ---------------------------------------------------------------------------------------------------


def things_of_task(task: Task, cards: Mapping[str, Card]) -> tuple[tuple[str, int], ...]:
    """Return what is ticked when a task is done: the thing's id, and which copy; `cards` are those of its plan."""
    if task.coat:
        return ((ThingKind.COAT.of(f"{task.case} {task.coat}"), task.copy),)
    card = cards.get(task.set_up or f"case-{task.case}")
    if card is None:
        return ()
    if task.set_up:
        return tuple((r.thing.id, c) for g in card.groups for r in g.rows for c in range(1, g.copies + 1))
    wanted = {f"step {n}" for n in task.steps}
    return tuple((r.thing.id, task.copy) for g in card.groups if g.title in wanted for r in g.rows)


def plan_prefix(work: DayTasks, task: Task) -> str:
    """Return by which prefix the plan is found that a task is read off."""
    if task.set_up:
        return task.id.removesuffix(task.set_up)
    return next((p for p, plan in work.plans.items() if any(c.code == task.case for c in plan.job.cases)), "")


# --- The page ---------------------------------------------------------------------------------------------------------


def day_blocks(days: Days) -> Iterator[Block]:
    """Yield the one page: today, what waits, the days after, when each job is ready, what to buy by when."""
    told = days_told(days)
    if not told:
        yield Words(text="Everything is done.", strong=True)
    else:
        yield from _today(days, *told[0])
        yield from _later(days, told[1:])
    helped = tuple(helper_words(days))
    if helped:
        yield Heading(text="A second person")
        yield Bullets(items=helped)
    yield Heading(text="Ready")
    yield from _ready(days)
    bought = buy_by(days)
    if bought:
        yield Heading(text="Buy by")
        yield table(("before", wide("what")), list(_bought_by_day(bought)), small=True)
    yield Words(text=sureness_words(days), quiet=True)


def _bought_by_day(bought: Sequence[BuyBy]) -> Iterator[tuple[str, str]]:
    for when in dict.fromkeys(b.when for b in bought):
        own = [f"{b.what} ({b.buy})" for b in bought if b.when == when]
        rest = f"; and {len(own) - MOST_BOUGHT} more, see the buying list" if len(own) > MOST_BOUGHT else ""
        yield when, "; ".join(own[:MOST_BOUGHT]) + rest


def _today(days: Days, n: int, rows: Sequence[DayRow]) -> Iterator[Block]:
    yield Heading(text=day_words(days.first, n * DAY_MIN))
    cells = [(r.begins, r.words, str(r.task.minutes), str(r.task.clamps or ""), str(r.task.people), TICK) for r in rows]
    yield table(
        (right("from"), wide("what", 4.0), right("minutes"), right("clamps"), right("people"), "done"),
        cells,
        small=True,
    )
    waits = tuple(waiting_words(days, [r.slot for r in rows]))
    if waits:
        yield Bullets(items=waits[:MOST_WAITS])


def _later(days: Days, told: Sequence[tuple[int, Sequence[DayRow]]]) -> Iterator[Block]:
    if not told:
        return
    yield Heading(text="Then")
    rows = [
        (
            day_words(days.first, n * DAY_MIN),
            "; ".join(_short(own)),
            work_words(sum(r.task.minutes for r in own)),
        )
        for n, own in told[:MOST_LATER]
    ]
    if len(told) > MOST_LATER:
        rest = [r.task.minutes for _, own in told[MOST_LATER:] for r in own]
        rows.append(("after that", f"{len(told) - MOST_LATER} more days", work_words(sum(rest))))
    yield table(("day", wide("what"), "work"), rows, small=True)


def _short(rows: Sequence[DayRow]) -> Iterator[str]:
    """Yield the tasks of a later day in few words: set-ups from which to which, then what is done to which cases."""
    set_ups = [r.task.set_up for r in rows if r.task.set_up]
    if set_ups:
        yield f"set-up {set_ups[0]}" if len(set_ups) == 1 else f"set-ups {set_ups[0]} to {set_ups[-1]}"
    by_kind: dict[TaskKind, dict[str, None]] = {}
    for row in rows:
        if not row.task.set_up:
            by_kind.setdefault(row.task.kind, {})[row.task.case] = None
    for kind, cases in by_kind.items():
        yield f"{kind.value} {', '.join(cases)}".rstrip()


def _ready(days: Days) -> Iterator[Block]:
    rows = list(ready_rows(days))
    if len(rows) == 1:
        _, _, planned, likely = rows[0]
        if not likely:
            yield Words(text="The job is ready.")
            return
        yield Words(text=f"As planned: {planned}. Eight times in ten: {likely}.")
        return
    yield table(("", wide("job"), wide("as planned"), wide("eight times in ten")), rows, small=True)
