"""What came of couriers, in words; without a window."""

from __future__ import annotations

from findsdesk.desk.courier import StationStore, WrittenCourier
from findsdesk.desk.courier_taking import TakenCourier
from findsdesk.words import N_, plural, put


def taken_in_words(taken: TakenCourier) -> str:
    """Return what a courier file brought."""
    if not taken.acts:
        return put(N_("All of it is here already; nothing was written. From: {station}."), None, {
            "station": taken.station,
        })  # fmt: skip
    parts = [
        put(N_("From {station}: {acts}; photographs and results: {files}."), None, {
            "station": taken.station, "acts": plural("{n} act", "{n} acts", taken.acts), "files": taken.files,
        }),
    ]  # fmt: skip
    if taken.same or taken.numbers:
        facts = {"same": taken.same, "numbers": taken.numbers}
        parts.append(put(N_("Put together by their codes: {same}. Given another number here: {numbers}."), None, facts))
    if taken.clashes:
        parts.append(plural("{n} clash waits below.", "{n} clashes wait below.", taken.clashes))
    return " ".join(parts)


def written_in_words(written: WrittenCourier) -> str:
    """Return what a courier file holds and where it lies."""
    acts = plural("{n} act", "{n} acts", written.acts)
    facts = {"file": written.file, "acts": acts, "files": written.files, "names": ", ".join(written.missing)}
    said = put(N_("{file}: {acts}; photographs and results: {files}."), None, facts)
    if written.missing:
        return f"{said} {put(N_('Not along, since they are not as they were taken in: {names}.'), None, facts)}"
    return said


def made_in_words(made: StationStore) -> str:
    """Return where the store of a station lies, and what is its own."""
    facts = {"file": made.store, "station": made.station, "first": made.first_number, "last": made.last_number}
    return put(
        N_("{file} is the store of {station}, with the numbers {first}–{last}. Here that station writes no more."),
        None,
        facts,
    )
