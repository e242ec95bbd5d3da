"""Cases that are alike in all but their code: planned once, and told for each.

A maker may write the same cabinet twice, with two codes. What is planned for the first then holds for the others, panel
by panel and cut by cut. Likeness is not taken from the job: it is looked up in the details and the marks themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.joint import Joint, JointId
from storyrod.model.machining import ExpectedStep, Hand, JigPlan, Operation, SetUp
from storyrod.model.mark import CaseSetOut, JointLine, Mark, PanelSetOut, SetOut
from storyrod.model.panel import Panel, PanelId


@dataclass(frozen=True, slots=True)
class _Names:
    """How one case is called where its first is called otherwise."""

    code: str
    count: int
    panels: dict[PanelId, tuple[PanelId, str]]  # by the first's id: the id and the mark of the panel like it
    joints: dict[JointId, JointId]
    features: dict[FeatureId, FeatureId]


@dataclass(frozen=True, slots=True)
class Repeats:
    """The distinct cases of a batch, each counted with all that are like it."""

    details: Details
    set_out: SetOut
    like: dict[str, tuple[_Names, ...]]
    order: dict[str, int]

    def set_ups(self, set_ups: Sequence[SetUp]) -> tuple[SetUp, ...]:
        """Return set-ups with the operations of every case, those of one hand and case together, numbered anew."""
        return tuple(self._set_up(s) for s in set_ups)

    def _set_up(self, set_up: SetUp) -> SetUp:
        every = [(names, first) for first in set_up.operations for names in self.like[first.case]]
        hands = set_up.hands or tuple(Hand)
        every.sort(key=lambda pair: (hands.index(pair[1].hand), self.order[pair[0].code]))
        operations = (_told(first, names, f"{set_up.id}.{n}") for n, (names, first) in enumerate(every, start=1))
        return replace(set_up, operations=tuple(operations))

    def jigs(self, plans: Sequence[JigPlan]) -> tuple[JigPlan, ...]:
        """Return jigs that say for how many cases like the one named they are."""
        more = {code: f" and {len(names) - 1} like it" for code, names in self.like.items() if len(names) > 1}
        marks = {
            mark: more[code]
            for code, names in self.like.items()
            if code in more
            for _, mark in names[0].panels.values()
        }

        def told(words: tuple[str, ...]) -> tuple[str, ...]:
            return tuple(w + (more.get(w.split(" ")[0]) or marks.get(w.split(" ")[0], "")) for w in words)

        return tuple(
            replace(
                p,
                serves=told(p.serves),
                stops=tuple(replace(s, used_by=told(s.used_by)) for s in p.stops),
                holds=tuple(replace(h, serves=told(h.serves)) for h in p.holds),
            )
            for p in plans
        )

    def steps(self, steps: Sequence[ExpectedStep]) -> tuple[ExpectedStep, ...]:
        """Return expected errors with the joints of every case."""
        alike: dict[JointId, list[JointId]] = {}
        for every in self.like.values():
            for names in every:
                for first, joint in names.joints.items():
                    alike.setdefault(first, []).append(joint)
        return tuple(replace(s, joints=tuple(j for first in s.joints for j in alike[first])) for s in steps)


def _told(first: Operation, names: _Names, number: str) -> Operation:
    """Return an operation as it is done on a case like the first."""
    if (names.code, names.count) == (first.case, first.copies):
        return first if first.id == number else replace(first, id=number)
    panel, mark = names.panels[first.panel]
    return replace(
        first,
        id=number,
        case=names.code,
        panel=panel,
        panel_mark=mark,
        copies=names.count,
        features=tuple(names.features[f] for f in first.features),
        finishes=tuple(names.features[f] for f in first.finishes),
        joint=None if first.joint is None else names.joints[first.joint],
    )


def find_repeats(details: Details, set_out: SetOut) -> Repeats:
    """Return the batch with each kind of case once, and how the others like it are called."""
    marked = {c.case: c for c in set_out.cases}
    firsts: dict[tuple[object, ...], list[DetailedCase]] = {}
    groups: dict[str, list[DetailedCase]] = {}
    for case in details.cases:
        code = case.built.case.code
        known = firsts.setdefault(_measure(case), [])
        first = next((f for f in known if _are_alike(f, case, marked[f.built.case.code], marked[code])), None)
        if first is None:
            known.append(case)
            groups[code] = [case]
        else:
            groups[first.built.case.code].append(case)
    distinct = tuple(_counted(members) for members in groups.values())
    like = {code: tuple(_names(members[0], m) for m in members) for code, members in groups.items()}
    kept = tuple(marked[code] for code in groups)
    order = {c.built.case.code: n for n, c in enumerate(details.cases)}
    return Repeats(replace(details, cases=distinct), replace(set_out, cases=kept), like, order)


def _measure(case: DetailedCase) -> tuple[object, ...]:
    """Return what is soon compared: how much there is of everything, and the size of the case."""
    built = case.built.case
    counts = (len(case.panels), len(case.joints), len(case.features))
    return (*counts, built.width, built.height, built.depth)


def _counted(members: Sequence[DetailedCase]) -> DetailedCase:
    first = members[0]
    if len(members) == 1:
        return first
    count = sum(m.built.case.count for m in members)
    return replace(first, built=replace(first.built, case=replace(first.built.case, count=count)))


def _names(first: DetailedCase, other: DetailedCase) -> _Names:
    return _Names(
        code=other.built.case.code,
        count=other.built.case.count,
        panels={a.id: (b.id, b.mark) for a, b in zip(first.panels, other.panels, strict=True)},
        joints={a.id: b.id for a, b in zip(first.joints, other.joints, strict=True)},
        features={a.id: b.id for a, b in zip(first.features, other.features, strict=True)},
    )


class _Same:
    """Compares names of two cases with their codes left out."""

    def __init__(self, one: str, other: str) -> None:
        self.one = one
        self.other = other

    def __call__(self, a: str | None, b: str | None) -> bool:
        if a is None or b is None:
            return a is b
        return a == b or (a.startswith(self.one) and b.startswith(self.other) and self._rest(a, b))

    def _rest(self, a: str, b: str) -> bool:
        return a[len(self.one) :] == b[len(self.other) :]


def _are_alike(first: DetailedCase, other: DetailedCase, marked: CaseSetOut, other_marked: CaseSetOut) -> bool:
    same = _Same(first.built.case.code, other.built.case.code)
    return (
        _all(first.panels, other.panels, lambda a, b: _panels_alike(a, b, same))
        and _all(first.joints, other.joints, lambda a, b: _joints_alike(a, b, same))
        and _all(first.features, other.features, lambda a, b: _features_alike(a, b, same))
        and _all(marked.panels, other_marked.panels, lambda a, b: _marked_alike(a, b, same))
    )


def _all[T](ones: Sequence[T], others: Sequence[T], alike: Callable[[T, T], bool]) -> bool:
    return len(ones) == len(others) and all(alike(a, b) for a, b in zip(ones, others, strict=True))


def _panels_alike(a: Panel, b: Panel, same: _Same) -> bool:
    return (
        (a.role, a.name, a.board, a.box, a.frame, a.grain, a.edged)
        == (b.role, b.name, b.board, b.box, b.frame, b.grain, b.edged)
        and same(a.id, b.id)
        and same(a.mark, b.mark)
        and same(a.twin, b.twin)
    )


def _joints_alike(a: Joint, b: Joint, same: _Same) -> bool:
    figures_a = (a.number, a.kind, a.method, a.at_corner, a.contact, a.home, a.run, a.length, a.stations, a.enters)
    figures_b = (b.number, b.kind, b.method, b.at_corner, b.contact, b.home, b.run, b.length, b.stations, b.enters)
    ids = ((a.id, b.id), (a.receiving, b.receiving), (a.entering, b.entering))
    return figures_a == figures_b and a.connectors == b.connectors and all(same(x, y) for x, y in ids)


def _features_alike(a: Feature, b: Feature, same: _Same) -> bool:
    return (
        a.surface is b.surface
        and a.station == b.station
        and a.at == b.at
        and a.shape == b.shape
        and a.item == b.item
        and same(a.id, b.id)
        and same(a.mate, b.mate)
        and same(a.joint, b.joint)
    )


def _marked_alike(a: PanelSetOut, b: PanelSetOut, same: _Same) -> bool:
    return (
        same(a.panel.id, b.panel.id) and _all(a.marks, b.marks, _marks_alike) and _all(a.lines, b.lines, _lines_alike)
    )


def _marks_alike(a: Mark, b: Mark) -> bool:
    return (a.number, a.what, a.surface, a.u, a.v, a.w) == (b.number, b.what, b.surface, b.u, b.v, b.w)


def _lines_alike(a: JointLine, b: JointLine) -> bool:
    figures_a = (a.number, a.surface, a.across_length, a.near, a.far, a.face_side_line)
    return figures_a == (b.number, b.surface, b.across_length, b.near, b.far, b.face_side_line)
