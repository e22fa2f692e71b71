"""The lists of boxes, places and loans, as the bench of registers shows them."""

from __future__ import annotations

from findsdesk.desk.registers import Register
from findsdesk.ui.benches.registers.list_kinds import BY_DEPOSIT, Asked, FilterKind, ListKind
from findsdesk.words import N_

BOXES = ListKind(
    "boxes",
    N_("Boxes"),
    N_("{n} box"),
    N_("{n} boxes"),
    N_("No box yet. Each kind of box takes the materials that may lie together."),
    Register.BOXES,
    (
        FilterKind("box_kind", N_("kind of box"), "{value}"),
        FilterKind("place", N_("place"), N_("at {value}"), Asked.TEXT),
        FilterKind("out", N_("where it is"), "{value}"),
        FilterKind("in_use", N_("in use"), "{value}"),
        BY_DEPOSIT,
    ),
    spare=("note", "desiccant", "made", "code", "limit", "pieces", "bags"),
)
PLACES = ListKind(
    "places",
    N_("Places"),
    N_("{n} place"),
    N_("{n} places"),
    N_("No place yet. Buildings, rooms, shelves and tables are places, each within another."),
    Register.PLACES,
    (
        FilterKind("place_kind", N_("kind of place"), "{value}"),
        FilterKind("place", N_("within"), N_("within {value}"), Asked.TEXT),
    ),
    spare=("note", "code", "holds", "pieces", "away", "bags"),
)
LOANS = ListKind(
    "loans",
    N_("Loans"),
    N_("{n} loan"),
    N_("{n} loans"),
    N_("Nothing is on loan. What goes to a specialist, a conservator or a laboratory is lent by scan."),
    Register.LOANS,
    (
        FilterKind("loan", N_("how it stands"), "{value}"),
        FilterKind("borrower_kind", N_("who has it"), "{value}"),
    ),
    spare=("code", "kind", "lent", "pieces", "back", "things"),
)
