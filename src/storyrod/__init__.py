"""storyrod: from a job file to panels, joints, marks and set-ups, proven before a board is cut."""

__version__ = "0.1.0"
