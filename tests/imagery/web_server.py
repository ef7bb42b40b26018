"""A server on this computer that hands out images well, slowly, badly or not at all."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class Server(ThreadingHTTPServer):
    """Serves one file, and what stands beside it; `manner` says how, from request to request."""

    daemon_threads = True

    def __init__(self, image: Path) -> None:
        super().__init__(("127.0.0.1", 0), _Answer)
        self.content = image.read_bytes()
        self.beside: dict[str, bytes] = {}
        """Other files by name."""
        self.tag = "first"
        """What the server calls this state of the image."""
        self.names: list[str] = []
        """Which files were asked for."""
        self.starts: list[int] = []
        """From which byte on, where parts were."""
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
        name = self.path.partition("?")[0].rpartition("/")[2]
        server.names.append(name)
        content = server.beside.get(name, server.content if name == "aerial.tif" else None)
        if content is None or manner.isdigit():
            self._end(int(manner) if manner.isdigit() else 404)
        elif manner == "silent":
            server.let_go.wait()
        elif manner == "page":
            self._send(200, b"<!DOCTYPE html><title>Maps of the county</title>", body=body)
        elif manner == "whole" or "Range" not in self.headers:
            self._send(200, content, body=body)
        else:
            self._part(content, body=body)

    def _part(self, content: bytes, *, body: bool) -> None:
        server = self.server
        first, _, last = self.headers["Range"].removeprefix("bytes=").partition("-")
        server.starts.append(int(first))
        if not content:
            self._end(416)
            return
        end = min(int(last or len(content)), len(content) - 1)
        part = content[int(first) : end + 1]
        spread = f"bytes {first}-{end}/{len(content)}"
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
            self.send_header("ETag", self.server.tag)
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
