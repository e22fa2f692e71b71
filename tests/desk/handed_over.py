"""A yard with one of everything, and what goes out of it: made once, for all tests that only look."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.exporting import Exported, FileForm, export
from findsdesk.store.every_table import every_table
from tests.desk.whole_yard import whole_yard


@cache
def kept_folder() -> Path:
    """Return a folder that is taken away at the end of the run."""
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-handed-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


@cache
def full_yard() -> Desk:
    """Return the desk of the yard; nobody writes there."""
    desk = whole_yard(kept_folder() / "yard")
    atexit.register(desk.let_go)
    return desk


@cache
def gone_out(form: FileForm) -> Exported:
    """Return an export of that yard."""
    return export(full_yard(), form, kept_folder() / "out")


def fresh(form: FileForm, folder: Path) -> Path:
    """Return a copy of an export, to be spoiled."""
    made = gone_out(form).path
    if made.is_dir():
        return Path(shutil.copytree(made, folder / made.name))
    folder.mkdir(parents=True, exist_ok=True)
    return Path(shutil.copyfile(made, folder / made.name))


def everything_in(desk: Desk) -> dict[str, list[Any]]:
    """Return each row of each table but the PINs, as the database has it."""
    with desk.reading() as reading:
        connection = reading.session.connection()
        return {
            table.name: [tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key.columns))]
            for table in every_table()
            if table.name != "person_pin"
        }
