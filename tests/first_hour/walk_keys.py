"""The first hour again, by the keyboard alone."""

from __future__ import annotations

from tests.first_hour.person import Person
from tests.first_hour.walk import GROUPS, STANDING

MIDDLE = (250, 200)
"""East and north of the middle of a new farm's map [m]."""
FIELDS = {"Home Field": ((-220, 20), 200), "Top Field": ((10, 30), 330), "The Wood": ((-220, -200), 560)}
"""Name, its south-western corner from the middle of the map, and how far it goes east [m]; each goes 175 m north."""


def place(east: float, north: float) -> str:
    """Return how a place is typed."""
    return f"E {MIDDLE[0] + east} N {MIDDLE[1] + north}"


def types_corners(person: Person, *corners: tuple[float, float]) -> None:
    """Type corners in one line, and close with Enter."""
    person.presses("t")
    person.types("; ".join(place(*corner) for corner in corners))
    person.presses("Return", "Return")


def begin(person: Person) -> None:
    """Start a farm of one's own."""
    person.looks_for("Keep looking")
    person.ask("settle")
    person.faces_window()
    person.tabs_to("Start my farm")
    person.presses("Return")
    person.looks_for("Name of the farm")
    person.types("Hollow Lane")
    person.presses("Return")
    person.waits_until("fields", 0)
    person.looks_for("Nothing: draw on the grid")
    person.faces_window()
    person.step("an empty farm")


def draw_fields(person: Person) -> None:
    """Draw three fields: a corner, then lengths and directions."""
    person.presses("d")
    for number, (name, (corner, east)) in enumerate(FIELDS.items(), 1):
        person.presses("n")
        person.types(name)
        person.presses("Return", "t")
        person.types(f"{place(*corner)}; {east} at 90; 175 at 0; {east} at 270")
        person.presses("Return", "Return")
        person.waits_until("fields", number)
    person.presses("Escape")
    person.step("three fields")


def own_nets(person: Person) -> None:
    """Tell the nets."""
    person.presses("p", "F6")
    person.tabs_to("Another length of nets")
    person.presses("Return")
    person.types("14 x 50 m; 2 x 25 m")
    person.presses("Return")
    person.waits_until("nets", 16)
    person.presses("Escape")
    person.step("sixteen nets")


def add_groups(person: Person) -> None:
    """Tell the groups."""
    for number, (pigs, kilograms, name) in enumerate(GROUPS, 1):
        if number == 1:
            person.presses("g")
        person.tabs_to("Add the first group" if number == 1 else "Another group")
        person.presses("Return")
        person.types(pigs)
        person.presses("Tab")
        person.types(kilograms)
        person.presses("Tab")
        person.types(name)
        person.presses("Return")
        person.waits_until("groups", number)
    person.step("five groups")


def finds(person: Person, name: str) -> None:
    """Pick something by its name."""
    person.presses("slash")
    person.types(name)
    person.presses("Return")
    person.rests()


def show_what_stands(person: Person) -> None:
    """Type the corners of what stands."""
    finds(person, "Dry sows")
    person.presses("w")
    for number, corners in enumerate(STANDING, 1):
        types_corners(person, *corners)
        person.waits_until("stays", number)
    person.step("five paddocks stand")


def tell_what_was_before(person: Person) -> None:
    """Tell of an earlier autumn in one field, and that another never was used."""
    finds(person, "Home Field")
    person.presses("h")
    person.tabs_to("Which year")
    person.presses("ctrl+a")
    person.types("2024")
    person.presses("Return")
    person.presses("Return")
    person.step("an earlier autumn")
    person.presses("Escape")
    finds(person, "The Wood")
    person.presses("h", "n", "Return")
    person.step("never used")
    person.presses("Escape")


def place_next(person: Person) -> None:
    """Place the next paddock of two groups for tomorrow, beside where they stand."""
    for number, (name, times) in enumerate((("Dry sows", 4), ("Weaners", 3)), 6):
        finds(person, name)
        person.presses("p")
        for _ in range(times):
            person.presses("f")
            if person.places_here():
                break
        person.step(f"next for {name}")
        person.presses("Return")
        person.waits_until("stays", number)
        person.presses("Escape")
    person.step("two next paddocks")


def print_cards(person: Person) -> None:
    """Print tomorrow's cards."""
    person.presses("v", "F6")
    person.tabs_to("Go to *")
    person.presses("Return")
    person.tabs_to("Print the cards")
    person.presses("Return")
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
