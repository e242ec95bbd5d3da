"""Which method holds which joint: by its class, or as the maker says for that one joint."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

from storyrod.faults import Fault, WayOut, joined
from storyrod.joinery._codes import GLUED_BUTT, GROOVE, SCREWED_BACK
from storyrod.joinery._contacts import Contact
from storyrod.model.carcass import BuiltCase
from storyrod.model.job import BackKind, Job, JointClass, JointOverride, Spread
from storyrod.model.joint import JointKind
from storyrod.model.method import Method
from storyrod.model.panel import Role
from storyrod.model.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Chosen:
    """The method of one joint, and where the maker chose it."""

    method: Method
    field: str
    spread: Spread


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like `word`, or None where none is."""
    plain = {k.casefold(): k for k in known}
    close = difflib.get_close_matches(word.casefold(), list(plain), n=1, cutoff=0.6)
    return plain[close[0]] if close else None


class Chooser:
    """Chooses for the joints of one case; `faults` gathers what is wrong with the choices themselves."""

    def __init__(self, job: Job, built: BuiltCase, workshop: Workshop, methods: dict[str, Method]) -> None:
        self.job = job
        self.built = built
        self.methods = methods
        self.defaults = {_plain(word): code for word, code in workshop.default_methods}
        self.faults: list[Fault] = []
        self.overrides = {
            frozenset(o.between): o for o in job.overrides if o.case == built.case.code and self._names_known(o)
        }
        self.used: set[frozenset[str]] = set()
        self._chosen: dict[JointClass, Chosen | None] = {}

    def _names_known(self, override: JointOverride) -> bool:
        names = [p.name for p in self.built.panels]
        unknown = [n for n in override.between if n not in names]
        for name in unknown:
            near = nearest(name, names)
            self.faults.append(
                Fault(
                    code="unknown-panel",
                    field=joined(override.field, "between"),
                    found=f'"{name}"',
                    allowed=f"the name of a panel of case {self.built.case.code}: {', '.join(names)}",
                    do=f'Did you mean "{near}"?' if near else "Write the name as the packet prints it.",
                )
            )
        return not unknown

    def choose(self, contact: Contact) -> Chosen | None:
        """Return the method of a joint, or None after noting why there is none."""
        pair = frozenset((contact.receiving.panel.name, contact.entering.panel.name))
        override = self.overrides.get(pair)
        if override is None:
            return self._by_class(contact)
        self.used.add(pair)
        spread = override.spread or self.job.spread
        if override.method is None:
            usual = self._by_class(contact)
            return None if usual is None else Chosen(usual.method, usual.field, spread)
        method = self._known(override.method, joined(override.field, "method"))
        return None if method is None else Chosen(method, joined(override.field, "method"), spread)

    def note_unused(self, contacts: Iterable[Contact]) -> None:
        """Note every override that names two panels without a joint between them."""
        names = [(c.receiving.panel.name, c.entering.panel.name) for c in contacts]
        for pair, override in self.overrides.items():
            if pair in self.used:
                continue
            first, second = override.between
            mates = [a if b == first else b for a, b in names if first in {a, b}]
            self.faults.append(
                Fault(
                    code="no-such-joint",
                    field=joined(override.field, "between"),
                    found=f'"{first}" and "{second}", which do not meet in a joint',
                    allowed=f"{first} has joints with {', '.join(mates)}" if mates else f"{first} has no joints",
                    do="Name the two panels of a joint as the packet prints them.",
                    ways=(WayOut(field=override.field, value=None),),
                )
            )

    def _by_class(self, contact: Contact) -> Chosen | None:
        code = _settled_by_geometry(contact, self.built)
        if code is not None:
            field = self.built.case.back.field if contact.kind is JointKind.BACK else self.built.case.drawers.field
            method = self._known(code, field)
            return None if method is None else Chosen(method, field, self.job.spread)
        chosen = self._of_class(JointClass(contact.kind.value))
        if chosen is not None and contact.kind is JointKind.BACK and contact.entering.panel.role is Role.BACK:
            return self._between(contact, chosen)
        return chosen

    def _between(self, contact: Contact, chosen: Chosen) -> Chosen | None:
        """A back fitted between panels is held like a mid-panel joint, unless its own method can do that.

        A board too thin for that method is glued in, and a caution tells it: what a maker chooses for the back goes
        first, so the joint can always be made otherwise.
        """
        if JointClass.MID_PANEL in chosen.method.classes or self._said(JointClass.BACK):
            return chosen
        usual, glue = self._of_class(JointClass.MID_PANEL), self.methods.get(GLUED_BUTT)
        if usual is None or usual.method.size_for(contact.thinner) is not None:
            return usual
        if glue is None or glue.size_for(contact.thinner) is None:
            return usual
        return Chosen(glue, joined(self.job.methods.field, "back"), self.job.spread)

    def _said(self, kind: JointClass) -> bool:
        case = self.built.case
        return bool((case.methods and case.methods.of(kind)) or self.job.methods.of(kind))

    def _of_class(self, kind: JointClass) -> Chosen | None:
        if kind not in self._chosen:
            self._chosen[kind] = self._look_up(kind)
        return self._chosen[kind]

    def _look_up(self, kind: JointClass) -> Chosen | None:
        case, word = self.built.case, _plain(kind.value).replace(" ", "_")
        field = joined(self.job.methods.field, word)
        code = self.job.methods.of(kind) or self.defaults.get(_plain(kind.value))
        if case.methods is not None and case.methods.of(kind):
            field, code = joined(case.methods.field, word), case.methods.of(kind)
        if not code:
            self.faults.append(
                Fault(
                    code="no-method",
                    field=field,
                    found=f"no method for {kind.value} joints",
                    allowed=", ".join(m.code for m in self.methods.values() if kind in m.classes) or "no method here",
                    do="Choose a method for this class of joint, in the job or in the workshop's defaults.",
                    ways=tuple(WayOut(field=field, value=m.code) for m in self.methods.values() if kind in m.classes),
                )
            )
            return None
        method = self._known(code, field)
        return None if method is None else Chosen(method, field, self.job.spread)

    def _known(self, code: str, field: str) -> Method | None:
        method = self.methods.get(code)
        if method is None:
            near = nearest(code, self.methods)
            self.faults.append(
                Fault(
                    code="unknown-method",
                    field=field,
                    found=f'"{code}"',
                    allowed=f"a method of the workshop: {', '.join(self.methods)}",
                    do=f'Did you mean "{near}"?' if near else "Choose one of these, or add the method to the workshop.",
                    ways=(*((WayOut(field=field, value=near),) if near else ()), WayOut(field=field, value=None)),
                )
            )
        return method


def _settled_by_geometry(contact: Contact, built: BuiltCase) -> str | None:
    """Return the method that follows from how the carcass is made, whatever is chosen for the class."""
    in_groove = contact.let_in > 0 and not (
        contact.receiving.panel.role is Role.BACK and built.case.back.kind is BackKind.REBATED
    )
    if in_groove:
        return GROOVE
    against_bottom = Role.DRAWER_BOTTOM in {contact.receiving.panel.role, contact.entering.panel.role}
    return SCREWED_BACK if against_bottom else None


def _plain(word: str) -> str:
    return word.replace("-", " ").replace("_", " ").casefold()
