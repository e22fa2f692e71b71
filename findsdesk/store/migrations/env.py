"""Alembic's environment: runs on the connection that findsdesk.store.schema hands over."""

from alembic import context
from sqlalchemy import text

from findsdesk.store.models import Base
from findsdesk.store.models.base import ROWS_OF_IT

for table in Base.metadata.tables.values():
    for index in table.indexes:
        if ROWS_OF_IT in index.info:
            for database in ("sqlite", "postgresql"):
                index.dialect_kwargs[f"{database}_where"] = text(index.info[ROWS_OF_IT])

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
