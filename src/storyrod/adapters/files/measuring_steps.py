"""The steps of the guided form for a connector: what each asks, and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from storyrod.adapters.files.measuring_words import cut_questions
from storyrod.adapters.files.workshop_words import Asked, FieldAsked, fields_of
from storyrod.model.job import JointClass
from storyrod.model.method import Cut, CutPlace, Method, SizeForBoard, StationRules, Work
from storyrod.model.workshop import Price

type Answers = Mapping[str, str]


def _by_name(table: type) -> dict[str, FieldAsked]:
    return {a.name: a for a in fields_of(table)}


METHOD: Final = _by_name(Method)
RULES: Final = _by_name(StationRules)
WORK: Final = _by_name(Work)
SIZES: Final = _by_name(SizeForBoard)
CUT: Final = _by_name(Cut)
PRICE: Final = tuple(a for a in fields_of(Price) if a.name in {"pack", "price"})
CLASSES: Final = {c: f"class.{c.name.lower()}" for c in JointClass}


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One field of the guided form: the key of its answer, and what is asked."""

    key: str
    asked: FieldAsked


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the guided form: its key, what it asks in a line, why, and its questions."""

    key: str
    title: str
    about: str
    questions: tuple[Question, ...] = ()

    @property
    def short(self) -> str:
        """Its title in a word or two."""
        return _SHORT[self.key]


_SHORT: Final = {
    "kind": "Kind",
    "face": "Face",
    "edge": "Edge",
    "along": "Along the joint",
    "home": "Going home",
    "cost": "What it takes",
    "keep": "Keep",
}


def steps_of(answers: Answers) -> tuple[Step, ...]:
    """Return the steps that a connector's kind asks for, in order."""
    line = answers.get("whole_line", "") != ""
    steps = [Step(key="kind", title="What is it?", about="Choose the one that works most like yours."), _face(answers)]
    if not line:
        steps += [_edge(answers), _along()]
    steps += [_home(answers), _cost(answers)]
    about = "Check it. It goes into your workshop file as you see it below; then any job can choose it."
    return (*steps, Step(key="keep", title="Check it and keep it", about=about))


def cuts_in(answers: Answers, letter: str) -> tuple[tuple[int, str, str], ...]:
    """Return the number, kind and place of each cut in the receiving (`r`) or entering (`e`) board."""
    found = []
    for i in range(8):
        kind = answers.get(f"{letter}{i}.kind", "")
        if kind:
            found.append((i, kind, answers.get(f"{letter}{i}.place", "") or CutPlace.JOINT.value))
    return tuple(found)


def _cuts(answers: Answers, letter: str) -> tuple[Question, ...]:
    found: list[Question] = []
    cuts = cuts_in(answers, letter)
    for i, kind, place in cuts:
        named = answers.get(f"{letter}{i}.name", "") if len(cuts) > 1 else ""
        for field, title, about in cut_questions(kind, place, several=len(cuts) > 1):
            said = f"{named}: {title}" if named else title
            found.append(_question(f"{letter}{i}.{field}", CUT[field], said, about))
    return tuple(found)


def _question(key: str, asked: FieldAsked, title: str = "", about: str = "", *, needed: bool = False) -> Question:
    return Question(
        key=key,
        asked=replace(asked, title=title or asked.title, about=about or asked.about, needed=needed or asked.needed),
    )


def _face(answers: Answers) -> Step:
    boards: tuple[Question, ...] = (
        _question("low", SIZES["low"], "for boards from", "The thinnest board, as measured, that it suits."),
        _question("high", SIZES["high"], "to under", "Thicker boards need another size, or another connector."),
    )
    name = _question("name", METHOD["name"], "what you call it", "The name by which a job chooses it.", needed=True)
    if answers.get("edit"):
        name = _question(
            "name", METHOD["name"], "what the packet calls it", "Jobs choose it by its code, which does not change."
        )
    boards = (name, *boards)
    if answers.get("whole_line"):
        whole = (
            _question("enters", SIZES["enters"], "how deep it goes in", "A quarter to a third of the board is usual."),
            _question("width_slack", SIZES["width_slack"], "wider than the board by", "For glue; 0.1 is usual."),
            _question("stop_short", SIZES["stop_short"], "stops short of the front edge by", "Empty: it runs through."),
        )
        return Step(
            key="face", title="How deep is it let in?", about="The whole edge goes in.", questions=boards + whole
        )
    about = "The board whose face is cut. Measure the connector with callipers, then a cut that fits it, in scrap."
    return Step(key="face", title="What is cut in the face?", about=about, questions=boards + _cuts(answers, "r"))


def _edge(answers: Answers) -> Step:
    cuts = _cuts(answers, "e")
    in_both = all(any(p == "joint" for _, _, p in cuts_in(answers, letter)) for letter in "re")
    length = "Of a connector that lies in both boards: the two depths must leave room for it. Empty where none does."
    more = (_question("connector_length", SIZES["connector_length"], "length of the connector", length),)
    about = "The board whose edge or end is cut. Both halves share one axis, in the middle of this board."
    return Step(key="edge", title="What is cut in the edge?", about=about, questions=cuts + (more if in_both else ()))


def _along() -> Step:
    words = {
        "end": ("first one from the end", "The usual place, where there is room."),
        "end_min": ("never nearer an end than", "Any nearer and the board would split, or the cut would break out."),
        "pitch": ("at most this far apart", "From one to the next."),
        "gap_min": ("at least this far apart", "So that two cuts do not meet."),
        "least": ("how many at least", "A joint with only one can twist."),
        "single": (
            "one in the middle will do where there is no room for that many",
            "For a narrow part, such as a plinth.",
        ),
    }
    questions = tuple(_question(f"rules.{n}", RULES[n], *words[n]) for n in words)
    about = (
        "Every joint is filled from its front or lower end by these rules, so that one set of stops serves them all."
    )
    return Step(key="along", title="Where does it go along the joint?", about=about, questions=questions)


def _home(answers: Answers) -> Step:
    flag = METHOD["glue"]
    names = {
        JointClass.CORNER: "corners",
        JointClass.MID_PANEL: "shelves and dividers",
        JointClass.PLINTH: "plinths",
        JointClass.BACK: "backs",
        JointClass.DRAWER_BOX: "drawer boxes",
    }
    questions = [_question("motion", METHOD["motion"], "the board goes home", "`free`: only its fixing places it.")]
    if not any(kind == "keyhole" for _, kind, _ in cuts_in(answers, "r")):
        about = "How far it slides once it is in; leave empty if it does not."
        questions.append(_question("slide_travel", METHOD["slide_travel"], "and slides", about))
    flags = {
        "glue": ("it needs glue", ""),
        "clamps": ("it needs clamps", ""),
        "undone": ("it can be undone", ""),
        "held_by_screws": ("screws alone hold it", ""),
    }
    questions += [_question(n, METHOD[n], title, " ") for n, (title, _) in flags.items()]
    questions += [_question(key, flag, f"serves {names[c]}", " ") for c, key in CLASSES.items()]
    questions += [
        _question("shows", METHOD["shows"], "what shows", "Such as: nothing; screw heads outside."),
        _question(
            "step_mm", METHOD["step_mm"], "usual step across the joint (+-)", "0.15 is usual with a jig, 0.5 by hand."
        ),
        _question(
            "along_mm", METHOD["along_mm"], "usual error along the joint (+-)", "0.15 to 0.5; 2.5 for a biscuit."
        ),
    ]
    about = "The order of assembly follows from this, and methods are compared by it."
    return Step(key="home", title="How does it go home?", about=about, questions=tuple(questions))


def _cost(answers: Answers) -> Step:
    item = FieldAsked(name="item", title="", about="", allowed="text", kind=Asked.TEXT)
    each = FieldAsked(name="each", title="", about="", allowed="a whole number", kind=Asked.NUMBER)
    questions: list[Question] = []
    if not answers.get("whole_line"):
        questions += [
            _question("c0.item", item, "what is bought", "As the shop calls it; its name unless set."),
            _question("c0.each", each, "how many at each place", "1 unless set."),
            *(_question(f"price.{a.name}", a, *_PRICE_WORDS[a.name]) for a in PRICE),
        ]
    shown = ("setup_min", "per_joint_min", "close_min") if answers.get("whole_line") else tuple(WORK)
    questions += [_question(f"work.{n}", WORK[n], *_WORK_WORDS[n]) for n in WORK if n in shown]
    questions += [
        _question("needs", METHOD["needs"], "tools and cutters it needs", "Kinds, with commas between them."),
        _question("note", METHOD["note"], "what to watch for", "It is printed where the method is used."),
    ]
    about = "Minutes and money, to compare it with the others. Your own log corrects the minutes later."
    return Step(key="cost", title="What does it take?", about=about, questions=tuple(questions))


_PRICE_WORDS: Final = {
    "pack": ("how many in a pack", "Leave empty if you do not know."),
    "price": ("price of a pack", "Leave empty if you do not know."),
}
_WORK_WORDS: Final = {
    "setup_min": ("minutes to set up", "Once a run: jig, stop, trial cut."),
    "per_station_receiving_min": ("minutes a place in the face", "Mark, place and cut one."),
    "per_station_entering_min": ("minutes a place in the edge", "Mark, place and cut one."),
    "fit_min": ("minutes to fit one connector", "Put it in, with glue where it has it."),
    "per_joint_min": ("minutes a joint", "Once a joint: glue, clamps, cleaning off."),
    "close_min": ("minutes to close a joint", "At assembly; 0.9 is usual."),
}
