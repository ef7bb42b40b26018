"""The list of nets as a text file with a column for each thing, written for a spreadsheet; what taking one in does."""

from __future__ import annotations

from pathlib import Path

from pigmap.document.edits import ListedNet, ListTaken
from pigmap.records import Farm, Net, NetCondition, NetKind
from pigmap.records.frozen import dataclass
from pigmap.session.list_file import list_text, write_list
from pigmap.text import Text

COLUMNS = ("kind", "length_m", "tape", "number", "condition", "damaged_on", "first_used_on", "retired_on", "note")


@dataclass(frozen=True, slots=True)
class NetListFile:
    """What a file says."""

    name: str
    listed: tuple[ListedNet, ...]
    left_out: tuple[Text, ...]
    """A sentence for each line that cannot be a net."""
    notes: tuple[Text, ...]
    """A sentence for each column that is not read."""


def net_list_text(farm: Farm) -> str:
    """Return all nets of a farm as a table, also those out of use: the longest first, then by number."""
    kinds = farm.net_kinds
    nets = [net for net in farm.nets.values() if net.net_kind_uid in kinds]
    nets.sort(key=lambda net: (-kinds[net.net_kind_uid].length_mm, kinds[net.net_kind_uid].name, *_in_order(net)))
    return list_text(COLUMNS, [_row(net, kinds[net.net_kind_uid]) for net in nets])


def _row(net: Net, kind: NetKind) -> tuple[str, ...]:
    damaged = net.damaged_on if net.condition is NetCondition.DAMAGED else None
    days = ("" if day is None else day.isoformat() for day in (damaged, net.first_used_on, net.retired_on))
    return kind.name, f"{kind.length_m:g}", kind.tape, net.number, net.condition, *days, net.note


def _in_order(net: Net) -> tuple[bool, int, str, str]:
    number = int(net.number) if net.number.isdecimal() else 0
    return not net.number, number, net.number, net.uid


def write_net_list(farm: Farm, path: Path) -> None:
    """Write the list of nets; the file is complete or not there.

    Raises
    ------
    StoreError
        If it cannot be written.
    """
    write_list(net_list_text(farm), path)


def taken_words(file: NetListFile, taken: ListTaken) -> tuple[Text, ...]:
    """Return what is taken in, in words: what of it is new, and each line that is not taken."""
    left_out = sorted((*file.left_out, *taken.left_out), key=lambda each: int(str(each.values["line"])))
    said = [_counts(taken, len(left_out))]
    if taken.kinds:
        names = ", ".join(taken.kinds)
        said.append(
            Text(
                "A kind that is new here: {kinds}.",
                {"kinds": names},
                "Kinds that are new here: {kinds}.",
                len(taken.kinds),
            )
        )
    said += [*left_out, *file.notes, *taken.notes]
    if taken.not_listed:
        words = "{count} net of the farm is not in the list, and stays as it is."
        more = "{count} nets of the farm are not in the list, and stay as they are."
        said.append(Text(words, plural=more, count=taken.not_listed))
    return tuple(said)


def _counts(taken: ListTaken, left_out: int) -> Text:
    nets = Text("1 net", plural="{count} nets", count=taken.nets)
    new = Text("{count} of them new", count=taken.new) if taken.new else Text("none of them new")
    changed = Text("{count} changed", count=taken.changed)
    out = Text("1 line left out", plural="{count} lines left out", count=left_out)
    values = {"nets": nets, "new": new, "changed": changed, "out": out}
    if taken.changed and left_out:
        return Text("{nets}, {new}, {changed}; {out}.", values)
    if taken.changed:
        return Text("{nets}, {new}, {changed}.", values)
    return Text("{nets}, {new}; {out}." if left_out else "{nets}, {new}.", values)
