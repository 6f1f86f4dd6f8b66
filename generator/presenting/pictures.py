"""The pictures of a page, and where they are published."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.picture import Picture
from generator.model.published import PublishedCatalogue
from generator.presenting.page_parts import PictureFile, PictureView


def record_pictures(record: str, pictures: tuple[Picture, ...]) -> tuple[PictureView, ...]:
    """Return the pictures of a test record as its page shows them."""
    return _views(f"pictures/{record}", pictures)


def device_pictures(device: str, pictures: tuple[Picture, ...]) -> tuple[PictureView, ...]:
    """Return the pictures of a device as its page shows them."""
    return _views(f"pictures/devices/{device}", pictures)


def picture_files(catalogue: PublishedCatalogue) -> tuple[PictureFile, ...]:
    """Return every picture with the place it is published at."""
    return tuple(PictureFile(place, catalogue.pictures[file]) for place, file in picture_places(catalogue))


def picture_places(catalogue: PublishedCatalogue) -> Iterator[tuple[str, str]]:
    """Return where each picture is published, and the file it stands for in the records."""
    owners = [(record_pictures(test.id, test.pictures), test.pictures) for test in catalogue.device_tests.values()]
    owners += [(device_pictures(device.id, device.pictures), device.pictures) for device in catalogue.devices.values()]
    for views, pictures in owners:
        for view, picture in zip(views, pictures, strict=True):
            yield view.src, picture.file


def _views(start: str, pictures: tuple[Picture, ...]) -> tuple[PictureView, ...]:
    return tuple(
        PictureView(
            f"{start}-{number}.{'png' if picture.file.endswith('.png') else 'jpg'}", picture.shows, picture.caption
        )
        for number, picture in enumerate(pictures, start=1)
    )
