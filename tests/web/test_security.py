"""Headers, cookies, limits."""

from __future__ import annotations

import pytest
from flask import request

from trainer.config import Settings
from trainer.web.app import build


@pytest.fixture
def built(tmp_path, sqlite_url):
    """Builds an application with settings of its own."""
    made = []

    def make(**more):
        app = build(Settings(instance=tmp_path, database=sqlite_url, log_level="error", **more))
        made.append(app)
        return app

    yield make
    for app in made:
        app.extensions["trainer.database"].close()


@pytest.mark.parametrize("path", ["/", "/sign-in", "/nowhere", "/healthz"])
def test_every_answer_carries_the_headers(client, path):
    headers = client.get(path).headers

    policy = headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert "camera=()" in headers["Permissions-Policy"]
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"


def test_pages_are_kept_by_nobody_in_between(client):
    page = client.get("/sign-in")

    assert page.headers["Cache-Control"] == "private, no-cache"
    assert {"Cookie", "Accept-Language"} <= set(page.headers["Vary"].split(", "))


def test_over_https_the_browser_is_told_to_stay_there(built):
    response = built().test_client().get("/", base_url="https://127.0.0.1")

    assert response.headers["Strict-Transport-Security"] == "max-age=31536000"


def test_on_plain_http_nothing_is_said_about_https(client):
    assert "Strict-Transport-Security" not in client.get("/").headers


def test_over_https_the_form_cookie_is_tied_to_this_host(built):
    response = built().test_client().get("/sign-in", base_url="https://127.0.0.1")

    cookie = response.headers["Set-Cookie"]
    assert cookie.startswith("__Host-trainer-form=")
    assert {"Secure", "HttpOnly", "Path=/", "SameSite=Lax"} <= set(cookie.split("; "))


def test_a_form_over_https_has_to_come_from_this_site(built):
    client = built().test_client()
    client.get("/sign-in", base_url="https://127.0.0.1")

    response = client.post("/sign-in", base_url="https://127.0.0.1", headers={"Referer": "https://elsewhere.example/"})

    assert response.status_code == 400


@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1.elsewhere.example"])
def test_another_host_name_is_refused(client, host):
    assert client.get("/", headers={"Host": host}).status == 400


@pytest.mark.parametrize("host", ["training.example.org", "training.example.org:8443"])
def test_a_host_name_of_the_site_is_answered(built, host):
    app = built(hosts=("training.example.org",))

    assert app.test_client().get("/healthz", headers={"Host": host}).status_code == 200


def test_a_request_that_is_too_large_is_refused(client):
    page = client.post("/sign-in", {"sign_in_name": "x" * 300_000})

    assert page.status == 413
    assert page.heading == "That was too much to send"


@pytest.mark.parametrize(("proxies", "seen"), [(0, "127.0.0.1"), (1, "203.0.113.7")])
def test_only_proxies_that_are_there_are_believed(built, proxies, seen):
    app = built(proxies=proxies)
    with app.test_client() as client:
        client.get("/", headers={"X-Forwarded-For": "198.51.100.9, 203.0.113.7", "Host": "127.0.0.1"})

        assert request.remote_addr == seen
