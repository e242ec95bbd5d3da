"""Putting each case together, step by step: a picture of every step with its words, and taking it apart again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.adapters.packet._blocks import Block, Row, Section, Together
from storyrod.adapters.packet._page_room import GUTTER, height_of
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Figures, assembly_key, assembly_step
from storyrod.model.assembly import CasePlan, Step, StepKind
from storyrod.model.detail import DetailedCase
from storyrod.planning import Plan
from storyrod.telling.assembly_steps import StepWords, cautions_of
from storyrod.telling.blocks import TICK, Heading, Picture, Table, Warning_, Words, right, table, wide
from storyrod.telling.shown import Shown
from storyrod.telling.step_notes import joined
from storyrod.telling.steps_alike import Run, runs_of
from storyrod.telling.wall import wall_blocks, wall_heading

_PICTURE_SHARE = 0.36  # of the page's width
_HIGH = 34.0  # mm for the picture of a step: five go on a page where they have few words
_LONG_TABLE = 45.0  # mm from which on a table of twins may begin overleaf

_FITTING_OUT = frozenset(
    {StepKind.DRAWER, StepKind.FRONT, StepKind.DOOR, StepKind.SHELF, StepKind.RAIL, StepKind.WORKTOP}
)


def assembly_sections(plan: Plan) -> tuple[Section, ...]:
    """Return one section for each case: its steps in order, two or three to a page, and how to take it apart."""
    cases = {c.built.case.code: c for c in plan.details.cases}
    return tuple(_CasePages(plan, case, cases[case.case]).section() for case in plan.assembly.cases)


class _CasePages:
    """The pages of one case, filled from the top: a step is never parted from its picture."""

    def __init__(self, plan: Plan, steps: CasePlan, case: DetailedCase) -> None:
        self._plan = plan
        self._told = steps
        self._case = case
        self._shown = Shown.of(plan.job)
        self._words = StepWords(case, self._shown)
        self._boards = tuple(b.code for b in plan.job.boards)
        self._width, _ = room_on(plan.job.paper.value)
        self._picture = (self._width - GUTTER) * _PICTURE_SHARE
        self._blocks: list[Block] = []

    def section(self) -> Section:
        """Return the whole section."""
        self._introduce()
        hangs = self._case.built.hung is not None
        for run in runs_of(self._told.steps):
            if hangs and any(s.kind in _FITTING_OUT for s in run.steps):
                self._put_wall()
                hangs = False
            self._tell(run)
        if hangs or self._case.built.hung is None:
            self._put_wall()
        self._put_parting()
        about = self._case.built.case
        title = f"{about.code}: putting it together"
        return Section(title=title, head=f"{about.code}, putting together", blocks=tuple(self._blocks), flows=True)

    def _put(self, *blocks: Block, whole: bool = True) -> None:
        """Add blocks, which stay together on a page unless they are not a whole."""
        self._blocks += (Together(blocks=blocks),) if whole and blocks else blocks

    def _introduce(self) -> None:
        case, told = self._case.built.case, self._told
        best = told.easiest
        text = f"{len(told.steps)} step{'s' * (len(told.steps) != 1)}. {best}"
        if case.count > 1:
            text += f" {case.count} of this case are made: tick a step when it is done on all {case.count}."
        text += f" {self._shown.unit_words}"
        self._put(Words(text=text), Picture(drawing=assembly_key(self._boards), notes=False))
        self._put(*self._case_cautions("stand-up"))

    def _case_cautions(self, code: str) -> Iterator[Block]:
        for caution in self._told.cautions:
            if caution.code == code:
                yield Warning_(text=f"{caution.text} {caution.do}".strip(), title=_title(caution.about))

    def _tell(self, run: Run) -> None:
        """Tell the steps of a run, and what is the same for its twins in a table."""
        twins = (*self._twin_cautions(run), *self._twin_glue(run), self._twins(run)) if run.twins else ()
        small = sum(height_of(b, self._width) for b in twins) < _LONG_TABLE
        for step in run.steps:
            with_twins = twins if small and step is run.steps[-1] else ()
            self._put(Heading(text=f"{step.number}. {self._words.title(step)}"), self._row(step), *with_twins)
        if not small:
            self._put(*twins, whole=False)

    def _row(self, step: Step) -> Row:
        earlier = self._told.steps[: step.number - 1]
        room = self._picture, _HIGH
        drawing = assembly_step(
            self._case, step, earlier, boards=self._boards, figures=Figures.of_job(self._plan.job), room=room
        )
        *words, takes = self._words.blocks(step)
        picture = Picture(drawing=drawing)
        rest = self._width - GUTTER - self._picture
        high = height_of(picture, self._picture) + height_of(takes, self._picture)
        # What it takes stands where there is room: under the picture, else under the words.
        under = (takes,) if high <= sum(height_of(b, rest) for b in words) else ()
        after = () if under else (takes,)
        return Row(cells=((picture, *under), (*words, *after)), shares=(_PICTURE_SHARE, 1.0 - _PICTURE_SHARE))

    def _twin_cautions(self, run: Run) -> Iterator[Block]:
        """Yield the cautions of the steps in a table, each once in full: the table has no room for them."""
        told: dict[tuple[str, str], list[int]] = {}
        for step in (s for twin in run.twins for s in twin):
            for block in cautions_of(step, but="open-time"):
                told.setdefault((block.title, block.text), []).append(step.number)
        for (title, text), numbers in told.items():
            yield Warning_(title=title, text=f"{_steps(numbers)}: {text}")

    def _twin_glue(self, run: Run) -> Iterator[Block]:
        """Yield at which steps of the table glue waits too long, as it does in a step that was told in full."""
        first = next((s.number for s in run.steps if _is_late(s)), None)
        late = [s.number for twin in run.twins for s in twin if _is_late(s)]
        if first is not None and late:
            text = f"{_steps(late)}: the glue waits too long here too. Do as in step {first}."
            yield Words(text=text, strong=True)

    def _twins(self, run: Run) -> Table:
        rows: list[tuple[str, ...]] = []
        groups: list[tuple[int, str]] = []
        for twin in run.twins:
            if len(twin) > 1 and len(run.twins) > 1:
                groups.append((len(rows), _title(self._words.body_name(twin[0].body))))
            rows += [(str(s.number), *self._words.twin_cells(s), TICK) for s in twin]
        takes, hands = wide("what it takes"), wide("people and clamps")
        columns = ("step", wide("what", 1.2), "joints", takes, hands, right("kg"), "done")
        used = [n for n in range(len(columns)) if any(row[n] for row in rows)]
        title = f"The same for {self._words.twin_names(run)}"
        told = [tuple(row[n] for n in used) for row in rows]
        return table([columns[n] for n in used], told, small=True, groups=tuple(groups), title=title)

    def _put_wall(self) -> None:
        code = self._case.built.case.code
        tipping = self._plan.tipping[code]
        blocks = wall_blocks(self._case, tipping, self._shown)
        if blocks:
            self._put(Heading(text=wall_heading(tipping)), *blocks, whole=False)

    def _put_parting(self) -> None:
        parting = self._told.parting
        if not parting:
            return
        undone = {p.undoes for p in parting}
        joins = [s for s in self._told.steps if s.kind is StepKind.JOIN and s.number not in undone]
        rows = [(str(p.undoes), p.text) for p in parting]
        made: Table = table(("undoes step", wide("what to do")), rows, small=True)
        stays = (Words(text="What is glued stays together.", quiet=True),) if joins else ()
        self._put(Heading(text="Taking it apart again"), made, *stays, whole=False)


def _is_late(step: Step) -> bool:
    return any(c.code == "open-time" for c in step.cautions)


def _steps(numbers: Sequence[int]) -> str:
    return f"Step{'' if len(numbers) == 1 else 's'} {joined([str(n) for n in numbers])}"


def _title(text: str) -> str:
    return text[:1].upper() + text[1:]
