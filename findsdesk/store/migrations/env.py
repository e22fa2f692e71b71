"""Alembic's environment: runs on the connection that findsdesk.store.schema hands over."""

from alembic import context
from sqlalchemy import text

from findsdesk.store.every_table import every_table, whole_metadata
from findsdesk.store.models.base import ROWS_OF_IT

for table in every_table():
    for index in table.indexes:
        if ROWS_OF_IT in index.info:
            for database in ("sqlite", "postgresql"):
                index.dialect_kwargs[f"{database}_where"] = text(index.info[ROWS_OF_IT])

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=whole_metadata(),
    render_as_batch=True,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
