"""Words that would promise something are searched in everything that is published: pages, sheets, data, drawings."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest

# A verdict is about the items tested on that day; these words would say more. Common practice, no source.
NEVER = re.compile(
    r"\b(safe|safely|safer|safest|certified|guaranteed?|guarantees|protects\s+you|approved\s+by\s+us|fully\s+protected)\b",
    re.IGNORECASE,
)
TEXTS = {".html", ".js", ".json", ".csv", ".svg", ".xml", ".txt"}


def texts(content: bytes, ending: str) -> Iterator[str]:
    """Give what a file says; a PDF with its title, its description and what is attached."""
    if ending == ".pdf":
        # Lines of a paragraph are broken anywhere on paper. This reader takes a tenth of the time of the other.
        read = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True).stdout
        yield " ".join(read.decode().split())
        reader = pypdf.PdfReader(io.BytesIO(content))
        yield from (str(value) for value in (reader.metadata or {}).values())
        yield from (part.decode() for parts in reader.attachments.values() for part in parts)
    elif ending in TEXTS:
        yield content.decode()


def found_in(folder: Path) -> tuple[dict[str, str], set[str]]:
    """Return the files that say such a word, with the first of them, and the endings that were searched."""
    found, searched = {}, set()
    for path in sorted(folder.rglob("*")):
        if not path.is_file() or path.name.endswith("-OFL.txt"):  # a licence is as its authors wrote it
            continue
        for text in texts(path.read_bytes(), path.suffix):
            searched.add(path.suffix)
            word = NEVER.search(text)
            if word is not None:
                found[str(path.relative_to(folder))] = text[max(word.start() - 40, 0) : word.end() + 40]
    return found, searched


def test_none_of_them_is_published(demo_site: Path) -> None:
    found, searched = found_in(demo_site)
    assert found == {}
    assert {".html", ".js", ".pdf", ".json", ".csv"} <= searched


@pytest.mark.parametrize(
    "text", ["It is safe.", "<b>Certified</b>", '{"note": "guaranteed"}', "it protects\nyou", "Approved by us, 2025"]
)
def test_the_search_finds_planted_ones(text: str) -> None:
    assert any(NEVER.search(part) for part in texts(text.encode(), ".html"))


def test_the_search_reads_sheets(demo_site: Path) -> None:
    sheet = next(iter(sorted(demo_site.glob("devices/*.pdf"))))
    assert "End of the data sheet" in " ".join(texts(sheet.read_bytes(), ".pdf"))
