"""Cutting the joints, reckoned by the figures of each method, where no run of set-ups was worked out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from storyrod.ledger._stages import is_bare, size_of, stage_of_joint
from storyrod.ledger._times import Times
from storyrod.model.act import Act
from storyrod.model.detail import DetailedCase
from storyrod.model.joint import Joint, JointKind
from storyrod.model.method import Method
from storyrod.model.work import Minutes, Stage, WorkItem


class Cutting:
    """Lists cutting and setting; a set-up once made serves every case of the batch.

    A method has one set-up for the half in faces and one for the half in edges (or one for whole lines); another size
    for another board is a change of depth. The first set-up of a method carries its trial joint.
    """

    def __init__(self, times: Times, methods: Mapping[str, Method]) -> None:
        self._times = times
        self._methods = methods
        self._sizes: dict[str, set[float]] = {}
        self._tried: set[str] = set()
        self.names: dict[str, str] = {}

    def items(self, case: DetailedCase) -> Iterator[WorkItem]:
        """Yield what one case takes, with the settings that were not made before."""
        for joint in case.joints:
            method = self._methods[joint.method]
            if joint.stations:
                yield from self._halves(case, joint, method)
            elif method.whole_line and joint.kind is not JointKind.BACK and not is_bare(method):
                yield from self._half(case, joint, method, ("lines", method.work.per_joint_min, 1, "cut a joint", 1))

    def _halves(self, case: DetailedCase, joint: Joint, method: Method) -> Iterator[WorkItem]:
        work, count = method.work, len(joint.stations)
        halves = [
            ("faces", work.per_station_receiving_min, "cut the half in a face"),
            ("edges", work.per_station_entering_min, "cut the half in an edge"),
        ]
        done = [h for h in halves if h[1] > 0]
        for where, minutes, words in done:
            yield from self._half(case, joint, method, (where, minutes, count, words, len(done)))

    def _half(
        self, case: DetailedCase, joint: Joint, method: Method, told: tuple[str, float, int, str, int]
    ) -> Iterator[WorkItem]:
        where, minutes, count, words, parts = told
        set_up = f"{method.code}, {where}"
        self.names.setdefault(set_up, f"{method.name}: {where}")
        stage = stage_of_joint(joint, Stage.MACHINE)
        size = size_of(case, joint, method)
        yield from self._setting(method, set_up, stage, size.low if size else 0.0, parts)
        act = f"{method.code}: {words}"
        yield WorkItem(
            act=act,
            stage=stage,
            each=self._times.taken(act, minutes),
            count=count,
            copies=case.built.case.count,
            case=case.built.case.code,
            panel=str(joint.entering if where == "edges" else joint.receiving),
            joint=str(joint.id),
            method=method.code,
            set_up=set_up,
        )

    def _setting(self, method: Method, set_up: str, stage: Stage, size: float, parts: int) -> Iterator[WorkItem]:
        seen = self._sizes.setdefault(set_up, set())
        if size in seen:
            return
        if seen:
            yield self._set(method, set_up, stage, Act.CHANGE_DEPTH, self._times.of(Act.CHANGE_DEPTH))
        elif method.work.setup_min > 0:
            act = f"{method.code}: set up"
            each = self._times.taken(act, method.work.setup_min / parts)
            yield self._set(method, set_up, stage, act, each)
        if method.code not in self._tried and not method.held_by_screws:
            self._tried.add(method.code)
            yield self._set(method, set_up, stage, Act.TRIAL_JOINT, self._times.of(Act.TRIAL_JOINT))
        seen.add(size)

    def _set(self, method: Method, set_up: str, stage: Stage, act: str, each: Minutes) -> WorkItem:
        return WorkItem(act=act, stage=stage, each=each, set_up=set_up, setting=True, method=method.code)
