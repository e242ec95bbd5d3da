"""`python -m storyrod`: the command line, where its own program is not on the path."""

import sys

from storyrod.adapters.cli import main

sys.exit(main())
