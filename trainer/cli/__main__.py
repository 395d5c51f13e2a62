"""`python -m trainer.cli`, where the `trainer` command is not on the path."""

from __future__ import annotations

from trainer.cli import main

if __name__ == "__main__":
    main(prog_name="trainer")
