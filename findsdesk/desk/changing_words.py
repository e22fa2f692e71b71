"""The excavation's own words as they are set up: added, said otherwise, put away."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.setting_up import need_text
from findsdesk.desk.word_lists import SHIPPED, words_of
from findsdesk.domain.counts_as import TELLS_THE_VESSEL, CountsAs
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.unknown_words import unknown_word
from findsdesk.domain.vessel_elements import as_it_ships
from findsdesk.domain.vocabularies import Term, checked_address
from findsdesk.domain.word_lists import NEVER_EMPTY, OWN_LISTS, WordList, key_of
from findsdesk.store.models import Word
from findsdesk.words import N_

PARTS = "parts"
"""The list whose words count as a rim, a base or neither in the figures."""


@dataclass(frozen=True, slots=True)
class WordFacts:
    """A word of a list as it is set up; ``version`` goes back as ``seen``, 0 for one that is as it ships."""

    list: str
    key: str
    name: str
    diagnostic: bool
    in_use: bool
    own: bool
    """Whether the name is the excavation's, not one that ships."""
    version: int
    address: str = ""
    """The web address of the same concept in an open thesaurus."""
    counts_as: CountsAs = CountsAs.NOT_SAID
    """What a part of the vessel counts as in the figures; not said: only where a share of a circle was read."""


def words_set_up(desk: Desk) -> tuple[WordFacts, ...]:
    """Return every word of every list in its order, those put away at the end of theirs."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(Word)).scalars()
        versions = {(row.list, row.key): row.version for row in rows}
    lists = words_of(desk)
    return tuple(
        WordFacts(
            name,
            term.key,
            term.name,
            term.diagnostic,
            in_use,
            term.own,
            versions.get((name, term.key), 0),
            term.address,
            counted_as(term) if name == PARTS else CountsAs.NOT_SAID,
        )
        for name, words in ((name, lists[name]) for name in OWN_LISTS)
        for terms, in_use in ((words.in_use, True), (words.away, False))
        for term in terms
    )


def add_word(
    desk: Desk,
    list_name: str,
    *,
    name: str,
    diagnostic: bool | None = None,
    address: str = "",
    counts_as: CountsAs = CountsAs.NOT_SAID,
) -> WordFacts:
    """Add a word to the end of a list. Opposite: put away by ``change_word``.

    ``address`` is that of the same concept in an open thesaurus; it is never opened from here. A part of the vessel
    says what it ``counts_as`` in the figures; where nothing is said of it, what tells the vessel is diagnostic.
    Refusals: ``unknown_list``, ``empty``, ``already_there``, ``no_web_address``, ``counts_as_what``, ``counts_not``.
    """
    with desk.deed("add_word") as deed:
        words = _list(desk, list_name)
        wanted = need_text(name, N_("word")) or ""
        _refuse_second(words, wanted)
        key = key_of(wanted, (term.key for term in words.every))
        _check_meaning(list_name, wanted, counts_as)
        telling = counts_as in TELLS_THE_VESSEL if diagnostic is None else diagnostic
        said = {"diagnostic": telling, "address": checked_address(address), "counts_as": counts_as}
        row = _put(deed, list_name, key, wanted, **said)
        deed.said = f"{list_name}: {wanted}"
        deed.session.flush()
    return _facts(row)


def change_word(
    desk: Desk,
    list_name: str,
    word: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    diagnostic: bool | None = None,
    in_use: bool | None = None,
    address: str | None = None,
    counts_as: CountsAs | None = None,
) -> WordFacts:
    """Change a word (by key or name): name, diagnostic, in use, address, what it counts as. Opposite: back again.

    Rows keep the key, so a new name is read in them too, and figures follow what a part counts as; whether rows are
    diagnostic stays as it was when they were written. Refusals: ``unknown_list``, ``unknown_word``, ``empty``,
    ``already_there``, ``last_word``, ``no_web_address``, ``counts_as_what``, ``counts_not``, ``changed_meanwhile``.
    """
    with desk.deed("change_word") as deed:
        words = _list(desk, list_name)
        term = _term(list_name, words, word)
        mine = _mine(words, term, to, diagnostic, in_use)
        if address is not None:
            mine["address"] = checked_address(address)
        if counts_as is not None:
            mine["counts_as"] = _changed_meaning(list_name, term, counts_as)
        row = deed.session.execute(
            select(Word).where(Word.list == list_name, Word.key == term.key)
        ).scalar_one_or_none()
        if row is None:
            row = _put(deed, list_name, term.key, term.name, diagnostic=term.diagnostic)
        elif seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        if mine.get("in_use") is False:
            _refuse_last(list_name, words, term)
        for column, value in mine.items():
            setattr(row, column, value)
        deed.said = f"{list_name}: {term.name}" + (f" → {row.name}" if row.name != term.name else "")
        deed.session.flush()
    return _facts(row)


def _mine(words: WordList, term: Term, to: str | None, diagnostic: bool | None, in_use: bool | None) -> dict[str, Any]:
    name = need_text(to, N_("word"))
    if name is not None and folded(name) != folded(term.name):
        _refuse_second(words, name, term)
    said = {"name": name, "diagnostic": diagnostic, "in_use": in_use}
    return {column: value for column, value in said.items() if value is not None}


def counted_as(part: Term) -> CountsAs:
    """Return what a part of the vessel counts as: what the excavation says, else as it ships."""
    return CountsAs(part.counts_as) if part.counts_as else as_it_ships(part.key)


def _changed_meaning(list_name: str, term: Term, counts_as: CountsAs) -> CountsAs:
    """Return what is kept of what a word counts as; only one that ships may go back to not said."""
    if counts_as or list_name != PARTS or SHIPPED[PARTS].keyed(term.key) is None:
        _check_meaning(list_name, term.name, counts_as)
    return counts_as


def _check_meaning(list_name: str, name: str, counts_as: CountsAs) -> None:
    if list_name == PARTS and not counts_as:
        raise Refusal(
            "counts_as_what",
            N_("Say what sherds of “{word}” count as in the figures: rim, base, both, handle or neither."),
            word=name,
        )
    if list_name != PARTS and counts_as:
        raise Refusal(
            "counts_not",
            N_("“{word}” is no part of the vessel, so it counts as none. Leave that empty."),
            word=name,
        )


def _list(desk: Desk, name: str) -> WordList:
    lists = words_of(desk)
    if name not in OWN_LISTS:
        raise Refusal(
            "unknown_list",
            N_("There is no list of words {list}. The lists: {known}."),
            list=name,
            known=", ".join(OWN_LISTS),
        )
    return lists[name]


def _term(list_name: str, words: WordList, said: str) -> Term:
    wanted = folded(said)
    for term in words.every:
        if wanted in (folded(term.key), folded(term.name)):
            return term
    raise unknown_word(list_name, said, [term.name for term in words.every])


def _refuse_second(words: WordList, name: str, own: Term | None = None) -> None:
    for term in words.every:
        if term is not own and folded(name) in (folded(term.key), folded(term.name)):
            raise Refusal("already_there", N_("{name} is already there."), name=term.name)


def _refuse_last(list_name: str, words: WordList, term: Term) -> None:
    if list_name in NEVER_EMPTY and words.in_use == (term,):
        raise Refusal(
            "last_word",
            N_("“{word}” is the last of its list, and one is always needed. Add another word first."),
            word=term.name,
        )


def _put(deed: Deed, list_name: str, key: str, name: str, **said: Any) -> Word:
    last = deed.session.execute(select(func.max(Word.position)).where(Word.list == list_name)).scalar()
    position = (last or 0) + 1
    row = deed.add(Word(list=list_name, key=key, name=name, position=position, in_use=True, **said))
    deed.session.flush()
    return row


def _facts(row: Word) -> WordFacts:
    shipped = SHIPPED[row.list].keyed(row.key)
    own = shipped is None or shipped.name != row.name
    counts_as = CountsAs(row.counts_as) or (as_it_ships(row.key) if row.list == PARTS else CountsAs.NOT_SAID)
    return WordFacts(row.list, row.key, row.name, row.diagnostic, row.in_use, own, row.version, row.address, counts_as)
