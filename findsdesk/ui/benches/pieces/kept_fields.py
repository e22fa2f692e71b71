"""What is typed at pieces and not written, as it stands in a file of this station, and read from it again."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from findsdesk.ui.benches.pieces.state import Unwritten
from findsdesk.ui.kept_file import KeptFile
from findsdesk.ui.widgets.form_entry import Unread

WHAT = "pieces"
"""What tells the file from that of the sorting table."""
_FORMAT = 1


class KeptFields(KeptFile):
    """The file of the bench of pieces."""

    def read(self) -> dict[int, Unwritten]:
        """Return what is kept, by the id of its piece; a file that cannot be read is put aside, never written over."""
        try:
            text = self.text()
            pieces = dict(json.loads(text)["pieces"]) if text is not None else {}
            return {int(key): _unwritten(said) for key, said in pieces.items()}
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            self.put_aside()
            return {}


def text_of(unwritten: Mapping[int, Unwritten]) -> str:
    """Return what is typed at pieces as it stands in the file, '' where nothing is."""
    said = {str(piece_id): _said(kept) for piece_id, kept in unwritten.items() if kept.values}
    return json.dumps({"format": _FORMAT, "pieces": said}, indent=1, ensure_ascii=False) if said else ""


def _said(kept: Unwritten) -> dict[str, Any]:
    unread = [key for key, value in kept.values.items() if isinstance(value, Unread)]
    return {"name": kept.name, "values": dict(kept.values), "cannot be read": unread}


def _unwritten(said: Mapping[str, Any]) -> Unwritten:
    unread = set(said["cannot be read"])
    values = {key: Unread(value) if key in unread else value for key, value in dict(said["values"]).items()}
    return Unwritten(str(said["name"]), values)
