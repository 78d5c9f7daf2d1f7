"""The `gyrochalk` command: arguments in, a report out."""
