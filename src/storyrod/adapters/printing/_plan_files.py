"""Which files a plan is written to, and how the bytes of each are made."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from functools import cache, partial
from typing import TYPE_CHECKING

from storyrod.adapters.output import (
    LAST,
    OutFile,
    buying_csv,
    connector_list,
    cutting_list,
    plan_document,
    saw_list_csv,
)
from storyrod.adapters.printing._kept import kept_or_made
from storyrod.faults import Fault, JobError
from storyrod.model.detail import DetailedCase
from storyrod.model.machining import JigPlan
from storyrod.model.mark import PanelSetOut
from storyrod.planning import Plan
from storyrod.telling.file_names import case_names, jig_names, panel_names, sheet_names
from storyrod.telling.purposes import Purpose, Wishes, unheard
from storyrod.telling.sheets import SHEET_UNIT, sheet_drawing

if TYPE_CHECKING:
    from manifold3d import Manifold

    from storyrod.drawing import Drawing
    from storyrod.model.panel import PanelId
    from storyrod.model.sheet import SheetPlan


def plan_files(
    plan: Plan,
    *,
    prints: Sequence[Purpose] = (),
    wishes: Wishes | None = None,
    step: bool = False,
) -> list[OutFile]:
    """Return every file of a plan, `plan.json` last; nothing but the sheets is made until its bytes are asked for.

    `prints` are the papers that are wanted; one that this plan cannot be printed as (a quotation while something has
    no price) is left out.

    Raises:
        JobError: STEP files were asked for and the extra that writes them is not installed.
    """
    _require_step(wanted=step)
    files = [
        OutFile(name="cutting-list.csv", make=lambda: cutting_list(plan).encode()),
        OutFile(name="connectors.csv", make=lambda: connector_list(plan).encode()),
        OutFile(name="buying-list.csv", make=lambda: buying_csv(plan).encode()),
    ]
    files += _sheet_files(plan)
    panels = panel_names(plan)
    for case in plan.set_out.cases:
        for out in case.panels:
            files += _panel_files(plan, out, panels[out.panel.id])
    files += _jig_files(plan)
    for detailed in plan.details.cases:
        files += _solid_files(plan, detailed, step=step)
    files += _prints(plan, prints, wishes)
    files.append(OutFile(name=LAST, make=lambda: _document(plan)))
    return files


def _jig_files(plan: Plan) -> Iterable[OutFile]:
    """Return each jig at full size: to be cut by a machine, or printed at 100 % and pasted on a board."""

    def made(jig: JigPlan, kind: str) -> bytes:
        from storyrod.adapters import dxf, svg
        from storyrod.drawing.jig_drawing import jig_true_size

        drawing = jig_true_size(jig)
        return (dxf.write(drawing) if kind == "dxf" else svg.write(drawing)).encode()

    names = jig_names(plan)
    for jig in plan.machining.jigs:
        for kind in ("dxf", "svg"):
            yield OutFile(name=f"jigs/{names[jig.id]}.{kind}", make=partial(made, jig, kind))


def _document(plan: Plan) -> bytes:
    return (json.dumps(plan_document(plan), indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def _prints(plan: Plan, wanted: Sequence[Purpose], wishes: Wishes | None) -> Iterable[OutFile]:
    if not wanted:
        return
    from storyrod.adapters.packet import prints_of

    asked = wishes or Wishes()
    for one, why_not in prints_of(plan, wanted, asked):
        if not why_not:
            make = partial(one.make, plan, asked, unheard)
            yield OutFile(name=one.file, make=partial(kept_or_made, plan, one.file, asked, make))


def _panel_files(plan: Plan, out: PanelSetOut, name: str) -> Iterable[OutFile]:
    from storyrod.drawing import Figures

    figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)

    def dxf_bytes() -> bytes:
        from storyrod.adapters import dxf
        from storyrod.drawing import panel_true_size

        return dxf.write(panel_true_size(out, figures=figures)).encode()

    from storyrod.drawing import worked_faces

    faces = worked_faces(out)
    drawn: list[Drawing] = []  # both faces at once, and let go when the last is written

    def svg_bytes(face: int) -> bytes:
        from storyrod.adapters import svg
        from storyrod.drawing import panel_set_out

        drawings = tuple(drawn) or panel_set_out(out, figures=figures)
        drawn[:] = drawings if face + 1 < len(faces) else ()
        return svg.write(drawings[face]).encode()

    stem = f"panels/{name}"
    yield OutFile(name=f"{stem}.dxf", make=dxf_bytes)
    for n, face in enumerate(faces):
        tail = "" if n == 0 else f".{face.value.replace(' ', '-')}"
        yield OutFile(name=f"{stem}{tail}.svg", make=lambda n=n: svg_bytes(n))  # type: ignore[misc]


def _sheet_files(plan: Plan) -> Iterable[OutFile]:
    if not plan.sheets.boards:
        return
    yield OutFile(name="saw-list.csv", make=lambda: saw_list_csv(plan).encode())
    names = sheet_names(plan)
    for sheet in plan.sheets.sheets:
        stem = f"sheets/{names[sheet.name]}"
        yield OutFile(name=f"{stem}.dxf", make=lambda s=sheet: _sheet_dxf(plan, s))  # type: ignore[misc]
        yield OutFile(name=f"{stem}.svg", make=lambda s=sheet: _sheet_svg(plan, s))  # type: ignore[misc]


def _sheet_dxf(plan: Plan, sheet: SheetPlan) -> bytes:
    from storyrod.adapters import dxf

    return dxf.write(sheet_drawing(plan, sheet, unit=SHEET_UNIT)).encode()


def _sheet_svg(plan: Plan, sheet: SheetPlan) -> bytes:
    from storyrod.adapters import svg

    return svg.write(sheet_drawing(plan, sheet)).encode()


def _solid_files(plan: Plan, case: DetailedCase, *, step: bool) -> Iterable[OutFile]:
    from storyrod.adapters import solid

    @cache
    def solids() -> dict[PanelId, Manifold]:
        return dict(solid.case_solids(case))

    stem = case_names(plan)[case.built.case.code]
    yield OutFile(name=f"{stem}.glb", make=lambda: solid.glb_bytes(case, plan.job, solids()))
    yield OutFile(name=f"{stem}.stl", make=lambda: solid.stl_bytes(case, solids()))
    if step:
        yield OutFile(name=f"{stem}.step", make=lambda: solid.step_bytes(case))


def _require_step(*, wanted: bool) -> None:
    if not wanted:
        return
    from storyrod.adapters.solid import has_step

    if not has_step():
        raise JobError(
            Fault(
                code="step-missing",
                field="--step",
                found="the kernel that writes STEP files is not installed",
                allowed="STEP files where the extra `step` is installed (about 1 GB)",
                do="Install it with `.venv/bin/python -m pip install -e '.[step]'`, or leave out --step.",
            )
        )
