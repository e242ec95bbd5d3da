"""Ledger: minutes and money of a job, by each method; when one overtakes another; what the bench teaches."""

from storyrod.ledger._account import account, terms_of
from storyrod.ledger._annuity import annual_cost, capital_recovery
from storyrod.ledger._break_even import carcasses_to_pay, pay_words
from storyrod.ledger._check_buying import check_buying
from storyrod.ledger._compare import by_method, compare, traits
from storyrod.ledger._learn import learn_time
from storyrod.ledger._learning_curve import fit_curve, mean_factor, unit_factor
from storyrod.ledger._materials import finish_bought
from storyrod.ledger._teach import curve_of, teach
from storyrod.ledger._time_study import mean_interval, more_timings, timings_needed
from storyrod.ledger._traces import trace_bought
from storyrod.ledger._two_ways import place_at, side_by_side, taken_by_stage
from storyrod.ledger._ways import if_bought, lacking, to_be_bought
from storyrod.ledger._work import list_work

__all__ = [
    "account",
    "annual_cost",
    "by_method",
    "capital_recovery",
    "carcasses_to_pay",
    "check_buying",
    "compare",
    "curve_of",
    "finish_bought",
    "fit_curve",
    "if_bought",
    "lacking",
    "learn_time",
    "list_work",
    "mean_factor",
    "mean_interval",
    "more_timings",
    "pay_words",
    "place_at",
    "side_by_side",
    "taken_by_stage",
    "teach",
    "terms_of",
    "timings_needed",
    "to_be_bought",
    "trace_bought",
    "traits",
    "unit_factor",
]
