"""``python -m beeledger``: the same as the installed command."""

import sys

from beeledger.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
