"""The lists of the bench: what each is called, how it is narrowed, and what stands where it is empty."""

from __future__ import annotations

from findsdesk.desk.registers import Register
from findsdesk.domain.standings import Standing
from findsdesk.ui.benches.registers.list_kinds import (
    BY_DEPOSIT,
    BY_FROM,
    BY_PERSON,
    BY_SEASON,
    BY_SQUARE,
    BY_SUPERVISOR,
    BY_UNTIL,
    Asked,
    FilterKind,
    ListKind,
)
from findsdesk.ui.benches.registers.mark_lists import MARKS
from findsdesk.ui.benches.registers.piece_lists import (
    DRAWINGS,
    GROUPS,
    JOINS,
    OBJECTS,
    PHOTOS,
    PIECES,
    SAMPLES,
    VESSELS,
)
from findsdesk.ui.benches.registers.print_lists import PRINTS
from findsdesk.ui.benches.registers.store_lists import BOXES, LOANS, PLACES
from findsdesk.words import N_

DEPOSITS = ListKind(
    "deposits",
    N_("{Deposits}"),
    N_("{n} {deposit}"),
    N_("{n} {deposits}"),
    N_("No {deposit} yet. Each is opened here in its {square}; what comes in from it hangs on its number."),
    Register.DEPOSITS,
    (
        BY_SQUARE,
        FilterKind("state", N_("open, closed, merged"), "{value}"),
        FilterKind("kind", N_("kind"), "{value}"),
        FilterKind("security", N_("security"), "{value}"),
        BY_SUPERVISOR,
    ),
    spare=("once", "security", "supervisor", "stands", "description", "closed", "kind"),
    first_act=N_("Open a new {deposit}"),
)
CONTAINERS = ListKind(
    "containers",
    N_("{Containers}"),
    N_("{n} {container}"),
    N_("{n} {containers}"),
    N_("No {container} yet. One stands here as soon as its tag is issued, at Marks & labels."),
    Register.CONTAINERS,
    (
        FilterKind("standing", N_("where it stands"), "{value}"),
        FilterKind("material", N_("material"), "{value}"),
        BY_DEPOSIT,
        BY_SQUARE,
        FilterKind("day", N_("day"), N_("of {value}"), Asked.DAY),
        BY_FROM,
        BY_UNTIL,
        BY_SUPERVISOR,
        BY_SEASON,
        FilterKind("held", N_("held back"), N_("held back: {value}")),
    ),
    spare=("arrived", "description", "supervisor", "code", "day", "square", "pieces"),
    first_act=N_("Go to Marks & labels"),
    act_bench="labels",
)
BAGS = ListKind(
    "bags",
    N_("Bags"),
    N_("{n} bag"),
    N_("{n} bags"),
    N_("No bag yet. What is kept of a settled {container} is bagged at the sorting table."),
    Register.BAGS,
    (
        FilterKind("labelled", N_("label"), "{value}"),
        FilterKind("box", N_("box"), N_("box {value}"), Asked.TEXT),
        FilterKind("what", N_("what is in it"), "{value}"),
        BY_DEPOSIT,
        BY_SQUARE,
        BY_SEASON,
    ),
    spare=("copy", "packed", "place", "labelled", "square", "material", "grams"),
    first_act=N_("Go to the sorting table"),
    act_bench="sorting",
)
READINGS = ListKind(
    "readings",
    N_("Readings"),
    N_("{n} reading"),
    N_("{n} readings"),
    N_("No reading yet. What the ceramicist reads the pottery as stands here: periods, a line, what to look at again."),
    Register.READINGS,
    (
        FilterKind("look_again", N_("look again"), "{value}"),
        FilterKind("period", N_("period"), "{value}"),
        BY_DEPOSIT,
        BY_SQUARE,
        BY_PERSON,
        BY_FROM,
        BY_UNTIL,
    ),
    spare=("looked", "look_again", "square", "latest", "earlier", "confidence", "person"),
    first_act=N_("Go to the sorting table"),
    act_bench="sorting",
)
JOURNAL = ListKind(
    "journal",
    N_("Journal"),
    N_("{n} act"),
    N_("{n} acts"),
    N_("Nothing was done yet."),
    Register.JOURNAL,
    (
        BY_PERSON,
        FilterKind("deed", N_("what was done"), "{value}"),
        FilterKind("container", N_("{container}"), N_("on {container} {value}"), Asked.TEXT),
        BY_FROM,
        BY_UNTIL,
        FilterKind("station", N_("station"), N_("at {value}")),
    ),
    spare=("running", "station", "happened", "lines"),
)
TAGS_OUT = ListKind(
    "tags_out",
    N_("Tags out"),
    N_("{n} tag out"),
    N_("{n} tags out"),
    N_("No tag is out: each that was issued is here, voided or back unused."),
    Register.CONTAINERS,
    (FilterKind("standing", N_("where it stands"), "{value}"), BY_SQUARE, BY_SUPERVISOR, BY_SEASON),
    fixed=tuple(("standing", one.value) for one in (Standing.ISSUED, Standing.LISTED, Standing.MISSING)),
    spare=("arrived", "pieces", "description", "material", "day", "square"),
    first_act=N_("Go to Set-up"),
    act_bench="set_up",
)
ASIDE = ListKind(
    "aside",
    N_("Set aside"),
    N_("{n} row set aside"),
    N_("{n} rows set aside"),
    N_("No row waits. Rows of a field list with an open question are set aside, and answered at Check-in."),
    spare=("file",),
    first_act=N_("Go to Check-in"),
    act_bench="check_in",
)
REDO = ListKind(
    "redo",
    N_("To write again"),
    N_("{n} line to write again"),
    N_("{n} lines to write again"),
    N_("Nothing has to be written again. A corrected number or day brings its tags, labels and marks here."),
    spare=("why", "pieces", "code", "said"),
)
CONCORDANCE = ListKind(
    "concordance",
    N_("Concordance"),
    N_("{n} number that changed"),
    N_("{n} numbers that changed"),
    N_("No {deposit} has changed its number. Old numbers stay here, with who changed them and why."),
    spare=("when", "how", "who"),
)
DISCARDS = ListKind(
    "discards",
    N_("Discards"),
    N_("{n} line of a discard list"),
    N_("{n} lines of discard lists"),
    N_("No discard list yet. What is decided as discard in settled {containers} is put on one, signed, carried away."),
    Register.DISCARDS,
    (
        FilterKind("stage", N_("how far it has come"), "{value}"),
        FilterKind("list", N_("list"), N_("list {value}"), Asked.TEXT),
        BY_DEPOSIT,
        BY_SQUARE,
        BY_SEASON,
    ),
    spare=(
        "rule",
        "carried_to",
        "made_by",
        "decided_by",
        "signed",
        "square",
        "carried",
        "reason",
        "grams",
        "signed_by",
    ),
    first_act=N_("Make a discard list"),
)
LEFT = ListKind(
    "left",
    N_("Left in the trench"),
    N_("{n} entry of what was left"),
    N_("{n} entries of what was left"),
    N_("Nothing is written as left in the trench. It is written on the page of its {deposit}."),
    Register.LEFT,
    (BY_DEPOSIT, BY_SQUARE, FilterKind("material", N_("material"), "{value}")),
    spare=("person", "grams", "square", "stands", "material", "why"),
)
BETWEEN = ListKind(
    "between",
    N_("Joins across"),
    N_("{n} pair of {deposits} joined"),
    N_("{n} pairs of {deposits} joined"),
    N_("No join crosses two {deposits}. Those that do stand here, with what they say of mixing."),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
PEOPLE = ListKind(
    "people",
    N_("People"),
    N_("{n} person"),
    N_("{n} people"),
    N_("Nobody is written down yet. People are added in Set-up."),
    Register.PEOPLE,
    (FilterKind("role", N_("role"), "{value}"), FilterKind("active", N_("works here"), "{value}")),
    first_act=N_("Go to Set-up"),
    act_bench="set_up",
)
EVERYWHERE = ListKind(
    "everywhere",
    N_("Everywhere"),
    N_("{n} found"),
    N_("{n} found"),
    N_("A word, a number or a code typed above is looked for in everything that is written down."),
    spare=("says",),
    everywhere=True,
)
LISTS: tuple[ListKind, ...] = (
    DEPOSITS,
    CONTAINERS,
    GROUPS,
    BAGS,
    BOXES,
    PLACES,
    LOANS,
    PIECES,
    OBJECTS,
    VESSELS,
    JOINS,
    BETWEEN,
    SAMPLES,
    PHOTOS,
    DRAWINGS,
    MARKS,
    READINGS,
    DISCARDS,
    LEFT,
    PRINTS,
    PEOPLE,
    JOURNAL,
    TAGS_OUT,
    ASIDE,
    REDO,
    CONCORDANCE,
    EVERYWHERE,
)


def lists_shown(*, discards: bool) -> tuple[ListKind, ...]:
    """Return the lists of an excavation: one that discards nothing sees no list of discards."""
    return tuple(kind for kind in LISTS if discards or kind is not DISCARDS)
