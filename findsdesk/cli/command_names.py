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
    Command("tags", "tags", N_("issue a block of tags in number order, and print them")),
    Command("check-in", "check_in", N_("write that containers arrived")),
    Command("look", "look", N_("write that somebody dipped, looked and tried a wet finger")),
    Command("soak", "soak", N_("put containers into a tub")),
    Command("count", "count", N_("write a count; the first says washed and names the tray")),
    Command("dry", "dry", N_("write that containers are dry and ready for the sorting table")),
    Command("sort", "sort", N_("write what is read of a container, and what explains the rest")),
    Command("settle", "settle", N_("settle containers in which nothing is left unsorted")),
    Command("bag", "bag", N_("pack what is kept into bags, each with its own code")),
    Command("labels", "labels", N_("lay out bag labels, tags or wash tags as a PDF")),
    Command("stocks", "stocks", N_("list the label stocks")),
    Command("registers", "registers", N_("show deposits, containers, bags or the journal")),
    Command("prove", "prove", N_("walk the chains, the balances and the references")),
)
