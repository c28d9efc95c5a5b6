"""Runs the `oneoff` command. Nothing imports this room but the door of `python -m parts`."""

import os
import sys
from types import ModuleType

# Before numpy is imported: the matrices of a check are small, and starting threads costs more than they save.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Before pydantic builds a model: a check hangs on its input alone, not on what else is installed.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

from parts.cli.saying import complain, say_in_utf_8, say_the_rest
from parts.cli.straight import said_straight
from parts.cli.telling import FAILED, WRONG_INPUT


def main() -> None:
    """Run the command, and turn what a user can cause into one clear message and an exit status."""
    _spare_plugins()
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


def _spare_plugins() -> None:
    """Pydantic is told above to take none: loading what would look for them takes longer than all of Python."""
    none = ModuleType("pydantic.plugin._loader")
    none.get_plugins = tuple  # type: ignore[attr-defined]
    sys.modules.setdefault(none.__name__, none)


if __name__ == "__main__":
    main()
