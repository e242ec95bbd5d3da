"""Small jobs worked by hand from the conventions (docs/conventions.md): sizes, stations, connector counts.

Every expected figure stands beside the sum that gives it. Rules of the packaged methods that are used here:
dowels 50 from the end, 25 at the least, every 160, 32 apart at the least, two or more, one alone where it is too short;
screws through the back 50, 20, 180, 40, two. Unless a job says otherwise its board is exactly 18.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.adapters.output import plan_document
from storyrod.planning import Plan

BOARDS = """
[boards.b18]
kind = "plywood"
thickness = 18
measured = 18
[boards.b12]
kind = "plywood"
thickness = 12
measured = 12
[boards.b6]
kind = "plywood"
thickness = 6
measured = 6
"""

BOX = """
[[cases]]
code = "A"
board = "b18"
width = 600
height = 720
depth = 400
"""


@dataclass(frozen=True)
class Worked:
    """A plan seen by the names that a maker reads."""

    document: dict[str, Any]

    def size(self, name: str) -> tuple[float, float]:
        """Return finished length and width of a panel."""
        panel = self.panel(name)
        return round(panel["length"], 4), round(panel["width"], 4)

    def panel(self, name: str) -> dict[str, Any]:
        """Return a panel of case A."""
        (found,) = (p for p in self.document["panels"] if p["name"] == name and p["case"] == "A")
        return dict(found)

    def joint(self, receiving: str, entering: str) -> dict[str, Any]:
        """Return the joint of two panels of case A."""
        ids = (self.panel(receiving)["id"], self.panel(entering)["id"])
        (found,) = (j for j in self.document["joints"] if (j["receiving"], j["entering"]) == ids)
        return dict(found)

    def stations(self, receiving: str, entering: str) -> list[float]:
        """Return where the connectors of a joint stand."""
        return [round(s, 4) for s in self.joint(receiving, entering)["stations"]]

    def cuts(self, name: str, *, mate: str) -> list[tuple[float, float]]:
        """Return (u, v) of every joint cut in a panel whose mate is another panel, in order of station."""
        other = self.panel(mate)["id"]
        found = [f for f in self.panel(name)["features"] if (f["mate"] or "").startswith(f"{other}:")]
        return [(round(f["u"], 4), round(f["v"], 4)) for f in sorted(found, key=lambda f: f["station"])]


def worked(cases: str, *, top: str = "", boards: str = BOARDS) -> Worked:
    read = job_from_text(top + boards + cases, name="by-hand.toml")
    plan = Plan(read.job, read.workshop)
    assert plan.proof.passed, plan.proof.faults
    return Worked(plan_document(plan))


def test_an_open_box() -> None:
    job = worked(BOX)

    assert job.size("left side") == job.size("right side") == (720, 400)
    assert job.size("top") == job.size("base") == (564, 400)  # 600 - 2 x 18
    assert job.joint("left side", "top")["kind"] == "corner"
    assert job.joint("left side", "base")["kind"] == "corner"
    assert job.stations("left side", "top") == [50, 210, 370]  # 370 <= 400 - 25
    assert job.document["connectors"] == {"dowels": 12}  # 4 joints of 3


def test_top_over_and_base_under_the_sides_of_a_measured_board() -> None:
    boards = BOARDS.replace("measured = 18", "measured = 17.7")
    job = worked(BOX + 'top = "over sides"\nbase = "under sides"\n', boards=boards)

    assert job.size("left side") == (684.6, 400)  # 720 - 2 x 17.7
    assert job.size("top") == job.size("base") == (600, 400)
    assert job.joint("top", "left side")["kind"] == "corner"
    assert job.stations("base", "right side") == [50, 210, 370]
    # The left side's end stands on the base's left end: its middle is 17.7 / 2 from there.
    assert job.cuts("base", mate="left side") == [(8.85, 50), (8.85, 210), (8.85, 370)]


def test_top_over_the_sides_and_a_plinth_with_an_applied_back() -> None:
    job = worked(
        BOX
        + """
top = "over sides"
plinth = { height = 80, setback = 40 }
back = { kind = "applied", board = "b6" }
[cases.inside]
rows = [{ height = 140 }, {}]
"""
    )

    assert job.size("left side") == (702, 394)  # 720 - 18; 400 - 6
    assert job.size("top") == (600, 394)
    assert job.size("base") == job.size("shelf 1") == (564, 394)
    assert job.size("plinth") == (564, 80)
    assert job.size("back") == (600, 640)  # 720 - 80
    # Clear height 720 - 18 - 80 - 18 = 604; the shelf's upper face 702 - 140 = 562 up, its middle 553.
    assert [u for u, _ in job.cuts("left side", mate="shelf 1")] == [553, 553, 553]
    # 370 > 394 - 25, and 394 - 210 = 184 > 160, so one more at 394 - 50.
    assert job.stations("left side", "shelf 1") == [50, 210, 344]
    assert job.joint("left side", "base")["kind"] == "mid-panel"  # it stands at 80, the plinth's height
    # Plinth, 80 high: (80 - 32) / 2 = 24 < 25, so one alone in the middle, at 40; its board's middle is 40 + 9 back.
    assert job.stations("left side", "plinth") == [40]
    assert job.cuts("left side", mate="plinth") == [(40, 49)]
    # Plinth under the base, 564 long from the left: 530 <= 539.
    assert job.stations("base", "plinth") == [50, 210, 370, 530]
    assert job.cuts("base", mate="plinth") == [(50, 49), (210, 49), (370, 49), (530, 49)]
    # Back: a side meets 702 - 80 = 622 of it: 590 <= 602. The top, 600: 590 > 580, and 600 - 410 = 190 > 180, so 550.
    assert job.stations("back", "left side") == [50, 230, 410, 590]
    assert job.stations("back", "top") == [50, 230, 410, 550]
    assert job.stations("back", "shelf 1") == [50, 230, 410]  # 590 > 544; 564 - 410 = 154 < 180
    # Dowels: 2 top + 2 base + 2 shelf joints of 3, plinth 1 + 1 + 4. Screws: 4 + 4 + 4 + 3 + 3.
    assert job.document["connectors"] == {"dowels": 24, "screwed back": 18}


def test_a_rebated_back_in_all_four() -> None:
    job = worked(BOX + 'back = { kind = "rebated", board = "b6" }\n[cases.inside]\nrows = [{}, {}]\n')

    assert job.size("back") == (581, 701)  # 564 + 2 x 9 - 1; 684 + 2 x 9 - 1: 1 of clearance in all
    assert job.size("left side") == (720, 400)
    assert job.size("top") == (564, 400)
    assert job.size("shelf 1") == (564, 394)
    (rebate,) = (f for f in job.panel("top")["features"] if f["kind"] == "rebate")
    assert (rebate["depth"], rebate["width"]) == (9, 6)  # half the board wide, as deep from the rear as the back
    # 684 - 18 = 666 shared by two: 333 each; the shelf's middle is 18 + 333 + 9 = 360 up.
    assert [u for u, _ in job.cuts("left side", mate="shelf 1")] == [360, 360, 360]
    assert job.stations("left side", "shelf 1") == [50, 210, 344]


def test_a_rebated_back_that_runs_past_top_and_base() -> None:
    job = worked(BOX + 'back = { kind = "rebated", board = "b6", in_top = false, in_base = false }\n')

    assert job.size("back") == (581, 720)
    assert job.size("top") == job.size("base") == (564, 394)


def test_a_grooved_back_that_runs_past_the_base_on_a_plinth() -> None:
    job = worked(
        BOX
        + """
plinth = { height = 100, setback = 0, back_rail = true }
back = { kind = "grooved", board = "b6", inset = 12, in_base = false }
[cases.inside]
rows = [{ height = 200 }, {}]
"""
    )

    # Grooves 18 / 3 = 6 deep, 0.5 of play: 564 + 2 x 5.5. From the base's underside, 100, to 702 + 5.5.
    assert job.size("back") == (575, 607.5)
    assert job.size("top") == (564, 400)
    assert job.size("base") == job.size("shelf 1") == (564, 382)  # 400 - 12 - 6
    assert job.stations("left side", "shelf 1") == [50, 210, 332]  # 370 > 357; 382 - 210 = 172 > 160
    (groove,) = (f for f in job.panel("left side")["features"] if f["kind"] == "groove")
    # Front wall at 382, 6 + 0.2 wide; from 100 to 702 + 6 = 708: middle 404, 608 long.
    assert (groove["depth"], groove["width"], groove["length"]) == pytest.approx((6, 6.2, 608))
    assert (groove["u"], groove["v"]) == pytest.approx((404, 385.1))
    assert job.joint("left side", "back")["method"] == "groove"
    assert job.document["connectors"].keys() == {"dowels"}


def test_a_back_between_of_the_carcass_board() -> None:
    job = worked(BOX + 'back = { kind = "between", inset = 10 }\n[cases.inside]\nrows = [{}, {}]\n')

    assert job.size("back") == (564, 684)
    assert job.size("top") == (564, 400)
    assert job.size("shelf 1") == (564, 372)  # 400 - 10 - 18
    # Held like a shelf: along the back's height, 684, from its bottom edge: 50, 210, 370, 530; 690 > 659; 154 < 160.
    assert job.stations("left side", "back") == [50, 210, 370, 530]
    # It starts 18 up, over the base; its middle is 400 - 10 - 9 behind the front.
    assert job.cuts("left side", mate="back")[0] == (68, 381)


def test_no_top_no_base_and_rails() -> None:
    job = worked(BOX + 'top = "rails"\nrail_width = 100\n')

    assert job.size("top front rail") == job.size("top back rail") == (564, 100)
    # Too short for two at 50: e = (100 - 32) / 2 = 34.
    assert job.stations("left side", "top front rail") == [34, 66]
    # The rear rail's front edge stands at 300.
    assert [v for _, v in job.cuts("left side", mate="top back rail")] == [334, 366]
    assert job.joint("left side", "top back rail")["shift"] == 300
    bare = worked(BOX + 'top = "none"\n[cases.inside]\nrows = [{ height = 300 }, {}]\n')
    # From the open top, 720, down: the shelf's middle is 720 - 300 - 9 up.
    assert [u for u, _ in bare.cuts("left side", mate="shelf 1")] == [411, 411, 411]


def test_columns_in_parts_with_shelves_back_to_back() -> None:
    job = worked(
        BOX.replace("width = 600", "width = 900")
        + """
[[cases.inside.columns]]
width = "2 parts"
rows = [{}, {}]
[[cases.inside.columns]]
rows = [{}, {}]
"""
    )

    # 900 - 36 - 18 = 846 in three parts of 282.
    assert job.size("divider 1") == (684, 400)
    assert job.size("shelf 1") == (564, 400)
    assert job.size("shelf 2") == (282, 400)
    left, right = job.joint("divider 1", "shelf 1"), job.joint("divider 1", "shelf 2")
    assert (left["back_to_back"], right["back_to_back"]) == (right["id"], left["id"])
    # Holes of 13 from both faces of 18 would meet: the second from the left moves on by half a pitch of 160.
    assert job.stations("divider 1", "shelf 1") == job.stations("left side", "shelf 1") == [50, 210, 370]
    assert job.stations("divider 1", "shelf 2") == [130, 290]
    assert job.stations("right side", "shelf 2") == [50, 210, 370]  # nothing stands behind it there
    # The divider under the top, 400 from front to back.
    assert job.stations("top", "divider 1") == [50, 210, 370]
    # Its middle is 564 + 9 from the top's left end.
    assert job.cuts("top", mate="divider 1") == [(573, 50), (573, 210), (573, 370)]


def test_unparted_drawers_on_side_runners_with_overlay_fronts() -> None:
    job = worked(
        BOX
        + """
fronts = { gap = 3, reveal = 1.5 }
drawers = { board = "b12", bottom_board = "b6" }
[cases.inside]
rows = [{ height = 160, holds = "drawer", parted = false }, { holds = "drawer" }]
"""
    )

    # Over the sides: 564 + 2 x (18 - 1.5); up over the top by 16.5, down to half the gap between the two.
    assert job.size("drawer 1 front") == (597, 175)  # 160 + 16.5 - 1.5
    assert job.size("drawer 2 front") == (597, 539)  # 684 - 160 + 16.5 - 1.5
    # A runner of 350 needs 355, one of 400 would need 405. 12.7 a side; 15 below and 10 above.
    assert job.size("drawer 1 left side") == (350, 135)
    assert job.size("drawer 2 left side") == (350, 499)
    assert job.size("drawer 1 box front") == job.size("drawer 1 back") == (514.6, 135)  # 564 - 25.4 - 24
    # Grooves 12 / 3 = 4 deep, 0.5 of play at each: 514.6 + 7; 350 - 24 + 7.
    assert job.size("drawer 1 bottom") == (521.6, 333)
    # 135 high: the ladder has one (210 > 110); two then, e = min(50, (135 - 32) / 2 = 51.5).
    assert job.stations("drawer 1 left side", "drawer 1 box front") == [50, 85]
    # 499 high: 370 <= 474, and 499 - 370 = 129 < 160.
    assert job.stations("drawer 2 right side", "drawer 2 back") == [50, 210, 370]
    hardware = {h["item"]: h["count"] for h in job.document["hardware"]}
    assert hardware["side light"] == 2  # pairs
    # Dowels: case 4 x 3; drawer 1 4 x 2; drawer 2 4 x 3.
    assert job.document["connectors"] == {"dowels": 32}


def test_a_drawer_on_under_mounted_runners_behind_an_inset_front_with_an_applied_back() -> None:
    job = worked(
        BOX.replace("depth = 400", "depth = 450")
        + """
back = { kind = "applied", board = "b6" }
fronts = { kind = "inset", gap = 2 }
drawers = { runner = "under light", board = "b12", bottom_board = "b6" }
[cases.inside]
rows = [{ height = 160, holds = "drawer" }, {}]
"""
    )

    assert job.size("drawer 1 front") == (560, 156)  # 564 - 4; 160 - 4
    # Inside 564 - 42; the box starts behind the front, at 18: 426 are left. A runner of 410 needs 422, the box is 402.
    assert job.size("drawer 1 box front") == (522, 136)  # 160 - 14 - 10
    assert job.size("drawer 1 left side") == (402, 136)
    assert job.size("drawer 1 bottom") == (529, 385)  # 522 + 7; 402 - 24 + 7


def test_an_applied_drawer_bottom() -> None:
    job = worked(
        BOX
        + """
drawers = { board = "b12", bottom_board = "b6", bottom = "applied" }
[cases.inside]
rows = [{ height = 160, holds = "drawer" }, {}]
"""
    )

    assert job.size("drawer 1 left side") == (350, 129)  # 160 - 15 - 10 - 6
    assert job.size("drawer 1 bottom") == (538.6, 350)  # 564 - 25.4


def test_a_pair_of_inset_doors_with_a_shelf_behind() -> None:
    job = worked(
        BOX
        + """
fronts = { kind = "inset", gap = 3, back = 2 }
[cases.inside]
holds = "pair of doors"
rows = [{}, {}]
"""
    )

    assert job.size("door 1") == job.size("door 2") == (277.5, 678)  # (564 - 6 - 3) / 2; 684 - 6
    # The shelf starts behind the doors: 2 + 18 + 2 = 22.
    assert job.size("shelf 1") == (564, 378)
    assert job.joint("left side", "shelf 1")["shift"] == 22
    # 370 > 353; 378 - 210 = 168 > 160, so one at 328. Set back by 22, exactly, on the side.
    assert job.stations("left side", "shelf 1") == [50, 210, 328]
    assert [v for _, v in job.cuts("left side", mate="shelf 1")] == [72, 232, 350]
    assert [v for _, v in job.cuts("shelf 1", mate="left side")] == [50, 210, 328]


def test_an_overlay_door_with_loose_shelves() -> None:
    job = worked(BOX + '[cases.inside]\nholds = "door"\nhinged = "right"\nloose_shelves = 2\n')

    assert job.size("door 1") == (597, 717)  # 564 + 2 x 16.5; 684 + 2 x 16.5
    assert job.size("loose shelf 1") == job.size("loose shelf 2") == (562, 385)  # 564 - 2 x 1; 400 - 10 - 5
    hardware = {h["item"]: h["count"] for h in job.document["hardware"]}
    assert hardware["cup hinge"] == 2  # up to 900
    assert hardware["shelf pin"] == 8
    # Rows every 32, 64 from the ends at the least: floor((684 - 128) / 32) + 1 = 18, the first at 360 - 8.5 x 32 = 88.
    # The lower plate's screw is at 1.5 + 100 - 16 = 85.5 on the same line, so one row fewer: 104 to 616.
    left = [f for f in job.panel("left side")["features"] if f["item"] == "shelf pin"]
    assert {f["v"] for f in left} == {37, 363}
    assert sorted({f["u"] for f in left}) == [104 + 32 * n for n in range(17)]
    assert len(left) == 34


def test_edging_comes_off_before_cutting() -> None:
    boards = BOARDS.replace("measured = 18", 'measured = 18\nedging = "tape"') + "[edgings.tape]\nthickness = 1\n"
    job = worked(BOX + 'top = "over sides"\n[cases.inside]\nholds = "door"\n', boards=boards)

    cut = {n: (job.panel(n)["cut_length"], job.panel(n)["cut_width"]) for n in ("left side", "top", "base", "door 1")}
    # Front edges; the ends of a top that shows them too; a door all round: 564 + 33, 684 + 33, less 2 each.
    assert cut == {"left side": (702, 399), "top": (598, 399), "base": (564, 399), "door 1": (595, 715)}
    assert job.size("door 1") == (597, 717)


def test_a_place_to_fit_and_three_of_a_kind() -> None:
    job = worked(
        """
[[cases]]
code = "A"
board = "b18"
count = 3
height = 720
fits = { width = 605, depth = 408, clearance = 5 }
"""
    )

    assert job.size("top") == (564, 403)  # 605 - 5 - 36; 408 - 5
    assert job.document["connectors"] == {"dowels": 36}  # 3 x 12
    assert job.panel("top")["count"] == 3


def test_inches() -> None:
    boards = '[boards.b18]\nkind = "plywood"\nthickness = "3/4"\nmeasured = "23/32"\n'
    job = worked(
        '[[cases]]\ncode = "A"\nwidth = 24\nheight = "2\' 6\\""\ndepth = "15 3/4"\n',
        top='units = "in"\n',
        boards=boards,
    )

    assert job.size("left side") == (762, 400.05)  # 30 x 25.4; 15.75 x 25.4
    assert job.size("top") == (573.0875, 400.05)  # (24 - 2 x 23/32) x 25.4 = 22.5625 x 25.4
    assert job.stations("left side", "top") == [50, 210, 370]


def test_even_spread() -> None:
    job = worked(BOX + "plinth = { height = 100, setback = 40 }\n", top='spread = "even"\n')

    assert job.stations("left side", "top") == [50, 200, 350]  # ceil(300 / 160) + 1 = 3, 150 apart
    # ceil(464 / 160) + 1 = 4, 464 / 3 apart.
    assert job.stations("base", "plinth") == [50, 204.6667, 359.3333, 514]
    assert job.stations("left side", "plinth") == [34, 66]  # 100 high: e = (100 - 32) / 2


def test_housings_and_rebates_make_panels_longer() -> None:
    job = worked(BOX + "[cases.inside]\nrows = [{}, {}]\n", top='[methods]\ncorner = "rebate"\nmid_panel = "housing"\n')

    assert job.size("top") == (582, 400)  # 564 + 2 x 9
    assert job.size("shelf 1") == (576, 400)  # 564 + 2 x 6
    assert job.panel("left side")["length"] == 720
    (housing,) = (f for f in job.panel("left side")["features"] if f["kind"] == "housing")
    # In the middle of the height, 18 + 0.1 wide, 6 deep, from front to back.
    assert (housing["u"], housing["width"], housing["depth"], housing["length"]) == pytest.approx((360, 18.1, 6, 400))
    assert job.document["connectors"] == {}


def test_keyholes_lock_where_the_ladder_says_and_enter_beside_it() -> None:
    """All joints of the box slide one way: with dowels in its corners the second side could not slide home."""
    keyhole = "one-part keyhole connector"
    job = worked(
        BOX + "[cases.inside]\nrows = [{}, {}]\n", top=f'[methods]\ncorner = "{keyhole}"\nmid_panel = "{keyhole}"\n'
    )

    joint = job.joint("left side", "shelf 1")
    assert joint["stations"] == [50, 210, 370]
    assert (joint["motion"], joint["travel"]) == ("straight then slide", 10)
    keyholes = [f for f in job.panel("left side")["features"] if f["joint"] == joint["id"]]
    assert [(f["v"], f["travel"]) for f in keyholes] == [(50, 10), (210, 10), (370, 10)]
    # The shelf slides toward the back or the front; the entry lies before the lock, the same way at both ends.
    assert joint["lock"] in {"+y", "-y"}
    assert {f["lock_sign"] for f in keyholes} == {1 if joint["lock"] == "+y" else -1}
    assert job.joint("right side", "shelf 1")["lock"] == joint["lock"]
    pins = [f for f in job.panel("shelf 1")["features"] if f["joint"] == joint["id"]]
    assert [(f["kind"], f["v"], f["w"]) for f in pins] == [("hole", 50, 9), ("hole", 210, 9), ("hole", 370, 9)]
    assert job.document["connectors"] == {keyhole: 18}  # 6 joints of 3


def test_one_joint_made_otherwise() -> None:
    job = worked(
        BOX,
        top='[[joints]]\ncase = "A"\nbetween = ["base", "left side"]\nmethod = "biscuits"\nspread = "even"\n',
    )

    assert job.joint("left side", "base")["method"] == "biscuits"
    # 50 from the end, 160 apart: ceil(300 / 160) + 1 = 3.
    assert job.stations("left side", "base") == [50, 200, 350]
    assert job.stations("right side", "base") == [50, 210, 370]
    assert job.document["connectors"] == {"biscuits": 3, "dowels": 9}
