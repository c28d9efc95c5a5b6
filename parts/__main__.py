"""`python -m parts` is the `oneoff` command."""

from parts.cli.commands import main

if __name__ == "__main__":
    main()
