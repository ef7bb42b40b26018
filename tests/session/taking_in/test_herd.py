from __future__ import annotations

from datetime import date
from pathlib import Path

from pigmap.records import Energizer, GroupEventKind, NetKind, PigClass, PowerSource, WeighedBy
from pigmap.session.net_list import write_net_list
from tests.session.taking_in.at_farm import TODAY, after, file, here, said, taken

GROUPS = "name,class,pigs,kg,since,note\n"


def test_groups_come_with_their_pigs(tmp_path: Path) -> None:
    rows = (
        'Mill sows,dry sows,12,180,2026-01-02,\nPond,weaners,30,"12,5 kg",1.5.2026,born here\n'
        "Boar,boar,1,,,\nX,cattle,,,,\n"
    )
    told = taken(file(tmp_path, GROUPS + rows))
    assert said(told) == [
        "It has columns for name and class of pigs, so its rows are taken as groups.",
        f"3: Since when is not told: its pigs count from {TODAY} on.",
        "4: The class, 'cattle', is not known here: they are growing pigs.",
    ]
    now = after(told)
    new = {row.name: row for row in now.groups.values()}
    assert new["Mill sows"].pig_class is PigClass.GESTATING
    assert (new["Pond"].pig_class, new["Pond"].note) == (PigClass.WEANED, "born here")
    assert len({new[name].colour_index for name in ("Mill sows", "Pond", "Boar", "X")}) == 4
    came = {row.group_uid: row for row in now.group_events.values()}
    first = came[new["Pond"].uid]
    assert (first.kind, first.pigs, first.mean_kg, first.happened_on) == (
        GroupEventKind.BOUGHT, 30, 12.5, date(2026, 5, 1)
    )  # fmt: skip
    assert new["X"].uid not in came
    assert {row.result for row in taken(file(tmp_path, GROUPS + rows), at=now).rows} == {"there already"}


def test_a_group_that_is_there_is_known_by_its_name_and_keeps_its_pigs(tmp_path: Path) -> None:
    told = taken(file(tmp_path, GROUPS + "WEANERS,growers,50,20,2026-05-01,moved up\nWeaners,boar,,,,\n"))
    assert [row.result for row in told.rows] == ["changed", "changed"]
    assert said(told)[1] == (
        "1: How many they are, and how heavy, stays as it is: that is taken in as entries of groups."
    )
    now = after(told)
    assert (now.groups["w"].note, len(now.group_events)) == ("moved up", len(here().group_events))


def test_a_name_that_stands_in_the_file_twice_is_taken_once(tmp_path: Path) -> None:
    told = taken(file(tmp_path, GROUPS + "New,sows,3,,2026-05-01,\nnew,sows,4,,2026-05-01,\n ,sows,4,,2026-05-01,\n"))
    assert [row.result for row in told.rows] == ["taken", "refused", "refused"]
    assert said(told)[1:] == [
        "2: new stands in the file twice; the first is taken.",
        "2: Give it another name, or leave it out.",
        "3: it has no name.",
        "3: Write one.",
    ]


def test_a_list_of_weights_is_weighings(tmp_path: Path) -> None:
    rows = (
        "group;date;kg;pigs;weighed by\nWeaners;15.4.2026;17,5 kg;10;tape\nNobody;15.4.2026;1;;\n"
        "Weaners;;20;;\nWeaners;16.4.2026;900;;\n"
    )
    told = taken(file(tmp_path, rows))
    assert [row.result for row in told.rows] == ["taken", "refused", "refused", "refused"]
    assert said(told)[1:] == [
        "2: there is no group 'Nobody'.",
        "2: The farm has: Group g, Weaners.",
        "3: no day is given.",
        "3: Write the day on which it happened.",
        "4: The mean weight is 900.",
        "4: Give a number from 0.3 to 600.",
    ]
    new = next(row for row in after(told).group_events.values() if row.group_uid == "w")
    assert (new.kind, new.mean_kg, new.pigs, new.weighed_by) == (GroupEventKind.WEIGHED, 17.5, 10, WeighedBy.TAPE)
    assert taken(file(tmp_path, rows), at=after(told)).count("there already") == 1


def test_what_happened_is_read_by_its_word_and_refused_where_there_is_none(tmp_path: Path) -> None:
    rows = (
        "group,day,what,pigs,other group\nWeaners,2026-04-15,sale,3,\nWeaners,2026-04-15,,3,\n"
        "Group g,2026-04-15,split,2,Weaners\n"
    )
    told = taken(file(tmp_path, rows), "events")
    assert [row.result for row in told.rows] == ["taken", "refused", "taken"]
    assert said(told)[0] == "2: what happened is not told."
    kinds = {row.kind: row for row in after(told).group_events.values()}
    assert kinds[GroupEventKind.SOLD].pigs == 3
    assert kinds[GroupEventKind.SPLIT].other_group_uid == "w"


def test_energizers_are_taken_and_put_right_by_their_names(tmp_path: Path) -> None:
    farm = here(Energizer(uid="e", name="Barn unit", output_j=2.0, note="by the door"))
    rows = (
        "name,runs on,output_j,rods,soil,group\nbarn unit,grid,3,4,clay,\nFar,solar,0.5,1,peat,Weaners\n"
        "Huge,mains,9,,,\n"
    )
    told = taken(file(tmp_path, rows), at=farm)
    assert [row.result for row in told.rows] == ["changed", "taken", "refused"]
    assert said(told)[1:3] == [
        "2: The soil, 'peat', is not known here, and is left out.",
        "3: Huge would give 9 J into 500 Ω; energizers for livestock give at most 5 J.",
    ]
    now = after(told, farm)
    assert (now.energizers["e"].source, now.energizers["e"].output_j, now.energizers["e"].note) == (
        PowerSource.MAINS, 3.0, "by the door"
    )  # fmt: skip
    far = next(row for row in now.energizers.values() if row.name == "Far")
    assert (far.group_uid, far.source, far.rods) == ("w", PowerSource.SOLAR, 1)


def test_net_kinds_are_made_of_their_length_and_posts_or_of_their_bays(tmp_path: Path) -> None:
    farm = here(NetKind(uid="n", name="50 m nets", bays_mm=(4000,) * 12 + (2000,)))
    rows = (
        "name,length,posts,bays_mm,tape\n50 m nets,50,,,blue\nShort,10,3,,\nOdd,,,3000 2000 3000,\nNone,,,,\n"
        "Long,900,,,\nBad,,,3000 x,\n"
    )
    told = taken(file(tmp_path, rows), "netkinds", farm)
    assert [row.result for row in told.rows] == ["changed", "taken", "taken", "refused", "refused", "refused"]
    assert said(told) == [
        "4: its length is not told.",
        "4: Give its length in metres, such as 50.",
        "5: a net cannot be 900 m long.",
        "5: Give its length in metres, such as 50.",
        "6: the bays, '3000 x', are no list of lengths.",
        "6: Give the length of each bay in mm, parted by spaces.",
    ]
    kinds = {row.name: row for row in after(told, farm).net_kinds.values()}
    assert (kinds["50 m nets"].tape, kinds["50 m nets"].bays_mm[-1]) == ("blue", 2000)
    assert (kinds["Short"].bays_mm, kinds["Odd"].bays_mm) == ((5000, 5000), (3000, 2000, 3000))


def test_a_list_of_nets_is_found_out_and_taken_net_by_net(tmp_path: Path) -> None:
    rows = (
        "kind,length_m,tape,number,condition,first_used_on\n50 m nets,50,blue,1,sound,\n"
        "50 m nets,50,blue,2,damaged,\n,,,3,,\n"
    )
    told = taken(file(tmp_path, rows))
    assert [(row.row, row.result) for row in told.rows] == [(1, "taken"), (2, "taken"), (3, "refused")]
    assert said(told)[0] == "It has columns for kind and number of nets, so it is taken as a list of nets."
    assert said(told)[-1] == "3: no kind and no length. Give one of them."
    now = after(told)
    assert len(now.nets) == 2
    path = tmp_path / "nets.csv"
    write_net_list(now, path)
    again = taken(path, at=now)
    assert {row.result for row in again.rows} == {"there already"}
    assert not again.changes_anything


def test_a_group_without_pigs_or_of_piglets_called_sows_is_taken_and_doubted(tmp_path: Path) -> None:
    told = taken(file(tmp_path, GROUPS + "Tiny,sows,5,4,2026-01-01,\nNobody,boar,0,,2026-01-01,\n"))
    assert [row.result for row in told.rows] == ["taken", "taken"]
    assert said(told)[1:] == [
        "1: 4 kg each is light for such pigs. Look at the weight, and at what pigs they are.",
        "2: It has no pigs.",
    ]
