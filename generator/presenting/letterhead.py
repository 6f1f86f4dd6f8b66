"""What stands on every page: who publishes, that a demonstration is invented, where the page belongs."""

from __future__ import annotations

from collections.abc import Mapping

from generator import __version__
from generator.model.people import PaperSize, Publication
from generator.presenting.context import Context
from generator.presenting.page_parts import Letterhead, LinkedData, Notice, PageHead, RecordsState
from generator.presenting.views import Fact, Link
from generator.presenting.wording import listed

_INVENTED = (
    "Invented demonstration: every device, maker, tester, wearer and figure on this page is made up. "
    "Decide nothing by it."
)
_NOT_ACCREDITED = "The publisher is not an accredited laboratory."
_DEFER = (
    "Local law and a competent person decide what may be worn where. Nothing here is an approval or a certificate, and "
    "every result is about the items tested, the wearers and the day named."
)

_MADE_WITH = f"Inward {__version__}"
_PAPER_STYLES: Mapping[PaperSize, str | None] = {PaperSize.A4: None, PaperSize.US_LETTER: "us-letter.css"}


def letterhead(context: Context) -> Letterhead:
    """Return what stands on every page of the catalogue."""
    libraries = listed([f"{name} {version}" for name, version in context.result.libraries.items()])
    return _of_publisher(
        context.catalogue.publication,
        made_with=f"{_MADE_WITH}, {libraries}" if libraries else _MADE_WITH,
        feed=bool(context.history.events),
    )


def letterhead_of_worksheet(publication: Publication) -> Letterhead:
    """Return what stands on a worksheet, which holds no results."""
    return _of_publisher(publication, made_with=_MADE_WITH, feed=False)


def _of_publisher(publication: Publication, *, made_with: str, feed: bool) -> Letterhead:
    return Letterhead(
        title=publication.title,
        subtitle=publication.subtitle,
        publisher=publication.publisher,
        contact=publication.contact,
        licence=publication.data_licence,
        made_with=made_with,
        version=__version__,
        feed=feed,
        invented=_INVENTED if publication.invented else None,
        not_accredited=None if publication.accredited_laboratory else _NOT_ACCREDITED,
        defer=_DEFER,
        paper_style=_PAPER_STYLES[publication.paper],
    )


def page_head(
    path: str,
    title: str,
    description: str,
    state: tuple[Fact, ...] = (),
    trail: tuple[Link, ...] = (),
    notices: tuple[Notice, ...] = (),
    linked_data: LinkedData | None = None,
    records: RecordsState | None = None,
) -> PageHead:
    """Return the head of a page; its way to the site's root follows from its path."""
    return PageHead(
        path=path,
        root="../" * path.count("/"),
        title=f"Withdrawn: {title}" if notices else title,
        description=description,
        state=state,
        trail=(Link("Catalogue", "index.html"), *trail) if path != "index.html" else (),
        notices=notices,
        linked_data=linked_data,
        records=records,
    )
