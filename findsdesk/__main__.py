"""Start FindsDesk with ``python -m findsdesk``."""

import sys

from findsdesk.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
