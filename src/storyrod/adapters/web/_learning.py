"""Learned times taken into the workshop file."""

from __future__ import annotations

from storyrod.adapters.files.editing import Change
from storyrod.adapters.web._bench_matter import learned_of
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._worked import version_of
from storyrod.adapters.web._workshops import WorkshopShelf, tell_users
from storyrod.faults import Fault, JobError
from storyrod.model.work import Minutes


def take_in(desk: Desk, shelf: WorkshopShelf, name: str, act: str) -> str:
    """Write the learned time of an act into the job's workshop file; return what was done, in words.

    Raises:
        JobError: the job has no workshop file of its own, or nothing was timed of the act.
    """
    from storyrod.adapters.files.editing import edit_job
    from storyrod.adapters.log import note_taken

    worked = desk.job(name)
    if worked.read is None or worked.plan is None:
        raise JobError(*worked.faults)
    if worked.read.workshop_path is None:
        raise _refused(
            "workshop",
            "the plain workshop that comes with storyrod",
            "a workshop file of your own",
            "Make one on the page of the workshop, and name it in the job.",
        )
    told = learned_of(desk.log(), worked.plan.workshop, act)
    if told is None:
        raise _refused("act", f'"{act}"', "an act of the workshop that was timed", "Load the page again.")
    now = Minutes(low=round(told.now.low, 2), usual=round(told.now.usual, 2), high=round(told.now.high, 2))
    file = worked.read.workshop_path.stem
    text = shelf.text(file)
    changes = _time_changes(text, act, {"low": now.low, "usual": now.usual, "high": now.high})
    shelf.save(file, edit_job(text, changes), base=version_of(text))
    note_taken(desk.log(), act, now)
    tell_users(desk, file)
    return f"{file}.toml now says {told.now.usual:.2f} min for this: {act}."


def _time_changes(text: str, act: str, minutes: dict[str, float]) -> list[Change]:
    """Return the changes that write an act's minutes: in their place where the file has the act already."""
    from storyrod.adapters.files.editing import parsed

    times = parsed(text).get("times", {})
    if act in times:
        return [Change(path=f'times."{act}".{name}', value=value) for name, value in minutes.items()]
    return [Change(path=f'times."{act}"', value={**minutes})]


def _refused(field: str, found: str, allowed: str, do: str) -> JobError:
    return JobError(Fault(code="learn", field=field, found=found, allowed=allowed, do=do))
