"""The guided form for a connector: its answers write a method that reads, and faults find their question."""

from __future__ import annotations

import tomllib

import pytest

from storyrod.adapters.files import packaged_workshop, workshop_from_text
from storyrod.adapters.files.measuring import (
    answers_of,
    first_answers,
    key_of,
    known_methods,
    written_text,
)
from storyrod.adapters.files.measuring_steps import steps_of
from storyrod.adapters.files.measuring_words import KINDS, Kind
from storyrod.adapters.files.workshop_editing import START
from storyrod.faults import JobError
from storyrod.model.method import Motion

ALL = [(m.code, n) for m in packaged_workshop().methods for n in range(len(m.sizes))]


@pytest.mark.parametrize("kind", KINDS, ids=lambda k: k.key)
def test_every_kind_begins_with_figures_that_read(kind: Kind) -> None:
    answers = {**first_answers(START, kind), "name": "mine", "price.pack": "50", "price.price": "12,50"}
    read = workshop_from_text(written_text(START, answers), name="w")
    method = read.method("mine")

    assert method is not None
    assert method.rules is None or method.rules.end > 0
    bought = kind.key != "housing"
    assert [p.price_cents for p in read.prices if p.item == "mine"] == ([1250] if bought else [])


@pytest.mark.parametrize(("code", "size"), ALL)
def test_a_method_that_is_not_changed_is_not_written(code: str, size: int) -> None:
    assert written_text(START, answers_of(START, code, size)) == START


@pytest.mark.parametrize(("code", "size"), ALL)
def test_a_method_that_is_changed_keeps_all_else(code: str, size: int) -> None:
    text = written_text(START, {**answers_of(START, code, size), "note": "mine"})
    before, after = packaged_workshop().method(code), workshop_from_text(text, name="w").method(code)

    assert tomllib.loads(text)["methods"][code] == {"like": code, "note": "mine"}
    assert before is not None
    assert after is not None
    assert (after.sizes, after.rules, after.work, after.motion) == (
        before.sizes,
        before.rules,
        before.work,
        before.motion,
    )


def test_only_what_differs_is_written_and_goes_again_when_it_is_set_back() -> None:
    answers = answers_of(START, "dowels", 4)
    text = written_text(START, {**answers, "rules.pitch": "128", "glue": ""})

    assert tomllib.loads(text)["methods"]["dowels"] == {"like": "dowels", "rules": {"pitch": 128}, "glue": False}
    back = {**answers_of(text, "dowels", 4), "rules.pitch": "160", "glue": "yes"}
    assert written_text(text, back) == START


def test_a_keyhole_slides_as_far_as_it_is_long() -> None:
    kind = next(k for k in KINDS if k.key == "keyhole")
    text = written_text(START, {**first_answers(START, kind), "name": "mine", "r0.travel": "14"})
    method = workshop_from_text(text, name="w").method("mine")

    assert method is not None
    assert (method.motion, method.slide_travel) == (Motion.STRAIGHT_THEN_SLIDE, 14)


def test_a_housing_asks_for_no_stations() -> None:
    kind = next(k for k in KINDS if k.key == "housing")

    assert [s.key for s in steps_of(first_answers(START, kind))] == ["kind", "face", "home", "cost", "keep"]


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("r0.depth", "19"),
        ("e0.diameter", "30"),
        ("rules.end", "10"),
        ("high", "12"),
        ("connector_length", "80"),
        ("work.fit_min", "soon"),
        ("price.price", "cheap"),
        ("r0.diameter", ""),
    ],
)
def test_a_fault_is_told_at_its_question(key: str, words: str) -> None:
    answers = {**first_answers(START, KINDS[0]), "name": "mine", "price.price": "1", key: words}
    with pytest.raises(JobError) as caught:
        workshop_from_text(written_text(START, answers), name="w")

    keys = {q.key for s in steps_of(answers) for q in s.questions}
    told = {key_of(f, answers) for f in caught.value.faults}
    assert key in told
    assert told <= keys


@pytest.mark.parametrize("name", ["", "dowels", "a\x00b", "x" * 61])
def test_a_name_that_will_not_do_is_told(name: str) -> None:
    with pytest.raises(JobError, match="name"):
        written_text(START, {**first_answers(START, KINDS[0]), "name": name})


def test_a_method_of_ones_own_is_corrected_in_its_place() -> None:
    own = START + '\n[methods.peg]\nlike = "dowels"\nrules = { end = 40 } # as on the stop\n'
    text = written_text(own, {**answers_of(own, "peg", 4), "note": "from the market"})

    assert "# as on the stop" in text
    assert tomllib.loads(text)["methods"]["peg"] == {"like": "dowels", "rules": {"end": 40}, "note": "from the market"}
    assert known_methods(text)["peg"]["rules"]["pitch"] == 160


def test_figures_taken_over_keep_their_unit_in_a_file_in_inches() -> None:
    inches = 'units = "in"\n'
    text = written_text(inches, {**first_answers(inches, KINDS[0]), "name": "mine", "r0.depth": '1/2"'})
    method = workshop_from_text(text, name="w").method("mine")

    assert method is not None
    assert method.sizes[0].receiving[0].depth == pytest.approx(12.7)
    assert method.sizes[0].receiving[0].diameter == 8


def test_no_method_and_no_size_are_told() -> None:
    for code, size in (("nothing", 0), ("dowels", 99), ("dowels", -1)):
        with pytest.raises(JobError, match="no method"):
            answers_of(START, code, size)
