"""One module for each part of the page; each has its `routes`."""

from typing import Final, Protocol

from starlette.routing import BaseRoute

from storyrod.adapters.web.views import (
    assembly,
    batch,
    bench,
    brief,
    changing,
    costs,
    day,
    enter,
    glue_up,
    helping,
    jobs,
    joints,
    making,
    notes,
    overview,
    panels,
    prices,
    printing,
    remade,
    rescue,
    set_out,
    set_ups,
    sheets,
    stand,
    study,
    wish,
    workshop,
)


class View(Protocol):
    """A part of the page."""

    routes: tuple[BaseRoute, ...]


ALL: Final[tuple[View, ...]] = (
    jobs,
    remade,
    batch,
    day,
    wish,
    enter,
    workshop,
    overview,
    brief,
    changing,
    panels,
    joints,
    set_out,
    set_ups,
    sheets,
    assembly,
    stand,
    glue_up,
    notes,
    bench,
    costs,
    study,
    prices,
    printing,
    making,
    rescue,
    helping,
)
