"""The commands of the command line. Light to import: what a command needs is imported when it runs."""

from storyrod.adapters.commands._completion import FOLDER, scripts
from storyrod.adapters.commands._main import parser_of, run_command

__all__ = ["FOLDER", "parser_of", "run_command", "scripts"]
