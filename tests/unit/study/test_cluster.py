"""A study spread over a cluster: the same rows, whoever works them out and whatever goes away meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import LocalCluster

from storyrod.adapters.study import Alone, table_of
from storyrod.adapters.study import cluster as spreading
from storyrod.adapters.study.cluster import Spread
from storyrod.faults import JobError
from tests.ports import free_port
from tests.unit.study.shared import STUDY, variants_in

LONG = STUDY.replace("step = 100", "step = 4").replace('"dowels", "biscuits", ', "")


@pytest.fixture(scope="module")
def cluster() -> Iterator[LocalCluster]:
    """Give a scheduler with two workers in threads of this process: what is sent goes over sockets all the same."""
    with LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=False,
        protocol="tcp",
        dashboard_address="127.0.0.1:0",
        silence_logs=50,
    ) as made:
        yield made


def code_of(act: object) -> str:
    assert callable(act)
    with pytest.raises(JobError) as caught:
        act()
    return caught.value.faults[0].code


def test_rows_are_the_same_over_a_cluster(tmp_path: Path, cluster: LocalCluster) -> None:
    variants = variants_in(tmp_path, LONG)
    spread = Spread(address=cluster.scheduler_address)

    assert spread.workers == 2
    assert table_of(variants, spread).rows == table_of(variants, Alone()).rows


def test_a_scheduler_that_goes_away_is_looked_for_again(
    tmp_path: Path, cluster: LocalCluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It loses its connection after each piece, three times."""
    variants, real = variants_in(tmp_path, LONG), spreading._worked
    losses: list[object] = []

    def losing(*given: object) -> Iterator[object]:
        for n, piece in enumerate(real(*given)):  # type: ignore[arg-type]
            if n == 1 and len(losses) < 3:
                losses.append(piece)
                raise OSError("gone")
            yield piece

    monkeypatch.setattr(spreading, "_worked", losing)
    monkeypatch.setattr("storyrod.adapters.study.cluster.time.sleep", lambda _: None)

    assert table_of(variants, Spread(address=cluster.scheduler_address)).rows == table_of(variants, Alone()).rows
    assert len(losses) == 3


def test_workers_that_never_start_are_told_in_the_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As where each is killed while it starts; it is tried five times more."""
    tried: list[int] = []

    def failing(workers: int) -> object:
        tried.append(workers)
        raise RuntimeError("Nanny failed to start.")

    monkeypatch.setattr(spreading, "_embedded", failing)
    monkeypatch.setattr("storyrod.adapters.study.cluster.time.sleep", lambda _: None)

    assert code_of(lambda: table_of(variants_in(tmp_path, LONG), Spread(2))) == "study-cluster"
    assert tried == [2] * 6


def test_a_cluster_that_is_not_there_or_has_another_version_is_told(
    cluster: LocalCluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(spreading, "_WAIT_S", 0.3)
    assert code_of(lambda: Spread(address=f"tcp://127.0.0.1:{free_port()}")) == "study-cluster"
    assert code_of(lambda: Spread(address="nonsense://here")) == "study-cluster"

    monkeypatch.setattr(spreading, "_WAIT_S", 10.0)
    ours = iter(["here"])
    monkeypatch.setattr(spreading, "version_words", lambda: next(ours, "there"))
    assert code_of(lambda: Spread(address=cluster.scheduler_address)) == "study-version"


def test_without_the_extra_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spreading, "find_spec", lambda _: None)

    assert code_of(lambda: Spread(2)) == "study-extra"
