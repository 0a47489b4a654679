"""`python -m weightshare`: the command line."""

import sys

from weightshare.cli import main

if __name__ == "__main__":
    sys.exit(main())
