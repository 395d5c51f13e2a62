"""Hours: one's own log, what a crew entered, who was in class, and the sheet to sign at a toolbox talk."""

from __future__ import annotations

from trainer.web.pages.hours import attendance, crew, log, processes, sheet
from trainer.web.pages.hours.blueprint import blueprint

__all__ = ["attendance", "blueprint", "crew", "log", "processes", "sheet"]
