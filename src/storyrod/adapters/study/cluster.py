"""The engine that spreads a study: Dask distributed, over this machine's cores or a scheduler that runs already.

What is sent is small (the study, the job's tables and the workshop, some ten kilobytes a piece) and what comes back is
the rows of one piece. At most a few pieces a worker are under way, so that neither scheduler nor memory fills up
however many variants there are. A worker that is killed has its pieces done again by another; a scheduler that goes
away is looked for again, and an embedded one started anew.
"""

from __future__ import annotations

import os
import pickle
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import CancelledError
from contextlib import AbstractContextManager, ExitStack
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study._code import version_words
from storyrod.adapters.study._engines import Piece, in_worker
from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from distributed import Client, Future

AHEAD: Final = 3
"""So many pieces a worker are under way: one in work, and what it goes on with at once."""

TRIES: Final = 5
"""So often a scheduler that went away is looked for again, before it is given up."""

_WAIT_S: Final = 10.0

MEMORY: Final = "auto"
"""What an embedded worker may hold before it is started anew: its share of the machine's. A study takes some 150 MB."""


def is_installed() -> bool:
    """Return whether the extra `study` is there."""
    return find_spec("distributed") is not None


class Spread:
    """Dask distributed: embedded in this process with `workers` of its own, or the scheduler at `address`.

    Raises:
        JobError: the extra is not installed.
    """

    def __init__(self, workers: int | None = None, address: str = "") -> None:
        if not is_installed():
            raise JobError(_fault("study-extra", "--cluster" if address else "--workers", "no Dask distributed here"))
        self.address = address
        self.workers = workers or os.cpu_count() or 1
        if address:  # known before it begins, for the time that is told, and for a cluster that is not there
            try:
                with self._client() as client:
                    self.workers = max(1, _threads(client))
            except _lost() as error:
                raise JobError(_fault("study-cluster", "--cluster", str(error)[:200])) from None

    def run(self, variants: Variants, pieces: Sequence[int]) -> Iterator[Piece]:
        """Yield every piece by its number as it is done, whatever goes away meanwhile.

        Raises:
            JobError: the cluster stays away, or has another version.
        """
        packed = pickle.dumps(variants)
        left = dict.fromkeys(pieces)
        tries = 0
        while left:
            try:
                with self._client() as client:
                    for piece, rows in _worked(client, packed, list(left), AHEAD * self.workers):
                        del left[piece]
                        tries = 0
                        yield piece, rows
            except _lost() as error:
                tries += 1
                if tries > TRIES:
                    at = "--cluster" if self.address else "--workers"
                    raise JobError(_fault("study-cluster", at, f"a cluster that goes away: {error}"[:200])) from None
                time.sleep(min(tries, 3))

    def _client(self) -> AbstractContextManager[Client]:
        return _Joined(self.address, self.workers)


class _Joined(AbstractContextManager["Client"]):
    """A client of a scheduler, with the cluster itself where it is ours; both are gone afterwards."""

    def __init__(self, address: str, workers: int) -> None:
        self.address, self.workers = address, workers
        self._opened = ExitStack()

    def __enter__(self) -> Client:
        from distributed import Client

        try:
            scheduler = self.address or self._opened.enter_context(_embedded(self.workers))
            client: Client = self._opened.enter_context(Client(scheduler, timeout=_WAIT_S, set_as_default=False))
        except (OSError, ValueError, ImportError, RuntimeError) as error:
            self._opened.close()
            if not self.address:  # a worker that was killed while it started: once more
                raise OSError(f"its workers did not start: {error}"[:160]) from None
            raise OSError(f"no scheduler at {self.address[:80]} ({type(error).__name__})") from None
        if self.address:
            try:
                _wait_for_workers(client)
                _check_versions(client)
            except BaseException:
                self._opened.close()
                raise
        return client

    def __exit__(self, *_: object) -> None:
        self._opened.close()


def _embedded(workers: int) -> Any:  # noqa: ANN401 - it ships no types
    import dask
    from distributed import LocalCluster

    dask.config.set({"distributed.worker.daemon": True, "distributed.comm.timeouts.connect": "10s"})
    return LocalCluster(
        n_workers=workers,
        threads_per_worker=1,
        processes=True,
        memory_limit=MEMORY,
        dashboard_address="127.0.0.1:0",
        host="127.0.0.1",
        silence_logs=50,
    )


def _worked(client: Client, packed: bytes, pieces: list[int], ahead: int) -> Iterator[Piece]:
    """Yield pieces as they are done, never more than `ahead` of them under way."""
    from distributed import as_completed

    waiting = iter(pieces)
    numbers: dict[Future, int] = {}

    def send() -> Future | None:
        piece = next(waiting, None)
        if piece is None:
            return None
        future = client.submit(in_worker, packed, piece, pure=False, retries=TRIES)
        numbers[future] = piece
        return future

    first = [future for future in (send() for _ in range(ahead)) if future is not None]
    done = as_completed(first, loop=client.loop)
    for future in done:
        rows = future.result()
        piece = numbers.pop(future)
        more = send()
        if more is not None:
            done.add(more)
        del future  # the cluster may forget its rows
        yield piece, rows


def _lost() -> tuple[type[BaseException], ...]:
    from distributed.client import FutureCancelledError
    from distributed.comm.core import CommClosedError
    from distributed.scheduler import KilledWorker

    return (CancelledError, FutureCancelledError, CommClosedError, KilledWorker, TimeoutError, OSError)


def _threads(client: Client) -> int:
    return sum(client.nthreads().values())


def _wait_for_workers(client: Client) -> None:
    """Wait a while for the first worker: they come back some seconds after their scheduler.

    Raises:
        OSError: none came.
    """
    try:
        client.wait_for_workers(1, timeout=_WAIT_S)
    except TimeoutError:
        raise OSError("a cluster that has no workers") from None


def _check_versions(client: Client) -> None:
    """Refuse a cluster whose workers would work out other rows.

    Raises:
        JobError: one has another version of storyrod or of Python, or no storyrod.
    """
    ours = version_words()
    try:
        found: dict[str, str] = client.run(version_words)
    except OSError:  # the scheduler went away meanwhile
        raise
    except Exception as error:  # noqa: BLE001 - a worker without storyrod answers with whatever its Python raises
        raise JobError(_fault("study-version", "--cluster", f"workers without storyrod ({error})"[:160])) from None
    others = sorted({version for version in found.values() if version != ours})
    if others:
        raise JobError(_fault("study-version", "--cluster", f"workers with {' and '.join(others)}; here is {ours}"))


_TO_DO: Final[dict[str, tuple[str, str]]] = {
    "study-extra": (
        "the extra `study`, which run.py gets by itself",
        "Run `python3 run.py study …`, or install storyrod[study]; or write --workers 1.",
    ),
    "study-cluster": (
        "the address of a Dask scheduler with workers, such as tcp://192.168.1.20:8786",
        "Start it, or check its address, and begin again: rows that are there are kept.",
    ),
    "study-version": (
        "workers with the same versions of storyrod and Python as here",
        "Install the same version on every worker, and start them again.",
    ),
}


def _fault(code: str, field: str, found: str) -> Fault:
    allowed, do = _TO_DO[code]
    return Fault(code=code, field=field, found=found, allowed=allowed, do=do)
