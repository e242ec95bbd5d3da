"""Reading methods: the packaged ones are sound, a maker's own may be like them, and every slip is told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from storyrod.adapters.files import read_workshop
from storyrod.adapters.files.methods import methods_from, packaged_methods
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.model.job import JointClass
from storyrod.model.method import CutKind, Motion

PACKAGED = (
    "glued butt",
    "dowels",
    "biscuits",
    "loose tenons",
    "carcass screws",
    "plain screws",
    "pocket screws",
    "cam and bolt",
    "housing",
    "stopped housing",
    "rebate",
    "groove",
    "screwed back",
    "one-part keyhole connector",
    "two-part clip connector",
)

PEG: dict[str, Any] = {
    "motion": "straight",
    "classes": ["corner", "mid-panel"],
    "rules": {"end": 40, "end_min": 20, "pitch": 150, "gap_min": 30},
    "sizes": [
        {
            "low": 15,
            "high": 20,
            "receiving": [{"kind": "hole", "diameter": 6, "depth": 10}],
            "entering": [{"kind": "hole", "diameter": 6, "depth": 20}],
            "consumes": [{"item": "peg"}],
        }
    ],
}


def changed(*path: str | int, to: object, of: dict[str, Any] = PEG) -> dict[str, Any]:
    """Return the peg with one of its figures changed."""
    import copy

    table: Any = copy.deepcopy(of)
    place = table
    for step in path[:-1]:
        place = place[step]
    if to is None:
        del place[path[-1]]
    else:
        place[path[-1]] = to
    whole: dict[str, Any] = table
    return whole


def told(**tables: object) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as caught:
        methods_from({k.replace("_", " "): v for k, v in tables.items()}, Unit.MM, "methods")
    return caught.value.faults


def test_the_packaged_methods_are_these() -> None:
    assert tuple(m.code for m in packaged_methods()) == PACKAGED


def test_every_packaged_method_serves_some_class_with_some_size() -> None:
    for method in packaged_methods():
        assert method.sizes
        assert method.classes
        assert method.whole_line is (method.rules is None)
        assert method.work.close_min > 0
        stationed = bool(method.sizes[0].receiving or method.sizes[0].entering)
        assert stationed is not method.whole_line


@pytest.mark.parametrize(
    "code", [c for c in PACKAGED if c not in {"rebate", "groove", "screwed back", "stopped housing"}]
)
@pytest.mark.parametrize("thickness", [16.0, 18.0, 19.0, 22.0])
def test_the_usual_boards_are_served(code: str, thickness: float) -> None:
    method = next(m for m in packaged_methods() if m.code == code)

    assert method.size_for(thickness) is not None


def test_a_method_of_ones_own() -> None:
    (peg,) = methods_from({"peg": PEG}, Unit.MM, "methods")

    assert (peg.code, peg.name, peg.field) == ("peg", "peg", "methods.peg")
    assert peg.motion is Motion.STRAIGHT
    assert peg.classes == (JointClass.CORNER, JointClass.MID_PANEL)
    assert peg.rules is not None
    assert (peg.rules.end, peg.rules.least, peg.rules.single) == (40.0, 2, False)
    assert (peg.sizes[0].receiving[0].kind, peg.sizes[0].receiving[0].depth) == (CutKind.HOLE, 10.0)


def test_bare_lengths_are_in_the_files_unit_and_written_ones_in_their_own() -> None:
    table = changed("rules", "end", to=2)
    table["sizes"][0] |= {"low": '9/16"', "high": "20 mm"}
    table["sizes"][0]["receiving"][0] |= {"diameter": "6 mm", "depth": "10 mm"}
    table["sizes"][0]["entering"][0] |= {"diameter": "6 mm", "depth": "20 mm"}
    table["rules"] |= {"end_min": 1, "pitch": 6, "gap_min": 1}
    (peg,) = methods_from({"peg": table}, Unit.INCH, "methods")

    assert peg.rules is not None
    assert peg.rules.end == pytest.approx(50.8)
    assert peg.sizes[0].low == pytest.approx(14.2875)


def test_a_method_like_another_takes_over_what_it_does_not_say() -> None:
    (mine,) = methods_from(
        {"my dowels": {"like": "dowels", "rules": {"pitch": 128}, "glue": False}}, Unit.MM, "methods"
    )
    dowels = next(m for m in packaged_methods() if m.code == "dowels")

    assert mine.code == "my dowels"
    assert mine.sizes == dowels.sizes
    assert mine.rules is not None
    assert (mine.rules.end, mine.rules.pitch, mine.glue) == (50.0, 128.0, False)


def test_figures_taken_over_stay_in_mm_in_a_file_in_inches() -> None:
    (mine,) = methods_from({"m": {"like": "dowels", "rules": {"end": 2}}}, Unit.INCH, "methods")
    dowels = next(m for m in packaged_methods() if m.code == "dowels")

    assert mine.sizes == dowels.sizes
    assert mine.rules is not None
    assert (mine.rules.end, mine.rules.pitch) == (50.8, 160.0)


def test_a_method_may_be_like_another_of_the_same_file() -> None:
    read = methods_from({"b": {"like": "a", "glue": True}, "a": PEG}, Unit.MM, "methods")

    assert [(m.code, m.glue, m.sizes[0].low) for m in read] == [("b", True, 15.0), ("a", False, 15.0)]


def test_methods_like_each_other_in_a_ring_are_told() -> None:
    faults = told(a={"like": "b"}, b={"like": "a"})

    assert {f.field for f in faults} == {"methods.a.like", "methods.b.like"}


def test_ones_own_method_takes_the_place_of_the_packaged_one(tmp_path: Path) -> None:
    shop = tmp_path / "shop.toml"
    shop.write_text('[methods.dowels]\nlike = "dowels"\nglue = false\n', encoding="utf-8")
    both = read_workshop(shop).methods

    assert sorted(m.code for m in both) == sorted(PACKAGED)
    assert next(m for m in both if m.code == "dowels").glue is False


@pytest.mark.parametrize(
    ("table", "field", "words"),
    [
        (changed("rules", "pich", to=3), "methods.peg.rules.pich", "pitch"),
        (changed("motion", to="straigt"), "methods.peg.motion", "straight"),
        (changed("classes", to=["corner", "mid panel"]), "methods.peg.classes[1]", "mid-panel"),
        (changed("needs", to=["drill gig"]), "methods.peg.needs[0]", "drill jig"),
        (changed("like", to="dowel"), "methods.peg.like", "dowels"),
        (changed("sizes", 0, "receiving", 0, "diamter", to=3), "methods.peg.sizes[0].receiving[0].diamter", "diameter"),
    ],
)
def test_a_slip_of_the_pen_is_told_with_the_nearest_word(table: dict[str, Any], field: str, words: str) -> None:
    (fault,) = told(peg=table)

    assert (fault.field, fault.do) == (field, f'Did you mean "{words}"?')


@pytest.mark.parametrize(
    ("table", "field", "found"),
    [
        (changed("rules", to=None), "rules", "nothing"),
        (changed("whole_line", to=True), "rules", "rules of position"),
        (changed("rules", "end", to=10), "rules.end", "10 mm"),
        (changed("rules", "pitch", to=20), "rules.pitch", "20 mm"),
        (changed("rules", "end", to=float("nan")), "rules.end", "not a number"),
        (changed("rules", "end", to=-4), "rules.end", "-4 mm"),
        (changed("rules", "least", to=0), "rules.least", "0"),
        (changed("sizes", to=[]), "sizes", "no size"),
        (changed("sizes", 0, "high", to=14), "sizes[0].high", "14 mm"),
        (changed("sizes", 0, "enters", to=15), "sizes[0].enters", "15 mm, deeper than the board"),
        (changed("sizes", 0, "stop_short", to=10), "sizes[0].stop_short", "10 mm"),
        (
            changed("sizes", 0, "receiving", 0, "depth", to=15),
            "sizes[0].receiving[0].depth",
            "15 mm, deeper than the board",
        ),
        (changed("sizes", 0, "receiving", 0, "depth", to=None), "sizes[0].receiving[0].depth", "nothing"),
        (changed("sizes", 0, "receiving", 0, "diameter", to=None), "sizes[0].receiving[0].diameter", "nothing"),
        (changed("sizes", 0, "receiving", 0, "place", to="far face"), "sizes[0].receiving[0].place", '"far face"'),
        (changed("sizes", 0, "receiving", 0, "kind", to="housing"), "sizes[0].receiving[0].kind", '"housing"'),
        (changed("sizes", 0, "receiving", 0, "countersink", to=3), "sizes[0].receiving[0].countersink", "3 mm"),
        (changed("sizes", 0, "entering", 0, "diameter", to=16), "sizes[0].entering[0]", "16 mm across the edge"),
        (changed("sizes", 0, "entering", 0, "place", to="far face"), "sizes[0].entering[0].inset", "nothing"),
        (
            changed("sizes", 0, "connector_length", to=31),
            "sizes[0].connector_length",
            "31 mm in depths that add up to 30 mm",
        ),
        (
            changed("sizes", 0, "connector_length", to=19),
            "sizes[0].connector_length",
            "19 mm in depths that add up to 30 mm",
        ),
    ],
)
def test_figures_that_cannot_be_are_told(table: dict[str, Any], field: str, found: str) -> None:
    faults = told(peg=table)

    assert [(f.field, f.found) for f in faults if f.field == f"methods.peg.{field}"] == [
        (f"methods.peg.{field}", found)
    ]
    assert all(f.allowed and f.do for f in faults)


def test_sizes_must_rise_without_overlap() -> None:
    table = changed("sizes", to=[{**PEG["sizes"][0]}, {**PEG["sizes"][0], "low": 18, "high": 25}])

    assert [(f.field, f.allowed) for f in told(peg=table)] == [("methods.peg.sizes[1].low", "20 mm or more")]


def test_a_keyhole_slides_as_far_as_it_is_long() -> None:
    keyhole = {"like": "one-part keyhole connector"}

    assert {f.field for f in told(k=keyhole | {"slide_travel": 12})} == {
        "methods.k.sizes[0].receiving[0].travel",
        "methods.k.sizes[1].receiving[0].travel",
    }
    assert {f.field for f in told(k=keyhole | {"motion": "straight"})} == {"methods.k.motion"}


def test_all_faults_of_all_methods_come_at_once_with_names_in_quotes_where_they_need_them() -> None:
    faults = told(one=4, my_peg=changed("motion", to=None), other=changed("glue", to="yes"))

    assert [(f.field, f.code) for f in faults] == [
        ("methods.one", "type"),
        ('methods."my peg".motion', "missing"),
        ("methods.other.glue", "type"),
    ]
