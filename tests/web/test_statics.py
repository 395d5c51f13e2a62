"""Static files: addresses that change with the content, kept for ever."""

from __future__ import annotations

import pytest

from trainer.config import Settings
from trainer.web.app import build
from trainer.web.statics import MissingAssetError, asset, folder_hash


@pytest.fixture
def sent(tmp_path, sqlite_url):
    """Fetches from an application outside development."""
    app = build(Settings(instance=tmp_path, database=sqlite_url, log_level="error", secure_cookies=False))
    yield lambda path, **more: app.test_client().get(path, buffered=True, **more)
    app.extensions["trainer.database"].close()


@pytest.fixture
def address(sent):
    text = sent("/sign-in").get_data(as_text=True)
    return text.split('rel="stylesheet" href="')[1].split('"')[0]


def test_a_style_sheet_is_kept_for_ever(sent, address):
    response = sent(address)

    assert response.status_code == 200
    assert response.mimetype == "text/css"
    assert "immutable" in response.headers["Cache-Control"]


def test_a_static_file_carries_its_own_policy_and_sets_no_cookie(sent, address):
    headers = sent(address).headers

    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert "Set-Cookie" not in headers
    assert "Access-Control-Allow-Origin" not in headers


def test_an_old_address_is_gone(sent, address):
    assert sent(address.replace(address.split("/")[2], "0123456789ab")).status_code == 404


@pytest.mark.parametrize("path", ["/../../config.py", "/%2e%2e/%2e%2e/config.py", "/css/../../../config.py"])
def test_nothing_outside_the_folder_is_served(sent, address, path):
    prefix = "/".join(address.split("/")[:3])

    assert sent(prefix + path).status_code in {400, 404}


def test_in_development_a_changed_file_shows_at_once(client):
    text = client.get("/sign-in").text
    page = client.get(text.split('rel="stylesheet" href="')[1].split('"')[0])

    assert page.status == 200
    assert "immutable" not in page.headers["Cache-Control"]


def test_a_missing_file_is_an_error_of_the_page_that_names_it():
    with pytest.raises(MissingAssetError, match=r"no static file 'css/gone.css'"):
        asset("/static/x", "css/gone.css")


@pytest.mark.parametrize("change", ["content", "name", "more"])
def test_any_change_in_the_folder_changes_the_address(tmp_path, change):
    (tmp_path / "a.css").write_text("one")
    before = folder_hash(tmp_path)

    if change == "content":
        (tmp_path / "a.css").write_text("two")
    elif change == "name":
        (tmp_path / "a.css").rename(tmp_path / "b.css")
    else:
        (tmp_path / "c.css").write_text("")

    assert folder_hash(tmp_path) != before
