"""Plain values of the dossier: what is in hand, its life, its figures, its cautions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class When(Enum):
    """Where a step stands on the life line."""

    BEHIND = "behind"
    NOW = "now"
    AHEAD = "ahead"


@dataclass(frozen=True, slots=True)
class LifeStep:
    """One step of a life; ``head`` in bold before ``rest``: "Checked in" + " 14:40 by Tessa"."""

    head: str
    rest: str = ""
    when: When = When.BEHIND
    late: bool = False


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning at a step: its first sentence, bold, and the rest."""

    head: str
    rest: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A further part of the dossier: a heading, a text, rows of which the first cell leads, and a bar's parts."""

    title: str
    text: str = ""
    rows: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class DossierFacts:
    """All that the dossier says of one thing."""

    title: str
    aside: str = ""
    """Beside the title, lighter: "context 2017"."""
    line: str = ""
    """Below the title: "Square B2, 14 July, pottery, by Bryn Hallo"."""
    asked: tuple[Section, ...] = ()
    """What was asked for in it, above its life: the piece in its bucket."""
    life_title: str = ""
    life: tuple[LifeStep, ...] = ()
    sections: tuple[Section, ...] = ()
    cautions: tuple[Caution, ...] = ()
