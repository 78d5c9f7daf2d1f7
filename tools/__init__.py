"""Scripts behind the targets of the Makefile."""
