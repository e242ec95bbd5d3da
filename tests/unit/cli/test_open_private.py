"""What the page keeps is read by nobody but its owner."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

CHECK = """
import sys
from pathlib import Path
from storyrod.adapters.opening import keep_private
from storyrod.telling.things import Thing
from storyrod.adapters.log import open_log
from storyrod.adapters.web._shelf import Shelf
home = Path(sys.argv[1])
keep_private(home)
shelf = Shelf(home / "jobs", home)
name = shelf.add("Choir", "title = 'Choir'\\n")
with open_log(home / "bench-log.sqlite") as log:
    log.tick(name, "v", Thing(id="a", name="a", content="a"))
"""


@pytest.mark.skipif(os.name == "nt", reason="modes are of other systems")
@pytest.mark.parametrize("there", [True, False])
def test_folders_and_files_of_the_page_are_the_owners_alone(tmp_path: Path, *, there: bool) -> None:
    home = tmp_path / "home"
    if there:
        home.mkdir(mode=0o755)
    subprocess.run([sys.executable, "-c", CHECK, str(home)], check=True, umask=0o022)

    modes = {p.relative_to(tmp_path).as_posix(): p.stat().st_mode & 0o077 for p in [home, *home.rglob("*")]}
    assert len(modes) > 5
    assert set(modes.values()) == {0}
