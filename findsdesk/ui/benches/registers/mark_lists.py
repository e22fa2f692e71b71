"""The list of marks, as the bench of registers shows it."""

from __future__ import annotations

from findsdesk.desk.registers import Register
from findsdesk.ui.benches.registers.list_kinds import (
    BY_DEPOSIT,
    BY_FROM,
    BY_SEASON,
    BY_SQUARE,
    BY_UNTIL,
    FilterKind,
    ListKind,
)
from findsdesk.words import N_

MARKS = ListKind(
    "marks",
    N_("Marks"),
    N_("{n} tick of marks"),
    N_("{n} ticks of marks"),
    N_("No mark yet. What is inked on kept sherds, checked, or put into slip bags is ticked off at Marks & labels."),
    Register.MARKS,
    (
        FilterKind("tick", N_("what was ticked"), "{value}"),
        BY_DEPOSIT,
        BY_SQUARE,
        FilterKind("person", N_("who"), N_("by {value}")),
        BY_FROM,
        BY_UNTIL,
        BY_SEASON,
    ),
    spare=("square", "stands", "why", "deposit", "person"),
    first_act=N_("Go to Marks & labels"),
    act_bench="labels",
)
