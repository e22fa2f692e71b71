"""What is said of an object after it was registered."""

from __future__ import annotations

from typing import TypedDict, Unpack

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.objects import ObjectFacts, object_of, object_rows
from findsdesk.desk.setting_up import need_text
from findsdesk.domain.pieces import check_years
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import FoundObject
from findsdesk.words import N_


class ObjectSaid(TypedDict, total=False):
    """What can be said of an object; years are astronomical; what may be None is emptied by it."""

    what: str
    made_of: str
    tenths: int | None
    description: str
    earliest: int | None
    latest: int | None


_CALLED = {
    "what": "what it is",
    "made_of": "made of",
    "tenths": "grams",
    "earliest": "first year",
    "latest": "latest year",
}


def change_object(desk: Desk, object_id: int, *, seen: int, **said: Unpack[ObjectSaid]) -> ObjectFacts:
    """Change what is said of an object of the version ``seen``; what is not named stays. Opposite: the change back.

    Refusals: ``object_gone``, ``changed_meanwhile``, ``empty``, ``range_reversed``.
    """
    with desk.deed("change_object") as deed:
        row = deed.session.get(FoundObject, object_id)
        if row is None:
            raise Refusal("object_gone", N_("That object is not there. Look at the register of objects."))
        mine = {name: value.strip() if isinstance(value, str) else value for name, value in said.items()}
        if "what" in mine:
            need_text(str(mine["what"]), N_("name of the find"))
        refuse_if_moved(deed.session, row, seen, mine)
        for name, value in mine.items():
            setattr(row, name, value)
        check_years(row.earliest, row.latest)
        deed.said = f"{row.number}: {', '.join(_CALLED.get(name, name) for name in mine)}"
        deed.session.flush()
        return object_rows(deed.session, [row.id])[0]


def describe_object(desk: Desk, number: int, *, season: str = "", **said: Unpack[ObjectSaid]) -> ObjectFacts:
    """Change what is said of an object by its number, of the newest season that has it or of the one named.

    Opposite: the change back. Refusals: ``unknown_object``, those of ``change_object``.
    """
    now = object_of(desk, number, season)
    return change_object(desk, now.id, seen=now.version, **said)
