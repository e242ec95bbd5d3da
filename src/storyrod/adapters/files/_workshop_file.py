"""The workshop file as it is written: what the maker owns, buys and takes their time for.

The reference in `docs/workshop-file.md` and the JSON Schema for editors are made from these classes.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from storyrod.adapters.files._fields import (
    Amount,
    Choice,
    Flag,
    Length,
    Lengths,
    Names,
    Number,
    OneOf,
    Table,
    Text,
)
from storyrod.adapters.files._job_file import FORMAT, Code, MaybeCode
from storyrod.measure.length import Unit
from storyrod.model.workshop import Along, CutterKind, Registration, RunnerMount, ToolKind

Bore = Annotated[float, Length(0.5, 120)]
Place = Annotated[float, Length(0, 1500)]
Minutes = Annotated[float, Number(0, 1000, "minutes")]
Name = Annotated[str, Text(0, 100)]


class CutterTable(Table):
    """A cutter, drill or blade. Its key is its code."""

    kind: Annotated[CutterKind, Choice(CutterKind)] = Field(description="Its shape.", examples=["drill"])
    diameter: Annotated[float, Length(0.5, 400)] = Field(description="Cutting diameter.", examples=[5])
    reach: Annotated[float, Length(1, 300)] = Field(
        description="How deep it cuts below its collet or chuck.", examples=[40]
    )
    width: Annotated[float | None, Length(0.5, 60)] = Field(
        default=None, description="Kerf of a disc or blade; head height of a keyhole or undercut cutter."
    )
    neck: Annotated[float | None, Length(0.5, 60)] = Field(
        default=None, description="Diameter of the neck of a keyhole or undercut cutter."
    )
    max_rpm: Annotated[int | None, Number(100, 60_000, "a minute", whole=True)] = Field(
        default=None, description="Highest speed marked on it (turns a minute)."
    )


class BushTable(Table):
    """A guide bush."""

    diameter: Annotated[float, Length(3, 80)] = Field(
        description="Outside diameter, which runs in the template.", examples=[17]
    )
    bore: Annotated[float | None, Length(2, 78)] = Field(
        default=None, description="Bore that a cutter passes through; diameter less 2 mm unless said."
    )
    length: Annotated[float, Length(1, 40)] = Field(default=8.0, description="How far it stands below the base plate.")


class ToolTable(Table):
    """A tool. Its key is its code."""

    kind: Annotated[ToolKind, Choice(ToolKind)] = Field(description="What it is.", examples=["router"])
    name: Name = Field(default="", description="What you call it; its kind unless said.")
    base_to_centre: Annotated[float | None, Length(0, 300)] = Field(
        default=None, description="From its flat base to the cutter's centre; measure yours."
    )
    base_half: Annotated[float | None, Length(0, 300)] = Field(
        default=None, description="From the cutter's centre to the straight side of its base."
    )
    error: Annotated[float | None, Length(0, 5)] = Field(
        default=None, description="Usual error of its registration (+-)."
    )
    owned: Annotated[bool, Flag()] = Field(
        default=True, description="Whether you own it; false for one you think of buying."
    )
    price: Annotated[int | None, Amount()] = Field(default=None, description="What it cost, or would cost.")


class JigTable(Table):
    """A jig already owned. Its key is its code."""

    name: Name = Field(default="", description="What you call it; its code unless said.")
    stations: Annotated[tuple[float, ...], Lengths(0, 3000, least=1, rising=True)] = Field(
        description="Distances of its openings' centres from the stop.", examples=[[50, 210]]
    )
    opening_width: Bore = Field(description="Width of an opening, across the joint.", examples=[17])
    opening_length: Annotated[float, Length(0.5, 500)] = Field(
        description="Length of an opening, along the joint.", examples=[17]
    )
    length: Annotated[float, Length(20, 4000)] = Field(description="Length of the jig.", examples=[600])
    thickness: Annotated[float, Length(1, 60)] = Field(description="Thickness of its template.", examples=[9])
    for_mid_panel: Annotated[bool, Flag()] = Field(default=False, description="Whether it serves mid-panel joints.")


class WayTable(Table):
    """A way of making a kind of feature. Its key is its code."""

    name: Name = Field(default="", description="What you call it; its code unless said.")
    tool: Annotated[ToolKind, Choice(ToolKind)] = Field(description="Kind of tool it takes.", examples=["router"])
    cutter: Annotated[CutterKind | None, Choice(CutterKind)] = Field(
        default=None, description="Kind of cutter in it; none where the tool has its own."
    )
    makes: Annotated[tuple[str, ...], Names(1, 20)] = Field(
        description="Kinds of feature it makes, by the names that the set-out uses.", examples=[["hole"]]
    )
    on_edges: Annotated[bool, Flag()] = Field(default=False, description="Whether it works on edges and ends.")
    on_faces: Annotated[bool, Flag()] = Field(default=False, description="Whether it works on faces.")
    registration: Annotated[Registration, Choice(Registration)] = Field(
        description="Where the tool is placed from, across the line of the cuts.", examples=["centre marks"]
    )
    along: Annotated[Along, Choice(Along)] = Field(
        description="How the places along the line are found.", examples=["marks"]
    )
    bush: Annotated[bool, Flag()] = Field(default=False, description="Whether a guide bush runs in a template.")
    jig_thickness: Annotated[float | None, Length(3, 80)] = Field(
        default=None, description="Thickness of the jig the cutter reaches through; `template_thickness` unless said."
    )
    stopped: Annotated[bool, Flag()] = Field(
        default=True, description="Whether it can stop a groove or housing within the panel."
    )
    from_edge: Annotated[float | None, Length(1, 3000)] = Field(
        default=None, description="How far from an edge or end it reaches; everywhere unless said."
    )
    error_across: Annotated[float | None, Length(0, 5)] = Field(
        default=None, description="Usual error of a cut across its line (+-); the tool's own unless said."
    )
    error_along: Annotated[float | None, Length(0, 5)] = Field(
        default=None, description="Usual error of a cut along its line (+-); the tool's own unless said."
    )
    place_act: Name = Field(default="", description="Act of `times` for placing it once; nothing unless said.")
    cut_act: Name = Field(default="", description="Act of `times` for one cut; nothing unless said.")
    per_metre: Annotated[bool, Flag()] = Field(default=False, description="Whether the act is told per metre of cut.")


class RunnerTable(Table):
    """A pair of drawer runners; every figure is that of its own sheet: measure yours. Its key is its code."""

    name: Name = Field(default="", description="What you call it; its code unless said.")
    mount: Annotated[RunnerMount, Choice(RunnerMount)] = Field(
        description="`side`: on the drawer's sides; `under`: hidden under it.", examples=["side"]
    )
    lengths: Annotated[tuple[float, ...], Lengths(100, 1500, least=1, rising=True)] = Field(
        description="Lengths it is sold in, from the shortest.", examples=[[350]]
    )
    room_each_side: Annotated[float, Length(0, 50)] = Field(
        default=12.7, description="Side-mounted: from the drawer box to the carcass, each side."
    )
    inside_less: Annotated[float, Length(0, 200)] = Field(
        default=42.0, description="Under-mounted: opening width less the drawer's inside width."
    )
    box_shorter: Annotated[float, Length(0, 100)] = Field(
        default=0.0, description="Runner length less the depth of the drawer box."
    )
    clear_behind: Annotated[float, Length(0, 200)] = Field(default=5.0, description="Least room behind the drawer box.")
    room_below: Annotated[float, Length(0, 200)] = Field(
        default=15.0, description="Least room between the opening's floor and the box."
    )
    room_above: Annotated[float, Length(0, 200)] = Field(
        default=10.0, description="Least room between the box and what is over it."
    )
    height: Annotated[float, Length(1, 200)] = Field(default=45.0, description="Height of the carcass part.")
    screw_up: Place = Field(default=37.0, description="Its screw line above the opening's floor.")
    screw_diameter: Bore = Field(default=2.5, description="Pilot hole of its screws.")
    screw_depth: Annotated[float, Length(1, 60)] = Field(default=10.0, description="Depth of the pilot holes.")
    screws: Annotated[tuple[float, ...], Lengths(0, 1500, least=2, rising=True)] = Field(
        default=(37.0, 165.0, 261.0),
        description="Carcass screws from the runner's front; those beyond its length are left out.",
    )
    drawer_screws: Annotated[tuple[float, ...], Lengths(0, 1500, least=2, rising=True)] = Field(
        default=(35.0, 163.0, 259.0), description="Screws in the drawer's side from its front."
    )
    drawer_screw_up: Annotated[float | None, Length(0, 500)] = Field(
        default=None, description="Screw line above the drawer side's lower edge."
    )
    fixed_with: Code = Field(default="pan-head screw 3.5", description="Code of the screws it is fixed with.")
    screw_length: Annotated[float, Length(5, 60)] = Field(
        default=16.0, description="Length of screw its sheet asks for; a thin board gets a shorter one."
    )
    screw_seat: Annotated[float, Length(0, 20)] = Field(
        default=1.5, description="Its metal between a screw's head and the board."
    )
    set_back: Annotated[float, Length(0, 100)] = Field(
        default=2.0, description="From the carcass's front edge, or an inset front's back, to the runner."
    )
    load_kg: Annotated[float, Number(1, 500, "kg")] = Field(
        default=30.0, description="What a pair carries, the drawer included (kg)."
    )
    extension: Annotated[float, Number(0.3, 1.2, "of its length")] = Field(
        default=1.0, description="Share of its length by which the drawer comes out."
    )
    width_max: Annotated[float, Length(100, 3000)] = Field(default=900.0, description="Widest drawer on one pair.")
    price: Annotated[int | None, Amount()] = Field(default=None, description="Price of a pair.")


class DoorStep(Table):
    """How many hinges a door takes up to a height."""

    up_to: Annotated[float, Length(100, 4000)] = Field(description="Greatest height of the door.", examples=[900])
    hinges: Annotated[int, Number(2, 12, whole=True)] = Field(description="How many hinges it takes.", examples=[2])


class HingeTable(Table):
    """A concealed hinge: a cup in the door, a plate on the carcass; measure yours. Its key is its code."""

    name: Name = Field(default="", description="What you call it; its code unless said.")
    cup: Annotated[float, Length(10, 60)] = Field(default=35.0, description="Diameter of the cup.")
    cup_depth: Annotated[float, Length(5, 30)] = Field(default=13.0, description="Depth of the cup.")
    cup_in: Annotated[float, Length(8, 80)] = Field(
        default=22.5, description="From the door's edge to the cup's centre."
    )
    cup_screws: Annotated[float, Length(10, 120)] = Field(
        default=46.0, description="Distance of the cup's two screws from one another. Invented: measure yours."
    )
    cup_screw_in: Annotated[float, Length(-30, 60)] = Field(
        default=8.0, description="From the cup's centre to its screws, further in. Invented: measure yours."
    )
    cup_screw_diameter: Annotated[float, Length(0.5, 12)] = Field(
        default=2.5, description="Pilot hole of the cup's screws."
    )
    plate_in: Annotated[float, Length(5, 200)] = Field(
        default=37.0,
        description="From the carcass's front edge, or an inset door's inner face, to the plate's screw line.",
    )
    plate_pitch: Annotated[float, Length(5, 200)] = Field(
        default=32.0, description="Distance of the plate's two screws from one another."
    )
    plate_screw: Annotated[float, Length(0.5, 15)] = Field(default=5.0, description="Holes of the plate.")
    plate_depth: Annotated[float, Length(1, 40)] = Field(default=12.0, description="Depth of the plate's holes.")
    cup_fixed_with: Code = Field(default="countersunk screw 3.5", description="Code of the cup's screws.")
    cup_screw_length: Annotated[float, Length(5, 60)] = Field(
        default=16.0, description="Length of the cup's screws by its sheet; a thin door gets shorter ones."
    )
    cup_seat: Annotated[float, Length(0, 20)] = Field(
        default=1.0, description="The cup's flange between a screw's head and the door."
    )
    plate_fixed_with: Code = Field(default="system screw 6.3", description="Code of the plate's screws.")
    plate_screw_length: Annotated[float, Length(5, 60)] = Field(
        default=13.0, description="Length of the plate's screws by its sheet; a thin board gets shorter ones."
    )
    plate_seat: Annotated[float, Length(0, 20)] = Field(
        default=2.0, description="The plate's metal between a screw's head and the board."
    )
    from_end: Annotated[float, Length(40, 500)] = Field(
        default=100.0, description="From the door's ends to the first and last hinge."
    )
    per_door: list[DoorStep] = Field(
        default_factory=lambda: [
            DoorStep(up_to=900, hinges=2),
            DoorStep(up_to=1600, hinges=3),
            DoorStep(up_to=2000, hinges=4),
            DoorStep(up_to=2400, hinges=5),
        ],
        description="How many hinges a door takes up to which height, from the lowest.",
    )
    price: Annotated[int | None, Amount()] = Field(default=None, description="Price of one hinge with its plate.")


class ScrewTable(Table):
    """A kind of screw that fittings are fixed with, in all its lengths. Its key is its code, kind and diameter."""

    diameter: Annotated[float, Length(1, 12)] = Field(description="Outside diameter of the thread.", examples=[3.5])
    lengths: Annotated[tuple[float, ...], Lengths(5, 200, least=1, rising=True)] = Field(
        description="Lengths that you keep or buy, from the shortest.", examples=[[13, 16]]
    )
    pilot: Bore = Field(description="Its pilot hole, where a fitting's own sheet gives none.", examples=[2.5])


class PriceTable(Table):
    """What an item costs by the pack. Its key is the item's name, as methods use it."""

    pack: Annotated[int, Number(1, 100_000, whole=True)] = Field(default=1, description="How many are in a pack.")
    price: Annotated[int, Amount()] = Field(description="Price of a pack.", examples=[1])
    on_hand: Annotated[int, Number(0, 1_000_000, whole=True)] = Field(
        default=0, description="How many lie in the drawer already."
    )


class TimeTable(Table):
    """Minutes for one act. Its key is the act."""

    low: Minutes = Field(description="On a good day.", examples=[1])
    usual: Minutes = Field(description="As a rule.", examples=[1])
    high: Minutes = Field(description="On a bad day.", examples=[1])


class SawTable(Table):
    """How sheets are cut."""

    kerf: Annotated[float, Length(0.5, 10)] = Field(default=3.0, description="What the blade turns to dust.")
    trim: Annotated[float, Length(0, 100)] = Field(default=10.0, description="What is trimmed off each factory edge.")
    offcut_length: Annotated[float, Length(10, 3000)] = Field(
        default=300.0, description="Least length of an offcut worth keeping."
    )
    offcut_width: Annotated[float, Length(10, 2000)] = Field(
        default=100.0, description="Least width of an offcut worth keeping."
    )
    track_saw: Annotated[bool, Flag()] = Field(
        default=True, description="Whether sheets are broken down with a track saw; else on a table saw."
    )


class OffcutTable(Table):
    """An offcut on the rack. Its key is what you wrote on it."""

    board: Code = Field(description="Code of its board, as jobs use it.", examples=["board"])
    length: Annotated[float, Length(20, 6000)] = Field(description="Along the grain.", examples=[600])
    width: Annotated[float, Length(20, 3000)] = Field(description="Across the grain.", examples=[400])


class MoneyTable(Table):
    """Rates of the workshop."""

    rate_per_hour: Annotated[int, Amount()] = Field(
        default=0, description="What an hour of yours costs; 0 where you do not count it."
    )
    overhead_share: Annotated[float, Number(0, 5)] = Field(
        default=0.0, description="Rent, power, upkeep: a share added to the hours' cost."
    )
    margin_share: Annotated[float, Number(0, 5)] = Field(
        default=0.0, description="What is added for profit and risk, as a share."
    )
    carcasses_per_year: Annotated[float, Number(0, 100_000)] = Field(
        default=0.0, description="How many carcasses you make in a year; tools are written off over them."
    )
    interest_per_year: Annotated[float, Number(0, 1)] = Field(
        default=0.0, description="Interest on what a tool costs, as a share a year."
    )
    write_off_years: Annotated[float, Number(0.5, 50, "years")] = Field(
        default=5.0, description="Years over which a tool is written off."
    )
    currency: Annotated[str, Text(0, 8)] = Field(default="", description="Currency of all prices here.")


class HandlingTable(Table):
    """What one person lifts here, and other limits of the bench."""

    one_person_kg: Annotated[float, Number(1, 100, "kg")] = Field(
        default=20.0, description="What one person lifts alone (kg)."
    )
    bench_length: Annotated[float, Length(300, 10_000)] = Field(default=2000.0, description="Length of the bench.")
    bench_width: Annotated[float, Length(200, 5000)] = Field(default=800.0, description="Width of the bench.")
    open_time_min: Annotated[float, Number(0.5, 240, "minutes")] = Field(
        default=5.0, description="Open time of the glue (minutes)."
    )


class DefaultsTable(Table):
    """What is taken where a job does not choose."""

    corner: MaybeCode = Field(default=None, description="Method of corner joints.")
    mid_panel: MaybeCode = Field(default=None, description="Method of mid-panel joints.")
    plinth: MaybeCode = Field(default=None, description="Method of the plinth's joints.")
    back: MaybeCode = Field(
        default=None, description="Method of the back's joints; a grooved back always sits in its groove."
    )
    drawer_box: MaybeCode = Field(default=None, description="Method of drawer boxes.")
    runner: MaybeCode = Field(default=None, description="Drawer runner.")
    hinge: MaybeCode = Field(default=None, description="Door hinge.")
    front_screw: MaybeCode = Field(default=None, description="Screws that hold a drawer's front to its box.")


class WorkshopTable(Table):
    """A workshop file: what is owned, bought and reckoned with.

    What it leaves out is as in the plain packaged workshop.
    """

    format: Annotated[int, OneOf((FORMAT,))] = Field(default=FORMAT, description="Format of the file.")
    name: Name = Field(default="", description="Name of the workshop; the file's name unless said.")
    units: Annotated[Unit, Choice(Unit)] = Field(default=Unit.MM, description="Unit of bare numbers.")
    defaults: DefaultsTable = Field(
        default_factory=DefaultsTable, description="What is taken where a job does not choose."
    )
    methods: dict[str, Any] = Field(
        default_factory=dict,
        description="Joining methods by code, each in its own table such as `[methods.dowels]`; they add to the "
        "packaged ones or take their place.",
    )
    runners: dict[str, RunnerTable] = Field(
        default_factory=dict, description="Drawer runners by code; they add to the packaged ones or take their place."
    )
    hinges: dict[str, HingeTable] = Field(
        default_factory=dict, description="Hinges by code; they add to the packaged ones or take their place."
    )
    screws: dict[str, ScrewTable] = Field(
        default_factory=dict,
        description="Screws for fittings by kind and diameter; they add to the packaged ones or take their place.",
    )
    prices: dict[str, PriceTable] = Field(
        default_factory=dict, description="Prices by item; they add to the packaged ones or take their place."
    )
    times: dict[str, TimeTable] = Field(
        default_factory=dict, description="Minutes by act; they add to the packaged ones or take their place."
    )
    cutters: dict[str, CutterTable] | None = Field(
        default=None, description="All cutters, drills and blades owned, by code; the packaged list unless said."
    )
    bushes: list[BushTable] | None = Field(
        default=None, description="All guide bushes owned; the packaged list unless said."
    )
    packers: Annotated[tuple[float, ...] | None, Lengths(0.05, 100, rising=True)] = Field(
        default=None,
        description="Thicknesses of all packers on the shelf, from the thinnest; the packaged list unless said.",
    )
    tools: dict[str, ToolTable] | None = Field(
        default=None, description="All tools owned or considered, by code; the packaged list unless said."
    )
    jigs: dict[str, JigTable] | None = Field(
        default=None, description="All jigs already made, by code; none unless said."
    )
    ways: dict[str, WayTable] = Field(
        default_factory=dict,
        description="Ways of making features by code; they add to the packaged ones or take their place.",
    )
    rack: dict[str, OffcutTable] | None = Field(
        default=None, description="All offcuts on the rack, by what is written on them; none unless said."
    )
    template_thickness: Annotated[float | None, Length(3, 40)] = Field(
        default=None, description="Thickness of the sheet you make templates from."
    )
    deepest_pass: Annotated[float | None, Length(1, 12)] = Field(
        default=None,
        description="Deepest pass of a router; never over half its cutter, and 3 mm at most with cutters up to 6 mm.",
    )
    saw: SawTable | None = Field(default=None, description="How sheets are cut.")
    money: MoneyTable | None = Field(default=None, description="Rates of the workshop.")
    handling: HandlingTable | None = Field(
        default=None, description="What one person lifts, and other limits of the bench."
    )
