"""The printed packet: the whole plan as a booklet to take to the bench."""

from storyrod.adapters.packet._make import make_packet

__all__ = ["make_packet"]
