"""A page of its own for each test, asked without a network."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from storyrod.adapters.web import Settings, make_app
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._settings import local_hosts
from tests.places import EXAMPLES

ADDRESS = "http://127.0.0.1:8021"
SOCKETS = "ws://127.0.0.1:8021"
AS_SCRIPT = {"accept": "application/json"}


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A page without a network: its client, and the folders that it reads."""

    client: TestClient
    settings: Settings

    @property
    def desk(self) -> Desk:
        """What the views of the page share."""
        desk: Desk = self.client.app.app.state.desk  # type: ignore[attr-defined]  # the guard's own app
        return desk

    def job_file(self, name: str) -> Path:
        """Return the path of a job's file."""
        return self.settings.jobs / f"{name}.toml"

    def take(self, example: str) -> str:
        """Put an example among the jobs, with the workshop file that it may name; return its name."""
        self.settings.jobs.mkdir(parents=True, exist_ok=True)
        shutil.copy(EXAMPLES / f"{example}.toml", self.settings.jobs)
        if "workshop = " in self.job_file(example).read_text(encoding="utf-8"):
            shutil.copy(EXAMPLES / "choir-workshop.toml", self.settings.jobs)
        return example

    def version(self, job: str) -> str:
        """Return the version of a job's text as a page has it."""
        told = self.client.get(f"/job/{job}/brief").text
        return told.split('data-version="')[1].split('"')[0]

    def change(self, job: str, *changes: dict[str, Any], base: str = "") -> Any:
        """Change a job as a page's script does; return the answer."""
        body = {"base": base or self.version(job), "stage": "brief", "changes": list(changes)}
        return self.client.post(f"/job/{job}/change", json=body, headers=AS_SCRIPT)


@pytest.fixture
def asked(tmp_path: Path) -> Iterator[Asked]:
    """A page with no jobs yet."""
    settings = Settings(jobs=tmp_path / "jobs", home=tmp_path / "home", hosts=local_hosts(8021), polling_s=0.05)
    with TestClient(make_app(settings), base_url=ADDRESS, raise_server_exceptions=False) as client:
        yield Asked(client=client, settings=settings)
