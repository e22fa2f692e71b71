"""A figure: a value with its unit, its formula in words and where the formula stands, so that it can be looked into."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from findsdesk.words import N_

Value = int | float | Fraction


class Grounds(StrEnum):
    """What a formula or a number rests on; never shown one as another."""

    PUBLISHED = "published"
    DERIVED = "derived"
    OURS = "ours"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"


GROUNDS_IN_WORDS: dict[Grounds, str] = {
    Grounds.PUBLISHED: N_("published"),
    Grounds.DERIVED: N_("derived from published values"),
    Grounds.OURS: N_("as defined here"),
    Grounds.COMMON_PRACTICE: N_("common practice"),
    Grounds.FROM_MEMORY: N_("common practice"),
}


class Unit(StrEnum):
    """What a value is counted in."""

    NONE = ""
    SHERDS = "sherds"
    GRAMS = "g"
    GRAMS_A_SHERD = "g a sherd"
    VESSELS = "vessels"
    VESSEL_EQUIVALENTS = "vessel equivalents"
    SHERDS_AN_EQUIVALENT = "sherds a vessel equivalent"
    MILLIMETRES = "mm"
    YEAR = "year"
    PERCENT = "%"
    PERCENT_OF_CIRCLE = "% of the circle"
    LITRES = "l"
    A_LITRE = "pieces a litre"
    A_CUBIC_METRE = "pieces a cubic metre"
    NATS = "nat"


UNIT_IN_WORDS: dict[Unit, str] = {
    Unit.NONE: "",
    Unit.SHERDS: N_("sherds"),
    Unit.GRAMS: N_("g"),
    Unit.GRAMS_A_SHERD: N_("g a sherd"),
    Unit.VESSELS: N_("vessels"),
    Unit.VESSEL_EQUIVALENTS: N_("vessel equivalents"),
    Unit.SHERDS_AN_EQUIVALENT: N_("sherds a vessel equivalent"),
    Unit.MILLIMETRES: N_("mm"),
    Unit.YEAR: N_("year"),
    Unit.PERCENT: N_("%"),
    Unit.PERCENT_OF_CIRCLE: N_("% of the circle"),
    Unit.LITRES: N_("l"),
    Unit.A_LITRE: N_("pieces a litre"),
    Unit.A_CUBIC_METRE: N_("pieces a cubic metre"),
    Unit.NATS: N_("nat"),
}


@dataclass(frozen=True, slots=True)
class Method:
    """How a figure comes about: its unit, the formula in words (a message key), its source, what that rests on."""

    unit: Unit
    formula: str
    source: str
    grounds: Grounds

    def gives(self, value: Value) -> Figure:
        """Return the figure with this value, in this method's unit."""
        return Figure(value, self)


@dataclass(frozen=True, slots=True)
class Figure:
    """A value and the method it was found by. Never rounded here: that is for the screen and the sheet."""

    value: Value
    method: Method

    @property
    def unit(self) -> Unit:
        """Return what the value is counted in."""
        return self.method.unit

    @property
    def formula(self) -> str:
        """Return the formula in words, a message key."""
        return self.method.formula

    @property
    def source(self) -> str:
        """Return where the formula stands; "" where nobody is known for it."""
        return self.method.source

    @property
    def grounds(self) -> Grounds:
        """Return what the formula rests on."""
        return self.method.grounds

    def __float__(self) -> float:
        return float(self.value)
