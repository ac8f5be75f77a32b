"""The command `cornercue`, also as `python -m cornercue`."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line. Ctrl-C is served while its parts are still being loaded, too."""
    try:
        from cornercue.cli.main import main as run

        run()
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        sys.exit(130)


if __name__ == "__main__":
    main()
