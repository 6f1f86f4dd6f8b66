"""A preview is served to this machine alone, for reading alone, and tells its pages of changes."""

from __future__ import annotations

import http.client
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.contributing.preview import Preview
from generator.contributing.preview_server import CHANGES, PreviewServer, listening, loopback_address
from generator.errors import WrongUsage
from tests.conftest import copy_small
from tests.contributing.previewing import DEVICE_PAGE, asked, broken, served


@pytest.fixture(scope="module")
def preview(demo_records: Path, tmp_path_factory: pytest.TempPathFactory) -> Preview:
    shown = Preview(copy_small(demo_records, tmp_path_factory.mktemp("served") / "records"))
    shown.refresh()
    return shown


@pytest.fixture(scope="module")
def server(preview: Preview) -> Iterator[PreviewServer]:
    with served(preview) as serving:
        yield serving


def test_a_page_is_sent_with_its_state_and_is_not_to_be_kept(preview: Preview, server: PreviewServer) -> None:
    answer, content = asked(server, f"/{DEVICE_PAGE}?from=here")
    shown = preview.answer(DEVICE_PAGE)
    assert (answer.status, content) == (200, shown.content)
    assert answer.headers["ETag"] == f'"{shown.state}"'
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    head, nothing = asked(server, f"/{DEVICE_PAGE}", "HEAD")
    assert (head.status, nothing, head.headers["ETag"]) == (200, b"", answer.headers["ETag"])


@pytest.mark.parametrize(
    "path",
    [
        "/../records/publication.yaml",
        "/..%2f..%2fetc%2fpasswd",
        "/%2e%2e/publication.yaml",
        "//etc/passwd",
        "/etc/passwd",
        "/devices/",
        "/devices/..",
        "/%00",
        "/%ff%fe",
        "/preview/notice.html",
    ],
)
def test_nothing_is_found_but_the_files_of_the_site(server: PreviewServer, path: str) -> None:
    answer, content = asked(server, path)
    assert answer.status == 404
    assert b"No such page" in content
    assert b"root:" not in content


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE"])
def test_nothing_but_reading_is_possible(server: PreviewServer, method: str) -> None:
    answer, _ = asked(server, "/", method)
    assert (answer.status, answer.headers["Allow"]) == (405, "GET, HEAD")


@pytest.mark.parametrize("host", ["reviews.example", "reviews.example:{port}", "127.0.0.1", "localhost:1", ""])
def test_who_asks_by_another_name_gets_nothing(server: PreviewServer, host: str) -> None:
    # A page of another place whose name was made to lead to this machine could else read what is not published yet.
    answer, content = asked(server, "/", Host=host.format(port=server.server_address[1]))
    assert (answer.status, content) == (421, b"This preview is for its own address only.\n")


def test_its_own_names_are_known(server: PreviewServer) -> None:
    for host in ("127.0.0.1", "localhost"):
        answer, _ = asked(server, "/style.css", Host=f"{host}:{server.server_address[1]}")
        assert answer.status == 200


def test_two_names_at_once_get_nothing(server: PreviewServer) -> None:
    port = int(server.server_address[1])
    with socket.create_connection(("127.0.0.1", port), timeout=10) as connection:
        hosts = f"Host: 127.0.0.1:{port}\r\nHost: reviews.example\r\n"
        connection.sendall(f"GET / HTTP/1.1\r\n{hosts}\r\n".encode())
        assert connection.recv(100).startswith(b"HTTP/1.1 421 ")


@pytest.mark.parametrize(
    ("host", "address"),
    [("127.0.0.1", "127.0.0.1"), ("127.1.2.3", "127.1.2.3"), ("::1", "::1"), ("localhost", "127.0.0.1")],
)
def test_a_loopback_host_is_taken(host: str, address: str) -> None:
    assert loopback_address(host) == address


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.1", "reviews.example", "", "127.0.0.1.reviews.example"])
def test_any_other_host_is_refused(host: str) -> None:
    with pytest.raises(WrongUsage, match="a preview is for this machine only"):
        loopback_address(host)


def test_the_other_loopback_address_serves_too(preview: Preview) -> None:
    with served(preview, "::1") as serving:
        assert serving.url == f"http://[::1]:{serving.server_address[1]}/"
        answer, _ = asked(serving, "/style.css")
        assert answer.status == 200


def test_the_next_port_is_taken_where_one_is_in_use(preview: Preview, server: PreviewServer) -> None:
    used = int(server.server_address[1])
    with listening(preview, "127.0.0.1", (used, 0)) as other:
        assert other.server_address[1] != used
    with pytest.raises(WrongUsage, match=rf"found no free port at 127\.0\.0\.1 among {used} "):
        listening(preview, "127.0.0.1", (used,))


def test_a_page_that_listens_is_told_of_every_change(small_records: Path) -> None:
    preview = Preview(small_records)
    preview.refresh()
    with served(preview) as serving:
        port = int(serving.server_address[1])
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        connection.request("GET", f"/{CHANGES}")
        answer = connection.getresponse()
        assert answer.headers["Content-Type"] == "text/event-stream"
        assert (answer.readline(), answer.readline()) == (b"data: 1\n", b"\n")
        broken(small_records)
        preview.refresh()
        assert answer.readline() == b"data: 2\n"
        answer.close()
        connection.close()
