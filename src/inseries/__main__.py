"""``python -m inseries`` is the command ``inseries``."""

from __future__ import annotations

import sys

from inseries.cli.main import main

sys.exit(main(prog_name="inseries"))
