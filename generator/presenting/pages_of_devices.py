"""Everything that belongs to one device alone: its page, its records' pages, its data sheet, its panel, its stills.

All of it can be presented from a part of the catalogue: the device with its records, what was worn beside it on the
same days, and what comparisons say of it. The rest of the catalogue comes in as `AroundDevices`.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import partial

from generator.model.device import DeviceKind
from generator.presenting.comparing import present_panel, usual_of
from generator.presenting.comparison_charts import Usual
from generator.presenting.context import Context
from generator.presenting.device_page import present_device_page
from generator.presenting.page_views import DevicePage, RecordPage, Sheet
from generator.presenting.panel_pairs import reasons_within_kinds
from generator.presenting.panel_views import Panel
from generator.presenting.presented import PageData, Presented
from generator.presenting.record_page import present_record_page
from generator.presenting.sheet import present_sheet
from generator.presenting.still_views import Still
from generator.presenting.stills import present_stills, with_links


@dataclass(frozen=True)
class AroundDevices:
    """What the pages of a device show of all others together."""

    usual: Usual
    """The conditions that most devices were worn under."""
    not_within_kind: Mapping[str, str]
    """Why no pair of a kind is compared, by the name of the kind in addresses; none where pairs are."""

    def of_kind(self, kind: DeviceKind) -> AroundDevices:
        """Return what the pages of devices of one kind show."""
        within = {name: why for name, why in self.not_within_kind.items() if name == kind.slug}
        return AroundDevices(self.usual, within)


def around_devices(context: Context) -> AroundDevices:
    """Return what the pages of devices show of the whole catalogue."""
    return AroundDevices(usual_of(context), reasons_within_kinds(context))


@dataclass(frozen=True)
class PagesOfDevices:
    """What belongs to devices, each by its path and presented when it is first looked at."""

    pages: Presented[DevicePage]
    records: Presented[RecordPage]
    sheets: Presented[Sheet]
    panels: Presented[Panel]
    stills: tuple[Still, ...]


def present_devices(
    devices: Collection[str], context: Context, around: AroundDevices, *, with_stills: bool
) -> PagesOfDevices:
    """Return what belongs to some devices of a catalogue, by their ids; stills only where asked for."""
    catalogue, result = context.catalogue, context.result
    stills = {
        name: present_stills(catalogue.devices[name], result.devices[name], context) for name in devices if with_stills
    }
    records = Presented(
        {
            f"records/{test.id}.html": partial(present_record_page, test, context)
            for test in catalogue.device_tests.values()
            if test.device in devices
        }
    )

    def device_page(name: str) -> DevicePage:
        page = present_device_page(catalogue.devices[name], context)
        return with_links(page, stills[name]) if with_stills else page

    pages = _each("devices/{}.html", device_page, devices)

    def sheet(name: str) -> Sheet:
        of_device = [records.at(f"records/{test.id}.html") for test in catalogue.tests_of(name)]
        return present_sheet(pages.at(f"devices/{name}.html"), of_device, context)

    def panel(name: str) -> Panel:
        not_within_kind = around.not_within_kind.get(catalogue.devices[name].kind.slug)
        return present_panel(pages.at(f"devices/{name}.html"), around.usual, not_within_kind, context)

    return PagesOfDevices(
        pages=pages,
        records=records,
        sheets=_each("devices/{}.pdf", sheet, devices),
        panels=_each("panels/{}.js", panel, devices),
        stills=tuple(still for of_device in stills.values() for still in of_device),
    )


def _each(path: str, presenter: Callable[[str], PageData], devices: Collection[str]) -> Presented[PageData]:
    return Presented({path.format(name): partial(presenter, name) for name in devices})
