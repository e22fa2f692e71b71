"""What the frame asks of the store: opening it, finding what was scanned, the texts of the foot.

All of it runs on the lanes. The desk is loaded here at first use, so that the window stands before that.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Found, Tone
from findsdesk.words import N_, grouped, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.domain.codes import Code
    from findsdesk.ui.widgets.foot_facts import FootFacts
    from findsdesk.ui.words_around import WordsAround

STORE_SUFFIX = ".findsdesk"
_JUST_NOW_S = 60
_BACKUP_LATE_S = 24 * 3600


class Wish(NamedTuple):
    """Which store to open, for whom and how."""

    where: str | Path
    by: str | None = None
    station: str = "first"
    read_only: bool = False


class Opened(NamedTuple):
    """An open store: its desk, and what the rail says of it."""

    desk: Any
    excavation: str
    season: str


def open_wished(wish: Wish) -> Opened:
    """Open the store; refusals and faults as ``desk.opening.open_store``."""
    from findsdesk.desk.opening import open_store

    return opened(open_store(wish.where, by=wish.by, station=wish.station, read_only=wish.read_only))


def opened(desk: Desk) -> Opened:
    """Return an open desk with what the rail says of it."""
    return Opened(desk, desk.facts.name, season_line(desk))


def season_line(desk: Desk) -> str:
    """Return "VE-26-014 · season 2026" of the season this day falls in, or of the newest."""
    from findsdesk.desk.setting_up import season_now

    season = season_now(desk)
    if season is None:
        return put(N_("no season yet"))
    named = put(N_("season {name}"), None, {"name": season.name})
    return " · ".join(part for part in (season.permit, named) if part)


def find(desk: Desk | None, text: str) -> Found:
    """Find what was scanned or typed; runs on the deed lane, after the store was opened there."""
    if desk is None:
        raise Refusal("not_open", N_("No excavation is open here. Open one first."))
    from findsdesk.domain.codes import Kind, could_be_code, read_code
    from findsdesk.domain.shelving import FIRST_PLACE

    if could_be_code(text):
        code = read_code(text, desk.facts.code)
        if code.kind in (Kind.BOX, Kind.LOAN) or (code.kind is Kind.PLACE and code.serial >= FIRST_PLACE):
            return _stored(desk, code)
        if code.kind in (Kind.PLACE, Kind.PERSON, Kind.COMMAND):
            return Found(code, Answer(Tone.REFUSED, put(N_("Nothing to do with this code here."))))
    from findsdesk.desk import dossiers
    from findsdesk.ui.dossier_words import found_in_words

    try:
        return found_in_words(dossiers.find(desk, text), _around(desk))
    except Refusal as refusal:
        found = _by_words(desk, text, refusal)
        if found is None:
            raise
        return found


def _by_words(desk: Desk, text: str, refusal: Refusal) -> Found | None:
    """Return what holds the words of a text that is no number of anything; None where nothing does."""
    if refusal.code not in ("unknown_number", "unknown_piece"):
        return None
    from findsdesk.desk.searching import found_by_words

    found = found_by_words(desk, text, refusal)
    if found is None:
        return None
    many = f"{grouped(found.count)}+" if found.more else grouped(found.count)
    rest = put(N_("found for “{text}”"), None, {"text": found.text})
    answer = Answer(Tone.PLAIN, many, f" {rest}")
    return Found(found, answer, words=found.text)


def _stored(desk: Desk, code: Code) -> Found:
    """Return the box, the place or the loan of a scanned code; other scans load none of it."""
    from findsdesk.desk.in_store import coded_in_store
    from findsdesk.ui.store_in_words import stored_in_words

    return stored_in_words(coded_in_store(desk, code), _around(desk))


def thing(desk: Desk | None, kind: str, number: object) -> Found:
    """Return a thing by kind and id ("container", 131) or by what is written on it ("deposit", "2017").

    A "label" is whatever bears that code; the open bench does not take it for a scan.
    """
    if desk is None:
        raise Refusal("not_open", N_("No excavation is open here. Open one first."))
    if kind == "label" and isinstance(number, str):
        return find(desk, number)
    from findsdesk.desk import dossiers
    from findsdesk.ui.dossier_words import found_in_words

    if isinstance(number, str):
        deposit = kind == "deposit"
        shown = dossiers.deposit_dossier(desk, number) if deposit else dossiers.find(desk, number)
    elif kind == "deposit" and isinstance(number, int):
        shown = dossiers.deposit_dossier_of(desk, number)
    elif kind == "container" and isinstance(number, int):
        shown = dossiers.dossier_of(desk, number)
    else:
        raise Refusal("not_shown", N_("This has no page of its own yet."))
    return found_in_words(shown, _around(desk))


def again(desk: Desk | None, in_hand: Any) -> Found:
    """Return what is in hand as it stands now, by the same piece or bag; the container where that is gone."""
    deposit = getattr(in_hand, "container_id", None) is None
    code = "" if deposit else in_hand.piece.piece.code if in_hand.piece else in_hand.scanned_bag
    if code:
        try:
            return thing(desk, "label", code)
        except Refusal:
            pass
    return thing(desk, "deposit", in_hand.deposit_id) if deposit else thing(desk, "container", in_hand.container_id)


def _around(desk: Desk) -> WordsAround:
    from findsdesk.ui.words_around import WordsAround

    return WordsAround.of(desk)


def foot_facts(desk: Desk | None) -> FootFacts:
    """Return the texts of the foot; runs on the reading lane."""
    from findsdesk.ui.widgets.foot_facts import FootFacts

    if desk is None:
        return FootFacts()
    from findsdesk.desk.at_the_desk import at_the_desk
    from findsdesk.ui import moments_in_words as times

    here = at_the_desk(desk)
    backup, late = put(N_("No backup yet")), False
    if here.read_only:
        backup = put(N_("Open for reading only"))
    elif here.copied is not None:
        seconds = (here.now - here.copied).total_seconds()
        young = seconds < _JUST_NOW_S
        age = times.age(here.copied, here.now)
        backup = put(N_("Backup just made")) if young else put(N_("Backup {age} old"), None, {"age": age})
        late = seconds > _BACKUP_LATE_S
    written = f"{here.written.astimezone(here.zone):%H:%M:%S}" if here.written else ""
    missing = here.unaccounted
    return FootFacts(
        who=", ".join(part for part in (here.person, put(here.role) if here.role else "") if part),
        station=" · ".join([here.station, put(N_("example"))] if desk.facts.example else [here.station]),
        written=put(N_("Written {time}"), None, {"time": written}) if written else "",
        backup=backup,
        tags=put(N_("All tags accounted for but {n}"), None, {"n": missing})
        if missing
        else put(N_("All tags accounted for")),
        late=bool(missing) or late,
    )
