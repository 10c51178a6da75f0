"""Run the command line with `python -m claimkit`."""

from claimkit.cli import main

main()
