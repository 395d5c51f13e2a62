"""
The language of a page, and the page's own words in it.

Pages and forms carry their English text as message id, `_("Sign in")`; what the lower layers say comes as messages by
id and is put into words by `trainer.text`. Both come from one catalogue a language, and what it lacks is said in English.
"""

from __future__ import annotations

from flask import Flask, Response, g, has_request_context, request

from trainer.text.translations import LOCALES, translations

__all__ = ["Later", "gettext", "language", "languages", "ngettext", "speak"]

ENGLISH = "en"


class Later:
    """A text that is put into the reader's language when it is shown: for what stands at the top of a module."""

    __slots__ = ("text",)

    def __init__(self, text: str) -> None:
        self.text = text

    def __str__(self) -> str:
        return gettext(self.text)


def gettext(text: str) -> str:
    """An English text in the language of this page."""
    return translations(language()).gettext(text)


def ngettext(one: str, many: str, number: int) -> str:
    """Of two English texts the one for this number, in the language of this page."""
    return translations(language()).ngettext(one, many, number)


def languages() -> tuple[str, ...]:
    """The languages that there is a catalogue for, as language tags; English first."""
    found = sorted(file.parents[1].name for file in LOCALES.glob("*/LC_MESSAGES/trainer.mo"))
    return (ENGLISH, *(name.replace("_", "-") for name in found if name != ENGLISH))


def language() -> str:
    """The language of this page, as the catalogues name it ("es", "es_MX"); English outside a request."""
    if not has_request_context():
        return ENGLISH
    if "language" not in g:
        tag = request.accept_languages.best_match(languages(), default=ENGLISH)
        g.language = (tag or ENGLISH).replace("-", "_")
    return str(g.language)


def speak(app: Flask) -> None:
    """Give templates `_()`, `ngettext()` and `{% trans %}`, and `language_tag()` for the page's `lang`."""
    app.jinja_env.add_extension("jinja2.ext.i18n")
    # The extension adds this method when it is loaded, so that the type of the environment does not have it.
    app.jinja_env.install_gettext_callables(gettext, ngettext, newstyle=True)  # type: ignore[attr-defined]
    app.jinja_env.policies["ext.i18n.trimmed"] = True
    app.jinja_env.globals["language_tag"] = lambda: language().replace("_", "-")
    app.after_request(_vary)


def _vary(response: Response) -> Response:
    response.vary.update(("Accept-Language", "Cookie"))
    return response
