"""A clash in words: what it is about, and what each station said."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import tzinfo
from typing import Any

from findsdesk.desk.clashes import ClashSide, ListedClash
from findsdesk.desk.columns_in_words import QUIET, column_in_words, value_in_words
from findsdesk.store.courier_clashes import FIGURES, GONE, NUMBER, VALUES
from findsdesk.store.emptied import EMPTIED
from findsdesk.store.one_of_two import LENT, MARKED, PACKED
from findsdesk.words import N_, CountOf, Terms, plural, put

_WHAT: dict[str, str] = {
    VALUES: N_("{kind} {name}: changed in both stores"),
    GONE: N_("{kind} {name}: taken away in one, changed in the other"),
    NUMBER: N_("{kind} {name}: two things were given one number"),
    FIGURES: N_("{kind} {name}: counted or sorted in both stores, so the figures stand in its account twice"),
    EMPTIED: N_("{kind} {name}: counted as empty in one store, sorted in the other"),
    PACKED: N_("{kind} {name}: put into bags in both stores"),
    LENT: N_("{kind} {name}: lent in both stores"),
    MARKED: N_("{kind} {name}: marked in both stores, beyond what is kept"),
}
_WAY: dict[str, str] = {
    VALUES: N_("Keep one of the two; the other stays in the journal."),
    GONE: N_("Keep the change to have it back, or leave it gone."),
    NUMBER: N_("Say whose keeps the number; the other bears another and its tag is written again."),
    FIGURES: N_("Keep the count of one, which answers the other's entries; groups are put right at the table."),
    EMPTIED: N_(
        "What is sorted stands, the count of none is answered. Keep whose word holds; take the rows off first."
    ),
    PACKED: N_("The later bags stand, the others are empty. Keep whose bags hold the finds."),
    LENT: N_("The later loan stands, in the other it counts as back. Keep the loan that left."),
    MARKED: N_("The later ticks stand, the others were answered. Keep whose marks are on the finds."),
}
_DEPOSITS = N_("Merge or renumber one of them in the registers if they are the same, then say that it is right.")
_BOTH = N_("Put it right at the table, then say that it is right.")


def what_in_words(one: ListedClash, terms: Terms | None = None) -> str:
    """Return what a clash is about, in one line."""
    kind = put(one.kind, terms)
    return put(_WHAT[one.what], terms, {"kind": kind[:1].upper() + kind[1:], "name": one.name}).replace(" :", ":")


def way_in_words(one: ListedClash, terms: Terms | None = None) -> str:
    """Return what a person may do about it."""
    if len(one.choices) == 1:
        return put(_DEPOSITS if one.what == NUMBER else _BOTH, terms)
    return put(_WAY[one.what], terms)


def side_in_words(side: ClashSide, terms: Terms | None = None, zone: tzinfo | None = None) -> str:
    """Return what a station said: the values, moments in the excavation's zone, and by whom in which act."""
    said = put(N_("taken away"), terms) if side.gone else _values(side.values, terms, zone)
    if not side.deed:
        return said
    facts = {"deed": put(side.deed, terms), "person": side.person, "said": side.said}
    return f"{said}  ({put(N_('{deed}, {person}'), terms, facts)})"


def _values(values: Mapping[str, Any], terms: Terms | None, zone: tzinfo | None) -> str:
    if "entered" in values:
        told = {"entered": values["entered"], "sorted": values["sorted"]}
        return put(N_("{entered} entered, {sorted} sorted"), terms, told)
    if "none" in values:
        return put(N_("nothing left in it"), terms)
    if "explained" in values:
        told = {"sorted": values["sorted"], "explained": values["explained"]}
        return put(N_("{sorted} sorted, {explained} explained"), terms, told)
    if "bags" in values:
        told = {"pieces": plural("{n} piece", "{n} pieces", sum(one["pieces"] for one in values["bags"]))}
        return put(N_("{pieces} in {bags}"), terms, told | {"bags": ", ".join(one["code"] for one in values["bags"])})
    if "borrower" in values:
        return put(N_("loan {number}, {who}"), terms, {"number": values["loan"], "who": values["borrower"]})
    if "ticks" in values:
        ticks = plural("{n} tick", "{n} ticks", len(values["ticks"]))
        return put(
            N_("{ticks}, {marked} in all"),
            terms,
            {"ticks": ticks, "marked": CountOf("{n} mark", "{n} marks", values["marked"])},
        )
    return ", ".join(
        f"{column_in_words(name, terms)} {_shown(name, value, terms, zone)}"
        for name, value in values.items()
        if name not in QUIET
    )


def _shown(column: str, value: object, terms: Terms | None, zone: tzinfo | None) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name.replace('_', ' ')} {_shown(name, one, terms, zone)}" for name, one in value.items())
    return value_in_words(column, value, zone, terms) or "–"
