"""File names: what may be published, and what is refused."""

import pytest

from generator.errors import PublishFailed
from generator.publishing.file_names import check_file_names


def test_plain_names_are_accepted() -> None:
    names = ["index.html", "devices/hood-a/index.html", "sheets/hood-a_1.pdf", "_headers", "a" * 100]
    check_file_names(names)


@pytest.mark.parametrize(
    "path",
    [
        "../outside.html",
        "/etc/passwd",
        "a/../../b",
        "./a",
        "a//b",
        "a/",
        "",
        ".hidden",
        "-option",
        "a\\b",
        "a b.html",
        "é.html",
        "a\nb",
        "a\0b",
        "end.",
        "con",
        "AUX.html",
        "lpt1.txt",
        "a" * 101,
        "/".join(["a" * 90] * 3),
    ],
)
def test_unusual_names_are_refused(path: str) -> None:
    with pytest.raises(PublishFailed, match="cannot be published: expected a relative path"):
        check_file_names(["index.html", path])


def test_names_that_differ_only_by_case_are_refused() -> None:
    with pytest.raises(PublishFailed, match=r"'Hood\.html' and 'hood\.html' differ only by case"):
        check_file_names(["hood.html", "Hood.html"])


def test_a_name_that_is_file_and_folder_is_refused() -> None:
    with pytest.raises(PublishFailed, match=r"'Hood' is to be a file, and 'hood/a\.html' needs a folder"):
        check_file_names(["Hood", "hood/a.html"])
