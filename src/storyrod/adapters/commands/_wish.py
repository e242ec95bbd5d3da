"""`storyrod wish`: proposals for what must go in, each planned; one of them taken as a job file."""

from __future__ import annotations

import argparse
import json
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from storyrod.adapters.files.wishing import WishFile
    from storyrod.planning import Dropped, Proposal, Proposed

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it

_MOST = 14


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "wish",
        help="from what must go in, and where it stands, to cabinets to choose from",
        description="Proposes cabinets of several kinds that hold what a wish file lists, each worked out by the real "
        "plan, with what it costs, takes and weighs. Where none can be had it says which wishes quarrel, and the least "
        "change that makes peace. Writes nothing unless asked to.",
    )
    command.add_argument("wish", metavar="WISH", type=Path, help="the wish file (TOML)")
    command.add_argument("--take", metavar="N", type=_number, help="write proposal N as a job file, the wish beside it")
    command.add_argument(
        "--job", metavar="JOB", type=Path, help="with --take: the job file to write (<name of the wish>-N.toml)"
    )
    command.add_argument("--pictures", metavar="DIR", type=Path, help="write an elevation of each proposal as SVG")
    command.add_argument("--all", action="store_true", help="try every kind, not only until there are six proposals")
    command.add_argument("--seed", metavar="N", type=_number, default=1, help="seed of the search (1 unless set)")
    command.add_argument("--json", action="store_true", help="print the proposals as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Look for proposals, and print them; 1 where the wish cannot be met."""
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.files.wishing import read_wish
    from storyrod.faults import JobError
    from storyrod.planning import ENOUGH, Proposing

    with Progress(quiet=arguments.json) as progress:
        progress("reading the wish")
        read = read_wish(arguments.wish)
        try:
            asking = Proposing(read.wish, read.goods, read.base, read.workshop, seed=arguments.seed)
        except JobError as error:
            raise read.located(error) from None
        made = 0

        def tell(found: Proposal | Dropped | None) -> None:
            nonlocal made
            made += found is not None and hasattr(found, "number")
            progress(f"looking for proposals: {made} so far")

        found = asking.propose(tell, _MOST if arguments.all else ENOUGH)
    if arguments.pictures is not None:
        _draw(found, arguments.pictures)
    if arguments.take is not None:
        return _take(read, found, arguments)
    _print(read, found, arguments)
    return 0 if found.proposals else 1


def _print(read: WishFile, found: Proposed, arguments: argparse.Namespace) -> None:
    from storyrod.telling.wish import report_lines

    currency = read.wish.currency or read.workshop.money.currency
    if arguments.json:
        json.dump(_plain(found), sys.stdout, indent=1, ensure_ascii=False)
        print()
        return
    lengths = read.base.lengths
    print(f"{read.wish.title}\n")
    print("\n".join(report_lines(found, lengths, currency, look=read.wish.look.weighed)))
    if found.proposals:
        print(f"\nTake one: storyrod wish {arguments.wish} --take {found.proposals[0].number}")


def _plain(found: Proposed) -> dict[str, Any]:
    from storyrod.telling.plain import plain
    from storyrod.telling.wish import kind_words

    return {
        "proposals": [
            {
                "number": p.number,
                "kind": kind_words(p.kind),
                "sized": plain(p.sized),
                "stands": plain(p.stands),
                "money_cents": p.money_cents,
                "minutes": p.minutes,
                "weight_kg": p.weight_kg,
                "sheets": p.sheets,
                "fit": p.fit,
                "look": plain(p.look),
                "unbeaten": p.unbeaten,
            }
            for p in sorted(found.proposals, key=lambda p: p.number)
        ],
        "tried": [kind_words(d.kind) for d in found.dropped],
        "why_not": plain(found.why),
    }


def _take(read: WishFile, found: Proposed, arguments: argparse.Namespace) -> int:
    from storyrod.adapters.files import job_to_toml, write_text_safely
    from storyrod.adapters.files.kept_wish import wish_path
    from storyrod.faults import Fault, JobError

    chosen = next((p for p in found.proposals if p.number == arguments.take), None)
    if chosen is None:
        count = len(found.proposals)
        raise JobError(
            Fault(
                code="wish-take",
                field="--take",
                found=str(arguments.take),
                allowed=f"a proposal, 1 to {count}" if count else "a proposal; this wish has none",
                do="Run the command without --take to see them.",
            )
        )
    job = arguments.job or Path(f"{arguments.wish.stem.removesuffix('.wish')}-{chosen.number}.toml")
    beside = wish_path(job)
    for path in (job, beside):
        if path.exists():
            raise JobError(
                Fault(
                    code="file-exists",
                    field="--job",
                    found=f"{path}, which is there already",
                    allowed="a new name",
                    do="Choose another name with --job, or move that file away.",
                )
            )
    workshop = _seen_from(read.wish.workshop, arguments.wish.parent, job.parent)
    beside.parent.mkdir(parents=True, exist_ok=True)
    write_text_safely(beside, _moved(read, workshop))
    write_text_safely(job, job_to_toml(chosen.job, workshop=workshop))
    print(f"Wrote {job}, and the wish in {beside}. Next: storyrod plan {job}")
    return 0


def _seen_from(workshop: str, old: Path, new: Path) -> str:
    """Return the name of a workshop file as it is seen from another folder."""
    return Path(os.path.relpath(str(old / workshop), str(new))).as_posix() if workshop else ""


def _moved(read: WishFile, workshop: str) -> str:
    """Return the text of a wish with its workshop file named as it is seen from where the wish is kept."""
    if not workshop or workshop == read.wish.workshop:
        return read.text
    import tomlkit

    document = tomlkit.parse(read.text)
    document["workshop"] = workshop
    return tomlkit.dumps(document)


def _draw(found: Proposed, folder: Path) -> None:
    from storyrod.adapters.files import write_text_safely
    from storyrod.adapters.svg import write
    from storyrod.telling.wish import pictures_of

    folder.mkdir(parents=True, exist_ok=True)
    for proposal in found.proposals:
        for case, picture in zip(proposal.job.cases, pictures_of(proposal, found.goods), strict=True):
            name = f"proposal-{proposal.number}{case.code if len(proposal.job.cases) > 1 else ''}.svg"
            write_text_safely(folder / name, write(picture))


def _number(words: str) -> int:
    if words.isdigit() and 1 <= int(words) <= 1_000_000:
        return int(words)
    raise argparse.ArgumentTypeError(f"found {words}; allowed: a whole number from 1 on")
