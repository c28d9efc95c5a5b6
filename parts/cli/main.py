"""Runs the `oneoff` command. Nothing imports this room but the door of `python -m parts`."""

import os
import sys
from types import ModuleType

# Before numpy is imported: the matrices of a check are small, and starting threads costs more than they save.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Before pydantic builds a model: a check hangs on its input alone, not on what else is installed.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
# Nor need it load what would look for them, which takes as long as Python itself.
_LOOKING = ModuleType("pydantic.plugin._loader")
_LOOKING.get_plugins = tuple  # type: ignore[attr-defined]
sys.modules.setdefault(_LOOKING.__name__, _LOOKING)

from parts.cli.saying import complain, say_in_utf_8, say_the_rest
from parts.cli.straight import said_straight
from parts.cli.telling import FAILED, WRONG_INPUT


def main() -> None:
    """Run the command, and turn what a user can cause into one clear message and an exit status."""
    from parts.inputs.problems import InputError

    say_in_utf_8()
    try:
        try:
            if (status := said_straight(sys.argv[1:])) is not None:
                raise SystemExit(status)
            from parts.cli.commands import app

            app()
        finally:
            say_the_rest()
    except InputError as error:
        complain(str(error))
        raise SystemExit(WRONG_INPUT) from None
    except OSError as error:
        complain(f"the disk refused: {error}")
        raise SystemExit(FAILED) from None
    except Exception as error:
        if os.environ.get("ONEOFF_TRACE"):
            raise
        complain(
            f"a fault of oneoff-parts itself, not of your file: {type(error).__name__}: {error}; nothing was "
            "half written. Report it with the file (ONEOFF_TRACE=1 shows where it happened)"
        )
        raise SystemExit(FAILED) from None
    except KeyboardInterrupt:
        complain("stopped; files already written are whole")
        raise SystemExit(FAILED) from None


if __name__ == "__main__":
    main()
