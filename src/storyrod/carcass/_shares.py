"""How a clear length is shared out among neighbouring openings and the panels that part them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from storyrod.carcass._making import Making
from storyrod.carcass._shell import LEAST_INSIDE
from storyrod.carcass._sums import Term, figure, share_told
from storyrod.faults import WayOut
from storyrod.measure.tolerance import EXACT
from storyrod.model.job import Opening, Split


@dataclass(frozen=True, slots=True)
class Share:
    """One opening's part of the length, with the sum that made it."""

    size: float
    told: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sharing:
    """A length `total` to be shared by the openings in `node`, parted by `partings` panels of thickness `thick`."""

    making: Making
    node: Opening
    total: float
    partings: int
    thick: float

    @property
    def field(self) -> str:
        """The path of the rows or columns."""
        return f"{self.node.field}.{self.node.split}"

    @property
    def word(self) -> str:
        """What a maker gives: the height of a row, the width of a column."""
        return "height" if self.node.split is Split.ROWS else "width"

    def place(self, node: Opening) -> str:
        """The path of what says the size of an opening: its own, or its front's."""
        return f"{node.field}.{'front_height' if node.front_height is not None else self.word}"

    def written(self, node: Opening, size: float) -> float:
        """What is to be written there for the opening to have a size: a front is so much higher than its opening."""
        return size if node.front_height is None or node.size is None else size + node.front_height - node.size

    @property
    def clear(self) -> float:
        """What is left between the parting panels."""
        return self.total - self.partings * self.thick

    @property
    def given(self) -> float:
        """What the openings with a size of their own take."""
        return sum(n.size for n in self.node.inside if n.size is not None)

    @property
    def parts(self) -> float:
        """How many parts the rest is shared by."""
        return sum(n.parts for n in self.node.inside if n.size is None)


def share_out(making: Making, node: Opening, total: float, thick: float) -> tuple[Share, ...] | None:
    """Return each opening's size in turn, or None after noting why they cannot be."""
    partings = sum(n.parted for n in node.inside[:-1])
    sharing = _Sharing(making=making, node=node, total=total, partings=partings, thick=thick)
    told_so_far = len(making.faults)
    _check_each(sharing)
    if len(making.faults) == told_so_far:
        _check_sum(sharing)
    if len(making.faults) != told_so_far:
        return None
    rest = sharing.clear - sharing.given
    return tuple(_share(sharing, n, rest) for n in node.inside)


def _share(sharing: _Sharing, node: Opening, rest: float) -> Share:
    unit = sharing.making.job.unit
    if node.size is not None:
        return Share(node.size, figure(node.size, unit))
    sizes = tuple(Term(-1, n.size) for n in sharing.node.inside if n.size is not None)
    terms = (Term(-sharing.partings, sharing.thick), *sizes)
    return Share(rest * node.parts / sharing.parts, share_told(unit, sharing.total, terms, node.parts, sharing.parts))


def _check_each(sharing: _Sharing) -> None:
    making = sharing.making
    for n in sharing.node.inside:
        if n.size is None and n.parts > 0:
            continue
        size = n.parts if n.size is None else n.size
        if n.size is None or size < LEAST_INSIDE:
            making.fault(
                "opening-too-small",
                f"{n.field}.{sharing.word}",
                found=f"{size:g} parts" if n.size is None else making.mm(size),
                allowed="parts above 0" if n.size is None else f"at least {making.least(LEAST_INSIDE)}",
                do="Give it more room, or leave it out.",
                ways=() if n.size is None else (making.at_least(LEAST_INSIDE), WayOut(field="", value=None)),
            )
        elif size > sharing.clear + EXACT:
            making.fault(
                "opening-too-large",
                sharing.place(n),
                found=making.mm(size) + (" behind that front" if n.front_height is not None else ""),
                allowed=f"at most {making.most(max(0.0, sharing.clear))}, all there is between the panels",
                do="Make it smaller, or the case larger.",
                ways=(making.at_most(sharing.written(n, sharing.clear)), WayOut(field="", value=None)),
            )


def _check_sum(sharing: _Sharing) -> None:
    making, given, clear = sharing.making, sharing.given, sharing.clear
    over = given - clear
    shared = [n for n in sharing.node.inside if n.size is None]
    least = LEAST_INSIDE * sharing.parts / min((n.parts for n in shared), default=1.0)
    panels = (
        f" and {sharing.partings} panel{'s' * (sharing.partings > 1)} of {making.mm(sharing.thick)}"
        if sharing.partings
        else ""
    )
    found = f"{_listed(sharing)}{panels}, {making.mm(given + sharing.partings * sharing.thick)} in all"
    if over > EXACT or (shared and clear - given < least - EXACT):
        short = over if not shared else least - (clear - given)
        if _plinth_takes_it(sharing, short):
            return
        making.fault(
            f"{sharing.node.split}-too-much",
            sharing.field,
            found=found,
            allowed=f"{making.mm(sharing.total)} clear"
            + (f", of which {making.mm(least)} must be left for those without a {sharing.word}" if shared else ""),
            do=f"Take {making.mm(short)} off in all, or make the case larger.",
            ways=tuple(_less(sharing, short)),
        )
    elif not shared and over < -EXACT:
        making.fault(
            f"{sharing.node.split}-too-little",
            sharing.field,
            found=found,
            allowed=f"{making.mm(sharing.total)} clear",
            do=f"Add {making.mm(-over)} in all, or leave the {sharing.word} out of one of them so that it takes "
            "the rest.",
            ways=tuple(_more(sharing, -over)),
        )


TALL_PLINTH = 200.0
USUAL_PLINTH = 60.0
"""A plinth higher than the first (mm) is blamed before the rows above it, where it can give what they lack and stays as
high as the second. Common practice, no source."""


def _plinth_takes_it(sharing: _Sharing, short: float) -> bool:
    """Tell a plinth that takes the room of the rows, where it is one that nobody makes so high."""
    making, plinth = sharing.making, sharing.making.case.plinth
    if plinth is None or sharing.node.split is not Split.ROWS or plinth.height <= TALL_PLINTH:
        return False
    most = plinth.height - short
    if most < USUAL_PLINTH:
        return False
    making.fault(
        "plinth-height",
        f"{plinth.field}.height",
        found=f"{making.mm(plinth.height)}, which leaves {making.mm(sharing.total)} for {_listed(sharing)}",
        allowed=f"at most {making.most(most)} with these",
        do="Make the plinth lower, the rows lower, or the case higher.",
        ways=(making.at_most(most), *_less(sharing, short)),
    )
    return True


def _less(sharing: _Sharing, short: float) -> Iterator[WayOut]:
    """Yield ways to find the room that is lacking: the largest openings smaller, or the case larger by as much.

    Where every opening has a size of its own, they must fill the room to the last bit: one is left out to take the
    rest, or made exactly as large as is left.
    """
    making, case = sharing.making, sharing.making.case
    is_exact = all(n.size is not None for n in sharing.node.inside)
    sized = [(n.size, n) for n in sharing.node.inside if n.size is not None and n.size - short >= LEAST_INSIDE]
    for size, node in sorted(sized, key=lambda s: -s[0]):
        place, fitting = sharing.place(node), sharing.written(node, size - short)
        if is_exact:
            yield WayOut(field=place, value=None)
            yield WayOut(field=place, value=fitting, is_length=True)
        else:
            yield making.at_most(fitting, place)
    side, whole = ("height", case.height) if sharing.node.split is Split.ROWS else ("width", case.width)
    if case.fits is None:
        place = making.path(side)
        yield (
            WayOut(field=place, value=whole + short, is_length=True)
            if is_exact
            else making.at_least(whole + short, place)
        )


def _more(sharing: _Sharing, spare: float) -> Iterator[WayOut]:
    """Yield ways to take up the room that is left: an opening that takes the rest, or the largest one larger."""
    sized = sorted(((n.size, n) for n in sharing.node.inside if n.size is not None), key=lambda s: -s[0])
    for _, node in sized[-1:]:
        yield WayOut(field=sharing.place(node), value=None)
    for size, node in sized[:1]:
        yield WayOut(field=sharing.place(node), value=sharing.written(node, size + spare), is_length=True)


def _listed(sharing: _Sharing) -> str:
    sizes = [sharing.making.mm(n.size) for n in sharing.node.inside if n.size is not None]
    return (
        f"{sharing.node.split} of {', '.join(sizes)}" if sizes else f"{len(sharing.node.inside)} {sharing.node.split}"
    )
