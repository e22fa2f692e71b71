"""The excavation's own words in the set-up: every list it may edit, word by word."""

from __future__ import annotations

from findsdesk.desk.changing_words import PARTS, WordFacts, add_word, change_word, words_set_up
from findsdesk.desk.desk import Desk
from findsdesk.domain.counts_as import COUNTS_AS_IN_WORDS, CountsAs
from findsdesk.domain.unknown_words import LIST_IN_WORDS
from findsdesk.domain.word_lists import OWN_LISTS, TELLING
from findsdesk.ui.benches.set_up.subject import Entry, Subject, Values, columns, row
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.words import N_, put

_ENTRY_KEYS = ("name", "diagnostic", "in_use", "address", "counts_as")


def words_subject() -> Subject:
    """Return the words: added to a list, renamed, marked as telling the vessel, put away and taken out again."""
    lists = tuple((name, put(LIST_IN_WORDS[name])) for name in OWN_LISTS)
    meanings = tuple((one, put(said) if said else "–") for one, said in COUNTS_AS_IN_WORDS.items())
    fields = (
        Field("name", put(N_("Word")), width=230),
        Field("list", put(N_("It is a word for")), FieldKind.CHOICE, 190, choices=lists),
        Field(
            "counts_as",
            put(N_("Counts as")),
            FieldKind.CHOICE,
            230,
            choices=meanings,
            help=put(N_("Of a part: vessels are counted by it. A percent that was read counts in any case.")),
        ),
        Field(
            "diagnostic",
            put(N_("Diagnostic")),
            FieldKind.YES,
            help=put(N_("A sherd of which it is said is one. New rims, bases and handles are.")),
        ),
        Field(
            "address",
            put(N_("Web address")),
            help=put(N_("Of the same concept in an open thesaurus; it goes along in the data package.")),
        ),
        Field("in_use", put(N_("In use")), FieldKind.YES, help=put(N_("Put away, it stays readable in old rows."))),
    )
    return Subject(
        "words",
        put(N_("Words")),
        put(N_("A new word")),
        put(N_("Add the word")),
        put(N_("No words yet.")),
        columns(
            put(N_("For")),
            put(N_("Word")),
            put(N_("Counts as")),
            put(N_("Diagnostic")),
            put(N_("In use")),
            put(N_("Web address")),
        ),
        fields,
        lambda desk: [_entry(place, one) for place, one in enumerate(words_set_up(desk))],
        _add,
        {"list": "parts", "counts_as": CountsAs.NOT_SAID, "in_use": True},
        _change,
        N_("Change the word “{name}”"),
        later=frozenset({"in_use"}),
        first=frozenset({"list"}),
    )


def _entry(place: int, word: WordFacts) -> Entry:
    yes, no = put(N_("yes")), put(N_("put away"))
    telling = "" if word.list not in TELLING else yes if word.diagnostic else "–"
    name = word.name if word.own else put(word.name)
    counts_as = "" if word.list != PARTS else put(COUNTS_AS_IN_WORDS[word.counts_as] or N_("by percent read"))
    shown = row(
        place, put(LIST_IN_WORDS[word.list]), name, counts_as, telling, yes if word.in_use else no, word.address
    )
    values = {"name": name, "list": word.list, "diagnostic": word.diagnostic, "in_use": word.in_use}
    values |= {"address": word.address, "counts_as": word.counts_as}
    return Entry(shown, values, name, word.version, key=word.key)


def _add(desk: Desk, values: Values) -> object:
    return add_word(
        desk,
        values["list"],
        name=values["name"],
        diagnostic=values["diagnostic"] or None,
        address=values["address"],
        counts_as=values["counts_as"],
    )


def _change(desk: Desk, entry: Entry, values: Values) -> object:
    said = {key: values[key] for key in _ENTRY_KEYS if values[key] != entry.values[key]}
    if "name" in said:
        said["to"] = said.pop("name")
    return change_word(desk, entry.values["list"], entry.key, seen=entry.version, **said)
