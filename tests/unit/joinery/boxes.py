"""Small cases for the joinery's tests: panels put down by hand, and whole cases with the packaged methods."""

from __future__ import annotations

from typing import Any

from storyrod import carcass
from storyrod.adapters.files.methods import packaged_methods
from storyrod.joinery import detail, join
from storyrod.measure.space import Box, Direction, Frame, Point
from storyrod.model.carcass import BuiltCase, Carcass
from storyrod.model.detail import Choices, DetailedCase, Details, Joined, JoinedCase, SlideChoice
from storyrod.model.feature import Feature
from storyrod.model.job import Case, MethodChoice
from storyrod.model.joint import Joint
from storyrod.model.method import Method
from storyrod.model.panel import Grain, Panel, PanelId, Role, frame_in
from storyrod.model.workshop import Workshop
from tests import builders

DEFAULTS = (
    ("corner", "dowels"),
    ("mid-panel", "dowels"),
    ("plinth", "dowels"),
    ("back", "screwed back"),
    ("drawer box", "dowels"),
)

UP, DOWN, LEFT, RIGHT = Direction.UP, Direction.DOWN, Direction.LEFT, Direction.RIGHT
BACK = Direction.BACKWARD
FRAMES = {
    Role.SIDE_LEFT: (UP, BACK, LEFT),
    Role.SIDE_RIGHT: (UP, BACK, RIGHT),
    Role.DIVIDER: (UP, BACK, RIGHT),
    Role.BACK: (RIGHT, UP, BACK),
    Role.PLINTH: (RIGHT, UP, BACK),
}


def workshop(*own: Method, **more: Any) -> Workshop:
    """Return a workshop with every packaged method, and dowels wherever they may stand."""
    mine = {m.code for m in own}
    methods = tuple(m for m in packaged_methods() if m.code not in mine) + own
    return builders.workshop(**{"methods": methods, "default_methods": DEFAULTS, **more})


def method(code: str) -> Method:
    """Return a packaged method."""
    return next(m for m in packaged_methods() if m.code == code)


def choice(**codes: str) -> MethodChoice:
    """Return the methods chosen by class."""
    return MethodChoice(**codes)


def joined(case: Case, shop: Workshop | None = None, **job: Any) -> JoinedCase:
    """Return one case, joined."""
    return joined_job(case, shop, **job).cases[0]


def joined_job(case: Case, shop: Workshop | None = None, **job: Any) -> Joined:
    """Return a job of one case, joined."""
    shop = shop or workshop()
    return join(carcass.build(builders.job(case, **job), shop), shop)


def detailed(case: Case, shop: Workshop | None = None, *slides: SlideChoice, **job: Any) -> DetailedCase:
    """Return one case, detailed."""
    return detailed_job(case, shop, *slides, **job).cases[0]


def detailed_job(case: Case, shop: Workshop | None = None, *slides: SlideChoice, **job: Any) -> Details:
    """Return a job of one case, detailed."""
    return detail(joined_job(case, shop, **job), Choices(slides=slides))


def between(case: JoinedCase | DetailedCase, receiving: str, entering: str) -> Joint:
    """Return the one joint between two panels, by their names."""
    names = {p.id: p.name for p in case.panels}
    found = [j for j in case.joints if (names[j.receiving], names[j.entering]) == (receiving, entering)]
    assert len(found) == 1, (receiving, entering, len(found))
    return found[0]


def named(case: JoinedCase | DetailedCase, name: str) -> Panel:
    """Return a panel by its name."""
    return next(p for p in case.panels if p.name == name)


def cuts(case: DetailedCase, joint: Joint, panel: PanelId, station: int | None = None) -> list[Feature]:
    """Return the features of a joint on one of its panels, at one station where it is given."""
    return [f for f in case.on(panel) if f.joint == joint.id and (station is None or f.station == station)]


def panel(
    name: str, role: Role, low: tuple[float, float, float], high: tuple[float, float, float], **more: Any
) -> Panel:
    """Return a panel put down by hand, with the usual frame of its role."""
    box = Box(Point(*low), Point(*high))
    u, v, into = FRAMES.get(role, (RIGHT, BACK, DOWN))
    frame = frame_in(box, Frame(Point(0, 0, 0), u, v, into))
    rest: dict[str, Any] = {"mark": f"A{name}", "body": "carcass", "board": "b18", **more}
    return Panel(
        id=PanelId(f"A.{name.replace(' ', '-')}"),
        case="A",
        role=role,
        name=name,
        box=box,
        frame=frame,
        grain=Grain.FREE,
        **rest,
    )


def by_hand(*panels: Panel, case: Case | None = None, fittings: tuple[Feature, ...] = (), **job: Any) -> Carcass:
    """Return a carcass of panels put down by hand."""
    whole = builders.job(case or builders.case(), **job)
    built = BuiltCase(
        case=whole.cases[0],
        panels=panels,
        inside=Box(Point(0, 0, 0), Point(1, 1, 1)),
        openings=(),
        drawers=(),
        doors=(),
        fittings=fittings,
        hardware=(),
        clearances=(),
    )
    return Carcass(job=whole, cases=(built,))
