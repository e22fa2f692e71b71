"""The store: models, sessions, migrations, the journal, backups and the lock on the file."""
