"""The registers: deposits, containers, bags, the journal, and what is out, aside, to redo or renumbered."""
