"""The fields of a piece, by the page on which they stand, in the order in which they are filled."""

from __future__ import annotations

from findsdesk.domain.pieces import METHOD_IN_WORDS
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_

DECISIONS = {
    "keep": N_("keep"),
    "mend": N_("keep for mending"),
    "discard": N_("discard"),
    "hold": N_("hold"),
}
WORDS = ("surface", "decoration", "condition", "firing")
"""Fields that hold words of a list, several with commas between them."""
REASONS_OF = {"keep": "keep_reasons", "mend": "keep_reasons", "discard": "discard_reasons", "hold": "waiting_reasons"}
"""The list that says why, by the decision."""
LIST_OF = {"surface": "surfaces", "decoration": "decorations", "condition": "conditions", "firing": "firings"}


def _words(around: WordsAround, name: str) -> tuple[tuple[str, str], ...]:
    """Return (key, word) of a list of the excavation."""
    return tuple((term.key, around.listed(name, term.key)) for term in around.lists[name].in_use)


def what_fields(around: WordsAround) -> tuple[Field, ...]:
    """Return what a piece is, what becomes of it, its years, what is known of it."""
    say = around.say
    parts, needs = _words(around, "parts"), _words(around, "conservation_needs")
    decisions = tuple((key, say(words)) for key, words in DECISIONS.items())
    new, words = FieldKind.CHOICE_OR_NEW, FieldKind.WORDS
    return (
        Field("ware", say(N_("Ware")), new, 90),
        Field("part", say(N_("Part")), new, 130, choices=parts, beside=True),
        Field("form", say(N_("Form")), new, 90, beside=True),
        Field("surface", say(N_("Surface")), words, 150, choices=_words(around, "surfaces")),
        Field("decoration", say(N_("Decoration")), words, 150, choices=_words(around, "decorations"), beside=True),
        Field("condition", say(N_("Condition")), words, 250, choices=_words(around, "conditions")),
        Field("tenths", say(N_("Grams")), FieldKind.GRAMS, 80),
        Field("decision", say(N_("Decision")), FieldKind.CHOICE, 165, choices=decisions, beside=True),
        Field("reason", say(N_("why")), width=190, beside=True),
        Field("earliest", say(N_("From the year")), FieldKind.YEAR, 80),
        Field("latest", say(N_("to")), FieldKind.YEAR, 80, beside=True),
        Field("dated_by", say(N_("by")), width=130, beside=True),
        Field("parallels", say(N_("Parallels"))),
        Field("conservation", say(N_("Conservation")), new, 200, choices=needs),
        Field("drawing", say(N_("Drawing")), width=90),
        Field("drawing_wanted", say(N_("wanted")), FieldKind.YES, beside=True),
        Field("photo_wanted", say(N_("photograph wanted")), FieldKind.YES, beside=True),
        Field("note", say(N_("Note"))),
    )


def measure_fields(around: WordsAround) -> tuple[Field, ...]:
    """Return how a piece measures."""
    say = around.say
    methods = (("", "–"), *((key.value, say(words)) for key, words in METHOD_IN_WORDS.items()))
    return (
        Field("chord_tenths_mm", say(N_("Chord")), FieldKind.CALLIPER, 60),
        Field("sagitta_tenths_mm", say(N_("arc height")), FieldKind.CALLIPER, 60, beside=True),
        Field("rim_diameter_mm", say(N_("Rim diameter")), FieldKind.LENGTH, 60),
        Field("diameter_uncertainty_mm", "±", FieldKind.LENGTH, 50, beside=True),
        Field("diameter_method", say(N_("How")), FieldKind.CHOICE, 235, choices=methods),
        Field("rim_permille", say(N_("Of the rim")), FieldKind.SHARE, 60),
        Field("base_diameter_mm", say(N_("Base diameter")), FieldKind.LENGTH, 60),
        Field("base_uncertainty_mm", "±", FieldKind.LENGTH, 50, beside=True),
        Field("base_permille", say(N_("of it")), FieldKind.SHARE, 60, beside=True),
        Field("base_method", say(N_("How, the base")), FieldKind.CHOICE, 235, choices=methods),
        Field("height_mm", say(N_("Height")), FieldKind.LENGTH, 60),
        Field("wall_tenths_mm", say(N_("wall")), FieldKind.CALLIPER, 60, beside=True),
    )


def clay_fields(around: WordsAround) -> tuple[Field, ...]:
    """Return clay and colours of a piece."""
    say = around.say
    colour = FieldKind.MUNSELL
    return (
        Field(
            "colour_surface",
            say(N_("Outside")),
            colour,
            110,
            help=say(N_("All four as Munsell notations, read on the chart: 10YR 6/4, a grey N 5/.")),
        ),
        Field("colour_inside", say(N_("Inside")), colour, 110),
        Field("colour_core", say(N_("Core")), colour, 110),
        Field("colour_slip", say(N_("Slip")), colour, 110),
        Field("firing", say(N_("Firing")), FieldKind.WORDS, choices=_words(around, "firings")),
        Field(
            "inclusions",
            say(N_("Inclusions")),
            help=say(N_("Kind, frequency or percent, size, sorting, rounding: quartz, common, fine; grog, 10 %.")),
        ),
    )
