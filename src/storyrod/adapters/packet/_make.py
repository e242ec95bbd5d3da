"""The order of the packet's parts."""

from __future__ import annotations

from storyrod.adapters.packet._assembly import assembly_sections
from storyrod.adapters.packet._blocks import Packet, Section
from storyrod.adapters.packet._cover import case_sections, caution_section, cover_section, proof_section
from storyrod.adapters.packet._ledger import ledger_sections
from storyrod.adapters.packet._lists import cutting_section, hardware_section, joint_section
from storyrod.adapters.packet._machining import machining_sections
from storyrod.adapters.packet._rods import rod_sections
from storyrod.adapters.packet._set_out import set_out_sections
from storyrod.adapters.packet._sheets import sheet_sections
from storyrod.adapters.packet._soundness import soundness_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.plan import Plan


def make_packet(plan: Plan, *, date: str = "", costs: bool = False) -> bytes:
    """Return the packet of a plan as PDF, on the job's paper; `date` is printed in the head of each page.

    With `costs`, the cost sheet, the comparison of methods and the quotation stand at the end; comparing works the
    job out by every method of the workshop, which takes its time.

    Raises:
        JobError: the plan has faults, or was not proven; such a plan is not printed.
    """
    from storyrod.faults import raise_if_any

    raise_if_any(plan.faults)
    packet = Packet(
        title=plan.job.title,
        version=plan.version,
        maker=plan.job.maker,
        date=date,
        paper=plan.job.paper.value,
        sections=(*packet_sections(plan), *(ledger_sections(plan) if costs else ())),
    )
    return typeset(packet)


def packet_sections(plan: Plan) -> tuple[Section, ...]:
    """Return every part of the packet in the order in which the work needs it."""
    return (
        cover_section(plan),
        proof_section(plan),
        *case_sections(plan),
        cutting_section(plan),
        *sheet_sections(plan),
        hardware_section(plan),
        joint_section(plan),
        *set_out_sections(plan),
        *rod_sections(plan),
        *machining_sections(plan),
        *assembly_sections(plan),
        *soundness_sections(plan),
        caution_section(plan),
    )
