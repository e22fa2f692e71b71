"""The sheets and reports there are: what each is called, what it is for, what may be asked of it."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

DAY, DEPOSIT, MATERIAL, SEASON = "day", "deposit", "material", "season"
"""What may be asked of a paper."""


@dataclass(frozen=True, slots=True)
class PaperKind:
    """A sheet or report: key (also of its file), name and purpose in a sentence (marked texts), what may be asked."""

    key: str
    name: str
    purpose: str
    asks: tuple[str, ...] = ()


PAPERS = (
    PaperKind(
        "yard",
        N_("Yard sheet"),
        N_("What lies in tubs and trays, what is held, what waits: hangs in the yard."),
    ),
    PaperKind(
        "evening",
        N_("Evening sheet"),
        N_("By {square}, for supper: came in, washed, read, dates, what is notable, questions."),
        (DAY,),
    ),
    PaperKind(
        "day-sheets",
        N_("Day sheets"),
        N_("To fill in by hand on a day without power, with what is in the yard written on them."),
        (DAY,),
    ),
    PaperKind(
        "inspector",
        N_("State of the day"),
        N_("For an inspector: what stands where, balance, custody, objects, samples, discards, what is open."),
        (DAY,),
    ),
    PaperKind("field", N_("Field list"), N_("Tags that are out, by supervisor, to be filled in at the trench.")),
    PaperKind(
        "missing",
        N_("Missing list"),
        N_("{Containers} listed or reported missing, to search by."),
    ),
    PaperKind(
        "marking",
        N_("Marking list"),
        N_("By {deposit}, for the marking table: what to ink on the kept sherds."),
        (DEPOSIT,),
    ),
    PaperKind(
        "to-write-again",
        N_("To write again"),
        N_("Tags, labels and marks that say something no longer true after a correction."),
    ),
    PaperKind(
        "concordance",
        N_("Concordance"),
        N_("Old and new numbers of {deposits}, and how much each change leaves to write again."),
    ),
    PaperKind(
        "deposit",
        N_("Sheet of a {deposit}"),
        N_("Everything known of one: {containers} and steps, balance, wares, dates with plot, pieces with pictures."),
        (DEPOSIT,),
    ),
    PaperKind(
        "containers",
        N_("Register of {containers}"),
        N_("Every tag ever issued with what became of it, also empty, lost and void ones."),
        (SEASON,),
    ),
    PaperKind(
        "pieces",
        N_("Catalogue of pieces"),
        N_("Each piece with its photograph, measures and Munsell colours."),
        (DEPOSIT, SEASON),
    ),
    PaperKind(
        "joins",
        N_("Joins across {deposits}"),
        N_("Which {deposits} share pots, by which pieces, and what that says of their mixing."),
    ),
    PaperKind(
        "discards",
        N_("Register of discards"),
        N_("Every discard list with who decided, signed and carried it away, line by line."),
        (SEASON,),
    ),
    PaperKind(
        "bone",
        N_("Bone list"),
        N_("Every {container} of bone, for the specialist, to be signed over."),
        (SEASON,),
    ),
    PaperKind(
        "boxes",
        N_("Box list"),
        N_("Every box with its bags, weight and place, for the shelf or to hand over."),
    ),
    PaperKind(
        "missing-on-shelves",
        N_("Missing on the shelves"),
        N_("Boxes and bags that a stock-take missed and nobody met since, to search by."),
    ),
    PaperKind(
        "balance",
        N_("Balance certificate"),
        N_("By material: what came in and where each piece of it is, to be signed."),
        (MATERIAL, SEASON),
    ),
    PaperKind(
        "open",
        N_("What stays open"),
        N_("At the end of a season: what is not done and by when, to be signed by two and carried over."),
        (SEASON,),
    ),
    PaperKind(
        "season",
        N_("Report of the season"),
        N_("The whole season as a book: figures, {deposits}, wares, dates, pieces, discards, balance, what is open."),
        (SEASON,),
    ),
)
"""In the order of the day, then of the season."""


def paper_kind(key: str) -> PaperKind:
    """Return a paper by its key; raises ``unknown_paper_kind``."""
    for one in PAPERS:
        if one.key == key:
            return one
    text = N_("There is no sheet {key}. There is: {known}.")
    raise Refusal("unknown_paper_kind", text, key=key, known=", ".join(one.key for one in PAPERS))
