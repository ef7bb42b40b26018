"""The first hour with mouse and keys: from the sample farm to tomorrow's cards."""

from __future__ import annotations

from tests.first_hour.person import Person

FIELDS = {
    "Home Field": ((-220, 20), (-20, 30), (-10, 205), (-215, 200)),
    "Top Field": ((10, 30), (350, 20), (340, 205), (20, 210)),
    "The Wood": ((-220, -200), (350, -205), (340, -10), (-215, -5)),
}
"""Name, and corners from the middle of the empty map [m]."""
GROUPS = (
    ("8", "210", "Dry sows"),
    ("24", "30", "Weaners"),
    ("16", "85", "Porkers"),
    ("12", "60", "Growers"),
    ("1", "", "Boar"),
)
"""How many pigs, how heavy [kg], and what they are called."""


def begin(person: Person) -> None:
    """Start a farm of one's own, with no place and no picture."""
    person.looks_for("Keep looking")
    person.ask("settle")
    person.step("the sample farm")
    person.clicks_on("Start my farm")
    person.looks_for("Name of the farm")
    person.types("Hollow Lane")
    person.step("what it is called")
    person.presses("Return")
    person.waits_until("fields", 0)
    person.looks_for("Nothing: draw on the grid")
    person.step("an empty farm")


def draw_fields(person: Person) -> None:
    """Draw three fields corner by corner; a click on the first corner closes each."""
    person.clicks_on("Nothing: draw on the grid")
    person.sees_all(*(corner for corners in FIELDS.values() for corner in corners))
    for number, (name, corners) in enumerate(FIELDS.items(), 1):
        person.clicks_on("Name")
        person.types(name)
        for corner in (*corners, corners[0]):
            person.clicks_ground(*corner)
        person.waits_until("fields", number)
    person.presses("Escape")
    person.step("three fields")


def own_nets(person: Person) -> None:
    """Tell the nets: 14 of 50 m and 2 of 25."""
    person.clicks_on("Place")
    person.step("the tray without nets")
    person.clicks_on("Another length of nets")
    person.types("14 x 50 m")
    person.presses("Return")
    person.waits_until("nets", 14)
    person.step("fourteen nets")
    person.clicks_on("Add another length of nets")
    person.types("2 x 25 m")
    person.presses("Return")
    person.waits_until("nets", 16)
    person.presses("Escape")
    person.step("sixteen nets")


def add_groups(person: Person) -> None:
    """Tell the groups."""
    for number, (pigs, kilograms, name) in enumerate(GROUPS, 1):
        person.clicks_on("Add the first group" if number == 1 else "Another group")
        person.types(pigs)
        person.presses("Tab")
        person.types(kilograms)
        person.presses("Tab")
        person.types(name)
        person.presses("Return")
        person.waits_until("groups", number)
        if number == 1:
            person.step("the first group")
    person.step("five groups")


STANDING = (
    ((40, 75), (90, 77), (91, 127), (40, 125)),
    ((90, 77), (91, 127), (134, 101)),
    ((91, 127), (134, 101), (135, 151)),
    ((134, 101), (135, 151), (162, 127)),
    ((135, 151), (170, 164), (162, 127)),
)
"""Where the five groups stand, each with corners of its own and some of the one before [m]."""


def show_what_stands(person: Person) -> None:
    """Click the corners of the five paddocks; each is closed with Enter."""
    person.clicks_on("Dry sows, *")
    person.clicks_on("Where Dry sows is: *")
    for number, corners in enumerate(STANDING, 1):
        for corner in corners:
            person.clicks_ground(*corner)
        if number == 1:
            person.step("four corners")
        person.presses("Return")
        person.waits_until("stays", number)
    person.step("five paddocks stand")


def tell_what_was_before(person: Person) -> None:
    """Brush on pigs of an earlier autumn, and ground that never was used."""
    person.presses("Escape", "h")
    person.step("what was before")
    person.clicks_on("Which year")
    person.presses("ctrl+a")
    person.types("2024")
    person.presses("Return")
    person.clicks_ground(-120, 100)
    person.presses("n")
    person.clicks_ground(60, -100)
    person.step("history told")


def place_next(person: Person) -> None:
    """Place the next paddock of two groups for tomorrow."""
    for name, at in (("Dry sows", (65, 153)), ("Weaners", (124, 67))):
        person.presses("Escape")
        person.clicks_on(f"{name}, *")
        person.presses("p")
        person.clicks_ground(*at)
        person.step(f"next for {name}")
    person.waits_until("stays", 7)
    person.presses("Escape")


def print_cards(person: Person) -> None:
    """Print tomorrow's cards."""
    person.presses("v")
    person.clicks_on("Go to *")
    person.step("moves of tomorrow")
    person.clicks_on("Print the cards")
    person.waits_for_file(".pdf")
    person.step("cards printed")


STEPS = (
    begin,
    draw_fields,
    own_nets,
    add_groups,
    show_what_stands,
    tell_what_was_before,
    place_next,
    print_cards,
)
