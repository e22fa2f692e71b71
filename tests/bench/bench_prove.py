"""Proving a store of 100,000 acts: chains, rows, totals, standings, references and file; target 10 s.

The acts are written as the desk writes them (rows by the ORM, lines by the journal), only many in one transaction.
Beside it the bare SHA-256 over the same number of bytes. Run: python tests/bench/bench_prove.py [--json] [ACTS]
"""

from __future__ import annotations

import hashlib
import json
import sys
import tempfile
import time
import uuid
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from findsdesk.desk.deposits import open_deposit
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.ledgers import enter, write_count
from findsdesk.desk.opening import NewExcavation, new_store
from findsdesk.desk.proving import prove
from findsdesk.desk.setting_up import open_season
from findsdesk.desk.squares import add_squares
from findsdesk.desk.steps import write_step
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.balance import Entry
from findsdesk.domain.routes import Standing, StepKind, after
from findsdesk.store.journal import ActFacts, watch, write_act
from findsdesk.store.models import Container
from findsdesk.words import Terms

WAY = (StepKind.LISTED, StepKind.ARRIVED, StepKind.LOOKED_AT, StepKind.SOAKING, StepKind.COUNTED, StepKind.DRY)
START = datetime(2026, 7, 6, 4, 0, tzinfo=UTC)


def long_journal(acts: int) -> Desk:
    """Make a store with that many acts: containers that go their way, six acts each."""
    folder = Path(tempfile.mkdtemp(prefix="findsdesk-prove-"))
    terms = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
    desk = new_store(folder / "prove", NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-2", terms))
    open_season(desk, name="2026", permit="VE-26-014", starts=date(2026, 7, 6), ends=date(2026, 8, 16))
    add_squares(desk, ["A1"])
    open_deposit(desk, "2017", square="A1", opened=date(2026, 7, 6), sure=True)
    for first in range(0, acts // len(WAY), 500):
        how_many = min(500, acts // len(WAY) - first)
        block = issue_tags(desk, how_many=how_many)
        _walk(desk, [tag.container_id for tag in block.tags], first)
    return desk


def _walk(desk: Desk, ids: list[int], first: int) -> None:
    with desk.store.writing() as session:
        changes = watch(session)
        for place, container_id in enumerate(ids):
            container = session.get_one(Container, container_id)
            for turn, kind in enumerate(WAY):
                when = START + timedelta(minutes=first + place, seconds=turn)
                deed = Deed(session, desk, str(uuid.uuid4()), when, when, changes)
                pieces = 100 if kind is StepKind.COUNTED else None
                container.standing = after(Standing(container.standing), kind, pieces=pieces)
                write_step(deed, container, kind, pieces=pieces)
                if pieces is not None:
                    _count(deed, container, pieces)
                session.flush()
                deed.totals.write(session)
                facts = ActFacts(deed.id, kind, desk.person.id, "Ilo Marr", when, "Etc/GMT-2", when, container.number)
                write_act(session, desk.station_id, facts, changes)
                changes.rows.clear()


def _count(deed: Deed, container: Container, pieces: int) -> None:
    write_count(deed, container, pieces, "first")
    enter(deed, container, Entry.COUNTED, pieces)


def main() -> None:
    """Write the acts, prove them and print the times."""
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    desk = long_journal(numbers[0] if numbers else 100_000)
    start = time.perf_counter()
    proof = prove(desk)
    ours = time.perf_counter() - start
    assert proof.sound, [finding.in_words(desk.terms) for finding in proof.findings][:5]
    start = time.perf_counter()
    head = b""
    for _ in range(proof.acts):
        head = hashlib.sha256(head + bytes(900)).digest()
    bare = time.perf_counter() - start
    desk.let_go()
    result = {"name": f"prove {proof.acts} acts", "ours": round(ours, 2), "bare": round(bare, 2), "target": 10}
    print(
        json.dumps(result) if "--json" in sys.argv else f"{result} ({proof.lines} lines, {proof.containers} containers)"
    )


if __name__ == "__main__":
    main()
