"""The pins and the wheel: what a maker's machine receives."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.places import ROOT

PINS = ("pins.txt", "pins-study.txt", "pins-dev.txt")


def read_pins(name: str) -> dict[str, list[Requirement]]:
    """Return the pinned requirements by package; one package may have a pin for each kind of machine."""
    joined = (ROOT / name).read_text(encoding="utf-8").replace("\\\n", " ")
    pins: dict[str, list[Requirement]] = {}
    for line in joined.splitlines():
        requirement = Requirement(line.split("--hash")[0].strip())
        pins.setdefault(canonicalize_name(requirement.name), []).append(requirement)
    return pins


def read_project() -> dict[str, list[str]]:
    """Return the requirements of the project file by group: `core`, `build`, and the extras."""
    whole = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return {
        "core": whole["project"]["dependencies"],
        "build": whole["dependency-groups"]["build"],
        **whole["project"]["optional-dependencies"],
    }


@pytest.mark.parametrize("name", PINS)
def test_every_pin_is_exact_and_has_a_digest(name: str) -> None:
    joined = (ROOT / name).read_text(encoding="utf-8").replace("\\\n", " ")

    for line in joined.splitlines():
        assert re.match(r"[a-z0-9.-]+==[^ ]+ (;.*? )?( *--hash=sha256:[0-9a-f]{64})+$", line), line[:80]


@pytest.mark.parametrize("name", PINS)
def test_pins_name_no_address(name: str) -> None:
    """Whoever installs chooses where from; an address of one registry or machine has no place here."""
    assert not re.search(r"https?:|file:|@ |--(find-links|extra-index|index-url|trusted)", (ROOT / name).read_text())


@pytest.mark.parametrize(
    ("name", "groups"),
    [
        ("pins.txt", ["core", "build"]),
        ("pins-study.txt", ["core", "build", "study", "day", "wish"]),
        ("pins-dev.txt", ["core", "build", "study", "day", "wish", "dev"]),
    ],
)
def test_every_requirement_of_the_project_is_pinned_within_its_range(name: str, groups: list[str]) -> None:
    pins = read_pins(name)

    for group in groups:
        for words in read_project()[group]:
            wanted = Requirement(words)
            found = pins.get(canonicalize_name(wanted.name), [])
            assert found, f"{wanted.name} is not in {name}"
            for pin in found:
                (exact,) = pin.specifier
                assert wanted.specifier.contains(exact.version), f"{pin} does not fit {wanted}"


def test_test_pins_hold_the_core_at_the_same_versions() -> None:
    core, study, dev = (read_pins(name) for name in PINS)

    assert {name: study.get(name) for name in core} == core
    assert {name: dev.get(name) for name in study} == study


def test_step_kernel_is_never_pinned() -> None:
    """It is an extra of about a gigabyte that only who wants STEP files installs."""
    assert not {"build123d", "cadquery-ocp"} & {*read_pins("pins.txt"), *read_pins("pins-dev.txt")}


def test_the_wheel_holds_every_file_of_the_package(tmp_path: Path) -> None:
    """Fonts, templates, styles and data travel with the code; nothing else of the project does."""
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT,
        capture_output=True,
        check=True,
    )
    (wheel,) = tmp_path.glob("storyrod-*.whl")
    with zipfile.ZipFile(wheel) as opened:
        names = [name for name in opened.namelist() if ".dist-info/" not in name]
    packed = {name for name in names if ".data/" not in name}
    shared = {name.split(".data/data/")[1] for name in names if ".data/" in name}

    source = ROOT / "src"
    here = {
        p.relative_to(source).as_posix()
        for p in (source / "storyrod").rglob("*")
        if p.is_file() and "__pycache__" not in p.parts
    }
    assert packed == here
    assert shared == {
        "share/bash-completion/completions/storyrod",
        "share/fish/vendor_completions.d/storyrod.fish",
        "share/zsh/site-functions/_storyrod",
    }
