"""Source: common practice, no source: every figure of the plain workshop that a tool or a fitting is set by, or a load
hangs on.

Where: no book: none changes unseen. Cutters carry their diameter in their name. What is of a fitting is invented, and
stands for none that is sold: measure yours.
"""

from __future__ import annotations

from dataclasses import asdict, fields

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import HandHold, HandHoldKind
from storyrod.model.workshop import Hinge, Runner, Workshop

SHOP = packaged_workshop()


BOUGHT = {"name", "price_cents", "field", "mount", "fixed_with", "cup_fixed_with", "plate_fixed_with"}
"""What no tool is set by."""


ALL_RUNNERS = {
    "room_each_side": 12.7, "inside_less": 42, "room_above": 10, "screw_diameter": 2.5, "screw_depth": 10,
    "drawer_screw_up": None, "screw_length": 16, "screw_seat": 1.5, "set_back": 2,
}  # fmt: skip


SIDE = {"box_shorter": 0, "room_below": 15}


UNDER = {"box_shorter": 8, "room_below": 14, "clear_behind": 12, "drawer_screws": (35, 163, 259)}


RUNNERS = {
    "side light": SIDE | {
        "lengths": (250, 300, 350, 400, 450, 500, 550), "clear_behind": 5, "height": 35, "screw_up": 38,
        "screws": (37, 165, 261, 357, 453), "drawer_screws": (35, 163, 259, 355, 451),
        "load_kg": 25, "extension": 0.75, "width_max": 600,
    },
    "side heavy": SIDE | {
        "lengths": (300, 350, 400, 450, 500, 550, 600, 650, 700), "clear_behind": 10, "height": 46, "screw_up": 40,
        "screws": (37, 165, 261, 357, 453, 549), "drawer_screws": (35, 163, 259, 355, 451, 547),
        "load_kg": 45, "extension": 1, "width_max": 1000,
    },
    "under light": UNDER | {
        "lengths": (260, 310, 360, 410, 460, 510), "height": 37, "screw_up": 31, "screws": (37, 133, 229, 325, 421),
        "load_kg": 28, "extension": 0.8, "width_max": 680,
    },
    "under heavy": UNDER | {
        "lengths": (310, 360, 410, 460, 510, 560, 610), "height": 41, "screw_up": 33,
        "screws": (37, 133, 229, 325, 421, 517), "load_kg": 48, "extension": 1, "width_max": 900,
    },
}  # fmt: skip


CUTTERS = {
    # Reach, width, neck, highest turns a minute.
    "drill 2": (30, None, None, None), "drill 2.5": (50, None, None, None), "drill 3": (60, None, None, None),
    "drill 3.5": (60, None, None, None), "drill 4": (60, None, None, None), "drill 4.5": (60, None, None, None),
    "drill 5": (60, None, None, None), "drill 6": (60, None, None, None), "drill 7": (70, None, None, None),
    "drill 8": (75, None, None, None), "drill 10": (80, None, None, None), "drill 15": (60, None, None, None),
    "drill 35": (60, None, None, None), "countersink 12": (40, None, None, None),
    "stepped drill 7": (70, None, 5, None), "pocket drill 9.5": (150, None, 4, None),
    "straight 5": (25, None, None, 22_000), "straight 6": (30, None, None, 22_000),
    "straight 8": (40, None, None, 22_000), "straight 10": (45, None, None, 22_000),
    "straight 12": (50, None, None, 22_000), "keyhole 11.5": (30, 5, 6, 18_000), "keyhole 14": (35, 5, 7, 18_000),
    "disc 100": (25, 4, None, 10_000), "saw blade 160": (55, 2.2, None, None), "saw blade 250": (80, 3, None, None),
}  # fmt: skip


def figures(fitting: Runner | Hinge) -> dict[str, object]:
    return {k: v for k, v in asdict(fitting).items() if k not in BOUGHT | {"code"}}


def test_runners() -> None:
    assert {r.code: figures(r) for r in SHOP.runners} == {code: ALL_RUNNERS | own for code, own in RUNNERS.items()}


def test_the_hinge() -> None:
    (hinge,) = SHOP.hinges
    steps = ((900, 2), (1600, 3), (2000, 4), (2400, 5))

    assert figures(hinge) == {
        "cup": 35, "cup_depth": 13, "cup_in": 22.5, "cup_screws": 46, "cup_screw_in": 8, "cup_screw_diameter": 2.5,
        "plate_in": 37, "plate_pitch": 32, "plate_screw": 5, "plate_depth": 12, "cup_screw_length": 16, "cup_seat": 1,
        "plate_screw_length": 13, "plate_seat": 2, "from_end": 100, "carries_kg": 4, "lap": 18, "half_crank": 9,
        "crank": 18, "plates": (0, 2, 4, 6), "adjusts": 2,
        "per_door": tuple({"up_to": up_to, "hinges": count} for up_to, count in steps),
    }  # fmt: skip


def test_screws_of_fittings() -> None:
    assert {s.code: (s.pilot, s.lengths) for s in SHOP.screws} == {
        "pan-head screw 3.5": (2.5, (6.5, 8, 9.5, 11, 13, 16, 20)),
        "pan-head screw 4": (2.5, (8, 9.5, 11, 13, 15, 16, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50)),
        "countersunk screw 3.5": (2.5, (9.5, 11, 13, 16)),
        "countersunk screw 4": (2.5, (16, 20, 25, 30, 35, 40, 45, 50)),
        "system screw 6.3": (5, (9, 11, 13, 16)),
    }
    assert all(s.diameter == float(s.code.rpartition(" ")[2]) for s in SHOP.screws)


def test_cutters() -> None:
    assert {c.code: (c.reach, c.width, c.neck, c.max_rpm) for c in SHOP.cutters} == CUTTERS
    assert all(c.diameter == float(c.code.rpartition(" ")[2]) for c in SHOP.cutters)


def test_bushes_packers_and_templates() -> None:
    assert [(b.diameter, b.bore, b.length) for b in SHOP.bushes] == [(17, 14, 8), (24, 21, 8), (30, 26, 8)]
    assert list(SHOP.packers) == [0.2, 0.3, 0.5, 0.8, 1, 2, 3, 4, 6, 9, 12, 18]
    assert (SHOP.template_thickness, SHOP.deepest_pass) == (9, 6)
    bare = {f.name: f.default for f in fields(Workshop)}  # of a file that does not say them
    assert (bare["template_thickness"], bare["deepest_pass"]) == (9, 6)


def test_bases_of_tools_and_how_far_a_way_reaches() -> None:
    assert {t.code: (t.base_to_centre, t.base_half) for t in SHOP.tools if t.base_to_centre or t.base_half} == {
        "router": (None, 75),
        "biscuits": (9.5, 70),
        "tenons": (9.2, 60),
        "undercut slots": (9.6, 60),
        "dowel jig": (9, None),
    }
    assert {w.code: (w.jig_thickness, w.from_edge) for w in SHOP.ways if w.jig_thickness or w.from_edge} == {
        "drill through a ladder jig": (25, None),
        "router table and fence": (None, 120),
        "saw and fence": (None, 600),
        "drill press and fence": (None, 150),
        "pocket jig": (None, 80),
    }


def test_the_saw_and_what_one_person_lifts() -> None:
    saw, handling = SHOP.saw, SHOP.handling

    assert (saw.kerf, saw.trim, saw.offcut_length, saw.offcut_width) == (3, 10, 300, 100)
    told = (handling.one_person_kg, handling.bench_length, handling.bench_width, handling.open_time_min)
    assert told == (20, 2000, 800, 5)


def test_light_runners_carry_drawers_up_to_600_or_700_and_heavy_ones_to_1000() -> None:
    widths = {r.code: r.width_max for r in packaged_workshop().runners}

    assert widths["side light"] == 600.0
    assert 900.0 <= widths["side heavy"] <= 1000.0


def test_hand_holds_take_four_fingers() -> None:
    hold = HandHold(kind=HandHoldKind.SLOT)
    assert 90 <= hold.length <= 110
    assert 22 <= hold.height <= 30


def test_saw_and_handling_are_within_usual_figures() -> None:
    shop = packaged_workshop()

    assert 2.4 <= shop.saw.kerf <= 3.2  # a table saw
    assert 15 <= shop.handling.one_person_kg <= 20
    assert 4 <= shop.handling.open_time_min <= 6  # white glue
