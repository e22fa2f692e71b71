from collections.abc import Iterator
from pathlib import Path

import pytest

from findsdesk.desk.desk import Desk
from tests.yard import new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Return a desk in the invented yard, the director at it, on 14 July at 06:50."""
    opened = new_yard(tmp_path)
    yield opened
    opened.close()
