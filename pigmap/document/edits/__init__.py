"""Every change a person can make, each a named edit: a pure function from the farm to the rows that change.

An edit raises an `EditError` in words when what it is about is gone, or cannot be. Facts (recorded stays, checks,
weighings) are never refused for being out of the ordinary.
"""

from __future__ import annotations

from pigmap.document.edits.before import Before, tell_before, tell_before_of_field
from pigmap.document.edits.care import place_escape, record_escape, treat
from pigmap.document.edits.checks import add_weather, all_well, record_check, well_recorded
from pigmap.document.edits.choices import amend, change_setting, end_use, link_image, rename, unlink_image
from pigmap.document.edits.crossing import NetSet, did_not_cross
from pigmap.document.edits.energizers import feed_paddock, read_energizer, tell_energizer_at, tell_energizer_of
from pigmap.document.edits.farm_place import give_place, lying_by_themselves
from pigmap.document.edits.fields import add_field, change_purpose, reshape_field, set_purpose
from pigmap.document.edits.gear import filled, move_gear, set_gear
from pigmap.document.edits.ground_pace import PACE, keep_pace, use_printed_pace
from pigmap.document.edits.ground_work import GroundWork, tell_work, tell_work_of_field
from pigmap.document.edits.groups import add_group, close_group, count_and_weigh, record_event, weigh
from pigmap.document.edits.guessed_nets import nets_are_guessed, nets_stand
from pigmap.document.edits.joining import join_groups, move_pigs, pigs_born, pigs_died, split_group
from pigmap.document.edits.move_order import order_moves
from pigmap.document.edits.move_time import tell_move_time
from pigmap.document.edits.naming import field_under, free_names
from pigmap.document.edits.net_list import ListedNet, ListTaken, matched, take_in_nets
from pigmap.document.edits.net_numbers import another_stands_here, next_numbers, number_all, number_net, same_number
from pigmap.document.edits.net_stock import change_net_kind, net_damaged, net_mended, one_damaged, retire_nets
from pigmap.document.edits.nets import (
    add_net_kind,
    add_nets,
    even_bays,
    nets_owned,
    own_nets,
    record_net_use,
    set_net_condition,
    usual_posts,
)
from pigmap.document.edits.paddocks import lay_row, move_paddock, place_paddock, reshape_paddock
from pigmap.document.edits.register import enter_in_register, pigs_bought, pigs_sold
from pigmap.document.edits.removal import remove
from pigmap.document.edits.slaughter import Went, book_slaughter, they_went
from pigmap.document.edits.sows import WeanedTo, farrow, open_litters, serve, wean
from pigmap.document.edits.split_paddock import halves_of, split_paddock, turn_of
from pigmap.document.edits.standing import stands_there
from pigmap.document.edits.stands_here import stands_here, what_follows
from pigmap.document.edits.stays import begin_stay, change_stay, end_stay, plan_stay, record_stay, usual_days
from pigmap.document.edits.surroundings import (
    add_flow_line,
    add_keep_out,
    add_place,
    add_way,
    move_place,
    reshape_flow_line,
    reshape_keep_out,
    reshape_way,
)
from pigmap.document.edits.swap_stays import swap_stays, swapped_words
from pigmap.document.edits.terrain import link_terrain, unlink_terrain
from pigmap.document.edits.together import once, together
from pigmap.document.edits.weather import call_hot, rain_in_gauge

__all__ = [
    "PACE",
    "Before",
    "GroundWork",
    "ListTaken",
    "ListedNet",
    "NetSet",
    "WeanedTo",
    "Went",
    "add_field",
    "add_flow_line",
    "add_group",
    "add_keep_out",
    "add_net_kind",
    "add_nets",
    "add_place",
    "add_way",
    "add_weather",
    "all_well",
    "amend",
    "another_stands_here",
    "begin_stay",
    "book_slaughter",
    "call_hot",
    "change_net_kind",
    "change_purpose",
    "change_setting",
    "change_stay",
    "close_group",
    "count_and_weigh",
    "did_not_cross",
    "end_stay",
    "end_use",
    "enter_in_register",
    "even_bays",
    "farrow",
    "feed_paddock",
    "field_under",
    "filled",
    "free_names",
    "give_place",
    "halves_of",
    "join_groups",
    "keep_pace",
    "lay_row",
    "link_image",
    "link_terrain",
    "lying_by_themselves",
    "matched",
    "move_gear",
    "move_paddock",
    "move_pigs",
    "move_place",
    "net_damaged",
    "net_mended",
    "nets_are_guessed",
    "nets_owned",
    "nets_stand",
    "next_numbers",
    "number_all",
    "number_net",
    "once",
    "one_damaged",
    "open_litters",
    "order_moves",
    "own_nets",
    "pigs_born",
    "pigs_bought",
    "pigs_died",
    "pigs_sold",
    "place_escape",
    "place_paddock",
    "plan_stay",
    "rain_in_gauge",
    "read_energizer",
    "record_check",
    "record_escape",
    "record_event",
    "record_net_use",
    "record_stay",
    "remove",
    "rename",
    "reshape_field",
    "reshape_flow_line",
    "reshape_keep_out",
    "reshape_paddock",
    "reshape_way",
    "retire_nets",
    "same_number",
    "serve",
    "set_gear",
    "set_net_condition",
    "set_purpose",
    "split_group",
    "split_paddock",
    "stands_here",
    "stands_there",
    "swap_stays",
    "swapped_words",
    "take_in_nets",
    "tell_before",
    "tell_before_of_field",
    "tell_energizer_at",
    "tell_energizer_of",
    "tell_move_time",
    "tell_work",
    "tell_work_of_field",
    "they_went",
    "together",
    "treat",
    "turn_of",
    "unlink_image",
    "unlink_terrain",
    "use_printed_pace",
    "usual_days",
    "usual_posts",
    "wean",
    "weigh",
    "well_recorded",
    "what_follows",
]
