"""Reader's data through the templates: pages with MathML and two drawings of each chart, paper with SVG and one."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, lru_cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from generator.presenting.chart_data import Chart, chart_numbers
from generator.presenting.curve_views import CurveChart
from generator.presenting.design_views import AirPathChart
from generator.presenting.glossary import FirstUses
from generator.presenting.instrument_views import ControlChart
from generator.presenting.page_parts import Letterhead, PageHead
from generator.presenting.registry import shown_topics
from generator.presenting.views import LogChart, ScaleChart, TextPiece, TopicSection
from generator.presenting.wearer_views import WearerChart
from generator.rendering.air_path_drawing import draw_air_path
from generator.rendering.control_drawing import draw_control_chart
from generator.rendering.curve_drawing import draw_curves
from generator.rendering.equations import equation_svg, equation_svg_inline, mathml, mathml_inline
from generator.rendering.linked_data import json_in_script
from generator.rendering.log_drawing import draw_log
from generator.rendering.markdown import markdown
from generator.rendering.scale_drawing import draw_scale
from generator.rendering.scale_parts import parts_of
from generator.rendering.svg_compacting import named_by
from generator.rendering.wearer_drawing import draw_wearers

Drawn = Chart | AirPathChart
"""Charts of numbers, and the diagram of an air path, which has none."""

_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]")
_DRAWN_TAG = re.compile(r"<(?:svg|g|text) [^>]*>")
_KNOWN_ON_PAGES = re.compile(r' xmlns="http://www\.w3\.org/2000/svg"| font-family="[^"]*"')
_INDENTATION = re.compile(r"^[ ]+", re.MULTILINE)


def isolated(value: object) -> object:
    """Return a text that runs from right to left between marks that keep it from reordering what stands beside it.

    Marks, not elements, since they also hold in titles, in attributes and on paper. Markup stays as it is: its blocks
    are paragraphs of their own.
    """
    # Asked of every value that is printed: most are plain letters, which costs less to see than to search.
    if not isinstance(value, str) or value.isascii() or isinstance(value, Markup) or not _RIGHT_TO_LEFT.search(value):
        return value
    return f"\u2068{value}\u2069"


@lru_cache(maxsize=128)  # as many as a device has: they hold whole logs
def _drawn(chart: Drawn, narrow: bool) -> str:
    if isinstance(chart, LogChart):
        return draw_log(chart, narrow)
    if isinstance(chart, ControlChart):
        return draw_control_chart(chart, narrow)
    if isinstance(chart, WearerChart):
        return draw_wearers(chart, narrow)
    if isinstance(chart, CurveChart):
        return draw_curves(chart, narrow)
    if isinstance(chart, AirPathChart):
        return draw_air_path(chart, narrow)
    return draw_scale(chart, narrow)


def _chart_on_page(chart: Drawn) -> Markup:
    drawn = _drawn(chart, False)
    if not (isinstance(chart, ScaleChart) and chart.small):
        drawn += named_by(_drawn(chart, True), f"{chart.id}-title {chart.id}-desc")
    # A page knows what an svg element is, and its style sheet names the face.
    return Markup(_DRAWN_TAG.sub(lambda tag: _KNOWN_ON_PAGES.sub("", tag[0]), drawn))


def _chart_on_paper(chart: Drawn) -> Markup:
    return Markup(_drawn(chart, False))


def _chart_in_parts(chart: ScaleChart | WearerChart) -> list[Markup]:
    """Return the drawings of a scale on paper, of which each fits a page."""
    return [_chart_on_paper(part) for part in parts_of(chart)]


# Macros see no data of the page, so what was used on the page in hand stands beside them.
_used_on_page: ContextVar[FirstUses] = ContextVar("used_on_page")


def _first_uses(text: str) -> tuple[TextPiece, ...]:
    if _RIGHT_TO_LEFT.search(text):
        # Isolated as a whole; in pieces, each would be by itself and their order might change.
        return (TextPiece(text),)
    return _used_on_page.get().pieces(text)


def _section_template(section: TopicSection) -> str:
    if section.topic not in shown_topics():
        raise KeyError(section.topic)
    return f"topics/{section.topic}.html"


class _NotIndented(PackageLoader):
    """Reads templates without their indentation, which is for those who write them; what they print stays as it is."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool] | None]:
        source, path, unchanged = super().get_source(environment, template)
        return _INDENTATION.sub("", source), path, unchanged


@cache
def _environment(paper: bool) -> Environment:
    environment = Environment(
        loader=_NotIndented("site_templates", ""),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=isolated,
    )
    environment.filters["markdown"] = markdown
    environment.filters["json_ld"] = json_in_script
    environment.filters["equation"] = equation_svg if paper else mathml
    environment.filters["equation_inline"] = equation_svg_inline if paper else mathml_inline
    environment.globals["chart"] = _chart_on_paper if paper else _chart_on_page
    environment.globals["chart_in_parts"] = _chart_in_parts
    environment.globals["chart_numbers"] = chart_numbers
    environment.globals["paper"] = paper
    environment.globals["first_uses"] = _first_uses
    environment.globals["section_template"] = _section_template
    return environment


def page_markup(
    template: str, page: object, letterhead: Letterhead, paper: bool = False, lacking: tuple[str, ...] = ()
) -> str:
    """Return a page or, for `paper`, the markup that a PDF is set from; `lacking` are code points shown as boxes."""
    with _first_uses_of_a_page():
        markup = _environment(paper).get_template(template).render(page=page, letterhead=letterhead, lacking=lacking)
    head = getattr(page, "head", None)
    return markup if paper or not isinstance(head, PageHead) else _with_short_links(markup, head)


def _with_short_links(markup: str, head: PageHead) -> str:
    """Return a page whose links to places on itself are those places: a record's page has thousands of them.

    Neither in a text nor in another attribute is a quotation mark that is not escaped.
    """
    return markup.replace(f' href="{head.root}{head.path}#', ' href="#')


def part_markup(template: str, **given: object) -> str:
    """Return what a template that is no page of the site makes of what it is given."""
    with _first_uses_of_a_page():
        return _environment(False).get_template(template).render(**given)


@contextmanager
def _first_uses_of_a_page() -> Iterator[None]:
    token = _used_on_page.set(FirstUses())
    try:
        yield
    finally:
        _used_on_page.reset(token)
