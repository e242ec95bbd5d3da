"""What a shell completes after `storyrod`: one script for each shell, made from the command line itself.

    python -m storyrod.adapters.completing

writes them into `src/storyrod/data/completion/`; the wheel puts them where shells look. A test fails as long as they
are not up to date.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from storyrod.adapters.commands._commands import Subparsers

FOLDER: Final = Path(__file__).parents[2] / "data" / "completion"


@dataclass(frozen=True, slots=True)
class Word:
    """One command or option, and what it is for."""

    word: str
    about: str


@dataclass(frozen=True, slots=True)
class Command:
    """A command with its options."""

    name: Word
    options: tuple[Word, ...]


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "completion",
        help="print what lets a shell complete storyrod's words",
        description='Prints a script for a shell. For bash and zsh: eval "$(storyrod completion bash)" in its start-up '
        "file; for fish: storyrod completion fish | source.",
    )
    command.add_argument("shell", choices=sorted(SHELLS), help="which shell")
    command.set_defaults(run=_run)


def _run(arguments: argparse.Namespace) -> int:
    print((FOLDER / SHELLS[arguments.shell][0]).read_text(encoding="utf-8"), end="")
    return 0


def commands_of(parser: argparse.ArgumentParser) -> tuple[Command, ...]:
    """Return the commands of a command line with their options, in the order of its help."""
    (subs,) = (a for a in parser._actions if isinstance(a, argparse._SubParsersAction))  # noqa: SLF001
    about = {a.dest: a.help or "" for a in subs._choices_actions}  # noqa: SLF001
    return tuple(
        Command(name=Word(name, about[name]), options=tuple(_options(sub))) for name, sub in subs.choices.items()
    )


def _options(parser: argparse.ArgumentParser) -> Iterator[Word]:
    for action in parser._actions:  # noqa: SLF001
        for flag in action.option_strings:
            if flag.startswith("--"):
                yield Word(flag, action.help or "")


def bash(commands: tuple[Command, ...]) -> str:
    """Return the script for bash: commands first, then a command's options, and files."""
    cases = "\n".join(f'        {c.name.word}) words="{" ".join(o.word for o in c.options)}" ;;' for c in commands)
    names = " ".join(c.name.word for c in commands)
    return f"""\
# Completion of storyrod for bash.
_storyrod() {{
    local cur=${{COMP_WORDS[COMP_CWORD]}} words=""
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "{names} --help --version" -- "$cur"))
        return
    fi
    case ${{COMP_WORDS[1]}} in
{cases}
    esac
    case $cur in
        -*) COMPREPLY=($(compgen -W "$words" -- "$cur")) ;;
        *) COMPREPLY=($(compgen -f -- "$cur")) ;;
    esac
}}
complete -o filenames -F _storyrod storyrod
"""


def zsh(commands: tuple[Command, ...]) -> str:
    """Return the script for zsh."""
    names = "\n".join(f"        '{c.name.word}:{_plain(c.name.about)}'" for c in commands)
    cases = "\n".join(
        f"        {c.name.word}) _arguments "
        + " ".join(f"'{o.word}[{_plain(o.about)}]'" for o in c.options)
        + " '*:file:_files' ;;"
        for c in commands
    )
    return f"""\
#compdef storyrod
_storyrod() {{
    local -a commands
    commands=(
{names}
    )
    if (( CURRENT == 2 )); then
        _describe command commands
        return
    fi
    local command=$words[2]
    shift words
    (( CURRENT-- ))
    case $command in
{cases}
    esac
}}
if [ "$funcstack[1]" = _storyrod ]; then _storyrod "$@"; else compdef _storyrod storyrod; fi
"""


def fish(commands: tuple[Command, ...]) -> str:
    """Return the script for fish."""
    lines = ["# Completion of storyrod for fish."]
    for c in commands:
        lines.append(f"complete -c storyrod -f -n __fish_use_subcommand -a {c.name.word} -d '{_plain(c.name.about)}'")
        lines += [
            f"complete -c storyrod -n '__fish_seen_subcommand_from {c.name.word}' "
            f"-l {o.word[2:]} -d '{_plain(o.about)}'"
            for o in c.options
        ]
    return "\n".join(lines) + "\n"


def _plain(words: str) -> str:
    """Return words that no shell takes for its own signs."""
    return "".join(" " if c in "'[]\\`$\"\n" else c for c in words.replace("%%", "%").replace(":", ","))


SHELLS: Final[dict[str, tuple[str, Callable[[tuple[Command, ...]], str]]]] = {
    "bash": ("storyrod.bash", bash),
    "fish": ("storyrod.fish", fish),
    "zsh": ("_storyrod", zsh),
}


def scripts(parser: argparse.ArgumentParser) -> dict[str, str]:
    """Return what each script must hold for a command line, by its file's name."""
    commands = commands_of(parser)
    return {name: make(commands) for name, make in SHELLS.values()}
