"""`python -m generator` is the command `inward`."""

from generator.command_line import main

main()
