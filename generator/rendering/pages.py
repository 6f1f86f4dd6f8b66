"""Reader's data through the templates: pages with MathML and two drawings of each chart, paper with SVG and one."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from generator.presenting.curve_views import CurveChart
from generator.presenting.instrument_views import ControlChart
from generator.presenting.page_parts import Letterhead
from generator.presenting.registry import shown_topics
from generator.presenting.views import LogChart, ScaleChart, TopicSection
from generator.presenting.wearer_views import WearerChart
from generator.rendering.control_drawing import draw_control_chart
from generator.rendering.curve_drawing import draw_curves
from generator.rendering.drawing import draw_scale
from generator.rendering.equations import equation_svg, equation_svg_inline, mathml, mathml_inline
from generator.rendering.log_drawing import draw_log
from generator.rendering.markdown import markdown
from generator.rendering.wearer_drawing import draw_wearers

Chart = ScaleChart | LogChart | ControlChart | WearerChart | CurveChart

_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]")


def isolated(value: object) -> object:
    """Return a text that runs from right to left between marks that keep it from reordering what stands beside it.

    Marks, not elements, since they also hold in titles, in attributes and on paper. Markup stays as it is: its blocks
    are paragraphs of their own.
    """
    if isinstance(value, str) and not isinstance(value, Markup) and _RIGHT_TO_LEFT.search(value):
        return f"\u2068{value}\u2069"
    return value


@lru_cache(maxsize=1024)
def _drawn(chart: Chart, narrow: bool) -> str:
    if isinstance(chart, LogChart):
        return draw_log(chart, narrow)
    if isinstance(chart, ControlChart):
        return draw_control_chart(chart, narrow)
    if isinstance(chart, WearerChart):
        return draw_wearers(chart, narrow)
    if isinstance(chart, CurveChart):
        return draw_curves(chart, narrow)
    return draw_scale(chart, narrow)


def _chart_on_page(chart: Chart) -> Markup:
    if isinstance(chart, ScaleChart) and chart.small:
        return Markup(_drawn(chart, False))
    return Markup(_drawn(chart, False) + _drawn(chart, True))


def _chart_on_paper(chart: Chart) -> Markup:
    return Markup(_drawn(chart, False))


def _section_template(section: TopicSection) -> str:
    if section.topic not in shown_topics():
        raise KeyError(section.topic)
    return f"topics/{section.topic}.html"


@cache
def _environment(paper: bool) -> Environment:
    environment = Environment(
        loader=PackageLoader("site_templates", ""),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=isolated,
    )
    environment.filters["markdown"] = markdown
    environment.filters["equation"] = equation_svg if paper else mathml
    environment.filters["equation_inline"] = equation_svg_inline if paper else mathml_inline
    environment.globals["chart"] = _chart_on_paper if paper else _chart_on_page
    environment.globals["paper"] = paper
    environment.globals["section_template"] = _section_template
    return environment


def page_markup(
    template: str, page: object, letterhead: Letterhead, paper: bool = False, lacking: tuple[str, ...] = ()
) -> str:
    """Return a page or, for `paper`, the markup that a PDF is set from; `lacking` are code points shown as boxes."""
    return _environment(paper).get_template(template).render(page=page, letterhead=letterhead, lacking=lacking)


def template_markup(template: str, **values: object) -> str:
    """Return what a template that is no page of the site makes of some values."""
    return _environment(paper=False).get_template(template).render(**values)
