"""What the first scan of the day waits for: no table, module or file is read that it does not need."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.yard import new_yard, put_container

FIRST_SCAN = """
import sys
from findsdesk import places
from findsdesk.ui.store_work import Wish, find, open_wished

read, resource = set(), places.resource
places.resource = lambda *name: read.add(name[-1]) or resource(*name)
desk = open_wished(Wish(sys.argv[1])).desk
print(find(desk, "118").answer.in_one_line())
desk.let_go()

from findsdesk.store import models
later = tuple(f"findsdesk.store.models.{name}" for name in models.LATER)
print([name for name in sys.modules if name.startswith((*sys.argv[2:], *later))], sorted(read))
"""
LATE = (
    "alembic",
    "mako",
    "reportlab",
    "matplotlib",
    "numpy",
    "PIL",
    "psycopg",
    "sqlalchemy.dialects.postgresql",
    "findsdesk.paper",
    "findsdesk.exchange",
    "findsdesk.analysis",
    "findsdesk.ui.benches",
    "findsdesk.desk.changing_",
    "findsdesk.desk.news",
    "findsdesk.domain.elevations",
    "findsdesk.domain.figures",
    "findsdesk.domain.vessels",
)


def test_the_first_scan_loads_nothing_that_it_does_not_need(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_container(desk, 118)
    desk.close()
    asked = [sys.executable, "-c", FIRST_SCAN, str(tmp_path / "tannery.findsdesk"), *LATE]
    answered, late = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.splitlines()
    assert answered.startswith("Bucket 118")
    assert late == "[] ['cautions.toml', 'routes.toml']"
