"""Set storyrod up, once, and run it.

    python3 run.py open             the page, in your browser
    python3 run.py JOB.toml         the same as `plan JOB.toml`
    python3 run.py study STUDY.toml a study, with the libraries for it the first time (so for `day` and `wish`)
    python3 run.py plan JOB.toml    any word of the storyrod command line
    python3 run.py test [WORDS]     all checks and tests; with words, only the tests they name
    python3 run.py lint             style, types and layers only
    python3 run.py bench [WORDS]    the benchmarks, or those whose name holds a word
    python3 run.py harden [WORDS]   hostile and plausible files by the thousand (--files N, --seed S), kills and more

The first start finds a Python of 3.12 or newer, makes the folder `.venv` beside this file and puts the
libraries of `pins.txt` into it (`pins-dev.txt` for tests). Later starts see by a stamp that nothing has
changed. Deleting `.venv` undoes all of it. This file uses the standard library only and starts under any
Python from 3.8.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import BinaryIO, Iterable, Iterator, MutableMapping, NamedTuple, Sequence

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "storyrod-stamp.json"
LOG = VENV / "storyrod-setup.log"
LOCK = ROOT / ".venv.lock"

LEAST = (3, 12)
TRIED = ((3, 12), (3, 13), (3, 14))  # Every library of pins.txt has ready-made files for these.
SET_UP_FAILED = 4  # Exit status; the smaller ones are the command line's own.
ON_WINDOWS = os.name == "nt"

# Run by a Python that may be any: prints its version, what is against it, and its own path outside any venv.
PROBE = """
import json, sys
against = []
if sys.implementation.name != "cpython":
    against.append("is " + sys.implementation.name + ", not the usual Python")
if sys.maxsize < 2**32:
    against.append("is a 32-bit Python")
if not getattr(sys, "_is_gil_enabled", lambda: True)():
    against.append("is a free-threaded Python")
try:
    import ensurepip, venv
except ImportError:
    name = "python%d.%d-venv" % sys.version_info[:2]
    against.append("lacks its venv module (on Debian and Ubuntu: apt-get install " + name + ")")
base = getattr(sys, "_base_executable", None) or sys.executable
print(json.dumps([sys.version_info[:2], against, base]))
"""


class SetUpError(Exception):
    """The set-up cannot go on; the message says why and what to do."""


class Told(NamedTuple):
    """What a Python told of itself."""

    version: tuple[int, int]
    against: list[str]  # Why it cannot carry storyrod; empty when it can.
    path: str  # Its own program, outside any virtual environment.


# ---------------------------------------------------------------- finding a Python


def pyenv_folders(environ: dict[str, str], home: Path) -> list[Path]:
    """Return the folders in which pyenv keeps its Pythons, if it is used here."""
    roots = [Path(environ["PYENV_ROOT"])] if environ.get("PYENV_ROOT") else []
    roots += [home / ".pyenv", home / ".pyenv" / "pyenv-win"]
    return [root / "versions" for root in roots if (root / "versions").is_dir()]


def version_in_name(name: str) -> tuple[int, int]:
    """Return (3, 12) for a folder named `3.12.1`; (0, 0) when the name tells no version."""
    found = re.match(r"(\d+)\.(\d+)(?:\.|$)", name)
    return (int(found.group(1)), int(found.group(2))) if found else (0, 0)


def candidates(environ: dict[str, str], home: Path) -> Iterator[list[str]]:
    """Yield the commands that may start a Python new enough, the likeliest first."""
    yield [getattr(sys, "_base_executable", None) or sys.executable]
    for major, minor in TRIED:
        found = shutil.which(f"python{major}.{minor}", path=environ.get("PATH"))
        if found:
            yield [found]
    for folder in pyenv_folders(environ, home):
        versions = sorted((p for p in folder.iterdir() if version_in_name(p.name) >= LEAST), key=_pyenv_order)
        for version in versions:
            yield [str(version / ("python.exe" if ON_WINDOWS else "bin/python"))]
    if ON_WINDOWS and shutil.which("py", path=environ.get("PATH")):
        for major, minor in TRIED:
            yield ["py", f"-{major}.{minor}"]
    for name in ("python3", "python"):
        found = shutil.which(name, path=environ.get("PATH"))
        if found:
            yield [found]


def _pyenv_order(folder: Path) -> tuple[bool, tuple[int, int], str]:
    """Versions that were tried come first, the older of them before the newer."""
    version = version_in_name(folder.name)
    return (version not in TRIED, version, folder.name)


def ask(command: Sequence[str]) -> Told | None:
    """Return what the Python started by this command tells of itself, or None when it does not start."""
    try:
        answer = subprocess.run(
            [*command, "-I", "-c", PROBE],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            stdin=subprocess.DEVNULL,
            timeout=30,
            check=False,
        )
        (major, minor), against, path = json.loads(answer.stdout.decode("utf-8", "replace"))
    except (OSError, ValueError, subprocess.SubprocessError):
        return None
    if (major, minor) < LEAST:
        against = [f"is Python {major}.{minor}"]
    return Told((major, minor), against, path)


def find_python(commands: Iterable[Sequence[str]]) -> str:
    """Return the path of the first Python that can carry storyrod, those that were tried before newer ones.

    Raises:
        SetUpError: there is none; the message lists what was looked at.
    """
    looked = []
    newer = []
    for command in commands:
        told = ask(command)
        if told is None or told.against:
            looked.append(" ".join(command) + " " + (told.against[0] if told else "does not start"))
        elif told.version in TRIED:
            return told.path
        else:
            newer.append(told.path)
    if newer:
        return newer[0]
    raise SetUpError(no_python_message(looked))


def no_python_message(looked: Iterable[str]) -> str:
    """Return what to tell a maker who has no Python that fits."""
    lines = ["storyrod needs Python 3.12 or newer, and none that fits was found.", "Looked at:"]
    lines += ["  " + line for line in dict.fromkeys(looked)]
    lines += [
        "Install one, then run this again:",
        "  Debian 13, Ubuntu 24.04 or newer:  sudo apt-get install python3 python3-venv",
        "  macOS, Windows:                    the installer from python.org",
        "  anywhere with pyenv:               pyenv install 3.12",
    ]
    return "\n".join(lines)


# ---------------------------------------------------------------- stamps


def digest(paths: Iterable[Path], *words: str) -> str:
    """Return one digest of the files' contents and the words; a missing file counts as empty."""
    sha = hashlib.sha256()
    for path in paths:
        content = path.read_bytes().replace(b"\r\n", b"\n") if path.is_file() else b""
        sha.update(b"%d:" % len(content) + content)
    for word in words:
        sha.update(word.encode("utf-8") + b"\0")
    return sha.hexdigest()


def wanted_stamp(root: Path, *, dev: bool, study: bool = False) -> dict[str, str]:
    """Return what the stamp must say for the libraries and the project to be as the files want them."""
    wanted = {
        "core": digest([root / "pins.txt"]),
        # The editable install points at this folder, so that a moved project is installed again.
        "project": digest([root / "pyproject.toml"], str(root)),
    }
    if dev:
        wanted["dev"] = digest([root / "pins-dev.txt"])
    if study:
        wanted["study"] = digest([root / "pins-study.txt"])
    return wanted


def read_stamp(path: Path) -> dict[str, str]:
    """Return the stamp's content; nothing when it is missing or spoilt."""
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return content if isinstance(content, dict) else {}


def missing_parts(wanted: dict[str, str], stamp: dict[str, str]) -> list[str]:
    """Return which parts of the set-up (`core`, `dev`, `project`) are not as wanted."""
    return [part for part in wanted if stamp.get(part) != wanted[part]]


# ---------------------------------------------------------------- setting up


def venv_program(name: str, venv: Path = VENV) -> Path:
    """Return where a program of the virtual environment lies."""
    return venv / "Scripts" / (name + ".exe") if ON_WINDOWS else venv / "bin" / name


def say(words: str) -> None:
    """Tell the maker how the set-up goes; on the error stream, so that `--json` stays clean."""
    print(words, file=sys.stderr, flush=True)


@contextlib.contextmanager
def only_one(path: Path) -> Iterator[None]:
    """Let two starts at the same time set up one after the other."""
    with path.open("a+b") as handle:
        _wait_for_lock(handle)
        yield  # Closing the file gives the lock back.


def _wait_for_lock(handle: BinaryIO) -> None:
    told = False
    while not _take_lock(handle):
        if not told:
            say("Waiting for another start of run.py that is setting up ...")
            told = True
        time.sleep(0.2)


def _take_lock(handle: BinaryIO) -> bool:
    """Take the lock if nobody holds it; the system gives it back when the process ends, however it ends."""
    try:
        if sys.platform == "win32":
            import msvcrt

            handle.seek(0)
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno not in (errno.EACCES, errno.EAGAIN, errno.EDEADLK):
            raise
        return False
    return True


def set_up(*, dev: bool, study: bool = False) -> None:
    """Make `.venv` what the pins and the project's file want; at once when it is so already.

    Raises:
        SetUpError: it cannot be done; the message says why and what to do.
    """
    wanted = wanted_stamp(ROOT, dev=dev, study=study)
    if _is_ready(wanted):
        return
    try:
        with only_one(LOCK):
            if not _is_ready(wanted):  # Another start may just have done it.
                _install(wanted)
    except OSError as error:
        raise SetUpError(os_error_message(error)) from error


def _is_ready(wanted: dict[str, str]) -> bool:
    return venv_program("python").exists() and not missing_parts(wanted, read_stamp(STAMP))


def _install(wanted: dict[str, str]) -> None:
    began = time.time()
    if not _venv_works():
        check_room(shutil.disk_usage(str(ROOT)).free, dev="dev" in wanted)
        _make_venv()
    stamp = read_stamp(STAMP)
    parts = missing_parts(wanted, stamp)
    LOG.write_text("", encoding="utf-8")
    if "dev" in parts:
        say("Getting the libraries for storyrod and its tests (1.3 GB on disk; one to three minutes) ...")
    elif "core" in parts:
        say("Getting the libraries for storyrod (0.25 GB on disk; about a minute) ...")
    elif "study" in parts:
        say("Getting the libraries for studies, wishes and the day's work (0.45 GB more on disk; some seconds) ...")
    # Nothing is compiled ahead: most modules of the libraries are never read, and what is read is kept compiled then.
    if "core" in parts:
        _pip("install", "--require-hashes", "--no-compile", "-r", "pins.txt")
    if "dev" in parts:  # After the core, for that has what builds the one that comes as source.
        _pip("install", "--require-hashes", "--no-build-isolation", "--no-compile", "-r", "pins-dev.txt")
    elif "study" in parts:  # The test libraries have them too.
        _pip("install", "--require-hashes", "--no-build-isolation", "--no-compile", "-r", "pins-study.txt")
    _pip("install", "--no-deps", "--no-build-isolation", "--no-index", "-e", ".")
    stamp.update(wanted)
    if "core" in parts and "dev" not in wanted:
        stamp.pop("dev", None)  # The test libraries may no longer fit beside the new ones.
        stamp.pop("study", None)
        stamp.update(wanted)
    aside = STAMP.with_suffix(".new")
    aside.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    aside.replace(STAMP)
    say("Set up in %.0f s." % (time.time() - began))


def check_room(free_bytes: int, *, dev: bool) -> None:
    """Refuse to begin on a disk that cannot hold the libraries.

    Raises:
        SetUpError: the message says how much room there is and how much is needed.
    """
    needed_mb = 1500 if dev else 400
    free_mb = free_bytes // 10**6
    if free_mb < needed_mb:
        what = "the libraries and those for the tests" if dev else "the libraries"
        raise SetUpError(f"{DISK_FULL}\nFound {free_mb} MB free; {what} need about {needed_mb} MB.")


def _venv_works() -> bool:
    """Tell whether `.venv` holds a Python that fits, with a working pip."""
    told = ask([str(venv_program("python"))])
    if told is None or told.against:
        return False
    quiet = subprocess.DEVNULL
    return subprocess.call(_pip_command("--version"), stdin=quiet, stdout=quiet, stderr=quiet) == 0


def _make_venv() -> None:
    python = find_python(candidates(dict(os.environ), Path.home()))
    say(f"Setting storyrod up with {python} ...")
    if VENV.exists():
        shutil.rmtree(str(VENV))
    made = subprocess.run(
        [python, "-I", "-m", "venv", str(VENV)],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )
    if made.returncode != 0:
        shutil.rmtree(str(VENV), ignore_errors=True)
        told = made.stdout.decode("utf-8", "replace").strip()
        raise SetUpError(pip_failure_message(told, log=None))


def _pip_command(*words: str) -> list[str]:
    return [str(venv_program("python")), "-m", "pip", "--disable-pip-version-check", "--no-input", *words]


def pip_environment(environ: dict[str, str]) -> dict[str, str]:
    """Return the environment without what would send pip's files elsewhere than `.venv`."""
    astray = {"PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_PYTHON", "PYTHONHOME", "PYTHONPATH"}
    return {name: value for name, value in environ.items() if name not in astray}


def _pip(*words: str) -> None:
    with subprocess.Popen(
        _pip_command(*words),
        cwd=str(ROOT),
        env=dict(pip_environment(dict(os.environ)), PYTHONUNBUFFERED="1"),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    ) as installer, LOG.open("a", encoding="utf-8") as log:
        said = []
        for line in installer.stdout or ():
            said.append(line.decode("utf-8", "replace"))
            log.write(said[-1])
            if no_network(said[-1]):  # It would try five times, for over a minute, with nobody told why.
                installer.terminate()
                break
    if installer.returncode != 0:
        raise SetUpError(pip_failure_message("".join(said), log=LOG))


def no_network(line: str) -> bool:
    """Tell whether a line of the installer says that nothing can be reached at all: no name, no way."""
    return "Retrying (" in line and re.search(UNREACHED, line, re.IGNORECASE) is not None


DISK_FULL = "The disk is full. Free about 1 GB (1.5 GB for the tests), then run this again."
WRONG_HASH = """\
A download is not the file that the pins name: it was spoilt on the way, or changed since.
Nothing of it was installed. Run this again; if it stays so, do not install it, and tell the project."""
NO_NETWORK = """\
The libraries could not be downloaded: no connection.
The first start needs the network once; later starts do not. Connect, then run this again."""
NO_TRUST = """\
The libraries could not be downloaded: the connection's certificate is not trusted here.
Behind a company's proxy, set PIP_CERT to its certificate file, then run this again."""
NO_ACCESS = """\
The folder `.venv` beside run.py cannot be written.
Put the project in a folder that is yours, or close programs that use it, then run this again."""
NO_FILE = """\
A library has no ready-made file for this computer or this Python.
storyrod is made for 64-bit Windows, macOS and Linux (glibc) with Python 3.12 to 3.14."""

UNREACHED = (
    r"NameResolutionError|name resolution|Name or service not known|nodename nor servname|getaddrinfo failed"
    r"|Network is unreachable|No route to host"
)
NETWORK_WORDS = (
    r"new connection|Connection (refused|aborted|reset)|unreachable|"
    + UNREACHED
    + r"|ConnectTimeout|Read timed out|Max retries exceeded|ProxyError"
)

# What the installer may say, and what that means to a maker; the first that fits is told.
FAILURES = (
    (r"No space left|not enough space on the disk|Errno 28\b|quota exceeded", DISK_FULL),
    (r"DO NOT MATCH THE HASHES", WRONG_HASH),
    (r"CERTIFICATE_VERIFY_FAILED|SSLError", NO_TRUST),
    (NETWORK_WORDS, NO_NETWORK),
    (r"Permission denied|Access is denied|Errno 13\b|Read-only file system", NO_ACCESS),
    (r"No matching distribution found|satisfies the requirement", NO_FILE),
)


def pip_failure_message(told: str, *, log: Path | None) -> str:
    """Return what a maker can do about a failed set-up, found from the installer's own words."""
    meanings = (message for pattern, message in FAILURES if re.search(pattern, told, re.IGNORECASE))
    last = [line for line in told.splitlines() if line.strip()][-3:]
    lines = ["", next(meanings, "The set-up did not work."), "The installer's last words:"]
    lines += ["  " + line for line in last]
    if log is not None:
        lines.append(f"All of them: {log}")
    return "\n".join(lines)


def os_error_message(error: OSError) -> str:
    """Return what a maker can do about a folder or disk that does not let the set-up write."""
    if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
        return DISK_FULL
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return f"{NO_ACCESS}\nRefused: {error.filename or ROOT}"
    return f"The set-up did not work: {error}."


# ---------------------------------------------------------------- Chromium and poppler


# The build without a window does all that the tests ask for, in two thirds of the processor's time.
CHROMIUM = ("chromium-headless-shell", "chromium", "chromium-browser")


def find_chromium(environ: dict[str, str]) -> str | None:
    """Return the Chromium for the browser tests: STORYROD_CHROMIUM, or the one on PATH."""
    named = environ.get("STORYROD_CHROMIUM")
    if named:
        return shutil.which(named)
    for name in CHROMIUM:
        found = shutil.which(name, path=environ.get("PATH"))
        if found:
            return found
    return None


def missing_programs(environ: dict[str, str]) -> list[str]:
    """Return the Debian packages whose programs the tests want and this machine lacks."""
    missing = [] if find_chromium(environ) else ["chromium"]
    found = all(shutil.which(name, path=environ.get("PATH")) for name in ("pdftotext", "pdftoppm"))
    return missing if found else [*missing, "poppler-utils"]


def get_programs(environ: dict[str, str]) -> None:
    """Install Chromium and poppler where that can be done; else say which tests will be skipped."""
    missing = missing_programs(environ)
    if not missing:
        return
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    if is_root and shutil.which("apt-get", path=environ.get("PATH")):
        say("Installing {} with apt-get ...".format(" and ".join(missing)))
        _apt_get(["update", "-qq"], environ)
        for package in missing:
            # Some releases have no package of the build without a window; the whole browser does as well.
            ways = CHROMIUM[:2] if package == "chromium" else (package,)
            any(_apt_get(["install", "-y", "-qq", "--no-install-recommends", way], environ) for way in ways)
        missing = missing_programs(environ)
    for package in missing:
        say(skip_message(package))


def get_typescript(environ: dict[str, str]) -> None:
    """Get what the types of the page's scripts are checked with; without Node and npm those tests are skipped."""
    npm = shutil.which("npm", path=environ.get("PATH"))
    wanted = ROOT / "tests" / "scripts" / "package-lock.json"
    there = VENV / "scripts" / "package-lock.json"
    if npm is None or (there.exists() and there.read_bytes() == wanted.read_bytes()):
        return
    there.parent.mkdir(parents=True, exist_ok=True)
    for name in ("package.json", "package-lock.json"):
        shutil.copy(str(wanted.with_name(name)), str(there.with_name(name + ".new")))
    there.with_name("package.json.new").replace(there.with_name("package.json"))
    there.with_name("package-lock.json.new").replace(there)
    words = [npm, "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", str(there.parent)]
    try:
        done = subprocess.run(
            words, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=300, check=False
        )
        told = "" if done.returncode == 0 else done.stdout.decode("utf-8", "replace")[-1000:]
    except (OSError, subprocess.SubprocessError) as error:
        told = str(error)
    if told:
        there.unlink()
        say(f"npm did not bring TypeScript; the types of the page's scripts are not checked.\n{told}")


def _apt_get(words: Sequence[str], environ: dict[str, str]) -> bool:
    """Run apt-get and return whether it did; its own words are shown only when it fails, for the tests can go on."""
    try:
        done = subprocess.run(
            ["apt-get", "-o", "DPkg::Lock::Timeout=300", *words],
            env=dict(environ, DEBIAN_FRONTEND="noninteractive"),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            timeout=600,
            check=False,
        )
    except (OSError, subprocess.SubprocessError) as error:
        say(f"apt-get {words[0]}: {error}")
        return False
    if done.returncode != 0:
        say(done.stdout.decode("utf-8", "replace")[-2000:])
    return done.returncode == 0


def skip_message(package: str) -> str:
    """Return the word that says which tests are skipped for want of a package, and how to get it."""
    which = {"chromium": "Chromium is not there: the browser tests are skipped."}
    word = which.get(package, "poppler is not there: the tests that read PDF pages with it are skipped.")
    ways = "Install the package {}{}".format(
        package,
        ", or name the program in STORYROD_CHROMIUM." if package == "chromium" else ".",
    )
    return f"{word} {ways}"


# ---------------------------------------------------------------- what to run


CHECKS = (
    ("ruff check", ["-m", "ruff", "check", "."]),
    ("ruff format --check", ["-m", "ruff", "format", "--check", "."]),
    ("mypy", ["-m", "mypy"]),
    ("lint-imports", ["-c", "from importlinter.cli import lint_imports_command as run; run()"]),
)


def run_checks() -> list[str]:
    """Run the style, type and layer checks; return the names of those that found something."""
    failed = []
    for name, words in CHECKS:
        say(f"\n== {name}")
        if _in_venv(words) != 0:
            failed.append(name)
    if failed:
        say("\n{} found faults (see above).".format(" and ".join(failed)))
    return failed


SLOWEST = ["--durations=15"]
"""What the whole run tells besides: which tests took longest, before CI becomes too slow for them."""


def pytest_words(words: Sequence[str], root: Path, cpus: int) -> list[str]:
    """Return the arguments for pytest: a bare folder name of tests/ stands for that folder."""
    given = []
    for before, word in zip(["", *words], words):
        is_value = before in ("-k", "-m", "-n", "-p", "-c", "-o", "-W")
        is_place = not is_value and re.match(r"[\w./-]+$", word) and (root / "tests" / word).exists()
        given.append(str(Path("tests", word)) if is_place else word)
    alone = any(w.startswith(("-n", "--pdb", "--numprocesses", "-pno:xdist")) for w in given)
    spread = [] if alone or cpus < 2 else ["-n", str(min(cpus, 4)), "--dist", "worksteal"]
    return ["-m", "pytest", *spread, *given]


def run_tests(words: Sequence[str]) -> int:
    """Run every check and all tests, or with words only the tests that they name."""
    set_up(dev=True)
    get_programs(dict(os.environ))
    get_typescript(dict(os.environ))
    with ThreadPoolExecutor(1) as beside:  # the types alone take a minute of one core
        checks = [] if words else [(name, beside.submit(_check, told)) for name, told in CHECKS]
        say("\n== pytest")
        status = _in_venv(pytest_words(words or SLOWEST, ROOT, os.cpu_count() or 1))
        failed = []
        for name, found in checks:
            check = found.result()
            say("\n== {}\n{}".format(name, check.stdout.decode("utf-8", "replace").rstrip()))
            if check.returncode != 0:
                failed.append(name)
    if failed:
        say("\n{} found faults (see above).".format(" and ".join(failed)))
    return status or (1 if failed else 0)


def _check(words: Sequence[str]) -> subprocess.CompletedProcess[bytes]:
    """Run a check beside the tests; what it says is shown once they are through."""
    return subprocess.run(
        [str(venv_program("python")), *words],
        cwd=str(ROOT),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        check=False,
    )


def run_lint() -> int:
    """Run the style, type and layer checks only."""
    set_up(dev=True)
    return 1 if run_checks() else 0


def run_bench(words: Sequence[str]) -> int:
    """Run the benchmarks; some of their peers are among the test libraries."""
    set_up(dev=True)
    return _in_venv([str(Path("benchmarks", "run_all.py")), *words])


def run_harden(words: Sequence[str]) -> int:
    """Try what is hostile or goes wrong: files by mutation, kills, the wrong side of the page."""
    set_up(dev=False)
    return _in_venv(["-m", "benchmarks.harden.harden", *words])


def _in_venv(words: Sequence[str]) -> int:
    sys.stdout.flush()
    return subprocess.call([str(venv_program("python")), *words], cwd=str(ROOT))


def hand_over(words: Sequence[str]) -> int:
    """Give the words to the storyrod command line, in the caller's folder; its exit status is ours."""
    if words and words[0] in ("study", "day", "wish"):
        set_up(dev=False, study=True)
    else:
        set_up(dev=False)
    if words and words[0].lower().endswith(".toml"):
        words = ["plan", *words]
    program = str(venv_program("storyrod"))
    if not ON_WINDOWS:
        # In place of this process, so that signals reach it. Through the interpreter, for a script's first line
        # has no room for long names or blanks.
        sys.stdout.flush()
        sys.stderr.flush()
        python = str(venv_program("python"))
        os.execv(python, [python, program, *words])
    return subprocess.call([program, *words])


def keep_compiled(environ: MutableMapping[str, str]) -> None:
    """Let what is started keep its modules compiled, in `.venv`, where Python was asked to leave nothing beside them.

    Some machines say so to every program. Then each start would compile all of the libraries anew: two seconds of
    processor time, in a test run a thousand times over.
    """
    if environ.pop("PYTHONDONTWRITEBYTECODE", ""):
        environ.setdefault("PYTHONPYCACHEPREFIX", str(VENV / "compiled"))


def main(words: Sequence[str]) -> int:
    """Do what the words say; return the exit status."""
    keep_compiled(os.environ)
    if not words or words[0] in ("-h", "--help", "help"):
        print(__doc__)
        return 0
    first, rest = words[0], list(words[1:])
    try:
        if first == "test":
            return run_tests(rest)
        if first == "lint":
            return run_lint()
        if first == "bench":
            return run_bench(rest)
        if first == "harden":
            return run_harden(rest)
        return hand_over(words)
    except SetUpError as error:
        say(str(error))
        return SET_UP_FAILED
    except KeyboardInterrupt:
        say("\nStopped. Run the same again to go on.")
        return 130
