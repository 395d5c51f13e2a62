"""The `trainer` command. Each command's module is imported when it is called, so that `trainer --help` is quick."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType

import click
from msgspec import Struct

__all__ = ["main"]


class Entry(Struct, frozen=True):
    """Where a command lives, and its line in the help; the command's own docstring says more."""

    module: str
    attribute: str
    line: str
    section: str


_LEARN = "Working things out"
_SITE = "Running a site"
_CONTENT = "Writing content and code"

#: Every command by name, in the order of the help.
COMMANDS: Mapping[str, Entry] = MappingProxyType(
    {
        "solve": Entry("trainer.cli.solve", "solve", "Work a calculation out, with steps and sources.", _LEARN),
        "problem": Entry("trainer.cli.content", "problem", "Print a problem of a family, or one by its code.", _LEARN),
        "sources": Entry("trainer.cli.sources", "sources", "List what is from memory or common practice.", _LEARN),
        "demo": Entry("trainer.cli.site", "demo", "Build a site with invented people and serve it here.", _SITE),
        "init": Entry("trainer.cli.site", "init", "Make an empty site and its administrator.", _SITE),
        "serve": Entry("trainer.cli.site", "serve", "Serve the site that init made.", _SITE),
        "backup": Entry("trainer.cli.keep", "backup", "Write all of a site into one file while it runs.", _SITE),
        "restore": Entry("trainer.cli.keep", "restore", "Put a backup back.", _SITE),
        "copy-to": Entry("trainer.cli.keep", "copy_to", "Carry a site into another database.", _SITE),
        "check": Entry("trainer.cli.check", "check", "Look for damage, and say what to do about it.", _SITE),
        "tidy": Entry("trainer.cli.tidy", "tidy", "Remove what was to be kept for a while only.", _SITE),
        "settings": Entry("trainer.cli.settings", "settings", "Show every setting, its value and its source.", _SITE),
        "example": Entry("trainer.cli.example", "example", "Print systemd units or an nginx site.", _SITE),
        "lost-phone": Entry(
            "trainer.cli.lost_phone", "lost_phone", "Let somebody in without the code at sign-in.", _SITE
        ),
        "replay": Entry("trainer.cli.replay", "replay", "Rebuild the records from the answers, and compare.", _SITE),
        "check-content": Entry("trainer.cli.content", "check_content", "Check every lesson and question.", _CONTENT),
        "coverage": Entry("trainer.cli.coverage", "coverage", "Show what is taught and asked where.", _CONTENT),
        "mistakes": Entry("trainer.cli.mistakes", "mistakes", "Search for wrong routes of a question.", _CONTENT),
        "dev": Entry("trainer.cli.dev", "dev", "Checks for those who work on the program.", _CONTENT),
    }
)


class LazyGroup(click.Group):
    """A group that knows its commands by name and imports one when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every command's name, in the order of the help; those added by others last."""
        return [*COMMANDS, *(name for name in super().list_commands(ctx) if name not in COMMANDS)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of this name, imported now; None when there is none."""
        entry = COMMANDS.get(cmd_name)
        if entry is None:
            return super().get_command(ctx, cmd_name)
        command = getattr(import_module(entry.module), entry.attribute)
        return command if isinstance(command, click.Command) else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The help's list of commands, by section, without importing any."""
        del ctx
        width = max(map(len, COMMANDS))
        for section in dict.fromkeys(entry.section for entry in COMMANDS.values()):
            lines = [(name.ljust(width), entry.line) for name, entry in COMMANDS.items() if entry.section == section]
            with formatter.section(section):
                formatter.write_dl(lines)


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="trainer", prog_name="trainer")
def main() -> None:
    """
    Tubing Trainer: learn to handle electrical metallic tubing, and show what you can do.

    `trainer demo` builds and serves a site to look at; `trainer COMMAND --help` says more on each command.
    """
