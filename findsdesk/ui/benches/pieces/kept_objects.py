"""Objects that are half typed and in no store, kept in a file of this station: of each container they were met in."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

from findsdesk.ui.bench import Bench
from findsdesk.ui.keeping import Keeping
from findsdesk.ui.kept_file import KeptFile, file_beside
from findsdesk.ui.widgets.form_entry import Unread

_FORMAT = 1
Typed = tuple[str, dict[str, Any]]
"""The number of the container and what is typed, by field."""


class KeptObjects(Keeping):
    """Of the form of one bench; ``typed`` gives what is typed by the code of the container."""

    def __init__(self, bench: Bench, typed: Callable[[], Mapping[str, Typed]]) -> None:
        super().__init__(bench, lambda: _text_of(typed()))
        self.file = self._kept = _File(file_beside(bench.surroundings.desk, "objects"))

    def read(self) -> dict[str, Typed]:
        """Return what was kept when the window was closed last, or went without being closed."""
        return self._kept.read()


class _File(KeptFile):
    def read(self) -> dict[str, Typed]:
        """Return what is kept; a file that cannot be read is put aside, never written over."""
        try:
            text = self.text()
            objects = dict(json.loads(text)["objects"]) if text is not None else {}
            return {code: _read(said) for code, said in objects.items()}
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            self.put_aside()
            return {}


def _text_of(typed: Mapping[str, Typed]) -> str:
    objects = {code: _said(number, values) for code, (number, values) in typed.items()}
    return json.dumps({"format": _FORMAT, "objects": objects}, indent=1, ensure_ascii=False) if objects else ""


def _said(number: str, values: Mapping[str, Any]) -> dict[str, Any]:
    unread = [key for key, value in values.items() if isinstance(value, Unread)]
    return {"number": number, "values": dict(values), "cannot be read": unread}


def _read(said: Mapping[str, Any]) -> Typed:
    unread = set(said["cannot be read"])
    values = {key: Unread(value) if key in unread else value for key, value in dict(said["values"]).items()}
    return str(said["number"]), values
