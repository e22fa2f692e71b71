"""Migrations of the store's schema, run by Alembic from code; forward only."""
