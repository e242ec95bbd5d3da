"""What is printed of a plan: the bench packet, and every other paper by what it is for."""

from storyrod.adapters.packet._labels import make_labels
from storyrod.adapters.packet._ledger import make_quotation, quotation_faults
from storyrod.adapters.packet._make import PARTS, make_book, make_packet, make_reasons, make_rods
from storyrod.adapters.packet._prints import PRINTS, Print, Wishes, prints_of

__all__ = [
    "PARTS",
    "PRINTS",
    "Print",
    "Wishes",
    "make_book",
    "make_labels",
    "make_packet",
    "make_quotation",
    "make_reasons",
    "make_rods",
    "prints_of",
    "quotation_faults",
]
