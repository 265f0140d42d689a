"""``python -m buttonhole`` is the command line."""

from buttonhole.cli import main

main()
