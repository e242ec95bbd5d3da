"""The packaged workshop, and a maker's own file laid over it."""

# ruff: noqa: E501 - the table of faults reads best with one a row

from __future__ import annotations

import pytest

from storyrod.adapters.files import (
    job_from_text,
    packaged_workshop,
    read_job,
    read_workshop,
    workshop_from_text,
)
from storyrod.faults import Fault, JobError, within
from storyrod.model.job import JointClass
from storyrod.model.workshop import RunnerMount
from tests.places import EXAMPLES


def told(text: str) -> list[tuple[str, int | None, str]]:
    with pytest.raises(JobError) as caught:
        workshop_from_text(text, name="shed.toml")
    assert all(f.file == "shed.toml" for f in caught.value.faults)
    return [(f.field, f.line, f.code) for f in caught.value.faults]


def test_the_packaged_workshop_has_all_that_a_first_job_needs() -> None:
    shop = packaged_workshop()

    assert {c.value for c in JointClass} == {c for c, _ in shop.default_methods}
    for joint_class, code in shop.default_methods:
        method = shop.method(code)
        assert method is not None
        assert joint_class in {c.value for c in method.classes}
    assert {r.mount for r in shop.runners} == set(RunnerMount)
    assert shop.runner(shop.default_runner) is not None
    assert shop.hinge(shop.default_hinge) is not None


def test_everything_that_a_method_uses_up_has_its_price() -> None:
    shop = packaged_workshop()

    priced = {p.item for p in shop.prices}
    used = {c.item for m in shop.methods for s in m.sizes for c in s.consumes}
    assert used <= priced


def test_times_are_as_printed_in_the_table_of_single_acts() -> None:
    """A few of the minutes, low, usual and high, by hand from the table the file names."""
    times = {t.act: (t.low_min, t.usual_min, t.high_min) for t in packaged_workshop().times}

    assert times["mark a joint line"] == (0.3, 0.5, 1.0)
    assert times["rout a slot"] == (0.25, 0.35, 0.6)
    assert times["trial joint"] == (1.0, 3.0, 5.0)
    assert times["make a drawer box"] == (12.0, 20.0, 35.0)


def test_knowledge_adds_and_overrides_and_what_is_owned_replaces() -> None:
    plain = packaged_workshop()
    own = workshop_from_text(
        """
        [runners.mine]
        mount = "side"
        lengths = [350]
        [runners."side light"]
        mount = "side"
        lengths = [400]
        load_kg = 12
        [times."trial joint"]
        low = 2
        usual = 4
        high = 6
        [prices."dowel 8 x 35"]
        price = 9.99
        [bushes.none]
        """.replace("[bushes.none]", "[[bushes]]\ndiameter = 27"),
        name="shed.toml",
    )

    assert {r.code for r in own.runners} == {r.code for r in plain.runners} | {"mine"}
    light = own.runner("side light")
    assert light is not None
    assert (light.lengths, light.load_kg) == ((400.0,), 12.0)
    assert own.minutes("trial joint") == 4
    assert own.minutes("mark a joint line") == 0.5
    assert next(p.price_cents for p in own.prices if p.item == "dowel 8 x 35") == 999
    assert [b.diameter for b in own.bushes] == [27.0]
    assert own.cutters == plain.cutters
    assert own.methods == plain.methods
    assert own.name == "shed"


def test_a_file_says_only_what_differs_in_saw_money_and_handling() -> None:
    own = workshop_from_text("[saw]\nkerf = 2.2\n[money]\nrate_per_hour = 18.5\n", name="shed.toml")
    plain = packaged_workshop()

    assert (own.saw.kerf, own.saw.trim) == (2.2, plain.saw.trim)
    assert (own.money.rate_cents_per_h, own.money.write_off_years) == (1850, plain.money.write_off_years)
    assert own.handling == plain.handling


def test_a_method_of_ones_own_takes_the_place_of_the_packaged_one() -> None:
    text = '[methods.dowels]\nlike = "dowels"\nname = "my dowels"\n[methods.pegs]\nlike = "dowels"\n'
    own = workshop_from_text(text, name="shed.toml")

    mine, pegs = own.method("dowels"), own.method("pegs")
    assert mine is not None
    assert pegs is not None
    assert mine.name == "my dowels"
    assert len(own.methods) == len(packaged_workshop().methods) + 1


def test_a_job_may_use_what_only_its_workshop_has() -> None:
    read = read_job(EXAMPLES / "low-units.toml")

    assert read.workshop_path == EXAMPLES / "choir-workshop.toml"
    assert read.workshop == read_workshop(EXAMPLES / "choir-workshop.toml")
    assert read.workshop.default_runner == "workbench runner"
    assert read.workshop.packers[0] == 0.5


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ('[defaults]\ncorner = "nails"', [("defaults.corner", 2, "missing-method")]),
        ('[defaults]\ncorner = "screwed back"', [("defaults.corner", 2, "method-class")]),
        ('[defaults]\nrunner = "x"\nhinge = "y"', [("defaults.runner", 2, "missing-runner"), ("defaults.hinge", 3, "missing-hinge")]),
        ('[defaults]\nfront_screw = "x"', [("defaults.front_screw", 2, "missing-screw")]),
        ('[runners.r]\nmount = "side"\nlengths = [350]\nfixed_with = "x"', [("runners.r.fixed_with", 4, "missing-screw")]),
        ('[hinges.h]\nplate_fixed_with = "x"\ncup_fixed_with = "y"', [("hinges.h.plate_fixed_with", 2, "missing-screw"), ("hinges.h.cup_fixed_with", 3, "missing-screw")]),
        ('[times]\n"x" = { low = 2, usual = 1, high = 3 }', [("times.x.usual", 2, "range")]),
        ('[times]\n"trail joint" = { low = 1, usual = 2, high = 3 }', [('times."trail joint"', 2, "near-act")]),
        ('[times]\n"cut a panel, tablesaw" = { low = 1, usual = 2, high = 3 }', [('times."cut a panel, tablesaw"', 2, "near-act")]),
        (('[ways.w]\ntool = "router"\nmakes = ["slot"]\non_edges = true\nalong = "marks"\n'
          'registration = "program"\nplace_act = "clamp the jig"\ncut_act = "rout a slott"'), [("ways.w.cut_act", 8, "way-act")]),
        ("[hinges.h]\nper_door = [{ up_to = 900, hinges = 2 }, { up_to = 800, hinges = 3 }]", [("hinges.h.per_door", 2, "range")]),
        ("[hinges.h]\nper_door = []", [("hinges.h.per_door", 2, "range")]),
        ("[[bushes]]\ndiameter = 17\nbore = 18", [("bushes[0].bore", 3, "range")]),
        ("packers = [3, 1]", [("packers", 1, "range")]),
        ("packers = 3", [("packers", 1, "type")]),
        ('[runners.r]\nmount = "top"\nlengths = []', [("runners.r.mount", 2, "choice"), ("runners.r.lengths", 3, "range")]),
        ('[cutters.c]\nkind = "drill"\ndiameter = 0\nreach = nan', [("cutters.c.diameter", 3, "range"), ("cutters.c.reach", 4, "length")]),
        ("[prices.p]\nprice = -1", [("prices.p.price", 2, "range")]),
        ("[prices.p]\nprice = '1.234'", [("prices.p.price", 2, "type")]),
        ("[money]\nmargin_share = 30", [("money.margin_share", 2, "range")]),
        ("[tools.t]\nkind = 'router'\nownd = true", [("tools.t.ownd", 3, "unknown-field")]),
    ],
)  # fmt: skip
def test_what_is_wrong_in_a_workshop_is_told(text: str, faults: list[tuple[str, int, str]]) -> None:
    assert told(text) == faults


def test_an_act_of_ones_own_may_be_timed_and_taken_by_a_way() -> None:
    own = workshop_from_text(
        """
        [times]
        "cut a panel, band saw" = { low = 1, usual = 2, high = 3 }
        "rout a slott" = { low = 1, usual = 2, high = 3 }
        [ways."slots by the jig"]
        tool = "router"
        cutter = "straight"
        registration = "fence or jig on the reference face"
        along = "stations of a jig"
        makes = ["slot"]
        on_edges = true
        cut_act = "rout a slott"
        """,
        name="shed.toml",
    )

    assert own.minutes("cut a panel, band saw") == 2
    assert own.minutes("rout a slott") == 2


def test_every_act_that_a_packaged_way_takes_is_timed() -> None:
    plain = packaged_workshop()

    assert all(plain.minutes(act) > 0 for w in plain.ways for act in (w.place_act, w.cut_act) if act)


def test_inches_hold_for_bare_numbers_of_the_file() -> None:
    own = workshop_from_text('units = "in"\n[saw]\nkerf = "1/8"\ntrim = "5 mm"\n', name="shed.toml")

    assert own.saw.kerf == pytest.approx(3.175)
    assert own.saw.trim == 5.0


def test_a_method_in_inches_is_told_its_slips_in_inches() -> None:
    text = """
units = "in"

[methods.peg]
motion = "straight"
classes = ["corner"]
rules = { end = "1/2", end_min = 1, pitch = 6, gap_min = 1 }
sizes = [{ low = "1/2", high = "3/4", receiving = [{ kind = "hole", diameter = "1/4", depth = "5/8" }] }]
"""
    with pytest.raises(JobError) as caught:
        workshop_from_text(text, name="shop.toml")
    found = {f.field: f"{f.found}; {f.allowed}" for f in caught.value.faults}

    assert found["methods.peg.rules.end"] == '1/2"; 1" (end_min) or more'
    assert found["methods.peg.sizes[0].receiving[0].depth"].startswith('5/8", deeper than the board; less than 1/2"')
    assert not [f for f in found.values() if " mm" in f]


def test_a_jig_and_a_bush_in_inches_are_told_in_inches() -> None:
    text = """
units = "in"
bushes = [{ diameter = "5/8", bore = "3/4" }]

[jigs.ladder]
name = "old ladder"
stations = [2, 8, 14]
opening_width = "3/8"
opening_length = "1/2"
length = 14
thickness = 1
"""
    with pytest.raises(JobError) as caught:
        workshop_from_text(text, name="shop.toml")
    found = {f.field: f"{f.found}; {f.allowed}" for f in caught.value.faults}

    assert found["jigs.ladder.length"] == '14", with an opening that ends 14 1/4" from the stop; 14 1/4" or more'
    assert found["bushes[0].bore"].startswith('3/4" in a bush of 5/8"')


def test_a_fault_found_later_is_led_back_to_its_line() -> None:
    read = read_job(EXAMPLES / "low-units.toml")
    faults = [
        *within("cases[1].inside.rows[0].height", 5, 10, 20, do="Make it higher."),
        *within('runners."workbench runner".load_kg', 5, 10, 20, do="Look again."),
        *within("methods.corner", 5, 10, 20, do="Choose another."),
        *within("cases[1].back", 5, 10, 20, do="Leave it."),
        Fault(code="x", field="", found="f", allowed="a", do="d"),
    ]

    told_at = [(f.file, f.line) for f in read.located(JobError(*faults)).faults]

    text = read.text.split("\n")
    shop = (EXAMPLES / "choir-workshop.toml").read_text(encoding="utf-8").split("\n")
    assert told_at == [
        ("", text.index('    { height = 160, holds = "drawer", name = "sheet music" },') + 1),
        ("choir-workshop.toml", shop.index("load_kg = 35") + 1),
        ("", text.index('corner = "one-part keyhole connector"') + 1),
        ("", [i for i, line in enumerate(text) if line == "[[cases]]"][1] + 1),
        ("", None),
    ]


def test_a_fault_of_the_packaged_workshop_is_called_so() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    error = JobError(*within('runners."side light".load_kg', 5, 10, 20, do="Look again."))

    (fault,) = read.located(error).faults
    assert (fault.file, fault.line) == ("the built-in workshop", None)


def test_the_digest_changes_with_either_file() -> None:
    text = (EXAMPLES / "low-units.toml").read_text(encoding="utf-8")
    one = job_from_text(text, name="a.toml", folder=EXAMPLES)

    assert one.digest == read_job(EXAMPLES / "low-units.toml").digest
    assert one.digest != job_from_text(text + "\n", name="a.toml", folder=EXAMPLES).digest
    assert one.digest != read_job(EXAMPLES / "first-box.toml").digest


@pytest.mark.parametrize("named", ["/etc/passwd", "../secret", "workshop", "workshop.txt", "."])
def test_no_file_is_read_as_a_workshop_that_is_not_called_so(named: str) -> None:
    text = f"workshop = {named!r}\n[boards.b]\nkind = 'mdf'\nthickness = 18\n[[cases]]\ncode = 'A'\nwidth = 400\n"
    with pytest.raises(JobError) as caught:
        job_from_text(text, name="job.toml")

    assert "workshop-name" in {f.code for f in caught.value.faults}
    assert all("root" not in f.found for f in caught.value.faults)


def test_every_screw_for_fittings_has_a_price_in_every_length() -> None:
    shop = packaged_workshop()

    priced = {p.item for p in shop.prices}
    assert shop.screws
    assert {s.item(length) for s in shop.screws for length in s.lengths} <= priced
