"""The command `cornercue`, also as `python -m cornercue`."""

from __future__ import annotations

import gc
import sys

GARBAGE = 50_000
"""New objects before Python looks for garbage: its 700 make loading the program a tenth slower (measured)."""


def main() -> None:
    """Run the command line. Ctrl-C is served while its parts are still being loaded, too."""
    gc.set_threshold(GARBAGE)
    try:
        from cornercue.cli.main import main as run

        run()
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        sys.exit(130)


if __name__ == "__main__":
    main()
