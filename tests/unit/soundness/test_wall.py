"""Fixing to the wall: no force that is printed is less than any case examined, or than the least for a fixing."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings

from storyrod.adapters.files import job_from_text, read_job
from storyrod.drawing import Figures
from storyrod.drawing._types import Text
from storyrod.drawing.soundness import tip_figure
from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.model.buying import WALL_SCREW, BuyKind
from storyrod.model.hung import Hanging
from storyrod.model.job import Job
from storyrod.model.soundness import Tipping
from storyrod.model.thresholds import Thresholds
from storyrod.model.wall import WallFixing
from storyrod.planning import Plan
from storyrod.soundness import examine, examine_tipping
from storyrod.soundness._balance import Balance
from storyrod.soundness._tipping import _worst_of
from storyrod.telling.blocks import Bullets, Warning_, Words
from storyrod.telling.plain import plain
from storyrod.telling.shown import Shown
from storyrod.telling.wall import wall_blocks, wall_summary
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.joinery.boxes import workshop
from tests.unit.soundness.pieces import BOARDS, BOOKCASE, found, plan_of
from tests.unit.soundness.test_any_job import planned
from tests.unit.soundness.test_tipping import CHEST, LOW_SHELVES

SHOP = workshop()
TALL_DOOR = (
    BOOKCASE.replace("height = 900", "height = 1800")
    + '[cases.back]\nkind = "applied"\nboard = "mdf6"\n[cases.inside]\nholds = "door"\n'
    + '[cases.fronts]\nboard = "mdf18"\n'
)


def fixing_of(text: str) -> WallFixing:
    fixing = found(text).tipping.fixing
    assert fixing is not None
    return fixing


@settings(max_examples=25)
@given(jobs(SHOP))
def test_no_printed_force_is_less_than_any_case_examined_or_the_floor(job: Job) -> None:
    _, details = planned(job)
    for case in details.cases:
        tipping = examine_tipping(details, SHOP)[case.built.case.code]
        if isinstance(tipping, Hanging):
            continue
        fixing = tipping.fixing
        assert tipping.fix_to_wall == (fixing is not None)
        if fixing is None:
            continue
        shown = Shown.of(job)
        printed = [wall_summary(fixing, shown)]
        blocks = wall_blocks(case, tipping, shown)
        printed += [b.text for b in blocks if isinstance(b, Words | Warning_)]
        printed += [i for b in blocks if isinstance(b, Bullets) for i in b.items]
        drawn = tip_figure(case, tipping, Thresholds(), figures=Figures.of_job(job))
        arrows = [t.text for t in drawn.items if isinstance(t, Text) and t.text.endswith(" N")]
        told = [float(n) for text in printed for n in re.findall(r"(?:hold|allow) (\d+) N", text)]
        told.append(float(arrows[-1].removesuffix(" N")))
        told.append(plain(tipping)["fixing"]["each_n"])
        assert len(told) >= 4
        most = max(t.anchor_n for t in tipping.tests)
        assert min(told) >= max(most, Thresholds().fixing_n)
        assert f"{fixing.each_n:.0f} N" in " ".join(c.text for c in examine_cautions(job, case.built.case.code))


def examine_cautions(job: Job, code: str) -> list[Caution]:
    built, details = planned(job)
    told = examine(built, details, SHOP, trials=50)
    return [c for c in told.cautions if c.code == "tip-fix-to-wall" and c.about == f"case {code}"]


def test_a_door_pressed_by_hand_is_in_the_force() -> None:
    """A door 836 wide, open at right angles before a case that weighs little: 75 N at its free edge, by hand."""
    it = found(TALL_DOOR)
    tipping = it.tipping
    press = next(t for t in tipping.tests if t.code == "press")
    plan = plan_of(TALL_DOOR)
    case = plan.details.cases[0]
    door = case.panel(case.built.doors[0].panel)
    free_edge = door.box.high.y - (door.box.high.x - door.box.low.x)
    kg = {str(h.ids[0]): h.kg for h in it.case.weights.panels}
    moment = 0.0
    for panel in case.panels:
        y = panel.box.centre.y
        if panel.id == door.id:
            y -= (door.box.high.x - door.box.low.x) / 2
        moment += kg[panel.id] * 9.80665 * (y - tipping.pivot)
    moment -= 75.0 * (tipping.pivot - free_edge)

    assert moment < 0, "this case is meant to be one that tips"
    assert tipping.fixing is not None
    assert press.anchor_n == pytest.approx(-moment / tipping.fixing.height)
    assert tipping.fixing.force_n >= press.anchor_n


def test_what_does_not_decide_on_the_caution_still_counts_for_the_force() -> None:
    """On a hard floor no carpet is reckoned with for the caution; somebody may lay one later."""
    it = found('[use]\nfloor = "hard"\nchild_kg = 100\n' + CHEST)
    tipping = it.tipping
    assert tipping.fixing is not None
    most = max(tipping.tests, key=lambda t: t.anchor_n)

    assert not most.counts
    assert tipping.fixing.force_n == most.anchor_n


def test_every_drawer_is_tried_for_the_force_not_only_the_worst_by_its_ratio() -> None:
    """A heavy drawer leaves more moment on both sides: its ratio is kinder, its pull is not."""
    it = found(CHEST)
    drawers = plan_of(CHEST).details.cases[0].built.drawers
    light, heavy = Balance(steadying=100, tipping=120), Balance(steadying=1000, tipping=1100)

    drawer, worst, left = _worst_of([(drawers[0], light), (drawers[1], heavy)])
    assert (drawer, worst) == (drawers[0], light)
    assert left == -100
    child = next(t for t in it.tipping.tests if t.code == "child-carpet")
    assert it.tipping.fixing is not None
    assert it.tipping.fixing.force_n >= child.anchor_n > 0


def test_a_force_beyond_the_least_is_asked_for_whole_and_rounded_up() -> None:
    heavy = fixing_of("[use]\nchild_kg = 150\n" + CHEST)

    assert heavy.force_n > heavy.floor_n == 200.0
    assert heavy.force_n <= heavy.each_n < heavy.force_n + 10.0
    assert heavy.each_n % 10 == 0


def test_the_least_of_a_fixing_says_where_it_comes_from() -> None:
    light = fixing_of(LOW_SHELVES.replace("height = 400", "height = 700").replace("depth = 450", "depth = 560"))

    assert light.force_n == 0
    assert light.each_n == 200.0
    assert "from memory" in light.floor_from


def test_a_case_higher_than_twice_its_depth_is_fixed() -> None:
    slim = LOW_SHELVES.replace("depth = 450", "depth = 180")

    assert found(slim).tipping.fixing is not None
    assert found(LOW_SHELVES).tipping.fixing is None


def test_brackets_sit_under_the_top_and_the_void_behind_a_back_is_packed() -> None:
    """836 wide, 18 board, back 6 in a groove set in by 12: 12 of void before the wall."""
    grooved = TALL_DOOR.replace('kind = "applied"', 'kind = "grooved"\ninset = 12')
    fixing = fixing_of(grooved)

    assert fixing.under
    assert fixing.height == 1750.0
    assert fixing.places == (120.0, 720.0)
    assert fixing.screw_most == 15.0
    plan = plan_of(grooved)
    told = wall_blocks(plan.details.cases[0], plan.tipping["A"], Shown.of(plan.job))
    assert any("no longer than 15 mm" in i for b in told if isinstance(b, Bullets) for i in b.items)
    assert fixing_of(f"[limits]\nskin = 5\n{grooved}").screw_most == 13.0  # as much as under any blind hole
    assert fixing.gap == pytest.approx(12.0)
    assert fixing_of(TALL_DOOR).gap == pytest.approx(0.0)


def test_a_drawer_right_under_the_top_sends_the_brackets_on_top() -> None:
    """Inside depth 444, the longest runner that fits leaves less than 40 behind the box, or more."""
    plan = plan_of(CHEST)
    case = plan.details.cases[0]
    back = next(p for p in case.panels if p.role.value == "back")
    top = max(case.built.drawers, key=lambda d: d.box.high.z)
    room = back.box.low.y - top.box.high.y
    near_top = next(p for p in case.panels if p.role.value == "top").box.low.z - top.box.high.z < 50

    assert near_top
    fixing = fixing_of(CHEST)
    assert fixing.under == (room >= 40)
    shallow = CHEST.replace("depth = 450", f"depth = {450 - (room - 30):g}")
    short = fixing_of(shallow)
    assert not short.under
    assert short.height == 930.0
    assert short.through is None


def test_wide_cases_get_more_fixings_no_farther_apart_than_800() -> None:
    wide = fixing_of(BOOKCASE.replace("width = 836", "width = 2400") + '[cases.back]\nkind = "none"\n')

    assert len(wide.places) == 4
    assert all(b - a <= 800 + 5 for a, b in zip(wide.places, wide.places[1:], strict=False))


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda p: p.stem)
def test_every_example_says_what_a_hand_must_know(path: object) -> None:
    if "[[cases]]" not in path.read_text(encoding="utf-8"):  # type: ignore[attr-defined]
        pytest.skip("a workshop")
    told = read_job(path)  # type: ignore[arg-type]
    plan = Plan(told.job, told.workshop)
    for case in plan.details.cases:
        tipping = plan.tipping[case.built.case.code]
        if isinstance(tipping, Tipping) and tipping.fixing is None:
            continue
        text = " ".join(
            [b.text for b in wall_blocks(case, tipping, Shown.of(plan.job)) if isinstance(b, Warning_ | Words)]
            + [i for b in wall_blocks(case, tipping, Shown.of(plan.job)) if isinstance(b, Bullets) for i in b.items]
        )
        screws = "no longer than" if isinstance(tipping, Tipping) else "into the stud"
        for word in ("hidden cables and pipes", "licensed", "above the floor", "plasterboard", screws):
            assert word in text
        for words in ("with a detector before you drill", "Do not drill where one runs: ask a licensed tradesperson."):
            assert words in text
        if isinstance(tipping, Tipping):
            for words in (
                "Leave wiring, gas and water to a licensed tradesperson",
                "keep drawers and doors shut and put nothing in it",
                "into studs, never into plasterboard alone",
                "Pull hard at the top of the case: nothing may move. Only then fill it and use it.",
            ):
                assert words in text


def test_inches_are_printed_in_inches() -> None:
    job = job_from_text(
        'units = "in"\n'
        + BOARDS.replace("= 18", '= "18 mm"')
        .replace("= 6", '= "6 mm"')
        .replace("thickness = 12", 'thickness = "12 mm"')
        + '[[cases]]\ncode = "A"\nboard = "mdf18"\n'
        "width = 32\nheight = 60\ndepth = 12\n",
        name="job.toml",
    )
    plan = Plan(job.job, job.workshop)
    case = plan.details.cases[0]
    first = next(b for b in wall_blocks(case, plan.tipping["A"], Shown.of(plan.job)) if isinstance(b, Bullets))

    assert '58" above the floor' in first.items[1]  # 60 less the board of 18 mm and the half of 65 mm: 58.0315
    assert all(f" {inches} " in first.items[1].replace(",", " ") for inches in ('4 3/4"', '27 1/4"'))


@pytest.mark.parametrize(
    ("more", "name", "height", "through"),
    [
        ('back_rail = 90\nback = "between"\n', "back rail", 937, True),  # 1000 less 18 and half of 90
        ("back_rail = 90\n", "back rail", 937, False),
        ('top = "rails"\nrails_stand = "upright"\nrail_width = 90\nback = "applied"\n', "top back rail", 955, True),
    ],
)
def test_an_upright_rail_is_screwed_to_the_wall_without_brackets(
    more: str, name: str, height: float, through: bool
) -> None:
    plan = plan_of(BOARDS_OF_ONE + more)
    case, tipping = plan.details.cases[0], plan.tipping["A"]
    assert isinstance(tipping, Tipping)
    fixing = tipping.fixing
    assert fixing is not None

    assert fixing.straight
    assert (case.panel(fixing.into).name, fixing.height) == (name, height)
    assert (fixing.through is not None) == through
    told = " ".join(
        i for b in wall_blocks(case, tipping, Shown.of(plan.job)) if isinstance(b, Bullets) for i in b.items
    )
    assert "bracket" not in told
    assert "plasterboard" in told
    bought = [b for b in plan.account.to_buy if b.kind is BuyKind.WALL]
    assert [(b.item, b.uses) for b in bought] == [(WALL_SCREW, len(fixing.places))]


BOARDS_OF_ONE = '[[cases]]\ncode = "A"\nboard = "mdf18"\nwidth = 600\nheight = 1000\ndepth = 300\n'


def test_dividers_before_a_back_rail_move_its_fixings() -> None:
    plan = plan_of(BOARDS_OF_ONE + "back_rail = 90\ninside = { columns = [{ width = 100 }, {}] }\n")
    tipping = plan.tipping["A"]
    assert isinstance(tipping, Tipping)
    assert tipping.fixing is not None

    divider = next(p for p in plan.details.cases[0].panels if p.name == "divider 1")
    assert divider.box.span(Axis.X) == (118, 136)
    assert tipping.fixing.places == (80, 480)  # 118 before, which is moved by 40 to the left of the divider
