"""Methods for a random job: only those that have a size for its boards and suit the place they are chosen for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from hypothesis import strategies as st

from storyrod.model.job import Back, BackKind, Board, JointClass, MethodChoice, Plinth
from storyrod.model.method import Method
from storyrod.model.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Stock:
    """The boards of a random job, as its cases take them."""

    carcass: Board
    thin: Board
    drawer: Board

    def back(self, back: Back) -> Board:
        """Return the board of a back that is there."""
        return next(b for b in (self.carcass, self.thin, self.drawer) if b.code == back.board)


LOW: Final = 80.0
"""A plinth lower than this (mm) is held as the workshop holds it: some connectors find no room in it."""


@dataclass(frozen=True, slots=True)
class Held:
    """What of a case is held by the method that is drawn: its back, and a plinth if it has one."""

    back: Back
    plinth: Plinth | None


def choices(
    shop: Workshop, stock: Stock, held: Iterable[Held], field: str, favourite: str | None = None
) -> st.SearchStrategy[MethodChoice]:
    """Draw which method holds which class of joint in these cases: one a class, or none said.

    A maker's favourite holds whatever it suits.
    """
    t, cases = stock.carcass.measured, tuple(held)
    each = [_for_back(shop, stock, c.back) for c in cases if c.back.kind is not BackKind.NONE]
    of_backs = [None, *(m.code for m in shop.methods if JointClass.BACK in m.classes)]
    backs = [code for code in of_backs if all(code in suits for suits in each)]

    def one(joint_class: JointClass, thickness: float) -> st.SearchStrategy[str | None]:
        suits = [m.code for m in shop.methods if _fits(m, joint_class, thickness) and _ends(m, joint_class)]
        return st.just(favourite) if favourite in suits else st.sampled_from([None, *suits])

    is_low = any(c.plinth is not None and c.plinth.height < LOW for c in cases)
    return st.builds(
        MethodChoice,
        corner=one(JointClass.CORNER, t),
        mid_panel=one(JointClass.MID_PANEL, t),
        plinth=st.none() if is_low else one(JointClass.PLINTH, t),
        back=st.sampled_from(backs or [None]),
        drawer_box=one(JointClass.DRAWER_BOX, stock.drawer.measured),
        field=st.just(field),
    )


def _fits(method: Method, joint_class: JointClass, thickness: float) -> bool:
    return joint_class in method.classes and method.size_for(thickness) is not None


def _ends(method: Method, joint_class: JointClass) -> bool:
    """Whether it can stand where panels of this class end: what enters is made for corners, and none is a back's."""
    if joint_class is JointClass.MID_PANEL:
        return True
    enters = any(s.enters > 0 for s in method.sizes)
    return not ((enters and JointClass.CORNER not in method.classes) or _is_for_backs(method))


def _is_for_backs(method: Method) -> bool:
    """Whether it holds a back or a bottom and nothing else."""
    return JointClass.BACK in method.classes and JointClass.CORNER not in method.classes


def _for_back(shop: Workshop, stock: Stock, back: Back) -> list[str | None]:
    """Return what may hold a back of this kind; None stands for what the workshop holds backs with, where that fits."""
    thinner = min(stock.back(back).measured, stock.carcass.measured)
    fitting = [m for m in shop.methods if _fits(m, JointClass.BACK, thinner)]
    match back.kind:
        case BackKind.GROOVED:  # the groove is the carcass's making; an edge without one is held as the workshop does
            suits = [m.code for m in fitting if _is_for_backs(m) and m.whole_line and back.in_top and back.in_base]
            return [None, *suits]
        case BackKind.BETWEEN:  # it stands as a shelf does
            return [None, *(m.code for m in fitting if JointClass.MID_PANEL in m.classes)]
    codes = [m.code for m in fitting if not (_is_for_backs(m) and m.whole_line)]
    usual = dict(shop.default_methods).get(JointClass.BACK.value)
    return [None, *codes] if usual is None or usual in codes else [*codes]
