"""The room ledger (its map follows with its modules)."""
