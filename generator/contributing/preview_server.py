"""Serves a preview to this machine's browser: from memory, on the loopback interface, for reading only."""

from __future__ import annotations

import errno
import ipaddress
import socket
from collections.abc import Iterable
from http.server import BaseHTTPRequestHandler
from socketserver import TCPServer, ThreadingMixIn
from typing import Any
from urllib.parse import unquote, urlsplit

from generator.contributing.preview import Preview
from generator.errors import WrongUsage

CHANGES = "preview/changes"
"""Tells a page, for as long as it listens, that what is shown has changed."""
PORTS_TRIED = 20
_BEAT_S = 10.0
"""After so long without a change something is sent, so that a page that is gone is noticed."""
_TIMEOUT_S = 60.0
_LOCAL = "localhost"
_USUAL_PORT = 80


def loopback_address(host: str) -> str:
    """Return the address of a host on the loopback interface.

    Raises
    ------
    WrongUsage
        The host is another one: what is not published yet is not for others.
    """
    try:
        address = ipaddress.ip_address("127.0.0.1" if host == _LOCAL else host)
    except ValueError:
        address = None
    if address is None or not address.is_loopback:
        raise WrongUsage(
            f"found the host `{host}`, expected 127.0.0.1, ::1 or {_LOCAL}: a preview is for this machine only. "
            "Publish the catalogue for others"
        )
    return str(address)


class PreviewServer(ThreadingMixIn, TCPServer):
    """Answers requests in threads of their own, which end with the process."""

    daemon_threads = True
    block_on_close = False
    allow_reuse_address = True

    def __init__(self, preview: Preview, address: str, port: int) -> None:
        """Take a place on the loopback interface, a port of 0 for any free one."""
        self.preview = preview
        if ":" in address:
            self.address_family = socket.AF_INET6
        super().__init__((address, port), _Request)

    @property
    def names(self) -> frozenset[str]:
        """Hosts, with the port, by which a browser of this machine may ask."""
        port = self.server_address[1]
        hosts = (_LOCAL, self._host)
        # Browsers leave the port out where it is the usual one.
        return frozenset((*(f"{host}:{port}" for host in hosts), *(hosts if port == _USUAL_PORT else ())))

    @property
    def _host(self) -> str:
        address = str(self.server_address[0])
        return f"[{address}]" if ":" in address else address

    @property
    def url(self) -> str:
        """Return the address of the catalogue's first page."""
        return f"http://{self._host}:{self.server_address[1]}/"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing: a browser that goes away in the middle of an answer is no fault."""


def listening(preview: Preview, address: str, ports: Iterable[int]) -> PreviewServer:
    """Return a server on the first of the ports that is free.

    Raises
    ------
    WrongUsage
        None of them is.
    """
    tried = []
    for port in ports:
        try:
            return PreviewServer(preview, address, port)
        except OSError as error:
            if error.errno not in (errno.EADDRINUSE, errno.EACCES, errno.EADDRNOTAVAIL):
                raise
            tried.append(f"{port} ({error.strerror})")
    raise WrongUsage(f"found no free port at {address} among {', '.join(tried)}. Name another one with `--port`")


class _Request(BaseHTTPRequestHandler):
    """One request. Every path is looked up among the files of the site; none leads to a file of the machine."""

    protocol_version = "HTTP/1.1"
    server_version = "inward"
    sys_version = ""
    timeout = _TIMEOUT_S
    server: PreviewServer

    def do_GET(self) -> None:
        """Send what stands at a path."""
        path = self._path()
        if path == CHANGES:
            self._tell_changes()
        elif path is not None:
            self._send(path, with_content=True)

    def do_HEAD(self) -> None:
        """Send what is to be known of what stands at a path."""
        path = self._path()
        if path is not None:
            self._send(path, with_content=False)

    def _refuse_method(self) -> None:
        self._send_words(405, "Only reading is possible.", ("Allow", "GET, HEAD"))

    do_POST = do_PUT = do_PATCH = do_DELETE = do_OPTIONS = do_TRACE = do_CONNECT = _refuse_method  # noqa: N815

    def _path(self) -> str | None:
        """Return the path that is asked for, or None, with an answer sent, where the asker is to have none."""
        if self.headers.get_all("Host", []) not in [[name] for name in self.server.names]:
            # A name of another place that was made to lead here, so that its pages could read this one.
            self._send_words(421, "This preview is for its own address only.")
            return None
        return unquote(urlsplit(self.path).path, errors="replace").removeprefix("/")

    def _send(self, path: str, *, with_content: bool) -> None:
        answer = self.server.preview.answer(path)
        self.send_response(answer.status)
        self._send_common(answer.kind, len(answer.content))
        if answer.state is not None:
            self.send_header("ETag", f'"{answer.state}"')
        self.end_headers()
        if with_content:
            self.wfile.write(answer.content)

    def _send_words(self, status: int, words: str, *headers: tuple[str, str]) -> None:
        content = f"{words}\n".encode()
        self.close_connection = True
        self.send_response(status)
        self._send_common("text/plain; charset=utf-8", len(content))
        for name, value in (*headers, ("Connection", "close")):
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def _send_common(self, kind: str, length: int | None) -> None:
        self.send_header("Content-Type", kind)
        if length is not None:
            self.send_header("Content-Length", str(length))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        self.send_header("Referrer-Policy", "no-referrer")

    def _tell_changes(self) -> None:
        self.close_connection = True
        self.send_response(200)
        self._send_common("text/event-stream", None)
        self.send_header("Connection", "close")
        self.end_headers()
        number = -1
        while True:
            newest = self.server.preview.number_after(number, _BEAT_S)
            # A line that begins with a colon is heard by nobody (WHATWG HTML, 9.2.6).
            self.wfile.write(f"data: {newest}\n\n".encode() if newest != number else b":\n\n")
            number = newest

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing: the terminal is for what becomes of the records."""
