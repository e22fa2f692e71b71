"""The lists of sherds by group and of what was recorded one by one: pieces, objects, vessels, photographs …"""

from __future__ import annotations

from findsdesk.desk.registers import Register
from findsdesk.ui.benches.registers.list_kinds import (
    BY_DEPOSIT,
    BY_SEASON,
    BY_SQUARE,
    Asked,
    FilterKind,
    ListKind,
)
from findsdesk.words import N_

GROUPS = ListKind(
    "groups",
    N_("Groups of sherds"),
    N_("{n} group of sherds"),
    N_("{n} groups of sherds"),
    N_("No group yet. Each row of the sorting table stands here as soon as it is written."),
    Register.GROUPS,
    (
        FilterKind("ware", N_("ware"), N_("ware {value}"), Asked.TEXT),
        FilterKind("part", N_("part"), "{value}"),
        FilterKind("form", N_("form"), N_("form {value}"), Asked.TEXT),
        FilterKind("decision", N_("decision"), "{value}"),
        FilterKind("against", N_("against a rule"), "{value}"),
        FilterKind("diagnostic", N_("tells the vessel"), "{value}"),
        BY_DEPOSIT,
        BY_SQUARE,
        BY_SEASON,
        FilterKind("container", N_("{container}"), N_("{container} {value}"), Asked.TEXT),
    ),
    spare=("vessel", "diagnostic", "line", "square", "note", "rim", "form", "reason"),
    first_act=N_("Go to the sorting table"),
    act_bench="sorting",
)
PIECES = ListKind(
    "pieces",
    N_("Pieces"),
    N_("{n} piece"),
    N_("{n} pieces"),
    N_("No piece yet. Sherds are lifted out of their row at the sorting table, with a number and a code of their own."),
    Register.PIECES,
    (
        FilterKind("wants", N_("what is wanted"), "{value}"),
        FilterKind("ware", N_("ware"), N_("ware {value}"), Asked.TEXT),
        FilterKind("form", N_("form"), N_("form {value}"), Asked.TEXT),
        FilterKind("part", N_("part"), "{value}"),
        FilterKind("vessel", N_("vessel"), N_("vessel {value}"), Asked.TEXT),
        BY_DEPOSIT,
        BY_SQUARE,
        BY_SEASON,
        FilterKind("container", N_("{container}"), N_("{container} {value}"), Asked.TEXT),
    ),
    spare=("lifted", "code", "doubts", "from", "to", "square", "note", "photos", "joins", "vessel", "grams", "drawing"),
    first_act=N_("Go to the sorting table"),
    act_bench="sorting",
)
OBJECTS = ListKind(
    "objects",
    N_("Objects"),
    N_("{n} object"),
    N_("{n} objects"),
    N_("No object yet. A coin met in a {container} becomes one at the bench of pieces."),
    Register.OBJECTS,
    (
        FilterKind("known", N_("known to the director"), "{value}"),
        FilterKind("material", N_("material"), "{value}"),
        BY_DEPOSIT,
        BY_SEASON,
    ),
    spare=("told", "found", "to", "from", "square", "photos", "grams", "description", "season", "met_in"),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
VESSELS = ListKind(
    "vessels",
    N_("Vessels"),
    N_("{n} vessel"),
    N_("{n} vessels"),
    N_("No vessel yet. Pieces of one pot are gathered at the bench of pieces, over {containers} and seasons."),
    Register.VESSELS,
    (FilterKind("mending", N_("to be mended"), "{value}"), BY_DEPOSIT),
    spare=("base", "in_groups", "seasons", "note"),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
JOINS = ListKind(
    "joins",
    N_("Joins"),
    N_("{n} join"),
    N_("{n} joins"),
    N_("No join yet. Two pieces that fit together are joined at the bench of pieces; no count changes."),
    Register.JOINS,
    (
        FilterKind("across", N_("over two {deposits}"), "{value}"),
        FilterKind("certain", N_("how sure"), "{value}"),
        BY_DEPOSIT,
    ),
    spare=("found", "person", "seasons", "note", "ware"),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
SAMPLES = ListKind(
    "samples",
    N_("Samples"),
    N_("{n} sample"),
    N_("{n} samples"),
    N_("No sample yet. What is taken off for analysis is written at the bench of pieces."),
    Register.SAMPLES,
    (
        FilterKind("away", N_("where it is"), "{value}"),
        FilterKind("for", N_("what for"), "{value}"),
        BY_DEPOSIT,
    ),
    spare=("taken", "rest", "used", "permit", "back", "sent", "result"),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
PHOTOS = ListKind(
    "photos",
    N_("Photographs"),
    N_("{n} photograph"),
    N_("{n} photographs"),
    N_("No photograph yet. Those of a piece are taken in at the bench of pieces."),
    Register.PHOTOS,
    (FilterKind("of", N_("what they show"), "{value}"),),
    spare=("taken", "size", "taken_in", "note"),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
DRAWINGS = ListKind(
    "drawings",
    N_("Drawings"),
    N_("{n} drawing"),
    N_("{n} drawings"),
    N_("No drawing yet. A piece stands here as soon as its drawing is named at the bench of pieces."),
    Register.DRAWINGS,
    PIECES.filters[1:],
    spare=("lifted", "code", "from", "to", "square", "note", "photos", "joins", "vessel", "grams"),
    first_act=N_("Go to Pieces"),
    act_bench="pieces",
)
