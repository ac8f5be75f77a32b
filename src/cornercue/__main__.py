"""`python -m cornercue`."""

from cornercue.cli.main import main

main()
