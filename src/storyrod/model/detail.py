"""Cases with their joints found (`JoinedCase`), and with every feature on both panels (`DetailedCase`)."""

from __future__ import annotations

from dataclasses import dataclass, field

from storyrod.faults import Caution
from storyrod.measure.space import Direction
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Feature
from storyrod.model.job import Job
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method
from storyrod.model.panel import Panel, PanelId


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedCase:
    """A case whose joints are known.

    `panels` have the sizes that housings and rebates give them; `fittings` are what the carcass cut, in the frames of
    these panels: a groove that ran out of the end of a panel that has grown runs out of its new end.
    """

    built: BuiltCase
    panels: tuple[Panel, ...]
    joints: tuple[Joint, ...]
    fittings: tuple[Feature, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """All cases with their joints, and the methods used."""

    job: Job
    methods: tuple[Method, ...]
    cases: tuple[JoinedCase, ...]

    def method(self, code: str) -> Method:
        """Return a method that a joint uses."""
        return next(m for m in self.methods if m.code == code)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlideChoice:
    """Which way the entering panel of a joint slides home, and which end of its housing is open."""

    joint: JointId
    lock: Direction


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What the assembly planner left to choose; joints not named lock toward the back, or down."""

    slides: tuple[SlideChoice, ...] = ()

    def lock_of(self, joint: JointId) -> Direction | None:
        """Return the chosen direction for a joint, or None."""
        return next((s.lock for s in self.slides if s.joint == joint), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorCount:
    """How many of an item one case uses up, by the method that asks for it."""

    method: str
    item: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """A clash that was settled by moving stations: what met what, and what was moved by how much."""

    joint: JointId
    station: int
    moved_by: float
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailedCase:
    """A case with every feature on every panel. Features of fittings are among them."""

    built: BuiltCase
    panels: tuple[Panel, ...]
    joints: tuple[Joint, ...]
    features: tuple[Feature, ...]
    connectors: tuple[ConnectorCount, ...]
    settled: tuple[Settled, ...] = ()
    cautions: tuple[Caution, ...] = ()
    _by_panel: dict[PanelId, tuple[Feature, ...]] = field(default_factory=dict, repr=False, compare=False)

    def on(self, panel_id: PanelId) -> tuple[Feature, ...]:
        """Return the features of one panel, in order of surface and place."""
        if not self._by_panel:
            gathered: dict[PanelId, list[Feature]] = {p.id: [] for p in self.panels}
            for feature in self.features:
                gathered[feature.panel].append(feature)
            self._by_panel.update({k: tuple(v) for k, v in gathered.items()})
        return self._by_panel[panel_id]

    def panel(self, panel_id: PanelId) -> Panel:
        """Return one panel by its id."""
        return next(p for p in self.panels if p.id == panel_id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Details:
    """All cases, detailed."""

    job: Job
    methods: tuple[Method, ...]
    cases: tuple[DetailedCase, ...]

    def method(self, code: str) -> Method:
        """Return a method that a joint uses."""
        return next(m for m in self.methods if m.code == code)
