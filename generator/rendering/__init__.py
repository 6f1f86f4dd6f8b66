"""Reader's data to bytes: pages, charts, equations, PDFs."""
