"""Where data lies: the files that ship with the program, and the folders of the person at the desk.

Nothing else in the program builds a path to shipped data: an installed wheel keeps it inside the package, a checkout
beside it.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent


@cache
def _data_root(name: str) -> Path:
    inside = _PACKAGE / name
    beside = _PACKAGE.parent / name
    for candidate in (inside, beside):
        if candidate.is_dir():
            return candidate
    raise FileNotFoundError(f"the folder '{name}' that ships with the program is missing beside {_PACKAGE}")


def resource(*parts: str) -> Path:
    """Return the path of a shipped resource, e.g. ``resource("fonts", "DejaVuSans.ttf")``."""
    return _data_root("resources").joinpath(*parts)


def demo_file(*parts: str) -> Path:
    """Return the path of a file of the invented excavation, e.g. ``demo_file("season.acts")``."""
    return _data_root("demo_db").joinpath(*parts)


def default_stores_folder() -> Path:
    """Return the folder in which a store is made when nobody names another one."""
    return Path(platformdirs.user_documents_path()) / "FindsDesk"


def settings_folder() -> Path:
    """Return this station's folder for settings and logs; it holds nothing of the excavation."""
    return Path(platformdirs.user_config_path("findsdesk", appauthor=False))


def kept_folder() -> Path:
    """Return this station's folder for what is typed and in no store yet, where a store has no folder of its own."""
    return Path(platformdirs.user_state_path("findsdesk", appauthor=False))
