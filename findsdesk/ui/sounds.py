"""Three short sound patterns: accepted, already done, not accepted. Silent where the machine brings no sound."""

from __future__ import annotations

import importlib
from typing import Any

from PySide6.QtCore import QObject

from findsdesk import places
from findsdesk.ui.answers import Tone

_FILES = {Tone.DONE: "accepted.wav", Tone.ALREADY: "already.wav", Tone.REFUSED: "refused.wav"}


def _multimedia() -> Any | None:
    """Return Qt's sound module, which only the camera extra brings, or None."""
    try:
        return importlib.import_module("PySide6.QtMultimedia")
    except ImportError:
        return None


class Sounds(QObject):
    """Plays the pattern that goes with an answer; loads nothing before the first one."""

    def __init__(self, loud: bool = True) -> None:
        super().__init__()
        self.loud = loud
        self._effects: dict[Tone, Any] | None = None

    def play(self, tone: Tone) -> bool:
        """Play the pattern of that tone; return whether there was something to play it with."""
        if not self.loud or tone not in _FILES:
            return False
        if self._effects is None:
            self._effects = self._load()
        effect = self._effects.get(tone)
        if effect is None:
            return False
        effect.play()
        return True

    def _load(self) -> dict[Tone, Any]:
        module = _multimedia()
        if module is None:
            return {}
        from PySide6.QtCore import QUrl

        effects: dict[Tone, Any] = {}
        for tone, name in _FILES.items():
            effects[tone] = module.QSoundEffect(self)
            effects[tone].setSource(QUrl.fromLocalFile(str(places.resource("sounds", name))))
        return effects
