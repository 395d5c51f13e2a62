"""A browser's own words about itself, shortened to what a person would call it."""

from __future__ import annotations

import re

from trainer.web.language import gettext

__all__ = ["browser_in_words"]

#: Kinds of devices by a word in what the browser says; the first that fits counts, since later ones stand in all.
DEVICES = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("CrOS", "Chromebook"),
    ("Windows", "Windows"),
    ("Macintosh", "Mac"),
    ("Linux", "Linux"),
)
BROWSERS = (
    (r"EdgA?(?:iOS)?/", "Edge"),
    (r"OPR/", "Opera"),
    (r"SamsungBrowser/", "Samsung Internet"),
    (r"(?:Firefox|FxiOS)/", "Firefox"),
    (r"(?:Chrome|CriOS|Chromium)/", "Chrome"),
    (r"Safari/", "Safari"),
)


def browser_in_words(agent: str) -> str:
    """
    What to call a browser.

    >>> browser_in_words("Mozilla/5.0 (iPhone; CPU iPhone OS 19_0 like Mac OS X) Version/19.0 Mobile Safari/604.1")
    'Safari on iPhone'
    >>> browser_in_words("curl/8.5")
    'another browser'
    """
    browser = next((name for pattern, name in BROWSERS if re.search(pattern, agent)), None)
    device = next((name for word, name in DEVICES if word in agent), None)
    if browser and device:
        return gettext("%(browser)s on %(device)s") % {"browser": browser, "device": device}
    return browser or device or gettext("another browser")
