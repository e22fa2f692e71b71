"""What the page of exports says of each form, of what will be written and of what was; no window needed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, grouped, put

if TYPE_CHECKING:
    from findsdesk.desk.export_contents import ToExport
    from findsdesk.desk.exporting import Exported

BUNDLE = "bundle"
FORMS: dict[str, tuple[str, str]] = {
    BUNDLE: (
        N_("Hand-over bundle"),
        N_("Everything in one sealed folder: records, sheets as PDF, photographs, results, map, checksums (RFC 8493)."),
    ),
    "xlsx": (N_("Spreadsheet (XLSX)"), N_("Every register as a sheet of one workbook, to be looked at and counted.")),
    "csv": (N_("Text tables (CSV)"), N_("Every register as a text file, which any program reads.")),
    "data-package": (
        N_("Data package"),
        N_("The whole store, each table with its meaning: for an archive, or to be taken in again elsewhere."),
    ),
    "json": (N_("JSON"), N_("Every register as a JSON file, for programs.")),
    "geopackage": (
        N_("Map (GeoPackage)"),
        N_("{Squares} and {deposits} with their finds counts, for mapping programs."),
    ),
    "photos": (N_("Photographs"), N_("A folder of all photographs, each named by the mark of what it shows.")),
}
"""Each form by the key of its ``FileForm``: its name, and what it is for."""
WITH_MARK, WITH_GRID = frozenset({"csv"}), frozenset({"geopackage", BUNDLE})
"""The forms that ask whether a byte order mark stands first, and those that ask where the grid lies."""


def folder_of(text: str) -> Path:
    """Return the folder that was typed. Refusals: ``no_folder_named``, ``folder_not_whole``."""
    if not text.strip():
        raise Refusal("no_folder_named", N_("Name the folder in which it is written, or choose one."))
    folder = Path(text.strip()).expanduser()
    if not folder.is_absolute():
        text_of = N_("{folder} says too little of where it is. Write the whole path, or choose the folder.")
        raise Refusal("folder_not_whole", text_of, folder=text.strip())
    return folder


def place_in_words(wanted: ToExport) -> str:
    """Return where an export will lie, and that an older one gives way once all of the new one is written."""
    text = N_("It will be {path}.")
    if wanted.there:
        text = N_("It will be {path}. The older one there gives way when all of it is written.")
    return put(text, None, {"path": wanted.path})


def written_in_words(made: Exported) -> str:
    """Return where an export lies and as at which moment of the store; what could not go along is named."""
    said = put(N_("Written as at {head}. It lies in {path}."), None, {"head": made.head, "path": made.path})
    if not made.missing:
        return said
    many = {"n": grouped(len(made.missing)), "files": ", ".join(made.missing[:6])}
    return f"{said} {put(N_('Not along, their files are gone or changed ({n}): {files}.'), None, many)}"
