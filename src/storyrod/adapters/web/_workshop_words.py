"""How the groups of a workshop file are spoken of on its page, and in which order they stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupWords:
    """How a group is spoken of: its title, what it is for, what one of it is called, and its key's name."""

    title: str
    about: str
    one: str = ""
    key: str = ""
    wide: bool = True


WORDS: Final = {
    "tools": GroupWords(
        title="Tools",
        about="What you own, and what you think of buying: comparing methods takes both into account.",
        one="tool",
        key="code",
    ),
    "cutters": GroupWords(
        title="Cutters, drills, blades",
        about="Every set-up is planned with these. Reach is how deep one cuts below its collet or chuck.",
        one="cutter",
        key="code",
        wide=False,
    ),
    "bushes": GroupWords(
        title="Guide bushes",
        about="The outside runs in the template's opening; the bore must pass the cutter.",
        one="guide bush",
        wide=False,
    ),
    "packers": GroupWords(
        title="Packers and templates",
        about="Packers space a tool off an edge: the fewest on the shelf that make up a thickness are used.",
    ),
    "jigs": GroupWords(
        title="Jigs owned", about="A jig you have already made is used where its stations fit.", one="jig", key="code"
    ),
    "methods": GroupWords(
        title="Joining methods",
        about="How joints are held. Measure the connector in your hand, or correct one that is here.",
    ),
    "ways": GroupWords(
        title="Ways of making a cut",
        about="A tool, a cutter in it, and where it is placed from. The quickest for the whole batch is used.",
        one="way",
        key="code",
    ),
    "defaults": GroupWords(title="Usual choices", about="What a job gets unless it chooses for itself."),
    "runners": GroupWords(
        title="Drawer runners", about="Every figure comes from the runner's own sheet.", one="runner", key="code"
    ),
    "hinges": GroupWords(
        title="Hinges",
        about="A cup in the door, a plate on the case; the figures of its sheet.",
        one="hinge",
        key="code",
    ),
    "clothes_rails": GroupWords(
        title="Clothes rails",
        about="A tube or rod, and two sockets open at the top; the figures of its sheet.",
        one="clothes rail",
        key="code",
    ),
    "feet": GroupWords(
        title="Levelling feet",
        about="A plate under the base, a stem that is turned, a clip for a plinth board; the figures of its sheet.",
        one="levelling foot",
        key="code",
    ),
    "screws": GroupWords(
        title="Screws for fittings",
        about="By kind and diameter, with every length kept. A thin board gets the longest that does not come near "
        "the far face.",
        one="kind of screw",
        key="code",
        wide=False,
    ),
    "prices": GroupWords(
        title="Prices", about="By the pack, under the names that methods use.", one="price", key="item", wide=False
    ),
    "times": GroupWords(
        title="Minutes",
        about="Standard minutes of single acts: on a good day, as a rule, on a bad day. The bench log corrects them.",
        one="act",
        key="act",
        wide=False,
    ),
    "money": GroupWords(title="Rates", about="What an hour costs, and what is added to it."),
    "quotation": GroupWords(
        title="Quotations", about="Your name and address, tax, and your terms, as a customer reads them."
    ),
    "saw": GroupWords(title="Saw and offcuts", about="Kerf, trim, and the smallest offcut worth keeping."),
    "rack": GroupWords(
        title="Offcuts on the rack",
        about="Used before a new sheet is cut. Name the board by the code that jobs use.",
        one="offcut",
        key="what is written on it",
        wide=False,
    ),
    "handling": GroupWords(title="Bench and lifting", about="What one person lifts here, and how large the bench is."),
    "week": GroupWords(title="Week", about="When you work and when somebody helps: the day's work is planned by it."),
    "general": GroupWords(title="Name", about="What this workshop is called."),
}

SECTIONS: Final = (
    ("What I own", ("tools", "cutters", "bushes", "packers", "jigs")),
    ("How I work", ("methods", "ways", "defaults", "times", "handling", "week")),
    ("What I buy", ("runners", "hinges", "clothes_rails", "feet", "screws", "prices", "money", "quotation")),
    ("Sheets", ("saw", "rack")),
    ("This file", ("general",)),
)
