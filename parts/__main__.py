"""`python -m parts` is the `oneoff` command."""

from parts.cli.main import main

if __name__ == "__main__":
    main()
