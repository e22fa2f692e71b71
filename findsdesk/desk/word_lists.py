"""The excavation's own words: what ships, with the words it added, says otherwise or put away laid over it.

They are read with the excavation's other facts and kept at the desk: no deed asks the store for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache, cached_property

from findsdesk.desk.desk import Desk
from findsdesk.desk.shipped import vocabulary, vocabulary_names
from findsdesk.domain.word_lists import OwnWord, WordList, overlaid

WordLists = Mapping[str, WordList]


class _ListsWhenAsked(Mapping[str, WordList]):
    """Every list, read with the first that is asked for: no first scan waits for the file of words that ship."""

    def __init__(self, own: tuple[OwnWord, ...]) -> None:
        self._own = own

    @cached_property
    def _lists(self) -> WordLists:
        own = self._own
        return {
            name: overlaid(vocabulary(name), (word for word in own if word.list == name)) for name in vocabulary_names()
        }

    def __getitem__(self, name: str) -> WordList:
        return self._lists[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._lists)

    def __len__(self) -> int:
        return len(self._lists)


@cache
def lists_with(own: tuple[OwnWord, ...]) -> WordLists:
    """Return every list, with the excavation's own words laid over those that ship."""
    return _ListsWhenAsked(own)


SHIPPED = lists_with(())
"""The lists as they ship: those of an excavation that changed none."""


def words_of(desk: Desk) -> WordLists:
    """Return the excavation's word lists by their names; those in ``OWN_LISTS`` it edits."""
    return lists_with(desk.facts.own_words)
