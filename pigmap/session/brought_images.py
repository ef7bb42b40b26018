"""Several images that are brought at once: files, all that a zip holds, and addresses on the web."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from pigmap.document.edits import link_image
from pigmap.document.edits.together import together
from pigmap.errors import RasterError, UsageError
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.place import NoPlaceError
from pigmap.imagery.where import called, is_address, web_address, web_path
from pigmap.records import Edit
from pigmap.session.images import image_link
from pigmap.text import Text


class BroughtImages(NamedTuple):
    """What became of what was brought."""

    taken: tuple[ImageFacts, ...]
    """Those that can lie under the map, in the order in which they came."""
    left_out: tuple[RasterError, ...]
    """Why each of the others cannot."""

    @property
    def words(self) -> Text:
        """How many came, and why the first that did not was left out."""
        said = {"taken": Text("{count} image came.", plural="{count} images came.", count=len(self.taken))}
        if not self.left_out:
            return Text("{taken}", said)
        first = self.left_out[0]
        left = Text("{count} was left out:", plural="{count} were left out:", count=len(self.left_out))
        return Text(
            "{taken} {left} {what} {remedy}", said | {"left": left, "what": first.message, "remedy": first.remedy}
        )


def typed_image(words: str, outlines: tuple[str, ...] = ()) -> Path:
    """Return where an image is from what was typed or pasted: an address on the web.

    Parameters
    ----------
    words
        What was typed.
    outlines
        How the names of files of outlines end, which are not read over the web; a zip may hold either.

    Raises
    ------
    UsageError
        If it is none.
    """
    if not is_address(words):
        raise UsageError(
            "{words} is no address of an image on the web.",
            remedy="Paste it whole, from https:// on; a file on this computer is chosen with the button.",
            words=words.strip() or "-",
        )
    path = web_path(words)
    if called(path).lower().endswith(tuple(end for end in outlines if end != ".zip")):
        raise UsageError(
            "{name} is a file of outlines; on the web only images are read.",
            remedy="Download it, and choose the file.",
            name=called(path),
        )
    return path


def address_of(path: Path) -> str:
    """Return the address that a path stands for; empty for a file on this computer."""
    return web_address(path)


def shown_name(path: Path) -> str:
    """Return what an image is called for people: its file's name, without what an address asks for."""
    return called(path)


def to_be_pinned(why: object, paths: Sequence[Path]) -> Path | None:
    """Return the picture on the web that was brought alone and only lacks its place; None for anything else."""
    alone = paths[0] if len(paths) == 1 and web_address(paths[0]) else None
    return alone if isinstance(why, NoPlaceError) else None


def bring_images(paths: Sequence[Path], stop: Callable[[], bool] = lambda: False) -> BroughtImages:
    """Vet images, each of a zip by itself; for workers.

    Raises
    ------
    RasterError
        If none of them can lie under the map: why the first cannot.
    """
    from pigmap.imagery.vet import vet  # loads the image reader

    taken: list[ImageFacts] = []
    left_out: list[RasterError] = []
    for path in _each(paths, left_out):
        if stop():
            break
        try:
            taken.append(vet(path))
        except RasterError as why:
            left_out.append(why)
    if not taken and left_out:
        raise left_out[0]
    return BroughtImages(tuple(taken), tuple(left_out))


def _each(paths: Sequence[Path], left_out: list[RasterError]) -> list[Path]:
    from pigmap.imagery.packed import images_in_zip

    found: list[Path] = []
    for path in paths:
        try:
            several = path.name.lower().endswith(".zip") and not web_address(path) and path.is_file()
            inside = images_in_zip(path) if several else ()
        except RasterError as why:
            left_out.append(why)
            continue
        found += inside if len(inside) > 1 else (path,)
    return found


def images_linked(brought: BroughtImages, farm_file: Path) -> Edit:
    """Return the edit that shows images: one, so that one undo takes them all back."""
    edits = [link_image(name_of(facts), image_link(farm_file, facts.path)) for facts in brought.taken]
    label = Text("{count} image linked.", plural="{count} images linked.", count=len(edits))
    return edits[0] if len(edits) == 1 else together(label, edits)


def name_of(facts: ImageFacts) -> str:
    """Return what an image is called at first: its file's name without the ending."""
    return Path(called(facts.path)).stem or called(facts.path)
