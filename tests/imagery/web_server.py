"""A server on this computer that hands out images well, slowly, badly or not at all."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class Server(ThreadingHTTPServer):
    """Serves one file under any name; `manner` says how, from request to request."""

    daemon_threads = True

    def __init__(self, image: Path) -> None:
        super().__init__(("127.0.0.1", 0), _Answer)
        self.content = image.read_bytes()
        self.manner = "well"
        self.let_go = threading.Event()
        self.asked = 0

    def address(self, name: str = "aerial.tif") -> str:
        """Return the address of the image."""
        return f"http://{self.host}/{name}"

    @property
    def host(self) -> str:
        """Name and port."""
        return f"127.0.0.1:{self.server_address[1]}"


class _Answer(BaseHTTPRequestHandler):
    server: Server

    def log_message(self, *_: object) -> None:
        """Say nothing."""

    def do_HEAD(self) -> None:
        """Tell the length."""
        self._answer(body=False)

    def do_GET(self) -> None:
        """Hand out what was asked for."""
        self._answer(body=True)

    def _answer(self, *, body: bool) -> None:
        server = self.server
        server.asked += 1
        manner = server.manner
        if not self.path.partition("?")[0].endswith("aerial.tif") or manner.isdigit():
            self._end(int(manner) if manner.isdigit() else 404)
        elif manner == "silent":
            server.let_go.wait()
        elif manner == "page":
            self._send(200, b"<!DOCTYPE html><title>Maps of the county</title>", body=body)
        elif manner == "whole" or "Range" not in self.headers:
            self._send(200, server.content, body=body)
        else:
            self._part(body=body)

    def _part(self, *, body: bool) -> None:
        server = self.server
        first, _, last = self.headers["Range"].removeprefix("bytes=").partition("-")
        if not server.content:
            self._end(416)
            return
        end = min(int(last or len(server.content)), len(server.content) - 1)
        part = server.content[int(first) : end + 1]
        spread = f"bytes {first}-{end}/{len(server.content)}"
        stands, breaks = server.manner == "stalls", server.manner == "breaks off"
        cut = part[: len(part) // 2] if (stands or breaks) and len(part) > 64 else part
        self._send(206, part, body=body, spread=spread, sent=cut)
        if len(cut) < len(part):
            if stands:
                server.let_go.wait()
            self.close_connection = True

    def _send(self, status: int, content: bytes, *, body: bool, spread: str = "", sent: bytes | None = None) -> None:
        self.send_response(status)
        self.send_header("Content-Length", str(len(content)))
        if status == 206:
            self.send_header("Accept-Ranges", "bytes")
            self.send_header("Content-Range", spread)
        self.end_headers()
        if body:
            self.wfile.write(content if sent is None else sent)
            self.wfile.flush()

    def _end(self, status: int) -> None:
        self.send_response(status)
        self.send_header("Content-Length", "0")
        self.end_headers()


@contextmanager
def serving(image: Path) -> Iterator[Server]:
    """Serve an image until the end of the block."""
    server = Server(image)
    thread = threading.Thread(target=lambda: server.serve_forever(poll_interval=0.02), daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.let_go.set()
        server.shutdown()
        server.server_close()
        thread.join()
