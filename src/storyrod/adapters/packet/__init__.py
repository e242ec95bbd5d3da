"""The printed packet: the whole plan as a booklet to take to the bench."""

from storyrod.adapters.packet._labels import make_labels
from storyrod.adapters.packet._ledger import make_quotation, quotation_faults
from storyrod.adapters.packet._make import PARTS, make_packet

__all__ = ["PARTS", "make_labels", "make_packet", "make_quotation", "quotation_faults"]
