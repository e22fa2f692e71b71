"""The use cases: one function, one transaction, one act in the journal."""
