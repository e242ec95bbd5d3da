"""What is printed of a plan: the bench packet, and every other paper by what it is for."""

from storyrod.adapters.packet._batch import (
    make_batch_buying,
    make_batch_jigs,
    make_batch_labels,
    make_batch_packet,
)
from storyrod.adapters.packet._buying import make_buying_list
from storyrod.adapters.packet._day import make_day_sheet
from storyrod.adapters.packet._labels import make_labels
from storyrod.adapters.packet._make import PARTS, make_book, make_packet, make_reasons, make_rods
from storyrod.adapters.packet._price_list import make_price_list
from storyrod.adapters.packet._prints import PRINTS, Print, prints_of
from storyrod.adapters.packet._quotation import make_quotation
from storyrod.adapters.packet._rescue import make_rescue_sheet
from storyrod.adapters.packet._standing import make_standing_jigs
from storyrod.adapters.packet._two_ways import make_two_ways

__all__ = [
    "PARTS",
    "PRINTS",
    "Print",
    "make_batch_buying",
    "make_batch_jigs",
    "make_batch_labels",
    "make_batch_packet",
    "make_book",
    "make_buying_list",
    "make_day_sheet",
    "make_labels",
    "make_packet",
    "make_price_list",
    "make_quotation",
    "make_reasons",
    "make_rescue_sheet",
    "make_rods",
    "make_standing_jigs",
    "make_two_ways",
    "prints_of",
]
