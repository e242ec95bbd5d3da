"""Rescue: what a slip at the bench breaks, and the ways out, found by search and checked by code of its own."""

from storyrod.rescue._before import WrongWay, jig_turned_over, wrong_ways
from storyrod.rescue._check import check_way
from storyrod.rescue._draft import Bench, Draft, first_draft
from storyrod.rescue._faults import FIELDS, faults_of
from storyrod.rescue._pieces import pieces_of
from storyrod.rescue._search import MOST_WAYS, Found, Search, find_ways
from storyrod.rescue._stands import found_of
from storyrod.rescue._turn import turned as cut_as_it_lies

__all__ = [
    "FIELDS",
    "MOST_WAYS",
    "Bench",
    "Draft",
    "Found",
    "Search",
    "WrongWay",
    "check_way",
    "cut_as_it_lies",
    "faults_of",
    "find_ways",
    "first_draft",
    "found_of",
    "jig_turned_over",
    "pieces_of",
    "wrong_ways",
]
