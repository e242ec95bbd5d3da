"""A joint along its line: every station is drawn and told."""

from __future__ import annotations

import pytest

from storyrod.drawing import Circle, Running
from storyrod.drawing.station_row import station_row


@pytest.mark.parametrize("stations", [(280.0,), (50.0, 210.0, 370.0, 530.0), tuple(25.0 + 8 * n for n in range(60))])
def test_every_station_is_drawn_at_its_place(stations: tuple[float, ...]) -> None:
    drawing = station_row(560.0, stations, 18.0)

    assert [c.centre[0] for c in drawing.items if isinstance(c, Circle)] == list(stations)
    (running,) = (i for i in drawing.items if isinstance(i, Running))
    assert {s.value for s in running.stops} >= {stations[0], 560.0}
    assert f"{stations[0]:g}" in drawing.alt


def test_it_keeps_to_its_room() -> None:
    assert station_row(2400.0, (50.0, 1200.0, 2350.0), 18.0, room=150.0).paper_size[0] <= 150.0
