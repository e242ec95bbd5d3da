"""Small files that would ask a parser for endless memory or time are refused before they are parsed."""

from __future__ import annotations

import os
import tomllib
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.adapters.files import job_from_text, read_job
from storyrod.adapters.files._amount import MOST, TooMuchError, check_amount
from storyrod.adapters.files._open import LARGEST, parsed
from storyrod.adapters.files._read import MOST_FAULTS
from storyrod.faults import JobError
from tests.places import EXAMPLES

HOSTILE = {
    "one dotted name": ".".join("a" * 20_000) + " = 1",
    "a dotted table": "[" + ".".join("a" * 20_000) + "]",
    "quoted parts": '."x"' * 9_000 + " = 1",
    "lists in lists": "a = " + "[" * 5_000 + "]" * 5_000,
    "tables in tables": "a = " + "{b = " * 3_000 + "1" + "}" * 3_000,
    "many names": "\n".join(f"a{n} = 1" for n in range(MOST + 1)),
    "many values": "a = [" + "1," * (MOST + 1) + "]",
    "many deep names": "\n".join(f"{'.'.join('b' * 50)}.a{n} = 1" for n in range(4000)),
    "a long figure": "a = " + "9" * 5_000,
    "a long hexadecimal": "a = 0x" + "f" * 5_000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_it_is_refused_without_much_memory(name: str) -> None:
    tracemalloc.start()
    with pytest.raises(JobError) as told:
        job_from_text(HOSTILE[name], name="job.toml")
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()

    assert [f.code for f in told.value.faults] == ["file-toml"]
    assert most < 30e6


@pytest.mark.parametrize(
    "text",
    [
        "a = '" + "." * 9000 + "'",
        'a = "' + "[" * 9000 + '"',
        'a = """' + '\\"[.=,\n' * 9000 + '"""',
        "a = '''" + "''[.=,\n" * 9000 + "'''",
        "# " + "." * 9000 + "\na = 1",
        'a = """x"""""\nb = 2',
        "\n".join(f"a{n} = [{n}.5, {n}]" for n in range(9000)),
        *(p.read_text(encoding="utf-8") for p in sorted(EXAMPLES.glob("*.toml"))),
    ],
)
def test_what_stands_in_texts_and_comments_counts_for_nothing(text: str) -> None:
    assert parsed(text) == tomllib.loads(text)


@given(st.text(alphabet="a1.=,[]{}\"'#\\\n -+_é", max_size=200))
def test_looking_over_any_text_ends_and_refuses_nothing_small(text: str) -> None:
    if text.count(".") < 50 and text.count("[") + text.count("{") < 50:
        check_amount(text)


def test_a_thing_too_much_is_told_with_its_line() -> None:
    with pytest.raises(TooMuchError) as told:
        check_amount('a = 1\nb = """\n\n"""\n' + "c." * 99 + "d = 1")

    assert told.value.line == 5


@pytest.mark.skipif(os.name == "nt", reason="pipes in the folder are of other systems")
def test_pipes_and_devices_are_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "job.toml")
    for path in (tmp_path / "job.toml", Path("/dev/zero")):
        with pytest.raises(JobError, match="a pipe or device"):
            read_job(path)
    (tmp_path / "job.toml").rename(tmp_path / "shop.toml")
    (tmp_path / "first.toml").write_text('workshop = "shop.toml"\n', encoding="utf-8")
    with pytest.raises(JobError, match="a pipe or device"):
        read_job(tmp_path / "first.toml")


def test_a_file_that_grows_while_it_is_read_is_read_so_far_only(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"#" * (LARGEST + 10))

    with pytest.raises(JobError, match="MB"):
        read_job(path)


@pytest.mark.parametrize(
    "text",
    [
        "\n".join(f"unknown{n} = 1" for n in range(5000)),
        "[[cases]]\n" + "\n".join(f"widht{n} = 1" for n in range(5000)),
        "\n".join(f"[[cases]]\ncode = '{n}'" for n in range(3000)),
    ],
)
def test_of_very_many_faults_the_first_are_told_and_how_many_more(text: str) -> None:
    with pytest.raises(JobError) as told:
        job_from_text(text, name="job.toml")
    faults = told.value.faults

    assert len(faults) == MOST_FAULTS + 1
    more = [f for f in faults if f.code == "many-faults"]
    assert len(more) == 1
    assert int(more[0].found.split()[0]) >= 2700
    assert sum(f.line is not None for f in faults) >= MOST_FAULTS - 2
