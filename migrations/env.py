"""Runs the revisions on the connection it is given; whoever gives it has begun the transaction and ends it."""

from __future__ import annotations

from alembic import context
from sqlalchemy.engine import Connection

connection = context.config.attributes["connection"]
assert isinstance(connection, Connection)
context.configure(connection=connection, transactional_ddl=False, transaction_per_migration=False)
context.run_migrations()
