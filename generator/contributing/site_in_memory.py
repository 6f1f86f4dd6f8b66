"""A site that is made file by file, each when it is first asked for, and never written."""

from __future__ import annotations

import threading

from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.chart_data import page_of_chart_file
from generator.presenting.whole_site import present


class SiteInMemory:
    """Every file that `publish` would write, by its path. May be asked by several threads at once."""

    def __init__(self, catalogue: PublishedCatalogue, result: CatalogueResult) -> None:
        """Take a catalogue and its results; only the pages that there is one of are presented now."""
        from generator.rendering.whole_site import page_makers, panel_makers

        self.catalogue = catalogue
        self._site = present(catalogue, result)
        self._pages = page_makers(self._site)
        self._panels = panel_makers(self._site)
        self._made: dict[str, bytes] = {}
        self._beside: dict[str, bytes] | None = None
        self._making = threading.Lock()

    def file(self, path: str) -> bytes | None:
        """Return a file, or None where the site has none of that path.

        Raises
        ------
        GeneratorFailed
            The page or paper could not be made as it should be.
        """
        with self._making:
            if path not in self._made:
                content = self._page_or_paper(path)
                if content is None:
                    return self._of_charts(path) or self._files_beside().get(path)
                self._made[path] = content
            return self._made[path]

    def paths(self) -> set[str]:
        """Return the paths of all files."""
        with self._making:
            papers = {*self._site.sheets.presenters, *self._site.papers.presenters}
            charts = (file for page in self._pages for file in self._files_of_charts(page))
            return {*self._pages, *self._panels, *papers, *charts, *self._files_beside()}

    def _page_or_paper(self, path: str) -> bytes | None:
        from generator.rendering.sheets import render_sheet
        from generator.rendering.whole_site import sheet_job

        for makers in (self._pages, self._panels):
            if path in makers:
                return makers[path]()
        for papers in (self._site.sheets, self._site.papers):
            if path in papers.presenters:
                return render_sheet(*sheet_job(papers.at(path), self._site.letterhead, self._files_beside()))
        return None

    def _of_charts(self, path: str) -> bytes | None:
        page = page_of_chart_file(path)
        return self._files_of_charts(page).get(path) if page is not None else None

    def _files_of_charts(self, page: str) -> dict[str, bytes]:
        from generator.rendering.whole_site import files_of_charts

        return files_of_charts(self._site, page)

    def _files_beside(self) -> dict[str, bytes]:
        # Made together, and only for who asks for data: every record's results are written out.
        from generator.rendering.whole_site import files_beside_pages

        if self._beside is None:
            self._beside = files_beside_pages(self._site)
        return self._beside
