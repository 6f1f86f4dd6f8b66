"""A preview shows the records as they are, and what is wrong with them above what they were."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from generator.contributing import preview as previews
from generator.contributing.preview import Preview
from generator.errors import GeneratorFailed
from generator.loading import load_catalogue
from tests.contributing.previewing import DEVICE_PAGE, RECORD, broken


@pytest.fixture
def preview(small_records: Path) -> Preview:
    shown = Preview(small_records)
    assert shown.refresh().scored == (RECORD,)
    return shown


def text(preview: Preview, path: str = DEVICE_PAGE) -> str:
    return preview.answer(path).content.decode()


def test_a_page_is_the_published_one_with_a_strip_and_a_script(preview: Preview) -> None:
    page = text(preview)
    assert '<script src="/preview/reload.js" defer></script>' in page
    assert "Nothing is published." in page
    assert "connect-src 'self'; base-uri 'none'" in page
    assert page.count("preview-notice") == 0
    assert preview.answer("").content == preview.answer("index.html").content


@pytest.mark.parametrize(
    ("path", "status", "kind"),
    [
        ("style.css", 200, "text/css; charset=utf-8"),
        ("preview/reload.js", 200, "text/javascript; charset=utf-8"),
        ("preview/preview.css", 200, "text/css; charset=utf-8"),
        (f"records/{RECORD}.json", 200, "application/json"),
        ("fonts/Literata-Regular.woff2", 200, "font/woff2"),
        ("favicon.ico", 204, "application/octet-stream"),
        ("devices/nothing.html", 404, "text/html; charset=utf-8"),
        ("devices/", 404, "text/html; charset=utf-8"),
        ("../publication.yaml", 404, "text/html; charset=utf-8"),
    ],
)
def test_what_is_answered(preview: Preview, path: str, status: int, kind: str) -> None:
    answer = preview.answer(path)
    assert (answer.status, answer.kind) == (status, kind)


def test_a_data_sheet_is_set_when_it_is_asked_for(preview: Preview) -> None:
    answer = preview.answer("devices/patchwork-cover.pdf")
    assert (answer.kind, answer.content[:5]) == ("application/pdf", b"%PDF-")


def test_a_page_that_is_not_there_leads_home(preview: Preview) -> None:
    page = text(preview, "devices/<b>nothing</b>.html")
    assert "No such page" in page
    assert "&lt;b&gt;nothing&lt;/b&gt;" in page
    assert '<a href="/index.html">' in page


def test_a_change_shows(preview: Preview, small_records: Path) -> None:
    before = preview.answer(DEVICE_PAGE).state
    path = small_records / "devices" / "patchwork-cover.yaml"
    changed = re.sub(r"(?m)^name: .*$", "name: Quite another cover", path.read_text(encoding="utf-8"))
    path.write_text(changed, encoding="utf-8")
    refreshed = preview.refresh()
    assert (refreshed.changed, refreshed.scored, refreshed.problems) == (True, (RECORD,), ())
    assert "Quite another cover" in text(preview)
    assert preview.answer(DEVICE_PAGE).state != before
    assert preview.refresh().changed is False


def test_a_page_that_a_change_does_not_touch_keeps_its_state(preview: Preview, small_records: Path) -> None:
    before = preview.answer("methods/index.html").state
    path = small_records / "devices" / "patchwork-cover.yaml"
    path.write_text(re.sub(r"(?m)^name: .*$", "name: Other", path.read_text(encoding="utf-8")), encoding="utf-8")
    assert preview.refresh().changed
    assert preview.answer("methods/index.html").state == before


def test_problems_stand_above_what_stood_before_as_check_words_them(preview: Preview, small_records: Path) -> None:
    before = text(preview)
    whole = (small_records / "device_tests" / f"{RECORD}.yaml").read_text(encoding="utf-8")
    path = broken(small_records, "performed: yesterday & <b>late</b>")
    refreshed = preview.refresh()
    (problem,) = refreshed.problems
    assert refreshed.problems == load_catalogue(small_records).problems
    page = text(preview)
    assert "One problem in the records" in page
    assert f"{path}:{problem.line}:{problem.column}: dates.performed [not-a-date]" in page
    # The line as it stands in the file, with nothing in it that a browser takes for markup.
    assert "performed: <mark>yesterday &amp; &lt;b&gt;late&lt;/b&gt;</mark>" in page
    assert "<b>late" not in page
    assert before[before.index("<main") :] == page[page.index("<main") :]
    assert "One problem in the records" in text(preview, "index.html")

    path.write_text(whole, encoding="utf-8")
    assert (preview.refresh().changed, preview.refresh().changed) == (True, False)
    assert text(preview) == before


def test_problems_from_the_start_are_a_page_wherever_one_asks(small_records: Path) -> None:
    broken(small_records)
    shown = Preview(small_records)
    assert len(shown.refresh().problems) == 1
    answer = shown.answer("devices/anything.html")
    assert answer.status == 200
    assert b"There is no catalogue to show yet" in answer.content
    assert b"[not-a-date]" in answer.content
    assert shown.answer("style.css").status == 200


def test_a_folder_that_is_gone_is_told_and_comes_back(preview: Preview, small_records: Path) -> None:
    before = text(preview)
    small_records.rename(small_records.with_name("away"))
    refreshed = preview.refresh()
    assert refreshed.failure is not None
    assert refreshed.failure.startswith("[wrong-usage] found no folder")
    assert "[wrong-usage] found no folder" in text(preview)
    small_records.with_name("away").rename(small_records)
    assert preview.refresh().changed
    assert text(preview) == before


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (GeneratorFailed("it could not be set"), "[generator-failed] it could not be set"),
        (ZeroDivisionError("division by zero"), "[unexpected] ZeroDivisionError: division by zero"),
    ],
)
def test_a_failure_of_the_generator_is_told(
    preview: Preview, small_records: Path, monkeypatch: pytest.MonkeyPatch, error: Exception, words: str
) -> None:
    def fail(*given: object) -> None:
        raise error

    with monkeypatch.context() as patch:
        patch.setattr("generator.contributing.site_in_memory.SiteInMemory.file", fail)
        answer = preview.answer(DEVICE_PAGE)
        assert answer.status == 500
        assert words in answer.content.decode()
    assert preview.answer(DEVICE_PAGE).status == 200

    shutil.rmtree(small_records / "instruments", ignore_errors=True)
    monkeypatch.setattr(previews, "load_catalogue", fail)
    assert preview.refresh().failure is not None
    assert words in text(preview)
    assert preview.answer(DEVICE_PAGE).status == 200


def test_waiting_for_a_change_ends_with_it_or_with_time(preview: Preview, small_records: Path) -> None:
    number = preview.number_after(-1, 0)
    assert preview.number_after(number, 0.01) == number
    broken(small_records)
    preview.refresh()
    assert preview.number_after(number, 0) == number + 1
