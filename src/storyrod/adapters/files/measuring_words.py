"""What the guided form says of each kind of connector, and what it asks of each cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of connector: what it is called, how it works, and the packaged method whose figures it begins with.

    Attributes:
        cut: kind of its first cut; `outside` whether that is driven through from the receiving board's outside.
    """

    key: str
    title: str
    about: str
    like: str
    cut: str = ""
    outside: bool = False


KINDS: Final = (
    Kind(key="dowel", title="A dowel or peg", about="Sits in a hole in each board.", like="dowels", cut="hole"),
    Kind(key="slot", title="A loose tongue", about="Sits in a slot in each board.", like="loose tenons", cut="slot"),
    Kind(
        key="biscuit",
        title="A biscuit",
        about="Sits in a curved slot that a disc plunges in each board.",
        like="biscuits",
        cut="segment pocket",
    ),
    Kind(
        key="keyhole",
        title="A head in a keyhole",
        about="A head on a screw goes into a keyhole, then slides home under its lip.",
        like="one-part keyhole connector",
        cut="keyhole",
    ),
    Kind(
        key="clip",
        title="A clip in undercut slots",
        about="A half in an undercut slot in each board; the halves snap together.",
        like="two-part clip connector",
        cut="undercut slot",
    ),
    Kind(
        key="screw",
        title="A screw through the face",
        about="Driven from outside, into the edge of the other board.",
        like="plain screws",
        cut="hole",
        outside=True,
    ),
    Kind(
        key="pocket",
        title="A screw in a slanted pocket",
        about="Driven from a pocket in the hidden face of the board whose edge meets.",
        like="pocket screws",
        cut="angled pocket",
    ),
    Kind(
        key="cam",
        title="A cam and its bolt",
        about="A bolt in one board; a cam in the hidden face of the other pulls it home.",
        like="cam and bolt",
    ),
    Kind(
        key="housing",
        title="A housing",
        about="The whole edge is let into the other board; there is nothing to buy.",
        like="housing",
    ),
)

_QUESTIONS: Final[dict[str, tuple[tuple[str, str, str], ...]]] = {
    "hole": (
        ("diameter", "diameter of the hole", "That of the drill. Measure the connector, then try a hole in scrap."),
        ("depth", "depth of the hole", "From the surface; about 1 mm more than what goes in it."),
    ),
    "slot": (
        ("length", "length of the slot", "Along the joint, over its round ends."),
        ("width", "width of the slot", "Across the joint: that of the cutter."),
        ("depth", "depth of the slot", "From the surface; about 1 mm more than what goes in it."),
    ),
    "segment pocket": (
        ("disc", "diameter of the disc", "Of the cutter that plunges it."),
        ("width", "thickness of the disc", "What it cuts away; the biscuit swells in it."),
        ("depth", "how deep it plunges", "At its deepest, from the surface."),
    ),
    "keyhole": (
        ("diameter", "diameter of the entry", "The round hole where the head goes in: a little over the head."),
        ("width", "width of the neck", "The narrow run above the head: a little over the shank."),
        ("undercut_width", "width under the lip", "Where the head runs; that of the cutter."),
        ("lip", "board above the head", "From the surface down to the head; it holds the joint."),
        ("depth", "full depth", "From the surface to the bottom."),
        ("travel", "how far it slides", "From the middle of the entry to where it locks."),
    ),
    "undercut slot": (
        ("length", "length of the slot", "Along the joint, over its ends."),
        ("width", "width of the mouth", "At the surface, across the joint."),
        ("undercut_width", "width under the lip", "Below the surface, across the joint."),
        ("lip", "board above the undercut", "From the surface down to where it widens."),
        ("depth", "full depth", "From the surface to the bottom."),
    ),
    "angled pocket": (
        ("diameter", "diameter of the pocket", "That of the stepped drill."),
        ("width", "diameter of the pilot", "That of the drill's point."),
        ("length", "length of the pocket", "Along its axis."),
        ("angle_deg", "slant to the face (degrees)", "15 is usual."),
        ("inset", "from the edge to where it meets the face", "Empty: so that the screw leaves in the middle."),
    ),
}


def cut_questions(kind: str, place: str, *, several: bool = False) -> Iterator[tuple[str, str, str]]:
    """Yield the field, title and words of each question about one cut."""
    asked = _QUESTIONS.get(kind, ())
    if kind == "hole" and place == "outside":
        yield ("diameter", "diameter of the clearance hole", "A little over the screw's shank; it goes through.")
        yield ("countersink", "diameter of the countersink", "At the surface, for the head; empty for none.")
    else:
        yield from asked
    if place in {"face side", "far face"} and kind != "angled pocket":
        yield ("inset", "from the edge to its middle", "Measured in the face it is made in.")
    if several:
        yield ("along", "offset from the station", "Along the joint; empty for none.")
