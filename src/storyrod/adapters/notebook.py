"""A plan that shows its pictures in a notebook."""

from __future__ import annotations

from storyrod.planning import Plan


class ShownPlan(Plan):
    """A plan that a notebook shows as pictures: each case assembled and pulled apart, then its figures."""

    def _repr_html_(self) -> str:
        """Return the plan as one piece of HTML with its pictures drawn in it (no script, no outside file)."""
        from html import escape

        from storyrod.adapters import svg
        from storyrod.drawing import Figures, Shown, case_exploded, case_view

        figures = Figures.of_job(self.job)
        parts = [f"<h3>{escape(self.job.title)}</h3>"]
        for case in self.details.cases:
            parts.append(f"<h4>{escape(case.built.case.code)}: {escape(case.built.case.name)}</h4>")
            parts += [svg.write(case_view(case, Shown(figures=figures)))]
            parts += [svg.write(case_exploded(case, Shown(names=True, figures=figures)))]
        proven = "".join(f"<li>{escape(line)}</li>" for line in self.proof.lines(self.job.lengths))
        return "".join(parts) + f"<ul>{proven}</ul>"
