"""A list of nets taken in: each line finds the net that it tells of, or is a new one; all of it is one edit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from datetime import date
from typing import Any

from pigmap.document.edits.net_numbers import same_number
from pigmap.document.edits.nets import even_bays, usual_posts
from pigmap.errors import RecordError
from pigmap.records import Edit, Farm, Net, NetKind, RowChange, add, change, new_uid
from pigmap.records.frozen import dataclass
from pigmap.text import Text, Value

SAME_M = 0.05
"""Lengths of nets that differ by less are one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedNet:
    """One line of a list."""

    line: int
    """Where it stands in the file, from 1."""
    kind: str = ""
    length_m: float | None = None
    tape: str = ""
    told: Mapping[str, Any] = field(default_factory=dict)
    """Columns of `Net` that the list has; of what it has no column the net keeps what it had."""
    uid: str = field(default_factory=new_uid)
    """Of the net, if it is a new one."""
    kind_uid: str = field(default_factory=new_uid)
    """Of its kind, if that is a new one."""

    @property
    def number(self) -> str:
        """Its number, which may be empty."""
        return str(self.told.get("number", ""))


@dataclass(frozen=True, slots=True)
class ListTaken:
    """What a list does to a farm."""

    changes: tuple[RowChange, ...]
    nets: int
    """Lines that are taken in."""
    new: int
    changed: int
    kinds: tuple[str, ...]
    """Names of the kinds that the farm did not have."""
    left_out: tuple[Text, ...]
    """A sentence for each line that is not taken in."""
    notes: tuple[Text, ...]
    """What of a line that is taken in is not."""
    not_listed: int
    """Nets of the farm that the list does not name; they stay as they are."""
    new_lines: frozenset[int] = frozenset()
    """Lines that are new nets."""
    changed_lines: frozenset[int] = frozenset()
    """Lines that change a net."""


def take_in_nets(listed: Sequence[ListedNet], source: str) -> Edit:
    """Return the edit that takes in a list of nets from a file."""
    label = Text("Nets taken in from {file}.", {"file": source})
    return Edit(label, lambda farm: matched(farm, listed).changes)


def matched(farm: Farm, listed: Sequence[ListedNet]) -> ListTaken:
    """Return what a list does to a farm.

    A line is a net of its kind of which all is as the line says; else the one with its number; else one without a
    number that was first used on the same day; and where there is none a new one.
    """
    kinds = _Kinds(farm)
    lines, left_out = _lines(kinds, listed)
    free: dict[str, list[Net]] = {}
    for net in farm.nets.values():
        free.setdefault(net.net_kind_uid, []).append(net)
    found = dict(_pairs(lines, free))
    added: dict[int, Net] = {}
    changed: dict[int, RowChange] = {}
    same = 0
    for each, kind in lines:
        before = found.get(each.line)
        try:
            now = _as_net(each, kind.uid) if before is None else replace(before, **each.told)
        except RecordError as why:
            left_out.append(Text("Line {line}: {why} {remedy}", _values(each, why)))
            continue
        if before is None:
            added[each.line] = now
        elif now != before:
            changed[each.line] = change(before, now)
        else:
            same += 1
    return ListTaken(
        changes=(*(add(kind) for kind in kinds.made), *(add(net) for net in added.values()), *changed.values()),
        nets=len(added) + len(changed) + same,
        new=len(added),
        changed=len(changed),
        kinds=tuple(kind.name for kind in kinds.made),
        left_out=tuple(left_out),
        notes=tuple(kinds.notes),
        not_listed=sum(map(len, free.values())),
        new_lines=frozenset(added),
        changed_lines=frozenset(changed),
    )


def _values(each: ListedNet, why: RecordError) -> dict[str, Value]:
    return {"line": each.line, "why": why.message, "remedy": why.remedy}


def _as_net(each: ListedNet, kind_uid: str = "") -> Net:
    return Net(uid=each.uid, net_kind_uid=kind_uid, **each.told)


Line = tuple[ListedNet, NetKind]


def _lines(kinds: _Kinds, listed: Iterable[ListedNet]) -> tuple[list[Line], list[Text]]:
    """Return the lines that can be taken in with their kinds, and the words for the others."""
    lines: list[Line] = []
    left_out: list[Text] = []
    numbered: dict[tuple[str, str], list[ListedNet]] = {}
    for each in listed:
        kind = kinds.of(each)
        if isinstance(kind, Text):
            left_out.append(Text("Line {line}: {why}", {"line": each.line, "why": kind}))
            continue
        alike = numbered.setdefault((kind.uid, each.number), [])
        other = next((other for other in alike if same_number(_as_net(each), _as_net(other))), None)
        if other is not None:
            values: dict[str, Value] = {"line": each.line, "number": each.number, "other": other.line}
            left_out.append(Text("Line {line}: two nets with number {number}, the other in line {other}.", values))
            continue
        alike.append(each)
        lines.append((each, kind))
    return lines, left_out


def _pairs(lines: Sequence[Line], free: dict[str, list[Net]]) -> Iterator[tuple[int, Net]]:
    """Yield the lines that tell of a net of the farm, and take those nets out of what is free."""
    waiting = list(lines)
    for fits in (_as_it_is, _of_its_days, _by_number, _by_first_day):
        left: list[Line] = []
        for each, kind in waiting:
            there = free.get(kind.uid, [])
            net = next((net for net in there if fits(each, net)), None)
            if net is None:
                left.append((each, kind))
            else:
                there.remove(net)
                yield each.line, net
        waiting = left


def _as_it_is(each: ListedNet, net: Net) -> bool:
    return all(getattr(net, column) == value for column, value in each.told.items())


def _by_number(each: ListedNet, net: Net) -> bool:
    return bool(each.number) and each.number == net.number and net.retired_on is None


def _of_its_days(each: ListedNet, net: Net) -> bool:
    """Whether a line tells of the net with its number that was first used, or went out of use, on the same day."""
    if not each.number or each.number != net.number:
        return False
    told = ((each.told.get(column), getattr(net, column)) for column in ("retired_on", "first_used_on"))
    return any(day is not None and day == own for day, own in told)


def _by_first_day(each: ListedNet, net: Net) -> bool:
    first: date | None = each.told.get("first_used_on", net.first_used_on)
    return not net.number and net.retired_on is None and first == net.first_used_on


class _Kinds:
    """The kinds of a farm, and those that a list makes."""

    def __init__(self, farm: Farm) -> None:
        self._all = list(farm.net_kinds.values())
        self.made: list[NetKind] = []
        self.notes: list[Text] = []

    def of(self, each: ListedNet) -> NetKind | Text:
        """Return the kind of a line, made where there is none like it, or why there can be none."""
        found = self._named(each) if each.kind else self._as_long(each)
        if found is None:
            found = self._new(each)
        if isinstance(found, NetKind) and each.tape and each.tape.casefold() != found.tape.casefold():
            words = "The tape of the {kind} is {tape}, and stays so."
            if not found.tape:
                words = "The {kind} have no tape here, and stay so. Their details can be changed under More."
            note = Text(words, {"kind": found.name, "tape": found.tape})
            if note not in self.notes:
                self.notes.append(note)
        return found

    def _named(self, each: ListedNet) -> NetKind | Text | None:
        kind = next((kind for kind in self._all if kind.name.casefold() == each.kind.casefold()), None)
        if kind is None or each.length_m is None or abs(kind.length_m - each.length_m) < SAME_M:
            return kind
        values: dict[str, Value] = {"kind": kind.name, "own": f"{kind.length_m:g}", "told": f"{each.length_m:g}"}
        return Text("{kind} are {own} m long, not {told} m. Give another kind, or that length.", values)

    def _as_long(self, each: ListedNet) -> NetKind | Text | None:
        if each.length_m is None:
            return Text("no kind and no length. Give one of them.")
        alike = [kind for kind in self._all if abs(kind.length_m - each.length_m) < SAME_M]
        if each.tape:
            alike = [kind for kind in alike if kind.tape.casefold() == each.tape.casefold()]
        if len(alike) > 1:
            names = ", ".join(sorted(kind.name for kind in alike))
            return Text(
                "nets of {length} m are several kinds: {names}. Name one.",
                {"length": f"{each.length_m:g}", "names": names},
            )
        return alike[0] if alike else None

    def _new(self, each: ListedNet) -> NetKind | Text:
        if each.length_m is None:
            return Text("{kind} are not known here. Give their length too.", {"kind": each.kind})
        name = each.kind or self._free_name(f"{each.length_m:g} m nets", each.tape)
        bays = even_bays(round(each.length_m * 1000), usual_posts(each.length_m))
        made = NetKind(uid=each.kind_uid, name=name, tape=each.tape, bays_mm=bays)
        self._all.append(made)
        self.made.append(made)
        return made

    def _free_name(self, name: str, tape: str) -> str:
        taken = {kind.name for kind in self._all}
        return name if name not in taken else f"{name}, {tape}"
