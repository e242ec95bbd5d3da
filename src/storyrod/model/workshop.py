"""What the maker owns: methods, cutters, bushes, packers, tools, runners, hinges, clothes rails, times and prices."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.act import unknown_act
from storyrod.model.feet import FootKind
from storyrod.model.fitting import DoorStep, Hinge, RailKind, RailMaterial, Runner, RunnerMount, ScrewKind
from storyrod.model.method import Method
from storyrod.model.quoting import Quoting, TaxKind
from storyrod.model.tool import BEHIND_STOP, Along, Bush, Cutter, CutterKind, Jig, Registration, Tool, ToolKind, Way
from storyrod.model.written import AMOUNT, CODE, KEY, Choices, Length, Lengths, Number, Share, Tables, Text, Told

__all__ = [
    "BEHIND_STOP",
    "ActTime",
    "Along",
    "Bush",
    "Cutter",
    "CutterKind",
    "DoorStep",
    "Handling",
    "Hinge",
    "Jig",
    "Money",
    "Price",
    "Quoting",
    "RackOffcut",
    "RailKind",
    "RailMaterial",
    "Registration",
    "Runner",
    "RunnerMount",
    "Saw",
    "ScrewKind",
    "TaxKind",
    "Tool",
    "ToolKind",
    "Way",
    "Week",
    "Weekday",
    "Workshop",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What an item costs by the pack. Its key is the item's name, as methods use it."""

    item: Annotated[str, KEY]
    pack: Annotated[int, Number(1, 100000, whole=True), Told("How many are in a pack.")] = 1
    price_cents: Annotated[int, AMOUNT, Told("Price of a pack.", name="price", example=1)]
    on_hand: Annotated[int, Number(0, 1000000, whole=True), Told("How many you have already.")] = 0
    least: Annotated[int, Number(1, 10000, whole=True), Told("The fewest packs that are sold in one order.")] = 1
    supplier: Annotated[
        str,
        Text(0, 60),
        Told("Who sells it: the buying list of a batch is grouped by this, and by kind unless it is set."),
    ] = ""
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ActTime:
    """Minutes for one act. Its key is the act."""

    act: Annotated[str, KEY]
    low_min: Annotated[float, Number(0, 1000, "minutes"), Told("On a good day.", name="low", example=1)]
    usual_min: Annotated[float, Number(0, 1000, "minutes"), Told("As a rule.", name="usual", example=1)]
    high_min: Annotated[float, Number(0, 1000, "minutes"), Told("On a bad day.", name="high", example=1)]
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """How sheets are cut."""

    kerf: Annotated[float, Length(0.5, 10), Told("The width of the saw cut.")] = 3.0
    trim: Annotated[float, Length(0, 100), Told("What is trimmed off each factory edge.")] = 10.0
    offcut_length: Annotated[float, Length(10, 3000), Told("Least length of an offcut worth keeping.")] = 300.0
    offcut_width: Annotated[float, Length(10, 2000), Told("Least width of an offcut worth keeping.")] = 100.0
    track_saw: Annotated[
        bool,
        Told("Whether sheets are broken down with a track saw; else on a table saw.", title="cut with a track saw"),
    ] = True
    field: str = "saw"


@dataclass(frozen=True, slots=True, kw_only=True)
class RackOffcut:
    """An offcut on the rack. Its key is what you wrote on it."""

    code: Annotated[str, KEY]
    board: Annotated[str, CODE, Told("Code of its board, as jobs use it.", example="board")]
    length: Annotated[float, Length(20, 6000), Told("Along the grain.", example=600)]
    width: Annotated[float, Length(20, 3000), Told("Across the grain.", example=400)]
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """Rates of the workshop."""

    rate_cents_per_h: Annotated[
        int,
        AMOUNT,
        Told("What an hour of your time costs; 0 if you do not count it.", name="rate_per_hour", title="an hour costs"),
    ] = 0
    overhead_share: Annotated[
        float, Share(0, 5), Told("Rent, power, upkeep: a share added to the cost of your hours.")
    ] = 0.0
    margin_share: Annotated[float, Share(0, 5), Told("What is added for profit and risk, as a share.")] = 0.0
    carcasses_per_year: Annotated[
        float, Number(0, 100_000), Told("How many carcasses you make in a year; tools are written off over them.")
    ] = 0.0
    interest_per_year: Annotated[float, Share(0, 1), Told("Interest on what a tool costs, as a share a year.")] = 0.0
    write_off_years: Annotated[float, Number(0.5, 50, "years"), Told("Years over which a tool is written off.")] = 5.0
    currency: Annotated[str, Text(0, 8), Told("Currency of all prices here.")] = ""
    field: str = "money"


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """What one person lifts here, and other limits of the bench."""

    one_person_kg: Annotated[
        float, Number(1, 100, "kg"), Told("What one person lifts alone (kg).", title="one person lifts")
    ] = 20.0
    bench_length: Annotated[float, Length(300, 10000), Told("Length of the bench.")] = 2000.0
    bench_width: Annotated[float, Length(200, 5000), Told("Width of the bench.")] = 800.0
    open_time_min: Annotated[
        float, Number(0.5, 240, "minutes"), Told("Open time of the glue (minutes).", title="open time of the glue")
    ] = 5.0
    clamps: Annotated[
        int | None,
        Number(0, 500, whole=True),
        Told("How many clamps you own, for the day's work; no limit unless set.", title="clamps owned"),
    ] = None
    field: str = "handling"


class Weekday(StrEnum):
    """The days of a week, by their trade-wide names."""

    MONDAY = "monday"
    TUESDAY = "tuesday"
    WEDNESDAY = "wednesday"
    THURSDAY = "thursday"
    FRIDAY = "friday"
    SATURDAY = "saturday"
    SUNDAY = "sunday"


_MONDAY_TO_FRIDAY: Final = tuple(Weekday)[:5]


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """When you are in the workshop, for the day's work."""

    days: Annotated[
        tuple[Weekday, ...], Choices(Weekday), Told("The days on which you work.", title="working days")
    ] = _MONDAY_TO_FRIDAY
    starts_h: Annotated[
        float,
        Number(0, 23, "o'clock"),
        Told("When a day begins: 8 is eight o'clock, 8.5 half past.", name="starts", title="a day begins at"),
    ] = 8.0
    hours: Annotated[
        float,
        Number(0.5, 16, "hours"),
        Told("How many hours you work at the bench, breaks left out.", title="hours a day"),
    ] = 6.0
    helper: Annotated[
        tuple[Weekday, ...],
        Choices(Weekday),
        Told(
            "The days on which a second person is there. Unless set, somebody comes when you ask: the plan says when.",
            title="days with a second person",
        ),
    ] = ()
    field: str = "week"


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """A workshop file: what is owned, bought and reckoned with.

    What it leaves out is as in the built-in workshop.
    """

    name: Annotated[
        str,
        Text(0, 100),
        Told("Name of the workshop; the file's name unless set.", title="what you call it", made=True),
    ]
    methods: Annotated[
        tuple[Method, ...],
        Tables(),
        Told(
            "Joining methods by code, each in its own table such as `[methods.dowels]`; they add to the built-in ones "
            "or replace them.",
            made=True,
        ),
    ]
    runners: Annotated[
        tuple[Runner, ...],
        Told("Drawer runners by code; they add to the built-in ones or replace them.", made=True),
    ]
    hinges: Annotated[
        tuple[Hinge, ...], Told("Hinges by code; they add to the built-in ones or replace them.", made=True)
    ]
    clothes_rails: Annotated[
        tuple[RailKind, ...],
        Told("Clothes rails by code; they add to the built-in ones or replace them.", made=True),
    ] = ()
    feet: Annotated[
        tuple[FootKind, ...],
        Told("Levelling feet by code; they add to the built-in ones or replace them.", made=True),
    ] = ()
    screws: Annotated[
        tuple[ScrewKind, ...],
        Told("Screws for fittings by kind and diameter; they add to the built-in ones or replace them."),
    ] = ()
    prices: Annotated[tuple[Price, ...], Told("Prices by item; they add to the built-in ones or replace them.")] = ()
    times: Annotated[tuple[ActTime, ...], Told("Minutes by act; they add to the built-in ones or replace them.")] = ()
    cutters: Annotated[
        tuple[Cutter, ...], Told("All cutters, drills and blades owned, by code; the built-in list unless set.")
    ] = ()
    bushes: Annotated[tuple[Bush, ...], Told("All guide bushes owned; the built-in list unless set.")] = ()
    packers: Annotated[
        tuple[float, ...],
        Lengths(0.05, 100, rising=True),
        Told("Thicknesses of all packers on the shelf, from the thinnest; the built-in list unless set.", made=True),
    ] = ()
    tools: Annotated[
        tuple[Tool, ...], Told("All tools owned or considered, by code; the built-in list unless set.")
    ] = ()
    jigs: Annotated[tuple[Jig, ...], Told("All jigs already made, by code; none unless set.")] = ()
    ways: Annotated[
        tuple[Way, ...], Told("Ways of making features by code; they add to the built-in ones or replace them.")
    ] = ()
    rack: Annotated[
        tuple[RackOffcut, ...], Told("All offcuts on the rack, by what is written on them; none unless set.")
    ] = ()
    template_thickness: Annotated[
        float, Length(3, 40), Told("Thickness of the sheet you make templates from.", made=True)
    ] = 9.0
    deepest_pass: Annotated[
        float,
        Length(1, 12),
        Told(
            "Deepest pass of a router; never over half its cutter, and 3 mm at most with cutters up to 6 mm.", made=True
        ),
    ] = 6.0
    saw: Annotated[Saw, Told("How sheets are cut.")] = field(default_factory=Saw)
    money: Annotated[Money, Told("Rates of the workshop.")] = field(default_factory=Money)
    quotation: Annotated[Quoting, Told("What a quotation says about you.")] = field(default_factory=Quoting)
    handling: Annotated[Handling, Told("What one person lifts, and other limits of the bench.")] = field(
        default_factory=Handling
    )
    week: Annotated[Week, Told("When you are in the workshop, for the day's work.")] = field(default_factory=Week)
    default_methods: tuple[tuple[str, str], ...] = ()
    default_runner: str = ""
    default_hinge: str = ""
    default_rail: str = ""
    default_foot: str = ""
    front_screw: str = "pan-head screw 4"

    def method(self, code: str) -> Method | None:
        """Return the method with this code, or None."""
        return next((m for m in self.methods if m.code == code), None)

    def runner(self, code: str) -> Runner | None:
        """Return the runner with this code, or None."""
        return next((r for r in self.runners if r.code == code), None)

    def hinge(self, code: str) -> Hinge | None:
        """Return the hinge with this code, or None."""
        return next((h for h in self.hinges if h.code == code), None)

    def rail(self, code: str) -> RailKind | None:
        """Return the kind of clothes rail with this code, or None."""
        return next((r for r in self.clothes_rails if r.code == code), None)

    def foot(self, code: str) -> FootKind | None:
        """Return the kind of levelling foot with this code, or None."""
        return next((f for f in self.feet if f.code == code), None)

    def screw(self, code: str) -> ScrewKind | None:
        """Return the kind of screw with this code, or None."""
        return next((s for s in self.screws if s.code == code), None)

    def time_of(self, act: str) -> ActTime:
        """Return the minutes of an act.

        Raises:
            JobError: the workshop has no minutes for it; counting none would be silent and wrong.
        """
        found = next((t for t in self.times if t.act == act), None)
        if found is None:
            raise unknown_act(act)
        return found

    def minutes(self, act: str) -> float:
        """Return the usual minutes of an act.

        Raises:
            JobError: the workshop has no minutes for it.
        """
        return self.time_of(act).usual_min
