"""Our end: starts a child that sets one thing in type, since the typesetter's memory creeps and its work takes long.

The pickled question goes to its standard input, the pickled answer comes on its output. Both ends are ours, on one
machine, and nothing else is read.
"""

from __future__ import annotations

import pickle
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from storyrod.adapters.printing._downloads import Texts, made_of
from storyrod.faults import Fault, JobError
from storyrod.model.as_built import Slip
from storyrod.model.rescue import Way
from storyrod.planning import Plan
from storyrod.telling.purposes import Wishes

MOST_S: Final = 300.0

_ONE_AT_A_TIME: Final = threading.Lock()


def made_apart(plan: Plan, name: str, texts: Texts, wishes: Wishes) -> bytes:
    """Return a printed file, or everything in one archive, made in a child process; one at a time.

    Raises:
        JobError: the plan says why it cannot be made, or the child was ended.
    """
    return _apart(partial(made_of, plan, name, texts, wishes))


def rescue_sheet_apart(plan: Plan, way: Way, slips: Sequence[Slip], *, date: str) -> bytes:
    """Return the rescue sheet of a way out, made in a child process like every other paper.

    Raises:
        JobError: the child was ended.
    """
    from storyrod.adapters.packet import make_rescue_sheet

    return _apart(partial(make_rescue_sheet, plan, way, slips, date=date))


def _apart(make: Callable[[], bytes]) -> bytes:
    question = pickle.dumps(make)
    with _ONE_AT_A_TIME:
        try:
            child = subprocess.run(
                [sys.executable, "-m", "storyrod.adapters.printing._child"],
                input=question,
                stdout=subprocess.PIPE,
                timeout=MOST_S,
                check=False,
            )
        except subprocess.TimeoutExpired:
            raise JobError(_broken(f"no answer after {MOST_S:.0f} seconds")) from None
    if child.returncode != 0:
        raise JobError(_broken("the process that prints was ended"))
    answer = pickle.loads(child.stdout)  # noqa: S301  # written by our own child
    if isinstance(answer, bytes):
        return answer
    raise JobError(*answer)


def _broken(found: str) -> Fault:
    return Fault(
        code="print-child",
        field="",
        found=found,
        allowed="a machine with room to print",
        do="Try it again; if it stays so, print fewer parts, or use `storyrod plan`.",
    )
