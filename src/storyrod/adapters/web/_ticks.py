"""Ticks and the clock of the bench, as open pages see them: the last word on every thing of a job, and what is kept.

Several tablets work on one job, some of them away for a while. Each tick has a uid of the tablet's making, so that
sending it again adds nothing; the tick made last counts, not the one that arrived last. Every answer brings what a
page has not heard yet, counted by the rows of the log.
"""

from __future__ import annotations

import contextlib
import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from storyrod.faults import JobError

if TYPE_CHECKING:
    from storyrod.adapters.log import Tick
    from storyrod.adapters.log.bench import Made, Stretch
    from storyrod.adapters.web._desk import Desk
    from storyrod.adapters.web._worked import Worked
    from storyrod.planning import Plan
    from storyrod.telling.things import Thing  # the log brings a library with it: loaded when first asked for


from storyrod.adapters.web._ticks_done import rough_shares, shares_on
from storyrod.adapters.web._ticks_sent import (
    listed,
    pairs_of,
    part_uid,
    seconds_of,
    text_of,
    uid_of,
    unknown_words,
    whole_of,
)
from storyrod.adapters.web._ticks_words import BenchCards, Words, bench_cards

PROMPT_S: Final = 3.0
"""A tick that arrives so soon was made now: it counts after every earlier word, whatever the clocks say."""

_MOST_KEPT: Final = 24


@dataclass(slots=True, kw_only=True)
class _Sent:
    """Ticks of one message on their way to the disk."""

    job: str
    made: list[Made]
    done: bool = False
    error: Exception | None = None


class TickBook:
    """Reads and keeps ticks for the pages of one app."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._words: dict[str, Words] = {}
        self._cards: OrderedDict[tuple[str, str], BenchCards] = OrderedDict()
        self._shares: dict[str, tuple[object, Mapping[str, float]]] = {}
        self._lock = threading.RLock()
        self._writing = threading.Lock()
        self._gathering = threading.Lock()
        self._gathered: list[_Sent] = []
        self._noted: set[tuple[str, str]] = set()

    # What there is to tick -----------------------------------------------------------------------------------------

    def cards(self, worked: Worked) -> BenchCards:
        """Return the cards of a job's plan, kept as long as the plan is.

        Raises:
            JobError: the job cannot be built so far.
        """
        from storyrod.telling.cards import cards_of

        if worked.plan is None:
            raise JobError(*worked.faults)
        key = (worked.name, worked.plan.version)
        with self._lock:
            known = self._cards.get(key)
        if known is None:
            known = bench_cards(worked.plan.version, worked.ask(cards_of))
            with self._lock:
                self._cards[key] = known
                while len(self._cards) > _MOST_KEPT:
                    self._cards.popitem(last=False)
        return known

    # What was ticked -----------------------------------------------------------------------------------------------

    def words(self, job: str) -> Words:
        """Return the last word on every thing of a job, read up to now; also what other programs wrote.

        Raises:
            JobError: the log cannot be read.
        """
        from storyrod.adapters.log.bench import ticks_after

        log = self._desk.log()
        with self._lock:
            words = self._words.setdefault(job, Words())
            for row, tick in ticks_after(log, job, words.seq):
                key = (tick.thing.id, tick.copy)
                before = words.last.get(key)
                if before is None or tick.at >= before.at:
                    words.last[key] = tick
                words.rows[key] = row
                words.seq = row
                words.first = words.first or row
            return words

    def _as_read(self, job: str) -> Words:
        """Return the last words as far as they were read before; read now where they were not."""
        return self._words.get(job) or self.words(job)

    def renamed(self, old: str, new: str) -> None:
        """Have what was kept of a job belong to its new name, so that another one of the old name has none of it."""
        from storyrod.adapters.log.bench import rename_job

        with self._lock:
            for job in (old, new):
                self._words.pop(job, None)
                self._shares.pop(job, None)
            if self._desk.settings.log.exists():
                with contextlib.suppress(JobError):  # a log that cannot be written to must not hold a job's name
                    rename_job(self._desk.log(), old, new)

    def knows(self, job: str) -> bool:
        """Return whether the log holds ticks or minutes of a job."""
        if not self._desk.settings.log.exists():
            return False
        try:
            return bool(self.words(job).last or self._desk.log().spans(job=job))
        except JobError:
            return False

    # What a page sends ---------------------------------------------------------------------------------------------

    def keep(self, job: str, sent: Mapping[str, Any]) -> dict[str, Any]:
        """Keep what a page sends and return its answer: what is kept, what is refused and why, and every new word.

        The others who have the job open are told. Sending the same again changes nothing.

        Raises:
            JobError: there is no such job, the message is none of our pages', or the log cannot be written.
        """
        from storyrod.adapters.log.bench import keep_stretches

        self._desk.shelf.path(job)
        since = whole_of(sent.get("since", 0), "since")
        who = text_of(sent.get("who", ""), "who")[:40]
        ticks, stretches = listed(sent, "ticks"), listed(sent, "stretches")
        now = self._desk.log().clock()
        with self._lock:
            made, refused = self._made(job, ticks, now, who)
        self._keep_together(_Sent(job=job, made=made))
        for version in {m.version for m in made} - {v for j, v in self._noted if j == job}:
            self._desk.log().note_plan(job, version)
            self._noted.add((job, version))
        with self._lock:
            words = self._as_read(job) if made else self.words(job)  # just read, where something was written
            told, seq, first = words.told(self.things(job), since), words.seq, words.first
        if stretches:
            keep_stretches(self._desk.log(), job, [part for s in stretches for part in self._parts(job, s, now)])
        kept = [m.uid for m in made] + [str(s.get("uid")) for s in stretches]
        return {"kept": kept, "refused": refused, "seq": seq, "first": first, "since": since, "words": told}

    def _keep_together(self, sent: _Sent) -> None:
        """Write ticks to the disk; what other tablets send while one write is under way goes along with the next.

        A disk takes as long to make a hundred rows safe as one: twenty tablets at once wait for two writes, not twenty.
        """
        if not sent.made:
            return
        with self._gathering:
            self._gathered.append(sent)
        with self._writing:
            if not sent.done:
                with self._gathering:
                    together, self._gathered = self._gathered, []
                self._write(together)
        if sent.error is not None:
            raise sent.error
        if not sent.done:  # never acknowledged by mistake
            raise RuntimeError("ticks were neither kept nor refused")

    def _write(self, together: list[_Sent]) -> None:
        for job in dict.fromkeys(s.job for s in together):
            mine = [s for s in together if s.job == job]
            try:
                self._write_of(job, mine)
            except Exception as error:  # noqa: BLE001  # whatever it is: each sender hears of it, and none of another's
                if len(mine) > 1 and not isinstance(error, JobError):
                    for s in mine:
                        self._write([s])
                    continue
                for s in mine:
                    s.error = error

    def _write_of(self, job: str, mine: list[_Sent]) -> None:
        from storyrod.adapters.log.bench import keep_ticks

        before = self._as_read(job).seq
        keep_ticks(self._desk.log(), job, [m for s in mine for m in s.made])
        with self._lock:
            words = self.words(job)
            fresh, seq, first = words.told(self.things(job), before), words.seq, words.first
        for s in mine:
            s.done = True
        if fresh:
            word = {"kind": "tick", "since": before, "seq": seq, "first": first, "words": fresh}
            self._desk.live.tell_from_thread(job, word)

    def _made(
        self, job: str, ticks: list[dict[str, Any]], now: float, who: str
    ) -> tuple[list[Made], list[dict[str, str]]]:
        from storyrod.adapters.log.bench import Made

        made: list[Made] = []
        refused: list[dict[str, str]] = []
        words = self._as_read(job)
        for t in ticks:
            uid = uid_of(t.get("uid"))
            thing, copies = self._thing(job, t)
            copy = whole_of(t.get("copy", 1), "copy")
            if thing is None or not 1 <= copy <= copies:
                refused.append({"uid": uid, "words": unknown_words(t, copy, thing)})
                continue
            at = now - seconds_of(t.get("age_s", 0.0))
            before = words.last.get((thing.id, copy))
            if before is not None and _is_after(words, before, t, at, now):
                at = max(at, before.at)
            version = text_of(t.get("version", ""), "version")[:40]
            done = t.get("done") is not False
            made.append(Made(uid=uid, thing=thing, copy=copy, done=done, at=at, version=version, who=who))
        return made, refused

    def _thing(self, job: str, sent: dict[str, Any]) -> tuple[Thing | None, int]:
        """Return what a tick is of: as the plan has it, or as the page tells it, where its plan is no longer known."""
        from storyrod.telling.things import Thing

        thing_id, version = text_of(sent.get("thing"), "thing"), text_of(sent.get("version", ""), "version")
        known = self._known(job, version)
        if known is not None:
            return known.things.get(thing_id), known.copies.get(thing_id, 0)
        name, content = text_of(sent.get("name", ""), "name"), text_of(sent.get("content", ""), "content")
        key = text_of(sent.get("key", ""), "key")
        return (Thing(id=thing_id, name=name, content=content, key=key) if name and content else None), 10_000

    def things(self, job: str) -> Mapping[str, Thing]:
        """Return what can be ticked in the plan that a job's pages were given last."""
        known = [cards for (name, _), cards in self._cards.items() if name == job]
        return known[-1].things if known else {}

    def _known(self, job: str, version: str) -> BenchCards | None:
        with self._lock:
            known = self._cards.get((job, version))
        if known is None:
            try:
                worked = self._desk.job(job)
                known = self.cards(worked) if worked.plan is not None and worked.plan.version == version else None
            except JobError:
                return None
        return known

    def _parts(self, job: str, sent: dict[str, Any], now: float) -> list[Stretch]:
        """Return a stretch of the clock, given to the acts that were done in it."""
        from storyrod.adapters.log.acts import acts_of, share_out
        from storyrod.adapters.log.bench import Stretch

        uid, version = uid_of(sent.get("uid")), text_of(sent.get("version", ""), "version")[:40]
        minutes, started = seconds_of(sent.get("seconds")) / 60, now - seconds_of(sent.get("age_s", 0.0))
        card_id = text_of(sent.get("card"), "card")[:80]
        ticked = [(text_of(x[0], "ticked"), whole_of(x[1], "ticked")) for x in pairs_of(sent.get("ticked", []))]
        common: dict[str, Any] = {"set_up": card_id, "started": started, "version": version}
        if not ticked:
            return [Stretch(uid=part_uid(uid, 0), act="set up", method="", count=1, minutes=minutes, **common)]
        known = self._known(job, version)
        card = known.card(card_id) if known is not None else None
        plan = self._plan(job, version)
        shared = share_out(minutes, acts_of(plan, card, ticked)) if card is not None and plan is not None else ()
        if not shared:
            name = card.title if card is not None else f"at card {card_id}"
            return [Stretch(uid=part_uid(uid, 0), act=name, method="", count=len(ticked), minutes=minutes, **common)]
        names = [d.act for d, _ in shared]
        note = "" if len(shared) == 1 else f"timed together: {', '.join(dict.fromkeys(names))}"
        return [
            Stretch(uid=part_uid(uid, n), act=d.act, method=d.method, count=d.count, minutes=part, note=note, **common)
            for n, (d, part) in enumerate(shared)
        ]

    def _plan(self, job: str, version: str) -> Plan | None:
        plan = self._desk.job(job).plan
        return plan if plan is not None and plan.version == version else None

    # How far it is -------------------------------------------------------------------------------------------------

    def shares(self, worked: Worked) -> Mapping[str, float]:
        """Return how much of each stage is ticked, 0 to 1, by the stage's key; empty where nothing was ticked.

        Quick enough for every page: where the run of a plan is not worked out yet, only panels, cuts and joints count,
        known by their ids.
        """
        if worked.plan is None or not self._desk.settings.log.exists():
            return {}
        try:
            words = self.words(worked.name)
        except JobError:
            return {}
        if not words.last:
            return {}
        with self._lock:
            cards = self._cards.get((worked.name, worked.plan.version))
            key = (worked.plan.version, words.seq, cards is not None)
            kept = self._shares.get(worked.name)
            if kept is not None and kept[0] == key:
                return kept[1]
            found = shares_on(cards, words) if cards is not None else rough_shares(worked, words)
            self._shares[worked.name] = (key, found)
            return found


def _is_after(words: Words, before: Tick, sent: dict[str, Any], at: float, now: float) -> bool:
    """Return whether a tick counts after the last word on its thing, whatever the clocks say.

    It does where it was just made; where its tablet had heard that word (by its row in the log) when it was made; and
    where the word is of a time that this clock has not come to yet, for then the clock was set back.
    """
    heard = whole_of(sent.get("seen", 0), "seen") >= words.rows[before.thing.id, before.copy]
    return heard or now - at < PROMPT_S or before.at > now
