"""The lists of the bench: what each is called, how it is narrowed, and what stands where it is empty."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from findsdesk.desk.registers import Register
from findsdesk.domain.standings import Standing
from findsdesk.words import N_


class Asked(Enum):
    """How the value of a filter is given."""

    CHOICE = "choice"
    TEXT = "text"
    DAY = "day"


@dataclass(frozen=True, slots=True)
class FilterKind:
    """One filter: the desk's name for it, what it is called, what a chip says of it, how its value is given."""

    name: str
    title: str
    chip: str
    asked: Asked = Asked.CHOICE


@dataclass(frozen=True, slots=True)
class ListKind:
    """One list; texts are marked. ``fixed`` narrows it always; ``spare`` columns fall away where room is short.

    ``nothing`` stands where nothing is there yet, with ``first_act`` on the button that leads there: to ``act_bench``,
    or to the form for a new deposit where that is empty. ``one`` and ``many`` count its rows, with ``{n}``.
    """

    key: str
    title: str
    one: str
    many: str
    nothing: str
    register: Register | None = None
    filters: tuple[FilterKind, ...] = ()
    fixed: tuple[tuple[str, str], ...] = ()
    spare: tuple[str, ...] = ()
    first_act: str = ""
    act_bench: str = ""


_SQUARE = FilterKind("square", N_("{square}"), N_("{square} {value}"))
_SEASON = FilterKind("season", N_("season"), N_("season {value}"))
_SUPERVISOR = FilterKind("supervisor", N_("supervisor"), N_("supervisor {value}"))
_DEPOSIT = FilterKind("deposit", N_("{deposit}"), N_("{deposit} {value}"), Asked.TEXT)
_FROM = FilterKind("from", N_("from a day on"), N_("from {value} on"), Asked.DAY)
_UNTIL = FilterKind("until", N_("until a day"), N_("until {value}"), Asked.DAY)

DEPOSITS = ListKind(
    "deposits",
    N_("{Deposits}"),
    N_("{n} {deposit}"),
    N_("{n} {deposits}"),
    N_("No {deposit} yet. Each is opened here in its {square}; what comes in from it hangs on its number."),
    Register.DEPOSITS,
    (
        _SQUARE,
        FilterKind("state", N_("open, closed, merged"), "{value}"),
        FilterKind("kind", N_("kind"), "{value}"),
        FilterKind("security", N_("security"), "{value}"),
        _SUPERVISOR,
    ),
    spare=("once", "security", "supervisor", "stands", "description", "closed", "kind"),
    first_act=N_("Open a {deposit}"),
)
CONTAINERS = ListKind(
    "containers",
    N_("{Containers}"),
    N_("{n} {container}"),
    N_("{n} {containers}"),
    N_("No {container} yet. One stands here as soon as its tag is issued, in Set-up."),
    Register.CONTAINERS,
    (
        FilterKind("standing", N_("where it stands"), "{value}"),
        FilterKind("material", N_("material"), "{value}"),
        _DEPOSIT,
        _SQUARE,
        FilterKind("day", N_("day"), N_("of {value}"), Asked.DAY),
        _FROM,
        _UNTIL,
        _SUPERVISOR,
        _SEASON,
        FilterKind("held", N_("held back"), N_("held back: {value}")),
    ),
    spare=("arrived", "description", "supervisor", "code", "day", "square", "pieces"),
    first_act=N_("Go to Set-up"),
    act_bench="set_up",
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
        FilterKind("what", N_("what is in it"), "{value}"),
        _DEPOSIT,
        _SQUARE,
        _SEASON,
    ),
    spare=("copy", "packed", "labelled", "square", "material", "grams"),
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
        _DEPOSIT,
        _SQUARE,
        FilterKind("person", N_("who"), N_("by {value}")),
        _FROM,
        _UNTIL,
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
        FilterKind("person", N_("who"), N_("by {value}")),
        FilterKind("deed", N_("what was done"), "{value}"),
        FilterKind("container", N_("{container}"), N_("on {container} {value}"), Asked.TEXT),
        _FROM,
        _UNTIL,
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
    (FilterKind("standing", N_("where it stands"), "{value}"), _SQUARE, _SUPERVISOR, _SEASON),
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
LISTS: tuple[ListKind, ...] = (DEPOSITS, CONTAINERS, BAGS, READINGS, JOURNAL, TAGS_OUT, ASIDE, REDO, CONCORDANCE)
