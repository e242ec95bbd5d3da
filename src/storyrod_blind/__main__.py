"""Build from a packet: `python -m storyrod_blind packet.pdf`; says what was found, and ends with 1 if anything was.

With `--jigs jigs.pdf`, `--bench page.html` and `--plan plan.json` the paper of the jigs, the bench page and the file of
the same plan are held against the packet.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from storyrod_blind._build import build


def main(words: list[str]) -> int:
    """Report on each packet; return the exit status."""
    asked = argparse.ArgumentParser(
        prog="storyrod_blind", description="Build from a packet alone, and say what is off."
    )
    asked.add_argument("packets", nargs="+", type=Path, metavar="packet.pdf")
    asked.add_argument("--jigs", type=Path, metavar="jigs.pdf", help="the paper of the jigs of the same plan")
    asked.add_argument("--bench", type=Path, metavar="page.html", help="the bench page of the same plan, as HTML")
    asked.add_argument("--plan", type=Path, metavar="plan.json", help="plan.json of the same plan")
    told = asked.parse_args(words)
    bench = told.bench.read_text(encoding="utf-8") if told.bench else ""
    plan = json.loads(told.plan.read_text(encoding="utf-8")) if told.plan else None
    jigs = told.jigs.read_bytes() if told.jigs else None
    found = 0
    for path in told.packets:
        report = build(path.read_bytes(), jigs=jigs, bench=bench, plan=plan)
        read = f"{report.panels} panels, {report.joints} joints, {report.cuts} cuts, {report.mates} pairs of mates"
        sys.stdout.write(f"{path}: {read}; {report.placed} panels built together\n")
        for f in report.findings:
            by = f" ({f.by_mm:+.3f} mm)" if f.by_mm else ""
            sys.stdout.write(f"  {f.kind.value}: {f.about}: {f.words}{by}\n")
        found += len(report.findings)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
