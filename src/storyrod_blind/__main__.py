"""Build from a packet: `python -m storyrod_blind packet.pdf`; says what was found, and ends with 1 if anything was."""

from __future__ import annotations

import sys
from pathlib import Path

from storyrod_blind._build import build


def main(paths: list[str]) -> int:
    """Report on each packet; return the exit status."""
    found = 0
    for path in paths:
        report = build(Path(path).read_bytes())
        read = f"{report.panels} panels, {report.joints} joints, {report.cuts} cuts, {report.mates} pairs of mates"
        sys.stdout.write(f"{path}: {read}; {report.placed} panels built together\n")
        for f in report.findings:
            by = f" ({f.by_mm:+.3f} mm)" if f.by_mm else ""
            sys.stdout.write(f"  {f.kind.value}: {f.about}: {f.words}{by}\n")
        found += len(report.findings)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
