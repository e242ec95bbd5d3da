"""The saw's list, labels of parts, and what a cutting plan would be with other sheets."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.bench_lines import BenchLine
from storyrod.model.panel import Grain
from storyrod.model.sheet import Found, SawKind, StepKind, Way


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetProgress:
    """How far the search is: for a progress bar. `best` is the price (or area) of the best checked plan."""

    board: str
    share: float
    sheets: int
    best: int
    bound: int
    rounds: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SawStep:
    """One step at the saw: one setting, and all that is cut with it before the fence or rail moves.

    Attributes:
        number: from 1 over the whole list.
        kind: trim, rip, crosscut, or breaking a heavy sheet down.
        setting: distance from fence or rail to blade; 0 for a trimming cut that follows the factory edge.
        cuts: (sheet, cut number), in order.
        pieces: the pieces in hand, in the same order.
        gives: what comes off, in the same order; parts are labelled now.
        labels: names of the parts that are free after this step and want their label: those that come off, and
            those that are what is left.
        two_people: whether a piece in hand is too heavy for one.
        mass_kg: of the heaviest piece in hand, 0 where it is not known.
        say: the step in words.
    """

    number: int
    kind: StepKind
    way: Way
    setting: float
    cuts: tuple[tuple[str, int], ...]
    pieces: tuple[str, ...]
    gives: tuple[str, ...]
    labels: tuple[str, ...]
    two_people: bool
    mass_kg: float
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SawList:
    """What a person does at the saw for one board.

    `settings` counts how often fence, rail or stop is set, trimming left out; `fewest` says whether no order of these
    cuts, batch by batch, has fewer; `cautions` are printed on top.
    """

    board: str
    saw: SawKind
    steps: tuple[SawStep, ...]
    settings: int
    cut_m: float
    cautions: tuple[BenchLine, ...]
    fewest: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLabel:
    """What stands on the label of one part.

    Attributes:
        code: for the machine-readable code: plan-wide unique, plain characters.
        mark: short label of the part; `copy` of `copies`.
        size: finished size, as (length, width, cut length, cut width).
        edged: which edges get what, in words, as `front edge: birch tape`.
        face_mark: which face shows.
        sheet: where it is cut from.
    """

    code: str
    part: str
    mark: str
    name: str
    copy: int
    copies: int
    board: str
    sheet: str
    size: tuple[float, float, float, float]
    grain: Grain
    edged: tuple[str, ...]
    face_mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """What another rule or stock would change: cents and sheets with it, less those of the plan.

    Attributes:
        question: what was asked, in words; a length in it stands in `size` too.
        size: the sheet that would be had as well (mm), where that is the question; its price is the first sheet's,
            by area.
    """

    question: str
    sheets: int
    cents: int
    sheets_less: int
    cents_less: int
    found: Found
    size: tuple[float, float] | None = None
