"""Before it happens: on each panel and card, what comes of laying a panel the wrong way round."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.measure.space import PanelPoint
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.machining import SetUp
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Surface
from storyrod.model.rescue import Signs
from storyrod.planning import Plan
from storyrod.rescue import WrongWay, jig_turned_over, wrong_ways

MOST_WAYS: Final = 2
"""Slips that are told of a panel, or of a card."""

_TURNED: Final[Mapping[Signs, str]] = {
    (-1, -1, 1): "turned end for end",
    (1, -1, -1): "laid with the far face up",
    (-1, 1, -1): "turned over end for end",
    (1, 1, -1): "cut like its twin",
    (1, -1, 1): "cut from its far edge like its twin",
    (-1, 1, 1): "cut from its far end like its twin",
    (-1, -1, -1): "turned about like its twin",
}

_JIG_OVER: Final = "with the jig turned over"


def before_panel(out: PanelSetOut, lengths: LengthWriter) -> tuple[str, ...]:
    """Return what to watch for before a panel is cut: the two slips that are noticed last, or that none can be made."""
    cuts = [_as_marked(out)[m.feature.id] for m in out.marks]
    if not cuts:
        return ()
    ways = wrong_ways(out.panel, cuts)
    wrong = [w for w in ways if not w.is_right]
    if not wrong:
        return (f"{out.panel.mark} cannot go wrong: its cuts come right whichever way round it lies.",)
    lines = [_line(out.panel.mark, w, lengths) for w in wrong[:MOST_WAYS]]
    same = [_TURNED[w.signs] for w in ways if w.is_right]
    return (*lines, *((f"It makes no difference whether {out.panel.mark} is {' or '.join(same)}.",) if same else ()))


def before_card(plan: Plan, set_up: SetUp) -> tuple[str, ...]:
    """Return what to watch before the cuts of a set-up: the slips noticed last, and the panels that none can befall."""
    told = _told_of(plan, set_up)
    lines = [_line(", ".join(marks), way, plan.job.lengths) for way, marks in told.wrong]
    return (*lines, *((f"Cannot go wrong here: {', '.join(told.safe)}.",) if told.safe else ()))


def before_on_paper(plan: Plan, set_up: SetUp) -> str:
    """Return the slip of a set-up that is noticed last in the few words that a printed card has room for; else ""."""
    told = _told_of(plan, set_up)
    if not told.wrong:
        return ""
    way, marks = told.wrong[0]
    others = len(marks) - 1
    which = marks[0] if not others else f"{marks[0]} and {others} {'other' if others == 1 else 'others'}"
    how = _JIG_OVER if way.is_jig else _TURNED[way.signs]
    if way.surface is not None:
        return f"Watch {which}: {how}, the cuts go into the {way.surface.value}."
    return f"Watch {which}: {how}, the cuts are {plan.job.lengths.told(way.off)} out."


@dataclass(frozen=True, slots=True)
class _Told:
    """What can go wrong at a set-up, each way with the panels that it befalls, and the panels that none befalls."""

    wrong: tuple[tuple[WrongWay, tuple[str, ...]], ...]
    safe: tuple[str, ...]


def _told_of(plan: Plan, set_up: SetUp) -> _Told:
    """Return the slips of a set-up: of a jig the one that is turned over, and the panel laid wrong, nearest first."""
    found: dict[WrongWay, list[str]] = {}
    safe: list[str] = []
    for out, cuts, stops in _worked(plan, set_up):
        laid = [w for w in wrong_ways(out.panel, cuts) if not w.is_right][:1]
        jigs = [w for s in stops if not (w := jig_turned_over(out.panel, cuts, s)).is_right][:1]
        if not laid and not jigs:
            safe.append(out.panel.mark)
        for way in (*jigs, *laid):
            found.setdefault(way, []).append(out.panel.mark)
    ranked = sorted(found.items(), key=lambda f: (f[0].off, f[0].is_jig, f[1]))
    jig = next((f for f in ranked if f[0].is_jig), None)
    rest = [f for f in ranked if f is not jig]
    nearest = sorted((*((jig,) if jig else ()), *rest[: MOST_WAYS - bool(jig)]), key=ranked.index)
    return _Told(tuple((way, tuple(marks)) for way, marks in nearest), tuple(safe))


def _worked(plan: Plan, set_up: SetUp) -> Iterator[tuple[PanelSetOut, list[Feature], tuple[Surface, ...]]]:
    """Yield each panel that a set-up cuts, its cuts as they are marked, and what the stop of a jig meets on it."""
    by_panel: dict[str, set[FeatureId]] = {}
    stops: dict[str, dict[Surface, None]] = {}
    for operation in set_up.operations if set_up.is_cut else ():
        by_panel.setdefault(operation.panel, set()).update(operation.features)
        if set_up.hands and operation.stop:
            stops.setdefault(operation.panel, {})[Surface(operation.stop)] = None
    outs: dict[str, PanelSetOut] = {p.panel.id: p for c in plan.set_out.cases for p in c.panels}
    for panel, features in by_panel.items():
        out = outs.get(panel)
        cuts = [f for i, f in _as_marked(out).items() if i in features] if out is not None else []
        if out is not None and cuts:
            yield out, cuts, tuple(stops.get(panel, ()))


def _line(marks: str, way: WrongWay, lengths: LengthWriter) -> str:
    how = f"{marks} {_JIG_OVER if way.is_jig else _TURNED[way.signs]}"
    if way.surface is not None:
        return f"{how}: the cuts go into the {way.surface.value}, where none belongs."
    return f"{how}: the cuts miss their mates by up to {lengths.told(way.off)}."


def _as_marked(out: PanelSetOut) -> Mapping[FeatureId, Feature]:
    """Return the cuts of a panel where their marks are: by these it is cut."""
    return {m.feature.id: replace(m.feature, at=PanelPoint(m.u, m.v, m.w)) for m in out.marks}


def all_before(plan: Plan) -> Mapping[str, Sequence[str]]:
    """Return what to watch for before each set-up, by its id."""
    return {s.id: before_card(plan, s) for s in plan.machining.set_ups}
