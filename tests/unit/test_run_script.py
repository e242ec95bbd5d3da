"""run.py: finding a Python, stamps, what is told when the set-up fails, and how words are handed on."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

import set_up as run
from tests.browser.firefox import answered_here

PRESENT = (sys.version_info[0], sys.version_info[1])


def make_python(folder: Path, name: str, *, version: tuple[int, int], against: list[str] | None = None) -> str:
    """Write a stand-in for a Python: a script that answers the probe as told."""
    folder.mkdir(parents=True, exist_ok=True)
    program = folder / name
    answer = json.dumps([version, against or [], str(program)])
    program.write_text(f"#!/bin/sh\necho '{answer}'\n", encoding="utf-8")
    program.chmod(0o755)
    return str(program)


# ---------------------------------------------------------------- finding a Python


def test_the_running_python_is_asked_first() -> None:
    first = next(iter(run.candidates({"PATH": ""}, Path("/nowhere"))))

    told = run.ask(first)
    assert told is not None
    assert told.version == PRESENT
    assert told.against == []


def test_a_tried_python_is_preferred_to_a_newer_one(tmp_path: Path) -> None:
    newer = make_python(tmp_path, "newer", version=(3, 99))
    tried = make_python(tmp_path, "tried", version=(3, 13))

    assert run.find_python([[newer], [tried]]) == tried
    assert run.find_python([[newer]]) == newer


def test_pythons_that_do_not_fit_are_listed_with_what_is_against_each(tmp_path: Path) -> None:
    old = make_python(tmp_path, "old", version=(3, 8))
    bare = make_python(tmp_path, "bare", version=(3, 12), against=["lacks its venv module"])
    gone = str(tmp_path / "gone")

    with pytest.raises(run.SetUpError) as caught:
        run.find_python([[old], [bare], [gone], [old]])

    told = str(caught.value).splitlines()
    assert told[0] == "storyrod needs Python 3.12 or newer, and none that fits was found."
    assert told[2:5] == [
        f"  {old} is Python 3.8",
        f"  {bare} lacks its venv module",
        f"  {gone} does not start",
    ]
    assert any("apt-get install python3 python3-venv" in line for line in told[5:])


def test_a_program_that_prints_nonsense_does_not_count_as_a_python(tmp_path: Path) -> None:
    program = tmp_path / "python3"
    program.write_text("#!/bin/sh\necho hello\n", encoding="utf-8")
    program.chmod(0o755)

    assert run.ask([str(program)]) is None


def test_path_and_pyenv_are_searched_in_order_of_version(tmp_path: Path) -> None:
    on_path = make_python(tmp_path / "bin", "python3.13", version=(3, 13))
    plain = make_python(tmp_path / "bin", "python3", version=(3, 11))
    versions = tmp_path / "pyenv" / "versions"
    for name in ("3.14.0", "3.9.18", "3.12.1", "3.20.0", "mine"):
        make_python(versions / name / "bin", "python", version=(3, 12))

    environ = {"PATH": str(tmp_path / "bin"), "PYENV_ROOT": str(tmp_path / "pyenv")}
    found = [words[0] for words in run.candidates(environ, tmp_path / "home")][1:]

    wanted = [str(versions / name / "bin" / "python") for name in ("3.12.1", "3.14.0", "3.20.0")]
    assert found == [on_path, *wanted, plain]


def test_pyenv_is_found_at_home_without_being_named(tmp_path: Path) -> None:
    (tmp_path / ".pyenv" / "versions").mkdir(parents=True)

    assert run.pyenv_folders({}, tmp_path) == [tmp_path / ".pyenv" / "versions"]


@pytest.mark.parametrize(
    ("name", "version"),
    [("3.12.1", (3, 12)), ("3.13", (3, 13)), ("3.120", (3, 120)), ("pypy3.10", (0, 0)), ("3x", (0, 0))],
)
def test_version_in_a_folder_name(name: str, version: tuple[int, int]) -> None:
    assert run.version_in_name(name) == version


# ---------------------------------------------------------------- stamps


@pytest.fixture
def project(tmp_path: Path) -> Path:
    for name in ("pins.txt", "pins-dev.txt", "pins-study.txt", "pyproject.toml"):
        (tmp_path / name).write_text(f"{name}\n", encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("changed", "dev", "parts"),
    [
        ("pins.txt", False, ["core"]),
        ("pyproject.toml", False, ["project"]),
        ("pins-dev.txt", False, []),
        ("pins-dev.txt", True, ["dev"]),
    ],
)
def test_a_changed_file_asks_for_its_own_part_only(project: Path, changed: str, dev: bool, parts: list[str]) -> None:
    stamp = run.wanted_stamp(project, dev=True)
    (project / changed).write_text("other\n", encoding="utf-8")

    assert run.missing_parts(run.wanted_stamp(project, dev=dev), stamp) == parts


def test_the_libraries_for_studies_come_when_a_study_is_first_asked_for(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[dict[str, bool]] = []
    monkeypatch.setattr(run, "set_up", lambda **which: asked.append(which))
    monkeypatch.setattr(os, "execv", lambda *_: None)
    monkeypatch.setattr(subprocess, "call", lambda *_: 0)
    run.main(["study", "widths.toml"])
    run.main(["day", "job.toml"])
    run.main(["wish", "folders.toml"])
    run.main(["check", "job.toml"])

    assert asked == [*3 * [{"dev": False, "study": True}], {"dev": False}]
    stamp = run.wanted_stamp(project, dev=False)
    assert run.missing_parts(run.wanted_stamp(project, dev=False, study=True), stamp) == ["study"]


def test_a_moved_project_is_installed_again(project: Path, tmp_path: Path) -> None:
    stamp = run.wanted_stamp(project, dev=False)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    for name in ("pins.txt", "pyproject.toml"):
        (elsewhere / name).write_bytes((project / name).read_bytes())

    assert run.missing_parts(run.wanted_stamp(elsewhere, dev=False), stamp) == ["project"]


def test_line_ends_do_not_change_a_digest(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"one\ntwo\n")
    (tmp_path / "b").write_bytes(b"one\r\ntwo\r\n")

    assert run.digest([tmp_path / "a"]) == run.digest([tmp_path / "b"])


def test_digests_tell_files_apart_that_join_to_the_same_text(tmp_path: Path) -> None:
    for name, text in {"a": "one", "b": "two", "c": "onet", "d": "wo"}.items():
        (tmp_path / name).write_text(text, encoding="utf-8")

    assert run.digest([tmp_path / "a", tmp_path / "b"]) != run.digest([tmp_path / "c", tmp_path / "d"])


@pytest.mark.parametrize("spoilt", ["", "{", "[1, 2]", "\x00"])
def test_a_spoilt_stamp_counts_as_none(tmp_path: Path, spoilt: str) -> None:
    stamp = tmp_path / "stamp.json"
    stamp.write_text(spoilt, encoding="utf-8")

    assert run.read_stamp(stamp) == {}
    assert run.read_stamp(tmp_path / "none.json") == {}


# ---------------------------------------------------------------- what is told when the set-up fails


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "DISK_FULL"),
        ("THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.", "WRONG_HASH"),
        (
            (
                "WARNING: Retrying after connection broken by 'NewConnectionError(Failed to establish a new "
                "connection: Temporary failure in name resolution)'\nERROR: No matching distribution found for x"
            ),
            "NO_NETWORK",
        ),
        ("SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]')): Max retries", "NO_TRUST"),
        ("ERROR: Could not install packages: [Errno 13] Permission denied: '/x'", "NO_ACCESS"),
        ("ERROR: No matching distribution found for ortools==1", "NO_FILE"),
    ],
)
def test_the_installers_words_become_a_way_out(told: str, message: str, tmp_path: Path) -> None:
    said = run.pip_failure_message(told, log=tmp_path / "setup.log")

    assert said.strip().startswith(getattr(run, message))
    assert said.endswith(f"All of them: {tmp_path / 'setup.log'}")


def test_unknown_trouble_shows_the_installers_last_words() -> None:
    said = run.pip_failure_message("one\n\ntwo\nthree\nfour\n", log=None)

    assert said.splitlines()[1:] == [
        "The set-up did not work.",
        "The installer's last words:",
        "  two",
        "  three",
        "  four",
    ]


@pytest.mark.parametrize(
    ("number", "start"),
    [(errno.ENOSPC, "The disk is full."), (errno.EROFS, "The folder"), (errno.EIO, "The set-up did not work:")],
)
def test_a_folder_that_cannot_be_written_is_told_apart_from_a_full_disk(number: int, start: str) -> None:
    assert run.os_error_message(OSError(number, "words", "here")).startswith(start)


def test_a_disk_too_small_is_told_before_anything_is_downloaded() -> None:
    run.check_room(600 * 10**6, dev=False)
    with pytest.raises(run.SetUpError, match=r"Found 600 MB free; .* need about 1500 MB"):
        run.check_room(600 * 10**6, dev=True)


def test_settings_that_would_send_the_libraries_elsewhere_are_left_out() -> None:
    kept = run.pip_environment({"PIP_TARGET": "/x", "PYTHONPATH": "/y", "PIP_CERT": "/z", "PATH": "/bin"})

    assert kept == {"PIP_CERT": "/z", "PATH": "/bin"}


def test_a_failed_set_up_has_an_exit_status_of_its_own(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(*, dev: bool) -> None:
        raise run.SetUpError(f"no room, dev={dev}")

    monkeypatch.setattr(run, "set_up", refuse)

    assert run.main(["plan", "job.toml"]) == run.SET_UP_FAILED
    assert capsys.readouterr() == ("", "no room, dev=False\n")
    assert run.main(["test"]) == run.SET_UP_FAILED
    assert capsys.readouterr().err == "no room, dev=True\n"


def test_two_starts_set_up_one_after_the_other(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    order = []
    inside = threading.Event()

    def second() -> None:
        inside.wait(10)
        with run.only_one(tmp_path / "lock"):
            order.append("second")

    thread = threading.Thread(target=second)
    thread.start()
    with run.only_one(tmp_path / "lock"):
        inside.set()
        thread.join(0.2)
        order.append("first")
    thread.join(10)

    assert order == ["first", "second"]
    assert capsys.readouterr().err == "Waiting for another start of run.py that is setting up ...\n"


# ---------------------------------------------------------------- Chromium and poppler


def test_missing_programs_are_named_by_their_package(tmp_path: Path) -> None:
    nothing = {"PATH": str(tmp_path)}
    assert run.missing_programs(nothing) == ["chromium", "poppler-utils"]

    for name in ("chromium-browser", "pdftotext", "pdftoppm"):
        make_python(tmp_path, name, version=(0, 0))
    assert run.missing_programs(nothing) == []


def test_a_named_chromium_goes_before_the_one_on_path(tmp_path: Path) -> None:
    make_python(tmp_path, "chromium", version=(0, 0))
    mine = make_python(tmp_path, "mine", version=(0, 0))

    assert run.find_chromium({"PATH": str(tmp_path), "STORYROD_CHROMIUM": mine}) == mine
    assert run.find_chromium({"PATH": str(tmp_path), "STORYROD_CHROMIUM": str(tmp_path / "gone")}) is None


def test_a_command_that_firefox_lacks_is_answered_for_it() -> None:
    asked = {"id": 7, "method": "emulation.setMediaFeaturesOverride", "params": {}}
    assert json.loads(answered_here(json.dumps(asked)) or "") == {"type": "success", "id": 7, "result": {}}
    assert answered_here(json.dumps({**asked, "method": "browsingContext.navigate"})) is None


def test_where_no_build_without_a_window_is_had_the_whole_browser_is_got(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("STORYROD_CHROMIUM", raising=False)
    make_python(tmp_path, "apt-get", version=(0, 0))
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
    asked: list[str] = []

    def apt_get(words: list[str], environ: dict[str, str]) -> bool:
        asked.append(words[-1])
        return words[-1] != "chromium-headless-shell"

    monkeypatch.setattr(run, "_apt_get", apt_get)
    run.get_programs({"PATH": str(tmp_path)})

    assert asked == ["-qq", "chromium-headless-shell", "chromium", "poppler-utils"]


def test_what_cannot_be_had_is_said_once_each(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.delenv("STORYROD_CHROMIUM", raising=False)

    run.get_programs({"PATH": str(tmp_path)})

    told = capsys.readouterr().err.splitlines()
    assert [line.split(":")[0] for line in told] == ["Chromium is not there", "poppler is not there"]
    assert all("Install the package" in line for line in told)


# ---------------------------------------------------------------- words


def test_a_folder_of_tests_may_be_named_shortly(project: Path) -> None:
    (project / "tests" / "unit" / "sheets").mkdir(parents=True)

    words = run.pytest_words(["unit/sheets", "-k", "unit", "-x"], project, cpus=1)

    assert words == ["-m", "pytest", str(Path("tests", "unit/sheets")), "-k", "unit", "-x"]


@pytest.mark.parametrize(
    ("cpus", "given", "spread"),
    [(1, [], []), (2, [], ["-n", "2"]), (64, [], ["-n", "4"]), (8, ["-n0"], []), (8, ["--pdb"], [])],
)
def test_tests_are_spread_over_the_cores_unless_told_otherwise(
    project: Path, cpus: int, given: list[str], spread: list[str]
) -> None:
    words = run.pytest_words(given, project, cpus)

    assert [w for w in words if w == "-n" or w.isdigit()] == spread
    assert words[-len(given) :] == given or not given


def test_a_job_alone_means_plan_and_other_words_go_on_as_they_are(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[list[str]] = []
    monkeypatch.setattr(run, "set_up", lambda *, dev: None)
    monkeypatch.setattr(run, "ON_WINDOWS", True)

    def start(words: list[str]) -> int:
        started.append(words)
        return 7

    monkeypatch.setattr(subprocess, "call", start)

    assert run.main(["My Job.TOML", "--out", "there"]) == 7
    assert run.main(["check", "job.toml"]) == 7

    program = str(run.VENV / "Scripts" / "storyrod.exe")
    assert started == [[program, "plan", "My Job.TOML", "--out", "there"], [program, "check", "job.toml"]]


def test_without_words_it_teaches_and_sets_nothing_up(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(run, "set_up", lambda *, dev: pytest.fail(f"set up, dev={dev}"))

    assert run.main([]) == 0
    assert "python3 run.py plan JOB.toml" in capsys.readouterr().out


def test_it_can_be_read_by_python_3_8() -> None:
    """The syntax of set_up.py is that of Python 3.8, whatever runs the tests."""
    import ast

    ast.parse((run.ROOT / "set_up.py").read_text(encoding="utf-8"), feature_version=(3, 8))


def test_an_older_python_is_told_in_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """run.py looks at the version before it brings in anything whose syntax an older one does not read."""
    text = (run.ROOT / "run.py").read_text(encoding="ascii")
    monkeypatch.setattr(sys, "version_info", (2, 7, 18))

    with pytest.raises(SystemExit) as left:
        exec(compile(text, "run.py", "exec"), {"__name__": "__main__"})  # our own file

    assert left.value.code == run.SET_UP_FAILED
    assert "Python 3.8 or newer, and this is Python 2.7." in capsys.readouterr().err


@pytest.mark.parametrize(
    ("line", "is_none"),
    [
        ("WARNING: Retrying (Retry(total=4)) after '[Errno -3] Temporary failure in name resolution'", True),
        ("WARNING: Retrying (Retry(total=4)) after 'NewConnectionError: [Errno 101] Network is unreachable'", True),
        ("WARNING: Retrying (Retry(total=4)) after 'ReadTimeoutError: Read timed out. (read timeout=15)'", False),
        ("Collecting name-resolution==1.0", False),
    ],
)
def test_no_network_is_seen_at_the_first_try(line: str, *, is_none: bool) -> None:
    assert run.no_network(line) is is_none


def test_an_installer_without_a_network_is_not_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    said = "WARNING: Retrying (Retry(total=4)) after '[Errno -2] Name or service not known'"
    monkeypatch.setattr(run, "LOG", tmp_path / "log")
    monkeypatch.setattr(
        run,
        "_pip_command",
        lambda *_: [sys.executable, "-c", f"import time; print({said!r}); time.sleep(3600)"],
    )

    with pytest.raises(run.SetUpError, match="no connection"):
        run._pip("install")
    assert said in (tmp_path / "log").read_text(encoding="utf-8")


@pytest.mark.skipif(os.name == "nt", reason="The stand-in for the interpreter is a shell script.")
def test_help_works_from_another_folder_with_a_relative_path(tmp_path: Path) -> None:
    (tmp_path / "deep" / "er").mkdir(parents=True)
    script = os.path.relpath(run.ROOT / "run.py", tmp_path / "deep" / "er")

    done = subprocess.run(
        [sys.executable, script, "--help"], cwd=tmp_path / "deep" / "er", capture_output=True, text=True, check=True
    )

    assert done.stdout.startswith("Set storyrod up, once, and run it.")


@pytest.fixture
def scripts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with what names the wanted TypeScript."""
    (tmp_path / "tests" / "scripts").mkdir(parents=True)
    for name in ("package.json", "package-lock.json"):
        (tmp_path / "tests" / "scripts" / name).write_text("{}", encoding="utf-8")
    monkeypatch.setattr(run, "ROOT", tmp_path)
    monkeypatch.setattr(run, "VENV", tmp_path / ".venv")
    return tmp_path


def test_without_npm_typescript_is_passed_over(scripts: Path) -> None:
    run.get_typescript({"PATH": str(scripts)})

    assert not (scripts / ".venv").exists()


@pytest.mark.skipif(os.name == "nt", reason="a program is made as a shell script")
@pytest.mark.parametrize(("status", "tries"), [(0, 1), (1, 2)])
def test_typescript_is_asked_for_until_it_is_there(
    scripts: Path, capsys: pytest.CaptureFixture[str], status: int, tries: int
) -> None:
    npm = scripts / "npm"
    npm.write_text(f'#!/bin/sh\necho "$@" >> "{scripts}/asked"\necho no way there\nexit {status}\n', encoding="utf-8")
    npm.chmod(0o755)
    for _ in range(2):
        run.get_typescript({"PATH": f"{scripts}{os.pathsep}/bin{os.pathsep}/usr/bin"})

    assert len((scripts / "asked").read_text(encoding="utf-8").splitlines()) == tries
    assert ("no way there" in capsys.readouterr().err) is bool(status)


def test_what_is_read_is_kept_compiled_where_nothing_may_stand_beside_it() -> None:
    asked = {"PYTHONDONTWRITEBYTECODE": "1", "HOME": "/home/choir"}
    run.keep_compiled(asked)
    assert asked == {"HOME": "/home/choir", "PYTHONPYCACHEPREFIX": str(run.VENV / "compiled")}
    left = {"HOME": "/home/choir"}
    run.keep_compiled(left)
    assert left == {"HOME": "/home/choir"}
