"""`storyrod open`: the page, in the browser."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "open",
        help="open the page in the browser",
        description="Serves the page on this machine only and opens it in the browser. Jobs lie in the folder of JOB, "
        "or in `storyrod/jobs` of your home folder, which is made, with an example in it, where it is not there yet. "
        "STORYROD_HOME names another place than `storyrod` in your home folder.",
    )
    command.add_argument("job", metavar="JOB", type=Path, nargs="?", help="a job file to open (the list unless set)")
    command.add_argument("--port", metavar="N", type=_port, help="the port to serve at (a free one unless set)")
    command.add_argument("--no-browser", action="store_true", help="only serve; open the address yourself")
    command.add_argument(
        "--network",
        action="store_true",
        help="open the page to the network this machine is in, too, with an access code; never done unless asked for",
    )
    command.add_argument(
        "--certificate",
        metavar="FILE",
        type=Path,
        help="a certificate of your own (PEM): the way over the network is then encrypted",
    )
    command.add_argument(
        "--certificate-key", metavar="FILE", type=Path, help="its key, where that is in a file of its own"
    )
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Serve the page until it is stopped."""
    from storyrod.adapters.web import Certificate
    from storyrod.adapters.web.first_visit import prepare
    from storyrod.adapters.web.serving import serve

    certificate = Certificate.asked(arguments.certificate, arguments.certificate_key)
    home = Path(os.environ.get("STORYROD_HOME") or Path.home() / "storyrod")
    keep_private(home)
    first = "/"
    if arguments.job is not None:
        jobs = _folder_of(arguments.job)
        first = f"/job/{quote(arguments.job.stem)}/brief"
    else:
        jobs = home / "jobs"
        prepare(jobs)
    serve(
        jobs=jobs,
        home=home,
        first=first,
        port=arguments.port,
        browser=not arguments.no_browser,
        network=arguments.network,
        certificate=certificate,
    )
    return 0


def keep_private(home: Path) -> None:
    """Have the page's own folder, and every file that the page makes, be read by nobody but its owner."""
    import contextlib

    os.umask(0o077)
    with contextlib.suppress(OSError):  # a folder of another's, or a drive without such rights
        home.mkdir(parents=True, exist_ok=True)
        home.chmod(0o700)


def _folder_of(job: Path) -> Path:
    from storyrod.faults import Fault, JobError

    if job.is_file() and job.suffix == ".toml":
        return job.resolve().parent
    raise JobError(
        Fault(
            code="file-missing",
            field="JOB",
            found=f'no job file "{job}"',
            allowed="a job file, its name ending in .toml",
            do="Check the name, or leave it out to see the list of your jobs.",
        )
    )


def _port(words: str) -> int:
    try:
        port = int(words)
    except ValueError:
        port = -1
    if not 1 <= port <= 65_535:
        raise argparse.ArgumentTypeError(f"found {words}; allowed: 1 to 65535")
    return port
