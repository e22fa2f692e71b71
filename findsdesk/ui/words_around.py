"""What texts about finds stand in: the excavation's own words, its time zone and the moment they are read."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo

from findsdesk.desk.desk import Desk
from findsdesk.desk.shipped import cautions
from findsdesk.desk.word_lists import SHIPPED, WordLists, words_of
from findsdesk.domain.cautions import At
from findsdesk.domain.routes import Route
from findsdesk.domain.settings import Settings
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.words import Terms, how_many, put


@dataclass(frozen=True, slots=True)
class WordsAround:
    """Handed to everything that puts finds into words."""

    terms: Terms
    zone: tzinfo
    now: datetime
    settings: Settings
    lists: WordLists = field(default_factory=lambda: SHIPPED)

    @classmethod
    def of(cls, desk: Desk) -> WordsAround:
        """Return what the texts of a desk stand in, at this moment."""
        return cls(desk.terms, desk.facts.zone, desk.now(), desk.facts.settings, words_of(desk))

    def say(self, text: str, **facts: object) -> str:
        """Return a marked text in words, with the excavation's terms and the facts."""
        return put(text, self.terms, facts)

    def listed(self, name: str, keys: str) -> str:
        """Return the words of a list for keys with a blank between them, with commas between the words."""
        found = (self.lists[name].keyed(key) for key in keys.split())
        return ", ".join((term.name if term.own else self.say(term.name)) for term in found if term is not None)

    def today(self) -> date:
        """Return the day in the excavation's time zone."""
        return self.now.astimezone(self.zone).date()


def pieces_in_words(route: Route, n: int) -> str:
    """Return "132 sherds", "1 bone", in the words of the material."""
    return how_many(route.pieces_one, route.pieces_many, n)


def first_name(name: str) -> str:
    """Return the name by which somebody is called in the yard."""
    return name.split()[0] if name.split() else ""


def cautions_of(route: Route, work: At | None, around: WordsAround) -> tuple[Caution, ...]:
    """Return the cautions of a route at some work, and those of it that always hold, in words."""
    shown = (cautions()[key] for key in route.cautions)
    return tuple(
        Caution(around.say(one.lead), around.say(one.text)) for one in shown if work in one.at or At.ALWAYS in one.at
    )
