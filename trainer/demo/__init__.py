"""A site full of invented people: a night class and a shop, with weeks of answers given through the real code."""

from trainer.demo.build import DemoError, DemoPerson, build_demo_site

__all__ = ["DemoError", "DemoPerson", "build_demo_site"]
