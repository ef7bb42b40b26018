"""What is contributed: names known at start, modules loaded on first use, faults collected and never fatal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from importlib import import_module
from typing import TYPE_CHECKING, Any, NamedTuple

from pigmap.errors import PluginError
from pigmap.plugins.declared import GROUPS, Declared, declared, of
from pigmap.plugins.kinds import API, KINDS

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint
    from pathlib import Path

_OURS = "pigmap"


class Part(NamedTuple):
    """One contributed part as declared; nothing of it is loaded yet."""

    kind: str
    name: str
    target: str
    shipper: str

    @property
    def built_in(self) -> bool:
        """Whether the part came with the program itself."""
        return self.shipper == _OURS


class Fault(NamedTuple):
    """A contributed part that is left out, and why."""

    part: Part
    reason: PluginError


class Registry:
    """The contributed parts of every kind.

    Parameters
    ----------
    entries
        Entry points to use; by default those of everything that is installed.
    kept_in
        Folder that keeps from start to start what is installed; without one it is looked for anew.

    Notes
    -----
    Built-in parts come first. A stranger's part with a name that is taken is left out and listed among `faults`.
    """

    def __init__(self, entries: Iterable[EntryPoint] | None = None, *, kept_in: Path | None = None) -> None:
        self.faults: list[Fault] = []
        self._parts: dict[tuple[str, str], Part] = {}
        self._loaded: dict[tuple[str, str], Any] = {}
        found = declared(kept_in) if entries is None else list(of(entries))
        for each in sorted(found, key=lambda each: (each.shipper != _OURS, each.shipper, each.name)):
            self._declare(each)

    def _declare(self, each: Declared) -> None:
        kind = each.group.removeprefix(GROUPS)
        part = Part(kind, each.name, each.target, each.shipper)
        if kind not in KINDS:
            reason = PluginError(
                "{shipper} declares {name} as {group}, which is no kind of part.",
                remedy="Its maker can choose one of: {kinds}.",
                shipper=part.shipper,
                name=part.name,
                group=each.group,
                kinds=", ".join(KINDS),
            )
            self.faults.append(Fault(part, reason))
            return
        taken = self._parts.get((kind, each.name))
        if taken is None:
            self._parts[kind, each.name] = part
        elif taken != part:  # the same distribution can be found twice on the path
            reason = PluginError(
                "{shipper} brings {kind} {name}, a name that {owner} already uses.",
                remedy="It is left out; its maker can choose another name.",
                shipper=part.shipper,
                kind=kind,
                name=part.name,
                owner=taken.shipper,
            )
            self.faults.append(Fault(part, reason))

    def parts(self, kind: str) -> Iterator[Part]:
        """Yield the parts of one kind, built-in ones first, each side by name; loads nothing."""
        for (of_kind, _), part in self._parts.items():
            if of_kind == kind:
                yield part

    def load(self, kind: str, name: str) -> Any:
        """Return the object behind a name, loaded on first use.

        Raises
        ------
        PluginError
            If no part has that name, it cannot be loaded, or it was made for another version of the contract.
        """
        if (kind, name) in self._loaded:
            return self._loaded[kind, name]
        if (kind, name) not in self._parts:
            raise self._unknown(kind, name)
        part = self._parts[kind, name]
        try:
            loaded = _object(part.target)
        except Exception as error:
            raise self.left_out(part, error) from error
        if KINDS[kind].promised and not part.built_in and getattr(loaded, "api", None) != API:
            raise self._left_out(part, f"it states api = {getattr(loaded, 'api', None)}, this program has {API}")
        self._loaded[kind, name] = loaded
        return loaded

    def _unknown(self, kind: str, name: str) -> PluginError:
        names = ", ".join(sorted(part.name for part in self.parts(kind)))
        if not names:
            return PluginError(
                "No {kind} are declared: the program is not installed where it runs.",
                remedy="Install it once, with: python -m pip install -e .",
                kind=kind,
            )
        return PluginError(
            "There is no {name} among the {kind}.", remedy="There are: {names}.", name=name, kind=kind, names=names
        )

    def left_out(self, part: Part, error: Exception) -> PluginError:
        """Return what to say of a stranger's part that failed when it was used; it is listed among the faults."""
        return self._left_out(part, f"{type(error).__name__}: {error}")

    def _left_out(self, part: Part, why: str) -> PluginError:
        error = PluginError(
            "{shipper}: {kind} {name} cannot be used: {why}.",
            remedy="Everything else works without it; its maker can mend it.",
            shipper=part.shipper,
            kind=part.kind,
            name=part.name,
            why=why.rstrip("."),
        )
        self.faults.append(Fault(part, error))
        return error


def _object(target: str) -> Any:
    """Return what a target names: ``module:name``, with points between the names of what is inside another."""
    module, _, names = target.partition("[")[0].strip().partition(":")
    found = import_module(module.strip())
    for name in filter(None, names.strip().split(".")):
        found = getattr(found, name)
    return found
