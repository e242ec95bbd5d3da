"""The operations of machining's run, as items of the ledger."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from storyrod.ledger._stages import stage_of_joint, stage_of_panel
from storyrod.ledger._times import Times
from storyrod.model.act import Act
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.joint import Joint
from storyrod.model.machining import Operation, SetUp, WorkPlan, WorkStage
from storyrod.model.work import Stage, WorkItem
from storyrod.model.workshop import Workshop

_STAGES = {
    WorkStage.CUT: Stage.CUT,
    WorkStage.EDGE: Stage.EDGE,
    WorkStage.MARK: Stage.MARK,
    WorkStage.MACHINE: Stage.MACHINE,
    WorkStage.FIT: Stage.FIT,
    WorkStage.IN_PLACE: Stage.MACHINE,
}


class RunItems:
    """Reads a run: what is done to a piece by its operations, what is set by its steps."""

    def __init__(self, run: WorkPlan, details: Details, workshop: Workshop) -> None:
        self._run = run
        self._times = Times(workshop)
        self._ways = {w.code: w for w in workshop.ways}
        self._cases = {c.built.case.code: c for c in details.cases}
        self._joints: dict[str, Joint] = {str(j.id): j for c in details.cases for j in c.joints}
        self._items_of = {f.id: f.item for c in details.cases for f in c.features}

    def items(self) -> Iterator[WorkItem]:
        """Yield every operation and every setting of the whole batch."""
        run = self._run.run
        lots = max(run.lot.lots, 1)
        # What a lot changes is set-ups, trial joints and reading the card of each; the last is not told by itself.
        cards = run.lot.changes_min / lots - sum(s.change_min + s.trial_min for s in run.steps)
        card = max(cards, 0.0) / max(len(run.steps), 1)
        for step in run.steps:
            set_up = self._run.set_up(step.set_up)
            stages: Counter[Stage] = Counter()
            for operation in set_up.operations:
                stage = self._stage(set_up, operation)
                stages[stage] += operation.copies
                yield from self._done(set_up, operation, stage)
            most = stages.most_common(1)[0][0] if stages else _STAGES[set_up.stage]
            settings = (("read the card", card), ("set up", step.change_min), (Act.TRIAL_JOINT, step.trial_min))
            for act, minutes in settings:
                if minutes > 0:
                    yield WorkItem(
                        act=act,
                        stage=most,
                        each=self._times.taken(act, minutes),
                        count=lots,
                        set_up=set_up.id,
                        setting=True,
                        method=self._method(set_up),
                    )
            yield from self._handled(set_up, step.handle_min - card, most)

    def _handled(self, set_up: SetUp, minutes: float, most: Stage) -> Iterator[WorkItem]:
        """Yield fetching, shared over the panels of the set-up by how many copies there are."""
        copies = sum(o.copies for o in set_up.operations)
        if minutes <= 1e-9:
            return
        act = Act.FETCH_PANEL
        for operation in set_up.operations:
            share = minutes / copies
            yield self._item(act, share, set_up, operation, self._stage(set_up, operation))
        if not set_up.operations:
            yield WorkItem(act=act, stage=most, each=self._times.taken(act, minutes), set_up=set_up.id)

    def _done(self, set_up: SetUp, operation: Operation, stage: Stage) -> Iterator[WorkItem]:
        way = self._ways.get(set_up.setting.way) if set_up.setting is not None else None
        place = way.place_act if way is not None and way.place_act else set_up.title
        cut = way.cut_act if way is not None and way.cut_act else set_up.title
        for act, minutes in ((place, operation.place_min), (cut, operation.cut_min)):
            if minutes > 0:
                yield self._item(act, minutes, set_up, operation, stage)

    def _item(self, act: str, minutes: float, set_up: SetUp, operation: Operation, stage: Stage) -> WorkItem:
        joint = self._joints.get(str(operation.joint))
        return WorkItem(
            act=act,
            stage=stage,
            each=self._times.taken(act, minutes),
            copies=operation.copies,
            case=operation.case,
            panel=str(operation.panel),
            joint=str(joint.id) if joint else "",
            method=joint.method if joint else "",
            set_up=set_up.id,
        )

    def _stage(self, set_up: SetUp, operation: Operation) -> Stage:
        usual = _STAGES[set_up.stage]
        joint = self._joints.get(str(operation.joint))
        if usual in (Stage.CUT, Stage.EDGE):
            return usual
        if joint is not None:
            return stage_of_joint(joint, usual)
        case: DetailedCase | None = self._cases.get(operation.case)
        if usual is Stage.MACHINE and operation.features:
            back = any(self._items_of.get(f) == "back" for f in operation.features)
            usual = Stage.BACK if back else Stage.FITTINGS
        return stage_of_panel(case, case.panel(operation.panel), usual) if case else usual

    def _method(self, set_up: SetUp) -> str:
        joints = (self._joints.get(str(o.joint)) for o in set_up.operations)
        return next((j.method for j in joints if j is not None), "")
