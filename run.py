#!/usr/bin/env python3
"""Start storyrod: `python3 run.py open`. What it does stands in set_up.py.

This file keeps to what every Python reads, down to 2.7, so that one that is too old says so in a sentence.
"""

import sys

if sys.version_info < (3, 8):
    sys.stderr.write(
        "run.py is started by Python 3.8 or newer, and this is Python %d.%d. Try `python3 run.py`, or install a newer "
        "one: from python.org, or with your system's packages (python3, python3-venv).\n" % sys.version_info[:2]
    )
    sys.exit(4)

import set_up

if __name__ == "__main__":
    sys.exit(set_up.main(sys.argv[1:]))
