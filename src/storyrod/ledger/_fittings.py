"""Cuts that no joint asks for: holes for runners, hinges, shelf pins and fronts, hand holds, rebates for backs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.ledger._stages import is_drawer
from storyrod.ledger._times import Times
from storyrod.measure.writing import LengthWriter
from storyrod.model.act import Act
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel, CutOut, Feature, Hole
from storyrod.model.work import Stage, WorkItem

WIDE: Final = 20.0
PINS: Final = "shelf pin"


class Fittings:
    """Lists the fittings' cuts of a batch; a drill or cutter once put in serves every case."""

    def __init__(self, times: Times, lengths: LengthWriter) -> None:
        self._times, self._lengths = times, lengths
        self._set: set[str] = set()

    def items(self, case: DetailedCase) -> Iterator[WorkItem]:
        """Yield what one case takes, with the settings that were not made before."""
        rows: set[tuple[str, float]] = set()
        for feature in case.built.fittings:
            told = self._act(case, feature)
            if told is None:
                continue
            act, count, set_up, setting = told
            stage = Stage.BACK if feature.item == "back" else Stage.FITTINGS
            if set_up not in self._set:
                self._set.add(set_up)
                yield WorkItem(act=setting, stage=stage, each=self._times.of(setting), set_up=set_up, setting=True)
            row = (str(feature.panel), round(feature.at.v, 3))
            if feature.item == PINS and row not in rows:
                rows.add(row)
                yield self._item(Act.CLAMP_JIG, stage, case, feature, 1.0, set_up)
            yield self._item(act, stage, case, feature, count, set_up)

    def _item(  # what it is, and where it belongs
        self, act: str, stage: Stage, case: DetailedCase, feature: Feature, count: float, set_up: str
    ) -> WorkItem:
        return WorkItem(
            act=act,
            stage=stage,
            each=self._times.of(act),
            count=count,
            copies=case.built.case.count,
            case=case.built.case.code,
            panel=str(feature.panel),
            set_up=set_up,
        )

    def _act(self, case: DetailedCase, feature: Feature) -> tuple[str, float, str, str] | None:
        """Return act, how often (or metres), set-up and its setting; None for what the joint's method counts."""
        shape, lengths = feature.shape, self._lengths
        match shape:
            case Hole():
                if shape.diameter >= WIDE:
                    return Act.DRILL_AT_PRESS, 1.0, f"drill {lengths.bought_n(shape.diameter)}", Act.CHANGE_DRILL
                act = Act.DRILL_HOLE if feature.item == PINS else Act.MARK_DRILL_HOLE
                return act, 1.0, f"drill {lengths.bought_n(shape.diameter)}", Act.CHANGE_DRILL
            case Channel():
                if is_drawer(case, case.panel(feature.panel).body):
                    return None
                name = f"{shape.kind} {lengths.n(shape.width)} x {lengths.n(shape.depth)}"
                return Act.ROUT_REBATE, shape.length / 1000, name, Act.CHANGE_CUTTER
            case CutOut():
                notch = shape.outline == "notch"
                name = "notches" if notch else "cut-outs"
                setting = Act.TAKE_UP_TOOL if notch else Act.CHANGE_CUTTER
                return (Act.SAW_NOTCH if notch else Act.ROUT_CUT_OUT), 1.0, name, setting
            case _:
                return Act.ROUT_CUT_OUT, 1.0, shape.kind, Act.CHANGE_CUTTER
