"""Readings that are half typed and in no store, kept in a file of this station: of each thing and each who reads it."""

from __future__ import annotations

import json

from findsdesk.ui.bench import Bench
from findsdesk.ui.keeping import Keeping
from findsdesk.ui.kept_file import KeptFile, file_beside

_FORMAT = 1
Typed = dict[str, str]
"""The texts and choices of a form by its fields."""


class KeptReadings(Keeping):
    """Of the form of one bench."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench, lambda: _text_of(self.half))
        self.half: dict[str, Typed] = {}
        """What is typed and not written, by what is read and who reads it."""

    def find_again(self) -> None:
        """Bring back what was kept when the window was closed last, or went without being closed."""
        desk = self._bench.surroundings.desk
        if desk is None or self.file is not None:
            return
        self.file = kept = _File(file_beside(desk, f"readings-{self._bench.key}"))
        self.half = {**kept.read(), **self.half}

    def take_note(self, of: str, typed: Typed | None) -> None:
        """Keep what is typed of a thing; None where nothing of it is left to be written."""
        if typed is not None:
            self.half[of] = typed
        else:
            self.half.pop(of, None)
        self.keep_soon()


class _File(KeptFile):
    def read(self) -> dict[str, Typed]:
        """Return what is kept; a file that cannot be read is put aside, never written over."""
        try:
            text = self.text()
            readings = dict(json.loads(text)["readings"]) if text is not None else {}
            return {of: {key: str(value) for key, value in typed.items()} for of, typed in readings.items()}
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            self.put_aside()
            return {}


def _text_of(half: dict[str, Typed]) -> str:
    return json.dumps({"format": _FORMAT, "readings": half}, indent=1, ensure_ascii=False) if half else ""
