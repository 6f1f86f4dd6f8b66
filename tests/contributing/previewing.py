"""Serves a preview to tests, and changes records as editors do."""

from __future__ import annotations

import http.client
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from generator.contributing.preview import Preview
from generator.contributing.preview_server import PreviewServer

RECORD = "patchwork-cover-2025-03"
DEVICE_PAGE = "devices/patchwork-cover.html"


def broken(records: Path, text: str = "performed: yesterday") -> Path:
    """Let a record have a problem; return its file."""
    path = records / "device_tests" / f"{RECORD}.yaml"
    lines = path.read_text(encoding="utf-8").splitlines()
    (at,) = (place for place, line in enumerate(lines) if line.strip().startswith("performed:"))
    lines[at] = lines[at][: len(lines[at]) - len(lines[at].lstrip())] + text
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@contextmanager
def served(preview: Preview, address: str = "127.0.0.1") -> Iterator[PreviewServer]:
    """Serve a preview at any free port meanwhile."""
    with PreviewServer(preview, address, 0) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        thread.start()
        try:
            yield server
        finally:
            server.shutdown()
            thread.join()


def asked(
    server: PreviewServer, path: str, method: str = "GET", **headers: str
) -> tuple[http.client.HTTPResponse, bytes]:
    """Ask a server for a path; return its answer and what it holds."""
    host, port = str(server.server_address[0]), int(server.server_address[1])
    connection = http.client.HTTPConnection(host, port, timeout=20)
    try:
        connection.request(method, path, headers={"Connection": "close", **headers})
        answer = connection.getresponse()
        return answer, answer.read()
    finally:
        connection.close()
