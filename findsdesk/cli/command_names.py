"""The commands by name with what each is for, in the order of the yard's day. Nothing else is loaded for ``--help``."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Command:
    """A command: its name, the module of this package it lives in, and a marked line that says what it is for."""

    name: str
    module: str
    purpose: str


COMMANDS = (
    Command("new", "new", N_("make a store for an excavation, from a set-up file or by name and code")),
    Command("import", "import_list", N_("take in a field list (CSV, XLSX, ODS); doubtful rows are set aside")),
    Command("check-in", "check_in", N_("write that containers arrived")),
    Command("count", "count", N_("write a count; the first says washed and names the tray")),
)
