"""How a jig is made, step by step, and how each of its holds is made and used; every step with its figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from storyrod.machining._jig_holds import WEDGES
from storyrod.machining._jig_words import fence_height, say
from storyrod.model.machining import (
    FENCE_THICKNESS,
    STOP_LENGTH,
    STOP_THICKNESS,
    WIDEST_BIT,
    Area,
    Hold,
    HoldKind,
    JigKind,
    JigPlan,
    Sentence,
)


def steps_of(plan: JigPlan) -> tuple[Sentence, ...]:
    """Return how a jig is made, in order; nothing for one that is owned."""
    return () if plan.owned else tuple(_steps(plan))


def _steps(plan: JigPlan) -> Iterator[Sentence]:
    yield say(
        "Cut the template {length} x {width} from board {bought_thickness} thick, its edges straight and its corners "
        "square.",
        length=plan.length,
        width=plan.width,
        bought_thickness=plan.thickness,
    )
    if plan.kind is JigKind.TEMPLATE:
        yield say(
            "Scribe a centre line each way across it, on both faces: {along} from one end, {across} from one long "
            "edge.",
            along=-plan.start,
            across=-plan.near,
        )
    else:
        yield say(
            "Scribe the centre line of the openings {across} from the near long edge, and square across it the zero, "
            "{zero} from the left end.",
            across=-plan.near,
            zero=-plan.start,
        )
        yield _stations(plan)
        yield from _spacing(plan)
    yield from _openings(plan)
    if plan.has_fence:
        yield say(
            "Cut the fence {length} x {height} from board {bought_thickness} thick, straight and square. Screw it on "
            "edge under the template, its inner face {reference} from the centre line all along.",
            length=plan.length,
            height=fence_height(plan),
            bought_thickness=FENCE_THICKNESS,
            reference=plan.reference,
        )
    elif plan.line_ups and plan.kind is not JigKind.TEMPLATE:
        yield say(
            "Scribe the line-up marks across both ends with a knife, on both faces, {line} from the centre line.",
            line=tuple(m.from_centre for m in plan.line_ups),
        )
    elif plan.kind is JigKind.LINE:
        yield say(
            "Plane its far long edge to {reference} from the centre line: set this edge on the face line, against a "
            "straight batten clamped there.",
            reference=plan.reference,
        )
    if plan.stops:
        yield _stops(plan)
    if len(plan.hands) > 1:
        what = "fence and stops" if plan.has_fence else "stops"
        yield say(
            f"Drill the screw holes for {what} right through the template, so that they are in the same place on both "
            f"faces. Write “as drawn” on the upper face and “turned over” on the other."
        )
    if plan.kind is JigKind.PINS:
        yield say(
            "Write “bottom” at the stop's end: it goes to the bottom end of every upright, front and back, left and "
            "right. Replace it when a drill runs loose in it."
        )
    elif plan.bush is None and plan.kind is not JigKind.TEMPLATE:
        yield say("Line the holes with hardened drill bushes, or replace it when a drill runs loose in it.")


def _stations(plan: JigPlan) -> Sentence:
    if plan.in_step_with:
        return say(
            f"Clamp it to {plan.in_step_with}, zero on zero and centre line on centre line: drill the stations that "
            "both have in one go, and measure the others from the zero. Its stations: {stations}.",
            stations=plan.stations,
        )
    return say("Mark the stations with a knife, all measured from the zero: {stations}.", stations=plan.stations)


def _spacing(plan: JigPlan) -> Iterator[Sentence]:
    """Yield how the holes of a pin template are stepped off, so that all stand alike from the one before."""
    gaps = {round(b - a, 2) for a, b in pairwise(plan.stations)}
    if plan.kind is not JigKind.PINS or len(plan.stations) < 3:
        return
    pitch = min(gaps)
    yield say(
        "Step them off at the drill press: the template runs along a fence, {fence} from the drill's centre, and a peg "
        "that fits the last hole, {pitch} from the centre, spaces the next. Where there is a gap, start again from "
        "the mark.",
        fence=-plan.near,
        pitch=pitch,
    )


def _openings(plan: JigPlan) -> Iterator[Sentence]:
    """Yield how the openings are cut: bored where they are round, else bored at both ends and cleared."""
    (long, wide), at = plan.opening, "at its centre" if plan.kind is JigKind.TEMPLATE else "at each station"
    if plan.bush is None:
        yield say(
            f"Drill {{bought_drill}} square through it {at}, at a drill press, with scrap below.", bought_drill=long
        )
        return
    if plan.round_ or abs(long - wide) < 0.01:
        how = "Bore {size}" if long <= WIDEST_BIT else "Saw out {size} round, a little small, and file it to the line"
        yield say(f"{how} {at}, square through, with scrap below.", size=long)
    elif 2 * plan.corner >= min(long, wide) - 0.01:
        yield say(
            f"Bore two holes of {{size}} {at}, their middles {{apart}} to each side of it along the "
            f"{'jig' if long > wide else 'cross line'}. Saw out what is between and file it straight, to "
            "{long} x {wide} over all.",
            size=min(long, wide),
            apart=abs(long - wide) / 2,
            long=long,
            wide=wide,
        )
    else:
        yield say(
            f"Mark an opening of {{long}} x {{wide}} {at}. Bore a hole of {{corner}} in each corner, saw out between "
            f"them with a "
            "jigsaw, and rout or file it to the lines against a straight edge.",
            long=long,
            wide=wide,
            corner=max(2 * plan.corner, plan.bush),
        )
    if min(long, wide) > plan.bush + 0.5:
        yield say(
            "Run the bush of {bought_bush} round the opening: it meets no step and no splinter.", bought_bush=plan.bush
        )
        return
    yield say(
        "Try the bush of {bought_bush} in every opening: it slides to both ends without play.", bought_bush=plan.bush
    )


def _stops(plan: JigPlan) -> Sentence:
    places = ", ".join(f"{s.label} at {{{s.label}}}" for s in plan.stops)
    against = "against the fence" if plan.has_fence else "just short of the line-up"
    return Sentence(
        f"Screw the stops under it, {against}, each {{long}} long and {{bought_thick}} thick, with the face toward "
        f"the stations square across the jig: {places}, measured from the zero.",
        (
            ("long", (STOP_LENGTH,)),
            ("bought_thick", (STOP_THICKNESS,)),
            *((s.label, (s.at,)) for s in plan.stops),
        ),
    )


# --- holds -----------------------------------------------------------------------------------------------------------


def hold_steps(plan: JigPlan, hold: Hold) -> tuple[Sentence, ...]:
    """Return how a way of holding is made and used."""
    makers: dict[HoldKind, Callable[[JigPlan, Hold], Iterator[Sentence]]] = {
        HoldKind.CLAMPED: _clamped,
        HoldKind.FENCES: _fences,
        HoldKind.BOARD: _board,
        HoldKind.BACKING: _backing,
        HoldKind.TROUGH: _trough,
    }
    return tuple(makers[hold.kind](plan, hold))


def _middles(hold: Hold) -> tuple[float, ...]:
    return tuple((c.left + c.right) / 2 for c in hold.clamps)


def _clamps(plan: JigPlan, hold: Hold, on: str) -> Sentence:
    """Return where the two clamps go, measured as the jig is."""
    if hold.across:
        return say(
            f"Put one clamp each at {{places}} from the zero, below the template, across {on}.",
            places=_middles(hold),
        )
    first = hold.clamps[0]
    middle = (first.near + first.far) / 2
    if plan.kind is JigKind.TEMPLATE:
        if _middles(hold)[0] == _middles(hold)[1]:
            return say(
                f"Put one clamp on each long side of the template, {{middle}} from its centre, {on}.", middle=-middle
            )
        return say(
            f"Put one clamp on each end of the template, {{middle}} from its centre, {on}.", middle=-_middles(hold)[0]
        )
    side = "toward the near long edge" if middle < 0 else "toward the far long edge"
    return say(
        f"Put one clamp each at {{places}} from the zero, {{middle}} from the centre line {side}, {on}.",
        places=_middles(hold),
        middle=abs(middle),
    )


def _clamped(plan: JigPlan, hold: Hold) -> Iterator[Sentence]:
    if plan.has_fence:
        yield say(
            "Lay the part flat on the bench, the edge for the fence {over} or more over the edge of the bench, so "
            "that the fence hangs clear.",
            over=FENCE_THICKNESS + 2.0,
        )
    else:
        yield say("Lay the part flat on the bench.")
    yield _clamps(plan, hold, "on the part below")


def _fences(plan: JigPlan, hold: Hold) -> Iterator[Sentence]:
    yield say("Hold the part upright in the vice, or clamped to the side of the bench, its edge up.")
    if hold.beside:
        yield say(
            "Put the jig on, its fence against the face named on the card. Bring the second fence up to the other "
            "face, so that the template lies on both fences and the part."
        )
        yield _clamps(plan, hold, "both fences")
    else:
        yield say("Put the jig on, its fence against the face named on the card.")
        yield _clamps(plan, hold, "fence and part")


def _board(plan: JigPlan, hold: Hold) -> Iterator[Sentence]:
    many = len(hold.beside) > 1
    yield say(
        f"The part ends short of the clamps. Lay {'a guard board' if not many else 'guard boards'} {{thickness}} thick "
        f"{'at each end of it' if many else 'along its side away from the fence'}, tight against it, and clamp "
        f"{'them' if many else 'it'} to the bench.",
        thickness=hold.part_thickness,
    )
    seam = not many and hold.clamps[0].far > hold.beside[0].far
    yield _clamps(plan, hold, "on the guard boards" if many else f"on the guard board{' and the part' if seam else ''}")


def _backing(plan: JigPlan, hold: Hold) -> Iterator[Sentence]:
    yield say(
        "The part is too narrow for the fence and the vice. Clamp it to a board {length} long, edges flush, and hold "
        "the board upright in the vice.",
        length=hold.pieces[0].length,
    )
    yield say("Put the jig on, its fence against the face named on the card; the template lies on part and board.")
    yield _clamps(plan, hold, "fence, part and board")


def _trough(plan: JigPlan, hold: Hold) -> Iterator[Sentence]:
    floor, cheek, strip, _ = hold.pieces
    between = hold.beside[1].left - hold.beside[0].right
    yield say(
        "Cut the floor {length} x {width} x {thickness}, two cheeks {length} x {cheek} and a strip {strip} x {stop}, "
        "the last three from board as thick as the part, {part}.",
        length=floor.length,
        width=floor.width,
        thickness=floor.thickness,
        cheek=cheek.width,
        strip=strip.length,
        stop=strip.width,
        part=hold.part_thickness,
    )
    yield say(
        "Screw the cheeks along both long edges of the floor, {between} apart: room for the stop, {stop}, the part, "
        "{wide}, and the wedges, {wedges}.",
        between=between,
        stop=STOP_THICKNESS,
        wide=_wide(hold.part),
        wedges=WEDGES,
    )
    yield say(
        "Screw the strip along the first cheek, one end {short} short of the end that the jig sits on, to leave room "
        "for the jig's stop.",
        short=floor.length - strip.length,
    )
    if hold.across:
        yield say("Hold the trough upright in the vice. Lay the part against the strip, its end flush with the cheeks.")
    else:
        yield say(
            "Clamp the trough flat on the bench. Lay the part against the strip, its face up; where a fence hangs "
            "over its end or edge, let it overhang the floor by {over}.",
            over=FENCE_THICKNESS + 2.0,
        )
    yield say("Push the two wedges in from both ends between the part and the second cheek, hand tight.")
    yield _clamps(plan, hold, "fence, cheek and floor" if hold.across else "on the cheeks")


def _wide(area: Area) -> float:
    return area.right - area.left
