"""Places, boxes, bags and what moves, as rows of tables; no window needed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from findsdesk.desk.box_proposals import BoxProposal
from findsdesk.desk.boxes import BoxFacts
from findsdesk.desk.boxing import BagInBox
from findsdesk.desk.missing_things import MissingThing
from findsdesk.desk.not_met import not_met_in_words
from findsdesk.desk.register_columns import Say
from findsdesk.desk.shelves import PlaceInTree
from findsdesk.desk.shipped import route_of
from findsdesk.desk.stock_rows import MetThing
from findsdesk.desk.taking_away import OutNow
from findsdesk.desk.transport_rows import Carried, TransportList
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.domain.box_rules import kilograms
from findsdesk.domain.shelving import MET_IN_WORDS, PLACE_IN_WORDS, Met
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.models.cells import Cell, Column, TableRow, plain_cells
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped, plural

INDENT = "\u2003"
"""An em space for each step down the tree."""


def place_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the tree of places."""
    return (
        Column(say(N_("Place")), grows=True),
        Column(say(N_("Boxes")), figures=True),
        Column(say(N_("Full")), figures=True),
        Column(say(N_("Bags")), figures=True),
        Column(say(N_("kg")), figures=True),
        Column(say(N_("Out here")), figures=True),
    )


def place_row(place: PlaceInTree, say: Say) -> TableRow:
    """Return a place as a row; one that holds more than it should wears the edge."""
    boxes = grouped(place.boxes) if place.holds_boxes is None else f"{place.boxes} / {place.holds_boxes}"
    full = "" if place.full_permille is None else f"{place.full_permille / 10:.0f} %"
    over = place.full_permille is not None and place.full_permille > 1000
    return TableRow(
        place.code,
        (
            Cell(f"{INDENT * place.depth}{place.name}", strong=place.depth == 0),
            Cell(boxes),
            Cell(full, "madder" if over else ""),
            Cell(grouped(place.bags) if place.bags else ""),
            Cell(kilograms(place.tenths) if place.tenths else ""),
            Cell(str(place.taken_here) if place.taken_here else "", "ochre"),
        ),
        late=over,
        said=", ".join(part for part in (place.path, say(PLACE_IN_WORDS[place.kind]), place.note) if part),
    )


def box_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the boxes that stand somewhere."""
    return (
        Column(say(N_("Box"))),
        Column(say(N_("Kind"))),
        Column(say(N_("{Deposits}")), grows=True),
        Column(say(N_("kg")), figures=True),
        Column(say(N_("Full")), figures=True),
    )


def box_row(box: BoxFacts, say: Say) -> TableRow:
    """Return a box as a row; one that is away says where, one that nobody met there says why."""
    away = not_met_in_words(box.not_met, say) if box.away is None else say(N_("away: {to}"), to=box.away.to)
    full = say(N_("nearly full")) if box.nearly_full else f"{box.full_permille / 10:.0f} %"
    return TableRow(
        box.code,
        (
            Cell(str(box.number), strong=True),
            Cell(say(box.kind_name)),
            Cell(away or ", ".join(box.deposits), "ochre" if away else ""),
            Cell(kilograms(box.tenths)),
            Cell(full, "ochre" if box.nearly_full else ""),
        ),
        said=" · ".join(part for part in (box.code, box.note, away) if part),
    )


def bag_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the bags in a box."""
    return (
        Column(say(N_("{Deposit}"))),
        Column(say(N_("{Container}"))),
        Column(say(N_("What")), grows=True),
        Column(say(N_("Count")), figures=True),
        Column(say(N_("Grams")), figures=True),
        Column(say(N_("Code"))),
    )


def bag_row(one: BagInBox, say: Say) -> TableRow:
    """Return a bag as a row; what nobody weighed says so."""
    bag = one.bag
    slips = plural("{n} slip in it", "{n} slips in it", one.slips) if one.slips else ""
    what = [say(route_of(bag.material).name), say(BAG_IN_WORDS.get(bag.what, bag.what)), slips]
    grams = say(N_("not weighed")) if one.tenths is None else grouped(round(one.tenths / 10))
    return TableRow(
        bag.code,
        (
            Cell(bag.deposit),
            Cell(bag.number, strong=True),
            Cell(", ".join(part for part in what if part)),
            Cell(grouped(bag.pieces)),
            Cell(grams, "ochre" if one.tenths is None else ""),
            Cell(bag.code, "muted"),
        ),
    )


def proposal_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of proposed boxes."""
    return (
        Column(say(N_("Box")), figures=True),
        Column(say(N_("Kind"))),
        Column(say(N_("{Deposits}")), grows=True),
        Column(say(N_("Bags")), figures=True),
        Column(say(N_("kg")), figures=True),
    )


def proposal_rows(proposal: BoxProposal, say: Say) -> tuple[TableRow, ...]:
    """Return the proposed boxes; they have no number before they are made."""
    return tuple(
        TableRow(
            place,
            plain_cells(
                str(place), say(one.kind_name), ", ".join(one.deposits), grouped(len(one.bags)), kilograms(one.tenths)
            ),
        )
        for place, one in enumerate(proposal.boxes, 1)
    )


def proposal_words(proposal: BoxProposal, say: Say) -> str:
    """Return what a proposal amounts to: bags, boxes, how far from the fewest there could be, and what is left."""
    if not proposal.boxes and not proposal.too_large:
        return say(N_("No bag waits for a box there."))
    bags, over = sum(len(one.bags) for one in proposal.boxes), len(proposal.boxes) - proposal.fewest
    parts = [
        say(
            N_("{bags} in {boxes} of at most {limit} kg."),
            bags=plural("{n} bag", "{n} bags", bags),
            boxes=plural("{n} box", "{n} boxes", len(proposal.boxes)),
            limit=kilograms(proposal.limit_tenths),
        ),
        say(N_("No packing needs fewer than {fewest}: {over} over."), fewest=proposal.fewest, over=over),
    ]
    if proposal.unweighed:
        parts.append(plural("{n} bag was not weighed.", "{n} bags were not weighed.", len(proposal.unweighed)))
    if proposal.too_large:
        parts.append(plural("{n} bag fits no box.", "{n} bags fit no box.", len(proposal.too_large)))
    return " ".join(parts)


def scanned_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what was scanned for an act."""
    return (Column(say(N_("What"))), Column(say(N_("Code"))), Column(say(N_("Where it belongs")), grows=True))


def transport_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of the transports under way."""
    return (
        Column(say(N_("Transport")), figures=True),
        Column(say(N_("To")), grows=True),
        Column(say(N_("Left"))),
        Column(say(N_("Not there yet")), figures=True),
    )


def transport_row(one: TransportList, around: WordsAround) -> TableRow:
    """Return a transport as a row."""
    left, all_of_it = len(one.not_arrived), len(one.things)
    cells = plain_cells(str(one.number), one.to, moment(one.left_at, around), f"{left} / {all_of_it}")
    return TableRow(one.number, cells)


def carried_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what a transport carries."""
    return (
        Column(say(N_("What")), grows=True),
        Column(say(N_("Stood at"))),
        Column(say(N_("kg")), figures=True),
        Column(say(N_("On leaving"))),
        Column(say(N_("On arrival"))),
    )


def carried_row(one: Carried, around: WordsAround) -> TableRow:
    """Return a thing of a transport as a row, checked at each end or not."""
    say = around.say
    there = "" if one.arrived_at is None else say(N_("there"))
    return TableRow(
        one.code,
        (
            Cell(thing_in_words(one.number, one.code, say), strong=True),
            Cell(one.stood),
            Cell(kilograms(one.tenths)),
            Cell(say(N_("scanned")) if one.checked_out else "–"),
            Cell(there or say(N_("not yet")), "green" if there else "ochre"),
        ),
    )


def out_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what is taken out."""
    return (
        Column(say(N_("What"))),
        Column(say(N_("Where it is")), grows=True),
        Column(say(N_("Taken by"))),
        Column(say(N_("Since"))),
        Column(say(N_("Belongs to"))),
        Column(say(N_("Why"))),
    )


def out_row(one: OutNow, around: WordsAround) -> TableRow:
    """Return what is taken out as a row."""
    say = around.say
    what = thing_in_words(one.number, one.code, say)
    belongs = belongs_in_words(one.belongs, say)
    cells = (Cell(what, strong=True), *plain_cells(one.to, one.person, moment(one.since, around), belongs, one.why))
    return TableRow(one.code, cells)


def stock_columns(say: Say) -> tuple[Column, ...]:
    """Return the columns of what a stock-take met."""
    return (
        Column(say(N_("What"))),
        Column(say(N_("How it was met"))),
        Column(say(N_("Seen")), grows=True),
        Column(say(N_("Belongs to"))),
    )


def stock_rows(things: Sequence[MetThing], say: Say) -> tuple[TableRow, ...]:
    """Return what was met, what is wrong first and the newest of each first."""
    order = {Met.MISSING: 0, Met.ELSEWHERE: 1, Met.OUT: 2, Met.FOUND: 3}
    newest = range(len(things) - 1, -1, -1)
    shown = (things[place] for place in sorted(newest, key=lambda place: order[things[place].verdict]))
    tones = {Met.MISSING: "madder", Met.ELSEWHERE: "madder", Met.OUT: "ochre", Met.FOUND: "green"}
    return tuple(
        TableRow(
            one.code,
            (
                Cell(thing_in_words(one.number, one.code, say), strong=True),
                Cell(say(MET_IN_WORDS[one.verdict]), tones[one.verdict]),
                Cell(belongs_in_words(one.seen, say)),
                Cell(belongs_in_words(one.belongs, say)),
            ),
            late=one.verdict in (Met.MISSING, Met.ELSEWHERE),
        )
        for one in shown
    )


def with_missing(things: Sequence[MetThing], missing: Sequence[MissingThing]) -> tuple[MetThing, ...]:
    """Return what the last stock-take met, and of what is missing all that is missing to this day alone."""
    still = {one.code for one in missing}
    met = (one for one in things if one.verdict is not Met.MISSING and one.code not in still)
    missed = (MetThing(one.code, one.number, Met.MISSING, "", one.belongs, one.since) for one in reversed(missing))
    return (*met, *missed)


def belongs_in_words(belongs: str, say: Say) -> str:
    """Return where a thing belongs: a box by its number with the word, a place as it is called."""
    place, between, box = belongs.rpartition(" · ")
    return f"{place}{between}{say(N_('box {number}'), number=box)}" if box.isdecimal() else belongs


def thing_in_words(number: int | None, code: str, say: Say) -> str:
    """Return a box by its number, a bag by its code."""
    return say(N_("Box {number}"), number=number) if number is not None else say(N_("Bag {code}"), code=code)


def moment(when: datetime, around: WordsAround) -> str:
    """Return a moment as day and clock time at the excavation."""
    there = when.astimezone(around.zone)
    return f"{times.day_in_words(there.date(), around.today())} {there:%H:%M}"
