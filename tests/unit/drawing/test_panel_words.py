"""Where a mark may stand on a panel in a picture: what is left out unseen could not have held it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from storyrod.drawing._panel_words import Sight, is_covered, ways_of
from storyrod.drawing._projection import View
from storyrod.drawing._types import Bounds
from storyrod.measure.space import Box, Point

SIZES = st.tuples(st.floats(3.0, 900.0), st.floats(3.0, 900.0), st.floats(3.0, 900.0))


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    """Return a box somewhere near the origin."""
    low = Point(*draw(st.tuples(*[st.floats(-300.0, 300.0)] * 3)))
    return Box(low, low + Point(*draw(SIZES)))


@given(box=boxes(), others=st.lists(boxes(), max_size=4), size=st.tuples(st.floats(2.0, 200.0), st.floats(2.0, 60.0)))
def test_a_mark_without_room_lies_wholly_on_its_panel_nowhere(
    box: Box, others: list[Box], size: tuple[float, float]
) -> None:
    view = View()
    sight = Sight(box, view.spans(box), [view.spans(o) for o in others], view)
    label = Bounds(left=0.0, bottom=0.0, right=size[0], top=size[1])

    held = [at for at in sight.places() if sight.holds(_about(at, size))]

    assert sight.has_room(label) or not held


@given(box=boxes(), others=st.lists(boxes(), min_size=1, max_size=6))
def test_places_in_sight_are_hidden_by_no_nearer_box(box: Box, others: list[Box]) -> None:
    """Also by none of those that were found to lie beside the piece and are asked no more."""
    view = View()
    nearer = [view.spans(o) for o in others]

    seen = list(Sight(box, view.spans(box), nearer, view).places())
    all_places = list(Sight(box, view.spans(box), [], view).places())

    assert seen == [at for at in all_places if not is_covered(at, nearer, ways_of(view))]


def _about(at: tuple[float, float], size: tuple[float, float]) -> Bounds:
    (x, y), (wide, high) = at, size
    return Bounds(left=x - wide / 2, right=x + wide / 2, bottom=y - high / 2, top=y + high / 2)
