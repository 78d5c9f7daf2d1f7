"""`python -m gyrochalk` does what the `gyrochalk` command does."""

import sys

from gyrochalk.cli.main import main

sys.exit(main())
