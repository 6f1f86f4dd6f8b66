"""A preview's additions stand in a page once, and a page that has no place for them is a fault."""

import pytest

from generator.errors import GeneratorFailed
from generator.presenting.preview_views import missing_notice
from generator.rendering.preview_pages import notice_page, with_preview


def test_the_state_is_the_page_and_what_stands_above_it() -> None:
    page, notice = notice_page(missing_notice("a.html")), missing_notice("b.html")
    shown, state = with_preview(page, None)
    assert f'content="{state}"'.encode() in shown
    assert with_preview(page, None) == (shown, state)
    assert with_preview(page, notice)[1] != state
    assert with_preview(notice_page(notice), None)[1] != state


@pytest.mark.parametrize("mark", ["base-uri 'none'", "</head>", '<header class="letterhead">'])
def test_a_page_without_a_place_for_them_is_refused(mark: str) -> None:
    page = notice_page(missing_notice("a.html")).decode()
    for changed, times in ((page.replace(mark, ""), 0), (page.replace(mark, mark * 2), 2)):
        with pytest.raises(GeneratorFailed, match=f"once in a page, found it {times} times"):
            with_preview(changed.encode(), None)
