"""From the layout to what a person does at the saw.

Sheets of one board are cut in batches, layouts that share settings in one. Within a batch the order of settings is
searched (see `_sequence`): a setting is made when all that can be cut with it is in hand, so that fence, rail or stop
moves as seldom as can be, and parts of one size come from one setting.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.bench_lines import sizing_lines
from storyrod.model.saw_list import SawList, SawStep
from storyrod.model.sheet import (
    BoardPlan,
    Cut,
    CutNode,
    CutRules,
    PieceKind,
    SawKind,
    SheetPlan,
    StepKind,
    StockSheet,
    Way,
)
from storyrod.sheets._figures import settings_on
from storyrod.sheets._sequence import Sequencer

SHEETS_AT_ONCE = 4
"""Layouts that are broken down together: more would flood a small workshop; a rule of thumb, unsourced."""

type Key = tuple[bool, Way, float]


@dataclass(frozen=True, slots=True)
class _Layout:
    """One layout, the sheets that are cut alike with it, and what each cut waits for."""

    sheet: SheetPlan
    twins: tuple[SheetPlan, ...]
    before: dict[int, int]

    @property
    def sheets(self) -> tuple[SheetPlan, ...]:
        return (self.sheet, *self.twins)


def saw_list(
    board: BoardPlan,
    rules: CutRules,
    stock: Sequence[StockSheet],
    lengths: LengthWriter = METRIC,
) -> SawList:
    """Return the saw's list for one board: steps in order, each one setting, with all that is cut by it.

    `lengths` is how the job writes them.
    """
    about = _About(board, rules, {s.id: s.mass_kg_m2 for s in stock})
    steps: list[SawStep] = []
    fewest = True
    for batch in _batches(board):
        found, proved = _batch(batch, about, len(steps))
        steps.extend(found)
        fewest = fewest and proved
    return SawList(
        board=board.board,
        saw=rules.saw,
        steps=tuple(steps),
        settings=sum(1 for s in steps if s.kind is not StepKind.TRIM),
        cut_m=board.figures.cut_m,
        cautions=sizing_lines(lengths, track_saw=rules.saw is SawKind.TRACK),
        fewest=fewest,
    )


class _About:
    """What the words of one board's steps need."""

    def __init__(self, board: BoardPlan, rules: CutRules, mass_kg_m2: dict[str, float]) -> None:
        self.board, self.rules, self.mass_kg_m2 = board, rules, mass_kg_m2
        self.freed = {(s.name, n): names for s in board.sheets for n, names in _freed(s).items()}


def _batches(board: BoardPlan) -> Iterator[list[_Layout]]:
    """Yield the layouts that are broken down together: to the first one left, those that add fewest settings."""
    left = [s for s in board.sheets if not s.same_as]
    while left:
        batch = [left.pop(0)]
        known = settings_on(batch[0])
        while left and len(batch) < SHEETS_AT_ONCE:
            nearest = min(left, key=lambda s: len(settings_on(s) - known))
            left.remove(nearest)
            batch.append(nearest)
            known |= settings_on(nearest)
        yield [_Layout(s, tuple(t for t in board.sheets if t.same_as == s.name), _before(s)) for s in batch]


def _before(sheet: SheetPlan) -> dict[int, int]:
    """Return for each cut, by its number, the cut that must be made before it; 0 where there is none."""
    before: dict[int, int] = {}
    own = _by_piece(sheet)
    for node, after in _made_by(sheet.tree, own, 0):
        numbers = [cut.number for cut in own.get(node.name, [])]
        before.update(zip(numbers, [after, *numbers[:-1]], strict=True) if numbers else ())
    return before


def _by_piece(sheet: SheetPlan) -> dict[str, list[Cut]]:
    """Return each piece's own cuts in their order, the trims of its edges first."""
    own: dict[str, list[Cut]] = {}
    for cut in sheet.cuts:
        own.setdefault(cut.piece, []).append(cut)
    return own


def _made_by(node: CutNode, own: dict[str, list[Cut]], after: int) -> Iterator[tuple[CutNode, int]]:
    """Yield every piece with the number of the cut after which it is in hand."""
    yield node, after
    cuts = own.get(node.name, [])
    last = cuts[-1].number if cuts else after
    parting = [cut.number for cut in cuts if not cut.trim]
    for n, child in enumerate(node.children):
        yield from _made_by(child, own, parting[n] if n < len(parting) else last)


def _freed(sheet: SheetPlan) -> dict[int, list[str]]:
    """Return for each cut, by its number, the names of the parts that it frees: what comes off, and what is left."""
    own = _by_piece(sheet)
    freed: dict[int, list[str]] = {}
    for node, after in _made_by(sheet.tree, own, 0):
        if node.kind is PieceKind.PART:
            cuts = own.get(node.name, [])
            freed.setdefault(cuts[-1].number if cuts else after, []).append(node.name)
    return freed


def _batch(batch: list[_Layout], about: _About, so_far: int) -> tuple[list[SawStep], bool]:
    cuts = [(layout, cut) for layout in batch for cut in layout.sheet.cuts]
    index = {(layout.sheet.name, cut.number): i for i, (layout, cut) in enumerate(cuts)}
    keys: dict[Key, int] = {}
    numbers = [keys.setdefault(_key(cut), len(keys)) for _, cut in cuts]
    before = [index.get((layout.sheet.name, layout.before[cut.number]), -1) for layout, cut in cuts]
    free = [n for key, n in keys.items() if not key[0]]
    groups, fewest = Sequencer(numbers, before, free).groups(lambda i: _rank(cuts[i][1]))
    steps = [_step(so_far + n, [cuts[i] for i in group], about) for n, group in enumerate(groups, 1)]
    return steps, fewest


def _rank(cut: Cut) -> tuple[float, ...]:
    """Early cuts first, then rips, then large ones: the sheet is broken down before its pieces are cut to size."""
    return (cut.number, cut.way is not Way.RIP, -cut.setting)


def _key(cut: Cut) -> Key:
    return (not cut.trim, cut.way, 0.0 if cut.trim else cut.setting)


def _step(number: int, made: Sequence[tuple[_Layout, Cut]], about: _About) -> SawStep:
    rules = about.rules
    key = _key(made[0][1])
    mass = about.mass_kg_m2
    heaviest = max(mass.get(o.sheet.stock, 0.0) * c.piece_length * c.piece_width / 1e6 for o, c in made)
    heavy = heaviest > rules.one_person_kg
    kind = _kind(key, heavy=heavy, saw=rules.saw)
    cuts = [(s.name, s.cuts[c.number - 1]) for o, c in made for s in o.sheets]
    return SawStep(
        number=number,
        kind=kind,
        way=key[1],
        setting=key[2],
        cuts=tuple((name, c.number) for name, c in cuts),
        pieces=tuple(c.piece for _, c in cuts),
        gives=tuple(c.gives for _, c in cuts),
        labels=tuple(label for name, c in cuts for label in about.freed.get((name, c.number), ())),
        two_people=heavy,
        mass_kg=round(heaviest, 1),
        say=_say(kind, key, [c for _, c in cuts], (rules, heaviest)),
    )


def _kind(key: Key, *, heavy: bool, saw: SawKind) -> StepKind:
    if not key[0]:
        return StepKind.TRIM
    if heavy and saw is SawKind.TABLE:
        return StepKind.BREAK_DOWN
    return StepKind.RIP if key[1] is Way.RIP else StepKind.CROSSCUT


def _say(kind: StepKind, key: Key, cuts: list[Cut], about: tuple[CutRules, float]) -> str:
    rules, heaviest = about
    where = ", ".join(dict.fromkeys(c.piece for c in cuts))
    many = f"{len(cuts)} cuts" if len(cuts) > 1 else "1 cut"
    lift = f" {heaviest:.0f} kg in hand: two people." if heaviest > rules.one_person_kg else ""
    if kind is StepKind.TRIM:
        edge = "long edge" if key[1] is Way.RIP else "end"
        return f"Trim the {edge} of {where} ({many}).{lift}"
    verb = "Rip" if key[1] is Way.RIP else "Crosscut"
    if kind is StepKind.BREAK_DOWN:
        how = f"{verb.lower()} {where} at {rules.lengths.n(key[2])} ({many})"
        return f"Before the table saw, with the track saw on the floor: {how}.{lift}"
    device = _device(rules.saw, key[1])
    return f"{device} to {rules.lengths.n(key[2])}. {verb} {where} ({many}).{lift}"


def _device(saw: SawKind, way: Way) -> str:
    if saw is SawKind.TRACK:
        return "Rail"
    return "Fence" if way is Way.RIP else "Crosscut stop"
