"""What shells complete: made from the command line, and taken by the shells themselves."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from storyrod.adapters.cli import main, make_parser
from storyrod.adapters.commands._completion import FOLDER, SHELLS, commands_of, scripts


def test_the_scripts_are_up_to_date() -> None:
    """Run `python -m storyrod.adapters.completing` when they are not."""
    assert {name: (FOLDER / name).read_text(encoding="utf-8") for name in scripts(make_parser())} == scripts(
        make_parser()
    )


def test_every_command_and_option_stands_in_every_script() -> None:
    commands = commands_of(make_parser())

    assert {c.name.word for c in commands} >= {"open", "plan", "check", "compare", "trial", "log", "new"}
    for text in scripts(make_parser()).values():
        for command in commands:
            assert command.name.word in text
            assert all(option.word.lstrip("-") in text for option in command.options)


@pytest.mark.parametrize("shell", sorted(SHELLS))
def test_the_command_prints_the_script(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    assert capsys.readouterr().out == scripts(make_parser())[SHELLS[shell][0]]


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [(("storyrod", "com"), {"compare", "completion"}), (("storyrod", "trial", "--s"), {"--set-up", "--step"})],
)
def test_bash_offers_what_fits(typed: tuple[str, ...], offered: set[str]) -> None:
    words = " ".join(typed)
    asked = f"COMP_WORDS=({words}); COMP_CWORD={len(typed) - 1}; _storyrod; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    script = f"source '{FOLDER / 'storyrod.bash'}'\n{asked}"
    done = subprocess.run(["bash", "--norc", "-c", script], capture_output=True, text=True, check=True)

    assert set(done.stdout.split()) == offered


@pytest.mark.parametrize(("shell", "check"), [("zsh", "-n"), ("fish", "--no-execute")])
def test_the_other_shells_read_theirs(shell: str, check: str) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"no {shell} here")
    subprocess.run([shell, check, str(FOLDER / SHELLS[shell][0])], check=True)


def test_no_words_at_all_say_what_is_next(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 0

    said = capsys.readouterr().out
    assert "What next?" in said
    assert "storyrod open" in said
