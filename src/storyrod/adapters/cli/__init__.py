"""The command line. Light to import: what a command needs is imported when it runs."""

from storyrod.adapters.cli._main import main

__all__ = ["main"]
