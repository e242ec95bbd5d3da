"""From the layout to what a person does at the saw.

Sheets of one board are cut in batches. Within a batch, every cut whose piece is in hand is open; the setting
chosen next is the one with no cut still to come that needs it later, so that fence, rail or stop moves rarely and
parts of one size come from one setting; then all open cuts with that setting are made.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from storyrod.model.sheet import (
    BoardPlan,
    Cut,
    CutNode,
    CutRules,
    PieceKind,
    SawKind,
    SawList,
    SawStep,
    SheetPlan,
    StepKind,
    StockSheet,
    Way,
)

SHEETS_AT_ONCE = 4
"""Layouts that are broken down together: more would flood a small workshop; a rule of thumb, unsourced."""

_CAUTIONS = (
    "These are reminders, not training: the saw's manual, the codes where you work and a trained person come first.",
    "Eyes, ears, dust mask and extraction. Hands well clear of the blade; push stick for the last of a narrow piece.",
)
_TABLE = "Riving knife and guard fitted and set. Never rip fence and crosscut stop on one cut: the piece jams."
_TRACK = "Rail clamped or known not to creep; the work held up on both sides of the cut; blade 3 to 5 mm below it."


type Key = tuple[bool, Way, float]


@dataclass(slots=True)
class _Open:
    """One layout being cut: which cuts are made."""

    sheet: SheetPlan
    twins: tuple[SheetPlan, ...]
    done: set[int] = field(default_factory=set)

    def open_cuts(self) -> Iterator[Cut]:
        """Yield the cuts whose piece is in hand: trims in order, then for each piece its next cut."""
        trims = [c for c in self.sheet.cuts if c.trim and c.number not in self.done]
        if trims:
            yield trims[0]
            return
        seen: set[str] = set()
        for cut in self.sheet.cuts:
            if cut.number in self.done or cut.piece in seen:
                continue
            seen.add(cut.piece)
            if cut.piece in self.made():
                yield cut

    def made(self) -> set[str]:
        return {self.sheet.name, *(c.gives for c in self.sheet.cuts if c.number in self.done), *self._last()}

    def _last(self) -> Iterator[str]:
        """Yield the pieces that need no cut of their own: the last of a row is what is left when the others are off."""
        yield from (child for parent, child in _rests(self.sheet.tree) if self._is_parted(parent))

    def _is_parted(self, piece: str) -> bool:
        cuts = [c.number for c in self.sheet.cuts if c.piece == piece and not c.trim]
        return all(n in self.done for n in cuts)


def _rests(node: CutNode) -> Iterator[tuple[str, str]]:
    """Yield (piece, its last child) all over the tree."""
    for child in node.children:
        if child is node.children[-1] and child.kind is not PieceKind.WASTE:
            yield node.name, child.name
        yield from _rests(child)


def saw_list(board: BoardPlan, rules: CutRules, stock: Sequence[StockSheet]) -> SawList:
    """Return the saw's list for one board: steps in order, each one setting, with all that is cut by it."""
    mass = {s.id: s.mass_kg_m2 for s in stock}
    layouts = [s for s in board.sheets if not s.same_as]
    steps: list[SawStep] = []
    for at in range(0, len(layouts), SHEETS_AT_ONCE):
        batch = [_Open(s, _twins(board, s)) for s in layouts[at : at + SHEETS_AT_ONCE]]
        steps.extend(_batch(batch, board, rules, mass, len(steps)))
    settings = sum(1 for s in steps if s.kind is not StepKind.TRIM)
    return SawList(
        board=board.board,
        saw=rules.saw,
        steps=tuple(steps),
        settings=settings,
        cut_m=board.figures.cut_m,
        cautions=(*_CAUTIONS, _TABLE if rules.saw is SawKind.TABLE else _TRACK),
    )


def _twins(board: BoardPlan, sheet: SheetPlan) -> tuple[SheetPlan, ...]:
    """Return the sheets with the same layout: cut with this one, cut for cut."""
    return tuple(s for s in board.sheets if s.same_as == sheet.name)


def _batch(
    batch: list[_Open], board: BoardPlan, rules: CutRules, mass: dict[str, float], before: int
) -> Iterator[SawStep]:
    number = before
    while True:
        key = _next_key(batch)
        if key is None:
            return
        made: list[tuple[_Open, Cut]] = []
        while True:
            now = [(o, c) for o in batch for c in o.open_cuts() if _key(c) == key]
            if not now:
                break
            for layout, cut in now:
                layout.done.add(cut.number)
            made.extend(now)
        number += 1
        yield _step(number, key, made, (board, rules, mass))


def _key(cut: Cut) -> Key:
    return (not cut.trim, cut.way, 0.0 if cut.trim else cut.setting)


def _next_key(batch: list[_Open]) -> Key | None:
    """Return the setting to make next: trims first, then one that will not be wanted again, then the most cuts."""
    open_now: dict[Key, int] = defaultdict(int)
    to_come: dict[Key, int] = defaultdict(int)
    level: dict[Key, int] = {}
    for layout in batch:
        for cut in layout.open_cuts():
            open_now[_key(cut)] += 1
            level[_key(cut)] = min(level.get(_key(cut), cut.number), cut.number)
        for cut in layout.sheet.cuts:
            if cut.number not in layout.done:
                to_come[_key(cut)] += 1
    if not open_now:
        return None
    return min(
        open_now,
        key=lambda k: (k[0], to_come[k] > open_now[k], level[k] if not k[0] else 0, k[1] is not Way.RIP, -k[2]),
    )


def _step(
    number: int, key: Key, made: list[tuple[_Open, Cut]], about: tuple[BoardPlan, CutRules, dict[str, float]]
) -> SawStep:
    board, rules, mass = about
    heaviest = max(mass.get(o.sheet.stock, 0.0) * c.piece_length * c.piece_width / 1e6 for o, c in made)
    heavy = heaviest > rules.one_person_kg
    kind = _kind(key, heavy=heavy, saw=rules.saw)
    parts = _part_names(board)
    cuts = [(s.name, s.cuts[c.number - 1]) for o, c in made for s in (o.sheet, *o.twins)]
    return SawStep(
        number=number,
        kind=kind,
        way=key[1],
        setting=key[2],
        cuts=tuple((name, c.number) for name, c in cuts),
        pieces=tuple(c.piece for _, c in cuts),
        gives=tuple(c.gives for _, c in cuts),
        labels=tuple(dict.fromkeys(c.gives for _, c in cuts if c.gives in parts)),
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


def _part_names(board: BoardPlan) -> set[str]:
    def walk(node: CutNode) -> Iterator[str]:
        if node.kind is PieceKind.PART:
            yield node.name
        for child in node.children:
            yield from walk(child)

    return {name for sheet in board.sheets for name in walk(sheet.tree)}


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
        how = f"{verb.lower()} {where} at {key[2]:g} ({many})"
        return f"Before the table saw, with the track saw on the floor: {how}.{lift}"
    device = _device(rules.saw, key[1])
    return f"{device} to {key[2]:g}. {verb} {where} ({many}).{lift}"


def _device(saw: SawKind, way: Way) -> str:
    if saw is SawKind.TRACK:
        return "Rail"
    return "Fence" if way is Way.RIP else "Crosscut stop"
