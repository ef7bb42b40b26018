"""Whether a server hands out an image by parts; if not, why, in words."""

from __future__ import annotations

from http import HTTPStatus
from pathlib import Path
from typing import Any

from pigmap.errors import RasterError
from pigmap.imagery.where import WAIT_S, called, host_of, web_address

_LOOK_BYTES = 64
_KEEP = "Download it, and choose the file."
_ZIPPED = b"PK\x03\x04"
"""How zip files begin, whatever their address is called."""


def need_answer(path: Path) -> None:
    """Refuse an address that leads to no image that can be read by parts.

    It asks for the first bytes and waits a few seconds at most: for workers.

    Raises
    ------
    RasterError
        In words.
    """
    address = web_address(path)
    host = host_of(path)
    if called(path).lower().endswith(".zip"):
        raise _zipped(path)
    status, head, whole = _asked(address, host, called(path))
    if head.startswith(_ZIPPED):
        raise _zipped(path)
    if head.lstrip()[:1] == b"<":
        raise RasterError(
            "The address leads to a page of {host}, not to an image.",
            remedy="Open the page, and copy the address of the image itself.",
            host=host,
        )
    if whole == 0:
        raise RasterError(
            "{name} at {host} is empty (0 bytes).",
            remedy="Tell who gave you the address.",
            name=called(path),
            host=host,
        )
    if status != HTTPStatus.PARTIAL_CONTENT:
        raise RasterError(
            "{host} hands out {name} only as a whole, not by parts.", remedy=_KEEP, host=host, name=called(path)
        )


def _zipped(path: Path) -> RasterError:
    return RasterError("{name} is a zip file on the web, which cannot be read there.", remedy=_KEEP, name=called(path))


def _asked(address: str, host: str, name: str) -> tuple[int, bytes, int]:
    """Return status, first bytes and whole length (-1 if it is not told)."""
    from http.client import HTTPException
    from urllib.error import HTTPError
    from urllib.request import Request, urlopen

    request = Request(address, headers={"Range": f"bytes=0-{_LOOK_BYTES - 1}", "User-Agent": "pigmap"})
    try:
        with urlopen(request, timeout=WAIT_S) as answer:
            return int(answer.status), bytes(answer.read(_LOOK_BYTES)), _whole(answer.headers)
    except HTTPError as why:
        why.close()
        if why.code == HTTPStatus.REQUESTED_RANGE_NOT_SATISFIABLE:
            return why.code, b"", 0
        raise _refused(why.code, host, name) from why
    except (OSError, ValueError, HTTPException) as why:
        raise _silent(why, host) from why


def _whole(headers: Any) -> int:
    told = str(headers.get("Content-Range", "")).rpartition("/")[2] or str(headers.get("Content-Length", ""))
    return int(told) if told.isdigit() else -1


def _refused(status: int, host: str, name: str) -> RasterError:
    if status in (HTTPStatus.NOT_FOUND, HTTPStatus.GONE):
        return RasterError(
            "{host} has no {name} at this address (its answer: {status}).",
            remedy="Look whether the address is whole, or ask who gave it to you.",
            host=host,
            name=name,
            status=status,
        )
    if status in (HTTPStatus.UNAUTHORIZED, HTTPStatus.FORBIDDEN):
        return RasterError(
            "{host} does not let you read {name} (its answer: {status}).",
            remedy="Ask its owner for an address that is open to you; some hold for a few days only.",
            host=host,
            name=name,
            status=status,
        )
    return RasterError(
        "{host} cannot hand out {name} now (its answer: {status}).",
        remedy="Try again later, or download it, and choose the file.",
        host=host,
        name=name,
        status=status,
    )


def _silent(why: Exception, host: str) -> RasterError:
    reason = getattr(why, "reason", why)
    if isinstance(reason, TimeoutError):
        return RasterError(
            "{host} does not answer within {seconds} s.",
            remedy="Look whether the computer is on line and try again, or download the image and choose the file.",
            host=host,
            seconds=WAIT_S,
        )
    return RasterError(
        "{host} cannot be reached.",
        remedy="Look whether the address is right and the computer is on line, and try again.",
        host=host,
    )


def broken_off(path: Path) -> RasterError:
    """Return what to say of an image whose server answered once and then did not go on."""
    return RasterError(
        "The connection to {host} broke off while {name} was being read.",
        remedy="Try again, or download it, and choose the file.",
        host=host_of(path),
        name=called(path),
    )
