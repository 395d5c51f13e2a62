"""The language of a page: from what the browser asks for, among those that there is a catalogue for."""

from __future__ import annotations

from io import BytesIO

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

from trainer.text import translations
from trainer.web import language
from trainer.web.language import Later, gettext


@pytest.fixture
def mirrored(tmp_path, monkeypatch):
    """A catalogue in a language of the tests, in which a few texts are written in capitals."""
    catalog = Catalog(locale="es")
    for text in ("Sign in", "Type your password.", "Sign-in name"):
        catalog.add(text, text.upper())
    catalog.add(
        ("One thing to look at again", "%(num)d things to look at again"),
        # How many plurals the language has depends on babel's version.
        ("ONE THING", *["%(num)d THINGS"] * (catalog.num_plurals - 1)),
        flags=["python-format"],
    )
    folder = tmp_path / "es_MX" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    write_mo(file := BytesIO(), catalog)
    (folder / "trainer.mo").write_bytes(file.getvalue())
    monkeypatch.setattr(translations, "LOCALES", tmp_path)
    monkeypatch.setattr(language, "LOCALES", tmp_path)
    translations.translations.cache_clear()
    yield
    translations.translations.cache_clear()


@pytest.fixture
def asking(client):
    return lambda wanted: client.get("/sign-in", headers={"Accept-Language": wanted})


@pytest.mark.parametrize("wanted", ["es-MX", "es-MX,en;q=0.5", "de, es-MX;q=0.7"])
@pytest.mark.usefixtures("mirrored")
def test_a_page_comes_in_the_language_that_is_asked_for(asking, wanted):
    page = asking(wanted)

    assert page.heading == "SIGN IN"
    assert page.tree.get("lang") == "es-MX"


@pytest.mark.parametrize("wanted", ["", "en", "de", "*;q=0", "../../etc"])
@pytest.mark.usefixtures("mirrored")
def test_else_it_comes_in_english(asking, wanted):
    page = asking(wanted)

    assert page.heading == "Sign in"
    assert page.tree.get("lang") == "en"


@pytest.mark.usefixtures("mirrored")
def test_what_the_catalogue_lacks_is_said_in_english(asking):
    assert "Password forgotten?" in asking("es-MX").words


@pytest.mark.usefixtures("mirrored")
def test_messages_of_forms_and_counted_things_are_in_it_too(client):
    token = client.get("/sign-in").value("csrf_token")

    page = client.post("/sign-in", {"csrf_token": token}, headers={"Accept-Language": "es-MX"})

    assert page.errors["password"] == "TYPE YOUR PASSWORD."
    assert "2 THINGS" in page.words


@pytest.mark.usefixtures("mirrored")
def test_a_text_for_later_is_put_into_words_when_it_is_shown(app):
    later = Later("Sign in")

    with app.test_request_context(headers={"Accept-Language": "es-MX"}):
        assert str(later) == "SIGN IN"
    assert str(later) == "Sign in"


def test_outside_a_request_it_is_english():
    assert gettext("Sign in") == "Sign in"
