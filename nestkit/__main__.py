"""``python -m nestkit``: the command line."""

from nestkit.cli.app import main

main()
