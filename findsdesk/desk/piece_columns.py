"""The columns of the registers of pieces, objects, vessels, joins, photographs and samples."""

from __future__ import annotations

from dataclasses import replace

from findsdesk.desk.joins import JoinedPiece, JoinRow
from findsdesk.desk.objects import ObjectFacts, material_with_word
from findsdesk.desk.photo_register import PhotoInRegister
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.register_fields import RegisterField, Say, why_in_words
from findsdesk.desk.samples import SampleFacts
from findsdesk.desk.shipped import routes
from findsdesk.domain.pieces import METHOD_IN_WORDS, DiameterMethod
from findsdesk.domain.years import year_in_words
from findsdesk.words import N_


def _grams(tenths: int | None) -> float | None:
    return None if tenths is None else tenths / 10


def _percent(permille: int | None) -> float | None:
    return None if permille is None else permille / 10


def _year(year: int | None) -> str:
    return "" if year is None else year_in_words(year)


def _diameter(row: PieceRow) -> str:
    if row.rim_diameter_mm is None:
        return ""
    unsure = "" if row.diameter_uncertainty_mm is None else f" ± {row.diameter_uncertainty_mm}"
    return f"{row.rim_diameter_mm}{unsure}"


def _method(method: str, say: Say) -> str:
    return say(METHOD_IN_WORDS[DiameterMethod(method)]) if method else ""


def _wanted(row: PieceRow, say: Say) -> str:
    wanted = ((row.drawing_wanted, say(N_("drawing"))), (row.photo_wanted, say(N_("photograph"))))
    return ", ".join(words for want, words in wanted if want)


def _doubts(row: PieceRow, say: Say) -> str:
    return " ".join(say(doubt.text, **doubt.facts) for doubt in row.doubts)


def _material(row: ObjectFacts, say: Say) -> str:
    route = routes().get(row.material)
    return material_with_word(say(route.name) if route else row.material, row)


_SUBJECT_IN_WORDS = {
    "piece": N_("piece {name}"),
    "object": N_("object {name}"),
    "container": N_("{container} {name}"),
    "deposit": N_("{deposit} {name}"),
    "vessel": N_("vessel {name}"),
    "ware": N_("ware {name}"),
    "form": N_("form {name}"),
    "discard_list": N_("discard list {name}"),
}


def _shows(row: PhotoInRegister, say: Say) -> str:
    return say(_SUBJECT_IN_WORDS[row.of[0]], name=row.name)


def _side(side: JoinedPiece, say: Say) -> str:
    return f"{side.name} ({say(N_('{deposit} {number}'), number=side.deposit)})" if side.deposit else side.name


def _is_yes(value: bool, say: Say) -> str:
    return say(N_("yes")) if value else ""


_PIECE_FILE_ONLY = (
    RegisterField("surface", N_("Surface"), lambda row, say: say.listed("surfaces", row.surface), in_file=True),
    RegisterField(
        "decoration", N_("Decoration"), lambda row, say: say.listed("decorations", row.decoration), in_file=True
    ),
    RegisterField("condition", N_("Condition"), lambda row, say: say.listed("conditions", row.condition), in_file=True),
    RegisterField("decision", N_("Decision"), lambda row, say: say.listed("decisions", row.decision), in_file=True),
    RegisterField("reason", N_("Why"), lambda row, say: why_in_words(row, say), in_file=True),
    RegisterField("base_diameter", N_("Base diameter, mm"), lambda row, say: row.base_diameter_mm, in_file=True),
    RegisterField("base", N_("Base, %"), lambda row, say: _percent(row.base_permille), in_file=True),
    RegisterField("unsure", N_("Diameter unsure by, mm"), lambda row, say: row.diameter_uncertainty_mm, in_file=True),
    RegisterField("method", N_("Measured"), lambda row, say: _method(row.diameter_method, say), in_file=True),
    RegisterField("base_unsure", N_("Base unsure by, mm"), lambda row, say: row.base_uncertainty_mm, in_file=True),
    RegisterField("base_method", N_("Base measured"), lambda row, say: _method(row.base_method, say), in_file=True),
    RegisterField("chord", N_("Chord, mm"), lambda row, say: _grams(row.chord_tenths_mm), in_file=True),
    RegisterField("sagitta", N_("Height of the arc, mm"), lambda row, say: _grams(row.sagitta_tenths_mm), in_file=True),
    RegisterField("height", N_("Height, mm"), lambda row, say: row.height_mm, in_file=True),
    RegisterField("wall", N_("Wall, mm"), lambda row, say: _grams(row.wall_tenths_mm), in_file=True),
    RegisterField("outside", N_("Colour outside"), lambda row, say: row.colour_surface, in_file=True),
    RegisterField("inside", N_("Colour inside"), lambda row, say: row.colour_inside, in_file=True),
    RegisterField("core", N_("Colour of the core"), lambda row, say: row.colour_core, in_file=True),
    RegisterField("slip", N_("Colour of the slip"), lambda row, say: row.colour_slip, in_file=True),
    RegisterField("firing", N_("Firing"), lambda row, say: say.listed("firings", row.firing), in_file=True),
    RegisterField("inclusions", N_("Inclusions"), lambda row, say: row.inclusions, in_file=True),
    RegisterField("dated_by", N_("Dated by"), lambda row, say: row.dated_by, in_file=True),
    RegisterField("parallels", N_("Parallels"), lambda row, say: row.parallels, in_file=True),
    RegisterField(
        "conservation",
        N_("Conservation"),
        lambda row, say: say.listed("conservation_needs", row.conservation),
        in_file=True,
    ),
    RegisterField("shared", N_("Shared, not measured"), lambda row, say: row.shared, in_file=True),
    RegisterField("tag", N_("Tag"), lambda row, say: row.container_code, in_file=True),
)
_SEASON = RegisterField("season", N_("Season"), lambda row, say: row.season)
"""Stands beside names and numbers that may be given again in another season."""
PIECES = (
    RegisterField("name", N_("Piece"), lambda row, say: row.name),
    _SEASON,
    RegisterField("ware", N_("Ware"), lambda row, say: row.ware),
    RegisterField("part", N_("Part"), lambda row, say: say.listed("parts", row.part)),
    RegisterField("form", N_("Form"), lambda row, say: row.form),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    RegisterField("square", N_("{Square}"), lambda row, say: row.square),
    RegisterField("diameter", N_("Rim diameter, mm"), lambda row, say: _diameter(row), figures=True),
    RegisterField("rim", N_("Rim, %"), lambda row, say: _percent(row.rim_permille), figures=True),
    RegisterField("grams", N_("Grams"), lambda row, say: _grams(row.tenths), figures=True),
    RegisterField("from", N_("From"), lambda row, say: _year(row.earliest), figures=True),
    RegisterField("to", N_("To"), lambda row, say: _year(row.latest), figures=True),
    RegisterField("vessel", N_("Vessel"), lambda row, say: row.vessel, figures=True),
    RegisterField("joins", N_("Joins"), lambda row, say: row.joins or None, figures=True),
    RegisterField("photos", N_("Photographs"), lambda row, say: row.photos or None, figures=True),
    RegisterField("drawing", N_("Drawing"), lambda row, say: row.drawing),
    RegisterField("wanted", N_("Wanted"), _wanted),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
    RegisterField("doubts", N_("Doubts"), _doubts, grows=True),
    RegisterField("code", N_("Code"), lambda row, say: row.code, "code"),
    RegisterField("lifted", N_("Lifted"), lambda row, say: row.lifted_at, "lifted"),
    *_PIECE_FILE_ONLY,
)
DRAWINGS = (
    RegisterField("drawing", N_("Drawing"), lambda row, say: row.drawing, "drawing"),
    *(replace(one, sort="") for one in PIECES if one.key not in ("drawing", "wanted", "doubts")),
)
OBJECTS = (
    RegisterField("number", N_("Object"), lambda row, say: row.number, "number", figures=True),
    _SEASON,
    RegisterField("what", N_("What"), lambda row, say: row.what),
    RegisterField("material", N_("Material"), _material),
    RegisterField("grams", N_("Grams"), lambda row, say: _grams(row.tenths), figures=True),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    RegisterField("square", N_("{Square}"), lambda row, say: row.square),
    RegisterField("container", N_("{Container}"), lambda row, say: row.container),
    RegisterField("met_in", N_("Met in"), lambda row, say: row.from_container),
    RegisterField("from", N_("From"), lambda row, say: _year(row.earliest), figures=True),
    RegisterField("to", N_("To"), lambda row, say: _year(row.latest), figures=True),
    RegisterField("photos", N_("Photographs"), lambda row, say: row.photos or None, figures=True),
    RegisterField("description", N_("Description"), lambda row, say: row.description, grows=True),
    RegisterField("found", N_("Registered"), lambda row, say: row.found_at),
    RegisterField("told", N_("Director knows since"), lambda row, say: row.told_at),
    RegisterField("tag", N_("Tag"), lambda row, say: row.container_code, in_file=True),
)
VESSELS = (
    RegisterField("number", N_("Vessel"), lambda row, say: row.number, "number", figures=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("in_groups", N_("Sherds in groups"), lambda row, say: row.in_groups or None, figures=True),
    RegisterField("deposits", N_("{Deposits}"), lambda row, say: ", ".join(row.deposits)),
    RegisterField("seasons", N_("Seasons"), lambda row, say: ", ".join(row.seasons)),
    RegisterField("rim", N_("Rim, %"), lambda row, say: _percent(row.rim_permille) or None, figures=True),
    RegisterField("base", N_("Base, %"), lambda row, say: _percent(row.base_permille) or None, figures=True),
    RegisterField("mending", N_("To be mended"), lambda row, say: _is_yes(row.for_mending, say)),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
)


def _certain(row: JoinRow, say: Say) -> str:
    return say(N_("certain")) if row.certain else say(N_("not certain"))


JOINS = (
    RegisterField("one", N_("Piece"), lambda row, say: _side(row.left, say)),
    RegisterField("other", N_("Joins"), lambda row, say: _side(row.right, say)),
    RegisterField("ware", N_("Ware"), lambda row, say: row.left.ware),
    RegisterField("seasons", N_("Seasons"), lambda row, say: ", ".join(sorted({row.left.season, row.right.season}))),
    RegisterField("certain", N_("How sure"), _certain),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
    RegisterField("person", N_("Who"), lambda row, say: row.person),
    RegisterField("found", N_("Found"), lambda row, say: row.found_at, "found"),
    RegisterField("one_code", N_("Code"), lambda row, say: row.left.code, in_file=True),
    RegisterField("other_code", N_("Code of the other"), lambda row, say: row.right.code, in_file=True),
)
PHOTOS = (
    RegisterField("file", N_("File"), lambda row, say: row.file_name),
    RegisterField("of", N_("Shows"), _shows),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
    RegisterField("size", N_("Pixels"), lambda row, say: f"{row.width} × {row.height}", figures=True),
    RegisterField("taken", N_("Taken, by the camera"), lambda row, say: row.taken_on),
    RegisterField("taken_in", N_("Taken in"), lambda row, say: row.taken_in_at, "taken_in"),
    RegisterField("sha256", N_("SHA-256"), lambda row, say: row.sha256, in_file=True),
    RegisterField("bytes", N_("Bytes"), lambda row, say: row.size_bytes, in_file=True),
)


def _of_what(row: SampleFacts, say: Say) -> str:
    return row.piece or say(N_("{container} {number}"), number=row.container)


SAMPLES = (
    RegisterField("number", N_("Sample"), lambda row, say: row.number, "number", figures=True),
    RegisterField("of", N_("Of"), _of_what),
    _SEASON,
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    RegisterField("for", N_("For"), lambda row, say: say.listed("sample_purposes", row.what_for)),
    RegisterField("grams", N_("Grams taken"), lambda row, say: _grams(row.taken_tenths), figures=True),
    RegisterField("used", N_("Sherds used up"), lambda row, say: row.pieces_used or None, figures=True),
    RegisterField("laboratory", N_("Laboratory"), lambda row, say: row.laboratory),
    RegisterField("permit", N_("Permit"), lambda row, say: row.permit),
    RegisterField("sent", N_("Sent"), lambda row, say: row.sent_on),
    RegisterField("back", N_("Back"), lambda row, say: row.back_on),
    RegisterField("rest", N_("Grams left"), lambda row, say: _grams(row.rest_tenths), figures=True),
    RegisterField("result", N_("Result"), lambda row, say: row.result, grows=True),
    RegisterField("taken", N_("Taken"), lambda row, say: row.taken_at),
    RegisterField("used_up", N_("Nothing left since"), lambda row, say: row.used_up_on, in_file=True),
)
