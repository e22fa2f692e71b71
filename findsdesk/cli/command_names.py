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
    Command("demo", "demo", N_("play an invented excavation and open the window on it")),
    Command("new", "new", N_("make a store for an excavation, from a set-up file or by name and code")),
    Command("open", "open", N_("open the window on a store")),
    Command("deposits", "deposits", N_("open, close, renumber, merge, split or list deposits")),
    Command("tags", "tags", N_("issue tags in number order, print them, and see which are out")),
    Command("import", "import_list", N_("take in lists and tables of all kinds (CSV, XLSX, ODS); doubtful rows wait")),
    Command("answer", "answer", N_("answer rows that were set aside, or a tag and a list that differ")),
    Command("check-in", "check_in", N_("write that containers arrived; at the end of the day, what is missing")),
    Command("look", "look", N_("write that somebody dipped, looked and tried a wet finger")),
    Command("soak", "soak", N_("put containers into a tub")),
    Command("count", "count", N_("write a count; the first says washed and names the tray")),
    Command("dry", "dry", N_("write that containers are dry")),
    Command("sort", "sort", N_("write groups of sherds at the sorting table, or show the table")),
    Command("explain", "explain", N_("write what became of pieces that lie in no group")),
    Command("pieces", "pieces", N_("list the pieces of a container or of all, or the joins between deposits")),
    Command("photos", "photos", N_("say where photographs lie; name the folder for those of a store on a server")),
    Command("settle", "settle", N_("settle containers whose account balances")),
    Command("types", "type_series", N_("the type series; write it as a file with its pictures, take one in or back")),
    Command("policy", "policy", N_("show or change what is kept and discarded, draw shares, ask what it would do")),
    Command("discards", "discards", N_("make, sign, print, carry away or call back lists of discards")),
    Command("pin", "pin", N_("set the PIN with which somebody signs")),
    Command("figures", "figures", N_("figures of the pottery, their dates and the rows behind each; plot and sheet")),
    Command("marks", "marks", N_("the marking list; tick off what was written, checked or put into slip bags")),
    Command("bag", "bag", N_("put what is kept into bags, each with its own code")),
    Command("pack", "pack", N_("put bags into boxes by scan, or by a proposal of few boxes")),
    Command("loans", "loans", N_("what is lent to whom and until when; lend, take back, ask for")),
    Command("labels", "labels", N_("print labels of any kind as PDF, and reprints")),
    Command("layouts", "layouts", N_("show or change what stands on each kind of label")),
    Command("stocks", "stocks", N_("list the label stocks; add one by measuring it, or take it away")),
    Command("printer", "printer", N_("meet a printer by its test page, forget one, list those that were met")),
    Command("day", "day", N_("show the day: what stands where, what needs a person; the evening by square")),
    Command("sheets", "sheets", N_("print a sheet or report as PDF: yard, field, deposit, certificate, season …")),
    Command("hand-over", "hand_over", N_("a season at its end: what is open and by when; signed by two, carried over")),
    Command("find", "find", N_("show the dossier of a container, a bag or a deposit")),
    Command("search", "search", N_("look for words, numbers and codes in everything that is written down")),
    Command("registers", "registers", N_("look into a register, search it, or write it as a file")),
    Command("export", "export", N_("write everything as CSV, XLSX, JSON, data package, map, photographs or hand-over")),
    Command("courier", "courier", N_("bring acts between stores without a network; decide where both differ")),
    Command("do", "do", N_("do any deed by its name, as a line of a file of acts does")),
    Command("play", "play", N_("play a file of acts; a second time it adds nothing")),
    Command("prove", "prove", N_("prove that the store is what its journal says")),
    Command("copy", "copy", N_("make a verified copy of the store, list the copies, or restore one")),
    Command("screens", "screens", N_("write a picture of every bench")),
)
