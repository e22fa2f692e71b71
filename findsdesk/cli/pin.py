"""``findsdesk pin``: set the PIN with which somebody signs."""

from __future__ import annotations

import argparse

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.pin_asked import ask_pin
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, put

EXAMPLE = (
    "findsdesk pin quay                       (who has one)",
    "findsdesk pin quay oren --by oren        (asks for the new one twice, and before that for the old one)",
    "findsdesk pin quay mika --by ilo         (the director sets it; asks for the director's own first)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("person", nargs="?", metavar="PERSON", help=_("whose PIN is set, or the beginning of the name"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Set a PIN, or list who has one."""
    return _list(call) if call.person is None else _set(call)


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.pins import pins_of_the_team

    with reading_seat(call) as desk:
        team = pins_of_the_team(desk)
    if call.json:
        say_json([{"name": one.name, "role": one.role, "has_pin": one.has_pin} for one in team])
    else:
        heads = [put(N_("Person")), put(N_("Role")), put(N_("PIN"))]
        say_table(heads, [(one.name, put(one.role), _("set") if one.has_pin else _("none")) for one in team])
    return DONE


def _set(call: argparse.Namespace) -> int:
    from findsdesk.desk.pins import pins_of_the_team, set_pin

    with writing_seat(call) as desk:
        has_one = any(one.has_pin for one in pins_of_the_team(desk) if one.person_id == desk.person.id)
        own = ask_pin(N_("Your own PIN:")) if has_one else ""
        pin = ask_pin(N_("The new PIN, 4 to 12 digits:"))
        if ask_pin(N_("The new PIN once more:")) != pin:
            raise Refusal("pins_differ", N_("The two PINs differ. Nothing was changed; try again."))
        set_pin(desk, call.person, pin=pin, own_pin=own)
    if call.json:
        say_json({"person": call.person, "has_pin": True})
    else:
        say(N_("The PIN is set."))
    return DONE
