"""Alembic's environment: runs on the connection that findsdesk.store.schema hands over."""

from alembic import context

from findsdesk.store.models import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
