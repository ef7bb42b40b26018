"""What is contributed: names known at start, modules loaded on first use, faults collected and never fatal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from importlib.metadata import Distribution, EntryPoint, distributions
from typing import Any, NamedTuple

from pigmap.errors import PluginError
from pigmap.plugins.kinds import API, KINDS

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
    declared
        Entry points to use; by default those of everything that is installed.

    Notes
    -----
    Built-in parts come first. A stranger's part with a name that is taken is left out and listed among `faults`.
    """

    def __init__(self, declared: Iterable[EntryPoint] | None = None) -> None:
        self.faults: list[Fault] = []
        self._parts: dict[tuple[str, str], tuple[Part, EntryPoint]] = {}
        self._loaded: dict[tuple[str, str], Any] = {}
        found = installed() if declared is None else declared
        ours = [entry for entry in found if entry.group.startswith("pigmap.")]
        for entry in sorted(ours, key=lambda entry: (_shipper(entry) != _OURS, _shipper(entry), entry.name)):
            self._declare(entry)

    def _declare(self, entry: EntryPoint) -> None:
        kind = entry.group.removeprefix("pigmap.")
        part = Part(kind, entry.name, entry.value, _shipper(entry))
        if kind not in KINDS:
            reason = PluginError(
                "{shipper} declares {name} as {group}, which is no kind of part.",
                remedy="Its maker can choose one of: {kinds}.",
                shipper=part.shipper,
                name=part.name,
                group=entry.group,
                kinds=", ".join(KINDS),
            )
            self.faults.append(Fault(part, reason))
            return
        taken = self._parts.get((kind, entry.name))
        if taken is None:
            self._parts[kind, entry.name] = (part, entry)
        elif taken[0] != part:  # the same distribution can be found twice on the path
            reason = PluginError(
                "{shipper} brings {kind} {name}, a name that {owner} already uses.",
                remedy="It is left out; its maker can choose another name.",
                shipper=part.shipper,
                kind=kind,
                name=part.name,
                owner=taken[0].shipper,
            )
            self.faults.append(Fault(part, reason))

    def parts(self, kind: str) -> Iterator[Part]:
        """Yield the parts of one kind, built-in ones first, each side by name; loads nothing."""
        for (of_kind, _), (part, _) in self._parts.items():
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
        part, entry = self._parts[kind, name]
        try:
            loaded = entry.load()
        except Exception as error:
            raise self._left_out(part, f"{type(error).__name__}: {error}") from error
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


def installed() -> Iterator[EntryPoint]:
    """Yield every entry point of every installed distribution.

    ``importlib.metadata.entry_points`` is not used: before Python 3.12 it cannot be walked through without a group.
    """
    return (entry for distribution in distributions() for entry in distribution.entry_points)


def _shipper(entry: EntryPoint) -> str:
    return _name(entry.dist) if entry.dist is not None else "unknown"


@cache
def _name(distribution: Distribution) -> str:
    # Each look at the name reads the whole of the distribution's metadata anew.
    return distribution.name
