"""Lets `python -m hearthload` start the program."""

from __future__ import annotations

import sys

from hearthload.cli import main

if __name__ == "__main__":
    sys.exit(main())
