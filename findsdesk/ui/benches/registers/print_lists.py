"""The list of printed labels, as the bench of registers shows it."""

from __future__ import annotations

from findsdesk.desk.registers import Register
from findsdesk.ui.benches.registers.list_kinds import Asked, FilterKind, ListKind
from findsdesk.words import N_

PRINTS = ListKind(
    "prints",
    N_("Printed labels"),
    N_("{n} printed label"),
    N_("{n} printed labels"),
    N_("No label was printed yet. Each that came out well stands here, with its copy."),
    Register.PRINTS,
    (
        FilterKind("print_kind", N_("kind of label"), "{value}"),
        FilterKind("again", N_("printed again"), N_("printed again: {value}")),
        FilterKind("day", N_("day"), N_("of {value}"), Asked.DAY),
    ),
    spare=("page", "place", "person", "stock", "reason"),
)
