"""What an address asks of printed things, and the maker's own files beside them."""

from __future__ import annotations

from typing import Final

from starlette.requests import Request

from storyrod.adapters.printing import Texts
from storyrod.adapters.web._render import today
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, raise_if_any
from storyrod.model.job import Paper
from storyrod.telling.purposes import Wishes

_MOST_USED: Final = 200


def texts_of(worked: Worked) -> Texts:
    """Return the job file and the workshop file as they are written."""
    from storyrod.adapters.files import packaged_workshop_text

    read = worked.read
    path = read.workshop_path if read is not None else None
    return Texts(
        job_name=f"{worked.name}.toml",
        job=worked.text,
        workshop_name=path.name if path is not None else "workshop.toml",
        workshop=read.workshop_text if read is not None and path is not None else packaged_workshop_text(),
    )


def wishes_of(request: Request) -> Wishes:
    """Return what the address asks of printed things.

    Raises:
        JobError: what it says wrongly, all at once.
    """
    from storyrod.telling.label_papers import CODES

    told, faults = request.query_params, []
    paper, labels, used = told.get("paper", ""), told.get("labels", ""), told.get("used", "") or "0"
    if paper and paper not in set(Paper):
        faults.append(_wrong("paper", paper, ", ".join(Paper)))
    if labels and labels not in CODES:
        faults.append(_wrong("labels", labels, ", ".join(CODES)))
    if not used.isdecimal() or len(used) > 9 or int(used) > _MOST_USED:
        faults.append(_wrong("used", used, f"0 to {_MOST_USED} labels"))
    raise_if_any(faults)
    parts = told.getlist("part")
    return Wishes(
        date=today(),
        parts=tuple(parts) if parts else None,
        paper=Paper(paper) if paper else None,
        labels=labels,
        used=int(used),
        rods=tuple(m.strip() for m in told.get("rods", "").split(",") if m.strip()),
        quote_without=told.get("without") == "yes",
    )


def _wrong(field: str, found: str, allowed: str) -> Fault:
    return Fault(code="sent", field=field, found=f'"{found}"', allowed=allowed, do="Go back and choose again.")
