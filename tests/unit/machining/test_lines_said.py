"""What the lines of caution must say, phrase by phrase, where a word less would hurt: the trade's rules for each tool.

That a line stands on the card of its tool is witnessed beside the cards; here it is what it says. A line that no longer
says one of these is to be read by somebody who knows the tool, and this list changed with it.
"""

from __future__ import annotations

import pytest

from storyrod.model.bench_lines import LINE_WORDS, POWERED, LineKind

SAYS: dict[LineKind, tuple[str, ...]] = {
    LineKind.UNPLUG: ("Unplug, or take the battery out, before you change", "cutter, bit, blade, depth or fence"),
    LineKind.EYES_EARS: ("Eye and ear protection on",),
    LineKind.DUST: ("extraction", "a mask", "no dry sweeping", "plywood dust counts as hardwood dust", "limit"),
    LineKind.DUST_FIBREBOARD: ("as hardwood dust",),
    LineKind.FREED_WASTE: ("hold it down, or leave it until the cutter has stopped", "never reach for it before"),
    LineKind.WORK_HELD: ("Work clamped", "both hands"),
    LineKind.CUTTER_IN_COLLET: ("{shank} or more in the collet", "spanner off first"),
    LineKind.DEPTH: ("no pass is deeper than half the cutter's diameter, nor than {cap}",),
    LineKind.SPEED: ("not above {rpm}", "the limit marked on it rules"),
    LineKind.TEMPLATE: ("the cutter clears the bush", "clamped at two places", "Never climb-cut with a bush"),
    LineKind.UNDERCUT: ("come back to where it went in, let it stop, then lift", "never lift in the undercut"),
    LineKind.WIDEN_FAR_FIRST: ("Far wall first, near wall last", "against the rotation", "climb cut"),
    LineKind.WIDEN_NEAR_FIRST: ("Near wall first, far wall last", "against the rotation", "climb cut"),
    LineKind.ROUTER_TABLE: ("guard over the cutter", "push block", "never feed work between cutter and fence"),
    LineKind.STOPPED_ON_TABLE: ("begin at the open end", "switch off there", "Never drop work on to the cutter"),
    LineKind.CORE_SCREWED: ("can be thrown: screw it to the spoil board", "before that pass"),
    LineKind.CORE_CLEARED: ("would be thrown", "clear it away at every depth", "clockwise from the middle outward"),
    LineKind.DRILL_PRESS: ("work clamped", "key out of the chuck", "no gloves", "hair tied back"),
    LineKind.DRILL: ("jig and work clamped", "stop collar tight and tried in scrap", "no gloves"),
    LineKind.PLUNGING_TOOL: ("base pressed flat", "let the cutter stop before you put the tool down"),
    LineKind.PROGRAM: ("in the air first", "guards closed", "stay at the stop button"),
    LineKind.HAND_SAW: ("work clamped", "fingers away", "both hands behind its edge"),
    LineKind.JIGSAW: ("clear of bench and cable", "let it stop before you lift it out"),
    LineKind.TRACK_SAW: ("held up on both sides", "kicks the saw back at you", "{below_low} to {below_high} below"),
    LineKind.TABLE_SAW_GUARD: ("riving knife and guard fitted and set", "never reach over it"),
    LineKind.TABLE_SAW_JAM: ("Never rip fence and crosscut stop on one cut",),
    LineKind.TABLE_SAW_THIN: ("hold it down near the blade, guard on",),
    LineKind.TABLE_SAW_PUSH: ("Push stick or push block for narrow parts", "last {last}"),
    LineKind.GROOVE_MACHINE: ("guarded router or spindle moulder",),
    LineKind.GROOVE_GUARD: (
        "not through",
        "do not fit it",
        "below the top of the blade, or off and put back",
        "pressure pads and hold-downs",
    ),
    LineKind.GROOVE_DROP: ("Never drop work on to the turning blade", "end to end"),
    LineKind.KICKBACK: (
        "can throw a piece at you",
        "Stand out of the line of the piece",
        "nothing small between blade and fence",
        "leave offcuts until the blade has stopped",
    ),
    LineKind.REMINDER: ("not training", "manual, the law and codes", "come before this card"),
}


def test_every_line_has_its_phrases() -> None:
    assert set(SAYS) == set(LINE_WORDS)


@pytest.mark.parametrize("kind", SAYS)
def test_a_line_says_what_its_rule_is(kind: LineKind) -> None:
    for phrase in SAYS[kind]:
        assert phrase in LINE_WORDS[kind]


def test_a_groove_on_the_table_saw_is_never_told_to_have_knife_and_guard_fitted() -> None:
    assert "guard fitted" not in LINE_WORDS[LineKind.GROOVE_GUARD]


def test_what_every_powered_tool_carries() -> None:
    assert set(POWERED) == {LineKind.FREED_WASTE, LineKind.UNPLUG, LineKind.EYES_EARS, LineKind.DUST}
