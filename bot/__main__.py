"""`python -m bot` is `dropline`."""

import sys

from bot.cli import main

sys.exit(main())
