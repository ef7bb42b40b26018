from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from pigmap.document.edits import ListTaken, matched, take_in_nets
from pigmap.errors import PigmapError, RecordError, StoreError
from pigmap.records import Farm, Net, NetCondition, NetKind, Projection, Record, add
from pigmap.session.net_list import net_list_text, taken_words, write_net_list
from pigmap.session.net_list_reading import read_net_list

DAY = date(2026, 3, 1)
LONG = NetKind(uid="long", name="50 m nets", tape="blue", bays_mm=(50_000,))
SHORT = NetKind(uid="short", name="25 m nets", bays_mm=(25_000,))
HEAD = "kind,length_m,tape,number,condition,first_used_on,retired_on,note"


def _farm(*rows: Record) -> Farm:
    farm = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    return farm.after([add(row) for row in (LONG, SHORT, *rows)])


def _net(uid: str, number: str = "", kind: str = "long", **columns: object) -> Net:
    return Net(uid=uid, net_kind_uid=kind, number=number, **columns)  # type: ignore[arg-type]


def _file(folder: Path, text: str, encoding: str = "utf-8") -> Path:
    path = folder / "nets.csv"
    path.write_bytes(text.encode(encoding))
    return path


def _said(farm: Farm, path: Path) -> tuple[ListTaken, list[str]]:
    file = read_net_list(path)
    taken = matched(farm, file.listed)
    return taken, [str(each) for each in taken_words(file, taken)]


STOCK = (
    _net("a", "2", first_used_on=DAY),
    _net("b", "10", condition=NetCondition.DAMAGED, damaged_on=date(2026, 3, 2), note='Torn, at "post" 4'),
    _net("c", note="Größe wie neu"),
    _net("d", kind="short", retired_on=DAY),
)


def test_the_list_has_all_nets_in_order() -> None:
    assert net_list_text(_farm(*STOCK)).splitlines() == [
        "kind,length_m,tape,number,condition,damaged_on,first_used_on,retired_on,note",
        "50 m nets,50,blue,2,sound,,2026-03-01,,",
        '50 m nets,50,blue,10,damaged,2026-03-02,,,"Torn, at ""post"" 4"',
        "50 m nets,50,blue,,sound,,,,Größe wie neu",
        "25 m nets,25,,,sound,,,2026-03-01,",
    ]


def test_what_was_written_changes_nothing_when_it_is_taken_in(tmp_path: Path) -> None:
    farm, path = _farm(*STOCK), tmp_path / "nets.csv"
    write_net_list(farm, path)
    assert path.read_bytes().startswith(b"\xef\xbb\xbf")
    taken, words = _said(farm, path)
    assert taken.changes == ()
    assert words == ["4 nets, none of them new."]


def test_a_list_makes_the_stock_of_another_farm(tmp_path: Path) -> None:
    path = tmp_path / "nets.csv"
    write_net_list(_farm(*STOCK), path)
    bare = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    edit = take_in_nets(read_net_list(path).listed, path.name)
    farm = bare.after(edit(bare))
    assert net_list_text(farm).splitlines() == net_list_text(_farm(*STOCK)).splitlines()
    assert str(edit.label) == "Nets taken in from nets.csv."
    assert [row.uid for row in edit(bare)] == [row.uid for row in edit(bare)]  # shown first, then written


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize(
    ("mark", "length", "day"),
    [(",", "49.98", "2026-03-01"), (";", "49,98", "01.03.2026"), ("\t", "49,98", "01/03/2026")],
)
def test_lists_of_many_spreadsheets_are_read(tmp_path: Path, encoding: str, mark: str, length: str, day: str) -> None:
    head = mark.join(("Length m", "Number", "Note", "First used on"))
    lines = [head, mark.join((length, "4", "Größe", day)), mark.join((length, "5", "", day.replace("01", "13")))]
    if mark == ",":
        lines[2] = "49.98,5,,2026-03-13"
    elif "." in day:
        lines[2] = mark.join((length, "5", "", "13.03.2026"))
    else:
        lines[2] = mark.join((length, "5", "", "13/03/2026"))
    file = read_net_list(_file(tmp_path, "\r\n".join([*lines, ""]), encoding))
    assert [each.length_m for each in file.listed] == [49.98] * 2
    assert [each.told["first_used_on"] for each in file.listed] == [DAY, date(2026, 3, 13)]
    assert file.listed[0].told["note"] == "Größe"
    assert (file.left_out, file.notes) == ((), ())


def test_the_line_that_names_the_separator_is_passed_over(tmp_path: Path) -> None:
    file = read_net_list(_file(tmp_path, "sep=;\nkind;length_m\nLong;50\n"))
    assert [(each.line, each.kind) for each in file.listed] == [(3, "Long")]


def test_numbers_that_were_filled_in_go_to_the_nets_that_are_there(tmp_path: Path) -> None:
    farm = _farm(*(_net(f"n{at}", first_used_on=DAY) for at in range(3)))
    text = net_list_text(farm).replace("blue,,", "blue,X,")
    for number in ("1", "2", "3"):
        text = text.replace("X", number, 1)
    taken, words = _said(farm, _file(tmp_path, text))
    assert (taken.new, taken.changed) == (0, 3)
    assert words == ["3 nets, none of them new, 3 changed."]
    assert sorted(net.number for net in farm.after(taken.changes).nets.values()) == ["1", "2", "3"]


def test_what_is_new_and_what_is_left_out_is_told_before_it_is_done(tmp_path: Path) -> None:
    farm = _farm(_net("a", "4"), _net("b", "5"), _net("c"))
    lines = [HEAD, *(f"50 m nets,50,blue,{number},,,," for number in (4, 5, 6, 7, 8, 4))]
    taken, words = _said(farm, _file(tmp_path, "\n".join(lines)))
    assert (taken.nets, taken.new, taken.changed) == (5, 2, 1)
    assert words == [
        "5 nets, 2 of them new, 1 changed; 1 line left out.",
        "Line 7: two nets with number 4, the other in line 2.",
    ]


def test_nets_that_the_list_does_not_name_stay_and_are_told(tmp_path: Path) -> None:
    farm = _farm(_net("a", "4"), _net("b", "5"))
    taken, words = _said(farm, _file(tmp_path, f"{HEAD}\n50 m nets,,,4,damaged,,,Torn\n"))
    assert words == [
        "1 net, none of them new, 1 changed.",
        "1 net of the farm is not in the list, and stays as it is.",
    ]
    assert farm.after(taken.changes).nets["a"].condition is NetCondition.DAMAGED


def test_a_net_bought_later_is_another_one(tmp_path: Path) -> None:
    farm = _farm(_net("a", first_used_on=DAY))
    taken, _ = _said(farm, _file(tmp_path, f"{HEAD}\n50 m nets,50,,,,2026-11-01,,\n"))
    assert (taken.new, taken.changed, taken.not_listed) == (1, 0, 1)


def test_columns_that_the_list_lacks_keep_what_the_farm_has(tmp_path: Path) -> None:
    farm = _farm(_net("a", "4", note="From the sale.", first_used_on=DAY))
    taken, _ = _said(farm, _file(tmp_path, "kind,number,condition\n50 m nets,4,damaged\n"))
    net = farm.after(taken.changes).nets["a"]
    assert (net.note, net.first_used_on, net.condition) == ("From the sale.", DAY, NetCondition.DAMAGED)


def test_a_list_from_before_there_were_days_of_damage_leaves_them_as_they_are(tmp_path: Path) -> None:
    farm = _farm(_net("a", "4", condition=NetCondition.DAMAGED, damaged_on=DAY))
    taken, _ = _said(farm, _file(tmp_path, "kind,number,condition\n50 m nets,4,damaged\n"))
    assert taken.changes == ()


def test_a_net_that_the_list_says_is_sound_is_damaged_no_more(tmp_path: Path) -> None:
    farm = _farm(_net("a", "4", condition=NetCondition.DAMAGED, damaged_on=DAY))
    taken, _ = _said(farm, _file(tmp_path, "kind,number,condition\n50 m nets,4,sound\n"))
    net = farm.after(taken.changes).nets["a"]
    assert (net.condition, net.damaged_on) == (NetCondition.SOUND, None)


@pytest.mark.parametrize("head", ["kind,number,damaged_on", "kind,number,damaged_on,condition"])
def test_a_day_of_damage_alone_says_that_a_net_is_damaged_from_then_on(tmp_path: Path, head: str) -> None:
    farm = _farm(_net("a", "4"))
    taken, _ = _said(farm, _file(tmp_path, f"{head}\n50 m nets,4,2026-03-01,\n"[: None if "cond" in head else -2]))
    net = farm.after(taken.changes).nets["a"]
    assert (net.condition, net.damaged_on) == (NetCondition.DAMAGED, DAY)


def test_a_net_that_is_sound_and_damaged_is_left_out_with_what_to_do(tmp_path: Path) -> None:
    text = "kind,number,condition,damaged_on\n50 m nets,4,sound,2026-03-01\n"
    taken, said = _said(_farm(_net("a", "4")), _file(tmp_path, text))
    assert taken.changes == ()
    assert said[1] == (
        "Line 2: it is sound, and damaged on 2026-03-01. "
        "Say that it is damaged, or leave that day empty where it is mended."
    )


def test_a_number_that_was_used_before_finds_each_of_the_two_nets(tmp_path: Path) -> None:
    farm = _farm(_net("new", "4", first_used_on=DAY), _net("old", "4", retired_on=DAY))
    text = f"{HEAD}\n50 m nets,,,4,,,2026-03-01,Sold\n50 m nets,,,4,,2026-03-01,,Good\n"
    taken, _ = _said(farm, _file(tmp_path, text))
    after = farm.after(taken.changes)
    assert {uid: net.note for uid, net in after.nets.items()} == {"new": "Good", "old": "Sold"}


def test_kinds_that_are_new_are_made_once_and_told(tmp_path: Path) -> None:
    text = "length_m,tape,number\n40,red,1\n40,red,2\n50,blue,3\n"
    taken, words = _said(_farm(), _file(tmp_path, text))
    assert words == ["3 nets, 3 of them new.", "A kind that is new here: 40 m nets."]
    (kind,) = [each.after for each in taken.changes if isinstance(each.after, NetKind)]
    assert (kind.name, kind.tape, kind.length_mm, kind.posts) == ("40 m nets", "red", 40_000, 12)


def test_two_new_kinds_of_one_length_have_names_of_their_own(tmp_path: Path) -> None:
    taken, words = _said(_farm(), _file(tmp_path, "length_m,tape\n40,red\n40,green\n"))
    assert words[1] == "Kinds that are new here: 40 m nets, 40 m nets, green."
    assert taken.new == 2


def test_what_is_not_taken_of_a_line_or_a_column_is_told(tmp_path: Path) -> None:
    text = "kind,tape,owner\n50 m nets,red,Me\n50 m nets,red,Me\n25 m nets,red,Me\n"
    _, words = _said(_farm(), _file(tmp_path, text))
    assert words == [
        "3 nets, 3 of them new.",
        "The column owner is not taken in.",
        "The tape of the 50 m nets is blue, and stays so.",
        "The 25 m nets have no tape here, and stay so. Their details can be changed under More.",
    ]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (",0,,,,,,", "Line 2: a net cannot be 0 m long. Give its length in metres, such as 50."),
        (",,,4,,,,", "Line 2: no kind and no length. Give one of them."),
        ("Long ones,,,,,,,", "Line 2: Long ones are not known here. Give their length too."),
        (",abc,,,,,,", "Line 2: a net cannot be abc m long. Give its length in metres, such as 50."),
        (
            "50 m nets,40,,,,,,",
            "Line 2: 50 m nets are 50 m long, not 40 m. Give another kind, or that length.",
        ),
        ("50 m nets,50,,,torn,,,", "Line 2: 'torn' is not how a net is. Give sound or damaged."),
        (
            "50 m nets,50,,,,30 February,,",
            "Line 2: '30 February' is not a day. Give it as YYYY-MM-DD, such as 2026-03-01.",
        ),
        (
            "50 m nets,50,,4,,2026-03-02,2026-03-01,",
            "Line 2: Net 4 goes out of use on 2026-03-01, before it is first used on 2026-03-02. "
            "Give a last day that is not before the first.",
        ),
        (
            "50 m nets,50,0,,,,,,late",
            "Line 2: it has more values than there are columns. "
            "Put what holds a comma between quotation marks, or part the values by semicolons.",
        ),
    ],
)
def test_a_line_that_is_left_out_says_why_and_what_to_do(tmp_path: Path, line: str, words: str) -> None:
    taken, said = _said(_farm(), _file(tmp_path, f"{HEAD}\n{line}\n25 m nets,25,,,,,,\n"))
    assert said == ["1 net, 1 of them new; 1 line left out.", words]
    assert taken.new == 1


def test_a_length_that_two_kinds_have_asks_for_a_name(tmp_path: Path) -> None:
    other = NetKind(uid="other", name="50 m high", tape="red", bays_mm=(50_000,))
    _, words = _said(_farm(other), _file(tmp_path, "length_m,tape\n50,\n50,red\n"))
    assert words == [
        "1 net, 1 of them new; 1 line left out.",
        "Line 2: nets of 50 m are several kinds: 50 m high, 50 m nets. Name one.",
    ]


def test_a_day_that_the_net_cannot_have_leaves_its_line_out(tmp_path: Path) -> None:
    farm = _farm(_net("a", "4", first_used_on=DAY))
    taken, words = _said(farm, _file(tmp_path, "kind,number,retired_on\n50 m nets,4,2025-01-01\n"))
    assert taken.changes == ()
    assert words == [
        "0 nets, none of them new; 1 line left out.",
        "Line 2: Net 4 goes out of use on 2025-01-01, before it is first used on 2026-03-01. "
        "Give a last day that is not before the first.",
    ]


@pytest.mark.parametrize("text", ["", HEAD, "kind,length_m\n\n;;\n"[:14], "\0\0"])
def test_what_is_no_list_is_told(tmp_path: Path, text: str) -> None:
    with pytest.raises(RecordError) as raised:
        read_net_list(_file(tmp_path, text))
    assert str(raised.value) == (
        "nets.csv is not a list of nets. Give a text file (CSV): a first row with kind, length_m, tape, number, "
        "condition, damaged_on, first_used_on, retired_on, note, then one row for each net."
    )


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            "number,colour\n4,blue\n",
            "nets.csv has no column for the kind or the length of nets; its columns are: number, colour. "
            "Name them in its first row: kind, length_m, tape, number, condition, damaged_on, first_used_on, "
            "retired_on, note.",
        ),
        (
            "kind,first_used_on\nLong,03/04/2026\n",
            "The days of nets.csv, such as 03/04/2026, do not say which number is the day and which the month. "
            "Write them as YYYY-MM-DD.",
        ),
    ],
)
def test_a_file_that_cannot_be_understood_says_why(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(PigmapError) as raised:
        read_net_list(_file(tmp_path, text))
    assert str(raised.value) == words


def test_a_file_that_is_not_there_or_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(StoreError) as raised:
        read_net_list(tmp_path / "none.csv")
    assert str(raised.value) == (
        "none.csv cannot be read: No such file or directory. Look whether it is there, and may be read."
    )
    with pytest.raises(StoreError) as raised:
        write_net_list(_farm(), tmp_path / "nowhere" / "nets.csv")
    assert str(raised.value) == (
        "nets.csv cannot be written: No such file or directory. "
        f"Look whether the folder {tmp_path / 'nowhere'} is there, may be written to and has room."
    )
