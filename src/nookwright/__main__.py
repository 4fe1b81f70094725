"""``python -m nookwright``."""

from nookwright.cli import main

main()
