"""Joints found from the panels' geometry, and every cut on both panels: `join`, then `detail`."""

from storyrod.joinery._detail import detail, station_rooms
from storyrod.joinery._join import join

__all__ = ["detail", "join", "station_rooms"]
