"""Where everything is, and what a proof found, in words; without a window."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from findsdesk import places
from findsdesk.desk.proving import Proof
from findsdesk.desk.whereabouts import Whereabouts
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, Terms, grouped, plural, put

JUST_NOW = timedelta(minutes=1)
LATE = timedelta(hours=24)
"""A copy older than this is late."""


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """One place: what lies there, where, and the folder to open, if there is one on this computer."""

    what: str
    where: str
    folder: str = ""


def place_lines(where: Whereabouts) -> tuple[PlaceLine, ...]:
    """Return the places of an excavation and of this station."""
    store = PlaceLine(put(N_("Store")), where.store, "" if where.on_server else str(Path(where.store).parent))
    settings = str(places.settings_folder())
    lines = [store]
    if where.copies_folder is not None:
        lines.append(PlaceLine(put(N_("Copies")), str(where.copies_folder), str(where.copies_folder)))
    if where.photos_folder is not None:
        photos = str(where.photos_folder)
        lines.append(PlaceLine(put(N_("Photographs")), photos, photos))
    elif where.on_server:
        lines.append(PlaceLine(put(N_("Photographs")), put(N_("no folder named at this station yet"))))
    lines.append(PlaceLine(put(N_("Settings of this station")), settings, settings))
    return tuple(lines)


def copies_in_words(where: Whereabouts, around: WordsAround) -> tuple[str, bool]:
    """Return how many copies there are and how old the newest is, and whether that is too old."""
    if where.on_server:
        return put(N_("This store lies on a server; whoever looks after that makes its copies.")), False
    newest = where.newest
    if newest is None:
        return put(N_("No copy yet. One is made at the start and at the end of each day's work.")), True
    number = plural("{n} copy", "{n} copies", len(where.copies))
    young = where.now - newest.made_at < JUST_NOW
    age = put(N_("just made")) if young else put(N_("{age} old"), None, {"age": times.age(newest.made_at, where.now)})
    when = times.day_and_time(newest.made_at, around.zone)
    text = put(N_("{number}, the newest {age} ({when}, state {head})."), None, {
        "number": number, "age": age, "when": when, "head": newest.head,
    })  # fmt: skip
    return text, where.now - newest.made_at > LATE


def proof_in_words(proof: Proof) -> str:
    """Return what a proof comes to, in one sentence."""
    facts = {
        "acts": plural("{n} act", "{n} acts", proof.acts),
        "lines": plural("{n} line", "{n} lines", proof.lines),
        "head": proof.head,
        "n": grouped(len(proof.findings)),
    }
    if proof.sound:
        return put(N_("Sound: {acts} and {lines} read, nothing wrong. State {head}."), None, facts)
    text = N_("Found wrong: {n}. Work on a copy, and show this to whoever looks after the program.")
    return put(text, None, facts)


def findings_in_words(proof: Proof, terms: Terms) -> tuple[tuple[str, str], ...]:
    """Return (where, what is wrong) of each finding."""
    return tuple((one.where, one.in_words(terms)) for one in proof.findings)
