"""The blind builder: builds a job from its printed packet alone, and says what the paper leaves unsaid or gets wrong.

It imports nothing of storyrod. All it is given is a PDF, as a maker has it; what it reads there it cuts, sets and puts
together by sums of its own.
"""

from storyrod_blind._build import Report, build
from storyrod_blind._finding import Finding, FindingKind

__all__ = ["Finding", "FindingKind", "Report", "build"]
