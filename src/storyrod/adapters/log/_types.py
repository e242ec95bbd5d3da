"""What is kept at the bench, as plain frozen values. Moments are seconds since 1970 (UTC)."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.telling.things import Thing


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """The last word on one thing of one copy of a case: done, or not."""

    thing: Thing
    copy: int
    done: bool
    at: float
    version: str
    who: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A tick that no longer holds, since the new plan wants the same thing done otherwise."""

    tick: Tick
    now: Thing

    def __str__(self) -> str:
        return f"{self.tick.thing.name}: done as {self.tick.thing.content}, now {self.now.content}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedOver:
    """What becomes of the ticks of a job when it is planned anew."""

    held: tuple[Tick, ...]
    changed: tuple[Changed, ...]
    gone: tuple[Tick, ...]

    def lines(self) -> tuple[str, ...]:
        """Return it in words: how many hold, and each that does not."""
        told = [f"{len(self.held)} tick{'s' * (len(self.held) != 1)} still hold{'s' * (len(self.held) == 1)}."]
        told += [f"No longer: {c}." for c in self.changed]
        told += [f"Not in this plan: {t.thing.name}, done as {t.thing.content}." for t in self.gone]
        return tuple(told)


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """One run of the stop-watch: `minutes` for doing `act` `count` times; None while it runs."""

    uid: str
    job: str
    act: str
    method: str
    set_up: str
    panel: str
    count: float
    started: float
    minutes: float | None
    note: str = ""
    keep: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A trial joint: what was read (mm) after setting up."""

    job: str
    set_up: str
    kind: str
    reading: float
    at: float
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A piece on the rack; `length` runs along the grain."""

    code: str
    board: str
    length: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RackEntry:
    """One line of the rack's book: a piece was put on it, or taken off it (`here` false)."""

    uid: str
    offcut: Offcut
    here: bool
    at: float
    job: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescued:
    """What was read out of a damaged log: rows by table, and what could not be read."""

    rows: tuple[tuple[str, int], ...]
    unread: tuple[str, ...]

    def lines(self) -> tuple[str, ...]:
        """Return it in words."""
        told = [f"{table}: {count} rows" for table, count in self.rows]
        return (*told, *(f"could not be read: {words}" for words in self.unread))
