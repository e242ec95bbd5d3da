"""Setting out: where every cut is marked on every panel, rounded once and the same for both mates."""

from storyrod.setout._set_out import set_out

__all__ = ["set_out"]
