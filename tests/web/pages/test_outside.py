"""
Signing in with an account at another site, against a provider that is written here from the specifications: OpenID
Connect Core 1.0 (3.1, the code flow; 3.1.3.7, what an ID token has to hold), Discovery 1.0 (section 4) and RFC 7636 (PKCE).
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
import secrets
import threading
from urllib.parse import parse_qs, urlsplit
from wsgiref.simple_server import WSGIRequestHandler, make_server

import pytest
from joserfc import jwt
from joserfc.jwk import OctKey, RSAKey
from pyotp import TOTP
from sqlalchemy import select, update

from trainer.accounts import second_factor
from trainer.accounts.openid import Provider, ProviderSettings
from trainer.accounts.people import reset_password
from trainer.records.models import Group, OutsideAccount, Person

CLIENT, SECRET = "tubing-trainer", "a secret that two know, and nobody else"
SUBJECT = "248289761001"
LONG = "a long walk home at night"
GO, BACK = "/sign-in/elsewhere", "/sign-in/elsewhere/back"


class OtherSite:
    """The provider: metadata, keys and tokens over http on this machine; `answer` stands for its pages of sign-in."""

    def __init__(self):
        self.keys = [RSAKey.generate_key(2048, {"kid": "first", "use": "sig"}, private=True)]
        self.codes, self.asked = {}, []
        self.claims, self.header, self.sign_with, self.metadata = {}, {}, None, {}
        self.down, self.now = False, 0

    def __call__(self, environ, start_response):
        self.asked.append(environ["PATH_INFO"])
        if self.down:
            start_response("503 Service Unavailable", [("Content-Type", "text/html")])
            return [b"<p>closed</p>"]
        pages = {"/.well-known/openid-configuration": self._metadata, "/keys": self._keys, "/token": self._token}
        status, found = pages[environ["PATH_INFO"]](environ)
        start_response(status, [("Content-Type", "application/json"), ("Cache-Control", "no-store")])
        return [json.dumps(found).encode()]

    def _metadata(self, _environ):
        return "200 OK", {
            "issuer": self.issuer,
            "authorization_endpoint": f"{self.issuer}/authorize",
            "token_endpoint": f"{self.issuer}/token",
            "jwks_uri": f"{self.issuer}/keys",
            "response_types_supported": ["code"],
            "subject_types_supported": ["public"],
            "id_token_signing_alg_values_supported": ["RS256", "none"],
        } | self.metadata

    def _keys(self, _environ):
        return "200 OK", {"keys": [key.as_dict(private=False) for key in self.keys]}

    def answer(self, address, subject=SUBJECT, **more):
        """Somebody signs in there and is sent back: the path on our site, with the code."""
        asked = {name: values[0] for name, values in parse_qs(urlsplit(address).query).items()}
        assert urlsplit(address)[:3] == urlsplit(f"{self.issuer}/authorize")[:3]
        assert (asked["response_type"], asked["client_id"]) == ("code", CLIENT)
        assert "openid" in asked["scope"].split()
        assert asked["redirect_uri"] == f"http://localhost{BACK}"
        assert asked["code_challenge_method"] == "S256"
        assert len(asked["state"]) >= 43
        assert len(asked["nonce"]) >= 43
        code = secrets.token_urlsafe(16)
        self.codes[code] = asked | {"subject": subject}
        return f"{BACK}?code={code}&state={more.get('state', asked['state'])}" + more.get("tail", "")

    def _token(self, environ):
        sent = {name: values[0] for name, values in parse_qs(self._body(environ)).items()}
        known = base64.b64encode(f"{CLIENT}:{SECRET}".encode()).decode()
        if environ.get("HTTP_AUTHORIZATION") != f"Basic {known}":
            return "401 Unauthorized", {"error": "invalid_client"}
        # RFC 6749, 4.1.2: a code is good once.
        asked = self.codes.pop(sent.get("code"), None)
        if asked is None or sent["redirect_uri"] != asked["redirect_uri"] or sent["grant_type"] != "authorization_code":
            return "400 Bad Request", {"error": "invalid_grant"}
        # RFC 7636, 4.6.
        digest = hashlib.sha256(sent["code_verifier"].encode()).digest()
        if base64.urlsafe_b64encode(digest).rstrip(b"=").decode() != asked["code_challenge"]:
            return "400 Bad Request", {"error": "invalid_grant"}
        return "200 OK", {
            "access_token": "opens-nothing-here",
            "token_type": "Bearer",
            "expires_in": 300,
            "id_token": self._id_token(asked),
        }

    def _body(self, environ):
        return environ["wsgi.input"].read(int(environ["CONTENT_LENGTH"])).decode()

    def _id_token(self, asked):
        claims = {
            "iss": self.issuer,
            "sub": asked["subject"],
            "aud": CLIENT,
            "iat": self.now,
            "exp": self.now + 300,
            "nonce": asked["nonce"],
            "name": "Learner Person",
            "email": "instructor@school.example",
        } | self.claims
        claims = {name: value for name, value in claims.items() if value is not None}
        key = self.sign_with or self.keys[-1]
        header = {"alg": "RS256", "kid": self.keys[-1].kid} | self.header
        if header["alg"] == "none":
            parts = (json.dumps(one).encode() for one in ({"alg": "none"}, claims))
            return ".".join(base64.urlsafe_b64encode(part).rstrip(b"=").decode() for part in parts) + "."
        return jwt.encode(header, claims, key)


class Quiet(WSGIRequestHandler):
    def log_message(self, *words):
        """Say nothing."""


@pytest.fixture(scope="module")
def served():
    """The other site on a port of this machine."""
    site = OtherSite()
    with make_server("127.0.0.1", 0, site, handler_class=Quiet) as server:
        site.issuer = f"http://127.0.0.1:{server.server_port}"
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        yield site
        server.shutdown()
        thread.join()


@pytest.fixture
def elsewhere(served, app, clock, monkeypatch):
    """The other site as at the start of each test, and ours told of it."""
    for name in ("http_proxy", "https_proxy", "all_proxy", "HTTP_PROXY", "HTTPS_PROXY", "ALL_PROXY"):
        monkeypatch.delenv(name, raising=False)
    served.claims, served.header, served.sign_with, served.metadata, served.down = {}, {}, None, {}, False
    served.now = int(clock.now.timestamp())
    del served.keys[1:]
    served.asked.clear()

    def told(**more):
        settings = ProviderSettings(served.issuer, CLIENT, SECRET, "your school account", **more)
        monkeypatch.setitem(app.extensions, "trainer.provider", Provider(settings))

    told()
    served.told = told
    return served


@pytest.fixture
def linked(app, world, elsewhere, clock):
    """The learner has linked the account."""
    with app.extensions["trainer.database"].write() as session:
        row = {"issuer": elsewhere.issuer, "subject": SUBJECT, "linked_at": clock.now}
        session.add(OutsideAccount(person_id=world.people["learner"], **row))


def back(browser, elsewhere, path=GO, **more):
    """There and back again, with whatever is amiss on the way."""
    return browser.get(elsewhere.answer(browser.get(path).location, **more))


def is_out(browser):
    return browser.get("/account").location == "/sign-in?next=/account"


@pytest.mark.usefixtures("elsewhere")
def test_the_page_to_sign_in_names_it_only_where_the_settings_do(client, app, monkeypatch):
    assert GO in client.get("/sign-in").links()
    fields = {*client.get("/sign-in").form("/sign-in")}

    monkeypatch.setitem(app.extensions, "trainer.provider", None)

    assert GO not in client.get("/sign-in").links()
    assert {*client.get("/sign-in").form("/sign-in")} == fields
    assert client.get(GO).status == 404


@pytest.mark.usefixtures("linked")
def test_a_linked_account_signs_in_and_goes_where_the_person_came_for(client, elsewhere):
    page = back(client, elsewhere, f"{GO}?next=/account/devices")

    assert page.location == "/account/devices"
    assert "learner" in client.get("/account").words


@pytest.mark.usefixtures("linked")
def test_it_never_leads_to_another_site_but_that_of_the_settings(client, elsewhere):
    there = client.get(f"{GO}?next=//elsewhere.example").location

    assert there.startswith(f"{elsewhere.issuer}/authorize?")
    assert client.get(elsewhere.answer(there)).location == "/"


@pytest.mark.usefixtures("linked")
def test_an_answer_is_good_once(client, elsewhere):
    answer = elsewhere.answer(client.get(GO).location)
    client.get(answer)
    client.submit("/account", action="/sign-out")

    page = client.get(answer)

    assert page.status == 400
    assert "begun in this browser within ten minutes" in page.words
    assert is_out(client)


@pytest.mark.usefixtures("linked")
@pytest.mark.parametrize("state", ["another-state", "", "\u0660"])
def test_another_state_signs_nobody_in_and_asks_for_no_token(client, elsewhere, state):
    page = back(client, elsewhere, state=state)

    assert page.status == 400
    assert is_out(client)
    assert "/token" not in elsewhere.asked


@pytest.mark.usefixtures("linked")
def test_an_answer_in_another_browser_signs_nobody_in(client, app, elsewhere):
    other = type(client)(app)

    assert other.get(elsewhere.answer(client.get(GO).location)).status == 400
    assert is_out(other)


@pytest.mark.usefixtures("linked")
def test_an_answer_after_ten_minutes_signs_nobody_in(client, elsewhere, clock):
    answer = elsewhere.answer(client.get(GO).location)
    clock.forward(minutes=10)

    assert client.get(answer).status == 400
    assert is_out(client)


AMISS = {
    "another nonce": {"claims": {"nonce": "of another trip"}},
    "no nonce": {"claims": {"nonce": None}},
    "another issuer": {"claims": {"iss": "https://elsewhere.example"}},
    "another audience": {"claims": {"aud": "another-site"}},
    "another audience, and we as the party": {"claims": {"aud": "another-site", "azp": CLIENT}},
    "another party": {"claims": {"aud": [CLIENT, "another-site"], "azp": "another-site"}},
    "no audience": {"claims": {"aud": None}},
    "over": {"claims": {"exp": -61}},
    "no end": {"claims": {"exp": None}},
    "an end in words": {"claims": {"exp": "tomorrow"}},
    "not yet": {"claims": {"nbf": 600}},
    "of tomorrow": {"claims": {"iat": 86_400}},
    "no subject": {"claims": {"sub": None}},
    "a subject that is no text": {"claims": {"sub": 248289761001}},
    "an endless subject": {"claims": {"sub": "9" * 256}},
    "unsigned": {"header": {"alg": "none"}},
    "signed with the secret that two know": {"header": {"alg": "HS256"}, "sign_with": OctKey.import_key(SECRET)},
    "signed by somebody else": {"sign_with": "stranger"},
    "of a key that is nowhere": {"header": {"kid": "nowhere"}},
    "the hash of another access token": {"claims": {"at_hash": "x" * 22}},
}


@pytest.mark.usefixtures("linked")
def test_what_cannot_be_believed_signs_nobody_in(client, elsewhere, stranger_key):
    """All in one site: nothing of a trip is left behind by the one before."""
    for what, wrong in AMISS.items():
        elsewhere.claims = {name: _moved(name, value, elsewhere.now) for name, value in wrong.get("claims", {}).items()}
        elsewhere.header = wrong.get("header", {})
        elsewhere.sign_with = stranger_key if wrong.get("sign_with") == "stranger" else wrong.get("sign_with")

        page = back(client, elsewhere)

        assert page.status == 400, what
        assert "could not be believed" in page.words, what
        assert is_out(client), what


def _moved(name, value, now):
    """A moment that is told in seconds from now."""
    return now + value if name in {"exp", "nbf", "iat"} and isinstance(value, int) else value


@pytest.fixture(scope="module")
def stranger_key():
    return RSAKey.generate_key(2048, {"kid": "first"}, private=True)


@pytest.mark.usefixtures("linked")
def test_a_clock_that_is_half_a_minute_off_does_not_matter(client, elsewhere):
    elsewhere.claims = {"iat": elsewhere.now + 30, "exp": elsewhere.now - 30}

    assert back(client, elsewhere).location == "/"


@pytest.mark.usefixtures("linked")
def test_keys_that_change_are_fetched_anew_once(client, app, elsewhere):
    back(client, elsewhere)
    elsewhere.keys.append(RSAKey.generate_key(2048, {"kid": "second", "use": "sig"}, private=True))
    other = type(client)(app)

    assert back(other, elsewhere).location == "/"
    assert elsewhere.asked.count("/keys") == 2


@pytest.mark.usefixtures("linked")
def test_metadata_and_keys_are_kept_for_an_hour(client, app, elsewhere, clock):
    back(client, elsewhere)
    clock.forward(minutes=59)
    type(client)(app).get(GO)
    assert elsewhere.asked.count("/keys") == 1

    clock.forward(minutes=2)
    type(client)(app).get(GO)

    assert elsewhere.asked.count("/keys") == 2


@pytest.mark.usefixtures("linked")
@pytest.mark.parametrize("when", ["before", "between"])
def test_a_site_that_does_not_answer_is_told_and_the_password_still_signs_in(client, world, elsewhere, when):
    there = client.get(GO).location if when == "between" else None
    elsewhere.down = True

    page = client.get(elsewhere.answer(there) if there else GO)

    assert page.status == 502
    assert page.heading == "That sign-in did not work"
    assert "does not answer" in page.words
    assert client.submit("/sign-in", {"sign_in_name": "learner", "password": world.password}).location == "/"


def test_nobody_there_at_all_is_the_same(client, app, monkeypatch, elsewhere):
    settings = ProviderSettings("http://127.0.0.1:9", CLIENT, SECRET, "your school account")
    monkeypatch.setitem(app.extensions, "trainer.provider", Provider(settings))

    assert elsewhere
    assert client.get(GO).status == 502


@pytest.mark.parametrize(
    "metadata",
    [
        {"issuer": "https://elsewhere.example"},
        {"authorization_endpoint": "javascript:0"},
        {"authorization_endpoint": "http://elsewhere.example/authorize"},
        {"token_endpoint": None},
        {"jwks_uri": ["https://elsewhere.example"]},
    ],
)
def test_metadata_that_cannot_be_believed_leads_nowhere(client, elsewhere, metadata):
    elsewhere.metadata = metadata

    page = client.get(GO)

    assert page.status == 400
    assert page.location is None


@pytest.mark.usefixtures("linked")
def test_who_says_no_there_is_signed_in_nowhere(client):
    state = parse_qs(urlsplit(client.get(GO).location).query)["state"][0]

    page = client.get(f"{BACK}?error=access_denied&error_description=<b>no</b>&state={state}")

    assert page.status == 400
    assert "did not let you through" in page.words
    assert "<b>no" not in page.text


@pytest.mark.usefixtures("linked")
def test_a_code_that_the_other_site_refuses_signs_nobody_in(client, elsewhere):
    answer = elsewhere.answer(client.get(GO).location)
    elsewhere.codes.clear()

    assert "did not let you through" in client.get(answer).words
    assert is_out(client)


@pytest.mark.usefixtures("linked")
def test_an_answer_in_the_name_of_another_issuer_is_not_taken(client, elsewhere):
    page = back(client, elsewhere, tail="&iss=https%3A%2F%2Felsewhere.example")

    assert page.status == 400
    assert "/token" not in elsewhere.asked


def test_an_account_that_nobody_has_signs_nobody_in_whatever_its_mail_address(client, app, elsewhere):
    elsewhere.claims = {"email": "learner", "preferred_username": "learner", "email_verified": True}

    page = back(client, elsewhere)

    assert page.status == 403
    assert page.heading == "Nobody here has that account yet"
    assert is_out(client)
    assert len(people(app)) == 8


def test_one_with_another_subject_is_another(client, elsewhere, linked):
    assert linked is None
    assert back(client, elsewhere, subject="248289761002").status == 403
    assert back(client, elsewhere, subject=SUBJECT + " ").status == 403


def people(app):
    with app.extensions["trainer.database"].read() as session:
        return session.scalars(select(Person.sign_in_name)).all()


NEW = f"{GO}/new"


def test_newcomers_make_an_account_where_the_settings_say_so(client, app, elsewhere):
    elsewhere.told(takes_newcomers=True)
    elsewhere.claims = {"name": "Ana Vega", "preferred_username": "Learner@school.example"}

    assert back(client, elsewhere).location == NEW
    assert is_out(client)
    page = client.get(NEW)
    assert (page.value("display_name"), page.value("sign_in_name")) == ("Ana Vega", "learner.2")
    taken = client.submit(NEW, {"sign_in_name": "learner"})
    assert taken.status == 422
    assert "signs in as learner already" in taken.errors["sign_in_name"]
    assert client.submit(NEW, {"display_name": "Ana V."}).location == "/"

    assert "Ana V." in client.get("/account").words
    assert client.submit("/account", action="/sign-out").location == "/signed-out"
    assert client.get(NEW).location == "/sign-in"
    other = type(client)(app)
    assert back(other, elsewhere).location == "/"
    assert len(people(app)) == 9


@pytest.mark.parametrize("name", ["", "12345", "\u202eevil", "x" * 500, 7])
def test_a_newcomer_with_an_odd_name_is_asked_for_another(client, elsewhere, name):
    elsewhere.told(takes_newcomers=True)
    elsewhere.claims = {"name": name, "preferred_username": None}
    back(client, elsewhere)

    page = client.get(NEW)

    assert page.value("display_name") == ""
    assert re.fullmatch(r"newcomer|evil|x+", page.value("sign_in_name"))


def test_who_comes_from_the_page_of_a_code_is_invited(client, app, elsewhere, world):
    page = f"/join/{world.codes['class']}"
    there = next(one for one in client.get(page).links() if one.startswith(GO))
    assert back(client, elsewhere, there).location == NEW

    assert client.submit(NEW, {"display_name": "Ana Vega", "sign_in_name": "ana.vega"}).location == page

    assert client.submit(page, action=page).location == "/"
    assert "Tuesday evening" in client.get("/account/held").words
    assert len(people(app)) == 9


@pytest.mark.parametrize("wanted", ["/join/2345BCDF", "/join/2345BCDF/new", "/account", "/join/"])
def test_a_code_that_opens_nothing_invites_nobody(client, app, elsewhere, wanted):
    assert back(client, elsewhere, f"{GO}?next={wanted}").status == 403
    assert client.get(NEW).location == "/sign-in"
    assert len(people(app)) == 8


def test_a_code_that_is_closed_meanwhile_lets_nobody_in(client, app, elsewhere, world):
    back(client, elsewhere, f"{GO}?next=/join/{world.codes['class']}")
    sent = client.get(NEW).form(NEW)
    with app.extensions["trainer.database"].write() as session:
        session.execute(update(Group).values(join_code=None))

    assert client.post(NEW, sent | {"display_name": "Ana Vega"}).location == "/sign-in"
    assert len(people(app)) == 8


def test_without_having_come_back_there_is_no_account_to_make(client, app, elsewhere, clock):
    elsewhere.told(takes_newcomers=True)
    assert client.get(NEW).location == "/sign-in"
    back(client, elsewhere)
    assert client.get(NEW).status == 200

    clock.forward(minutes=10)

    assert client.get(NEW).location == "/sign-in"
    assert len(people(app)) == 8


def test_an_account_is_linked_by_who_is_signed_in_and_for_the_password(client_of, client, world, elsewhere):
    browser = client_of("instructor")
    page = back(browser, elsewhere, "/account/elsewhere/begin")
    assert page.location == "/account/elsewhere/link"

    wrong = browser.submit(page.location, {"password": "something else"})
    assert "not your present password" in wrong.errors["password"]
    assert browser.submit(page.location, {"password": world.password}).location == "/account/elsewhere"

    assert "It is linked" in browser.get("/account/elsewhere").words
    assert back(client, elsewhere).location == "/"
    assert "instructor" in client.get("/account").words
    assert "An account at another site was linked" in browser.get("/account/held").words


def test_a_newcomer_has_no_password_and_keeps_the_only_way_in_until_there_is_one(client, app, elsewhere, clock):
    elsewhere.told(takes_newcomers=True)
    back(client, elsewhere)
    client.submit(NEW, {"display_name": "Ana Vega", "sign_in_name": "ana.vega"})
    page = client.get("/account/elsewhere")
    assert "your only way in" in page.words
    assert "/account/elsewhere/end" not in page.text

    refused = client.post("/account/elsewhere/end", client.get("/account").form("/sign-out"))

    assert refused.status == 409
    assert "/account/elsewhere" in refused.links()
    with app.extensions["trainer.database"].write() as session:
        ana = session.scalars(select(Person).where(Person.sign_in_name == "ana.vega")).one()
        once = reset_password(session, ana.id, clock.now, passwords=app.extensions["trainer.passwords"])
    other = type(client)(app)
    assert other.submit("/sign-in", {"sign_in_name": "ana.vega", "password": once}).location == "/"
    other.submit("/account/password", {"old_password": once, "new_password": LONG, "once_more": LONG})
    other.submit("/account/elsewhere", action="/account/elsewhere/end")
    assert "Link it once" in other.get("/account/elsewhere").words


@pytest.mark.usefixtures("linked")
@pytest.mark.parametrize(
    ("begun", "ways"),
    [
        (f"{GO}?next=/account/devices", {"/sign-in?next=/account/devices", f"{GO}?next=/account/devices"}),
        ("/account/elsewhere/begin", {"/account/elsewhere"}),
        (
            "/account/elsewhere/prove?next=/account/devices",
            {"/account/prove?next=/account/devices", "/account/elsewhere/prove?next=/account/devices"},
        ),
    ],
)
def test_who_comes_back_with_nothing_is_led_on_to_what_it_was_for(client, client_of, elsewhere, begun, ways):
    browser = client if begun.startswith(GO) else client_of("learner")
    state = parse_qs(urlsplit(browser.get(begun).location).query)["state"][0]

    page = browser.get(f"{BACK}?error=access_denied&state={state}")

    assert elsewhere
    assert ways <= {*page.links()}


def test_going_there_and_back_alone_links_nothing(client_of, client, elsewhere):
    back(client_of("instructor"), elsewhere, "/account/elsewhere/begin")

    assert back(client, elsewhere).status == 403


@pytest.mark.usefixtures("linked")
def test_an_account_that_signs_in_somebody_else_is_not_linked_again(client_of, client, world, elsewhere):
    browser = client_of("instructor")
    back(browser, elsewhere, "/account/elsewhere/begin")

    page = browser.submit("/account/elsewhere/link", {"password": world.password})

    assert page.status == 409
    assert "signs in somebody else" in page.words
    back(client, elsewhere)
    assert "learner" in client.get("/account").words


@pytest.mark.usefixtures("linked")
def test_a_link_that_is_ended_signs_nobody_in(client_of, client, elsewhere):
    browser = client_of("learner")

    browser.submit("/account/elsewhere", action="/account/elsewhere/end")

    assert back(client, elsewhere).status == 403


@pytest.mark.usefixtures("linked")
def test_it_does_not_get_around_the_code_of_an_app(client, app, world, elsewhere, clock):
    app_of = set_up(app, world, clock)

    page = back(client, elsewhere, f"{GO}?next=/account")
    assert page.location == "/sign-in/code?next=/account"
    assert is_out(client)
    clock.forward(seconds=30)
    assert client.submit(page.location, {"code": app_of.at(clock.now)}).location == "/account"


def set_up(app, world, clock):
    """The learner has an app for codes."""
    person, key = world.people["learner"], app.secret_key
    with app.extensions["trainer.database"].write() as session:
        second_factor.begin(session, person, clock.now, key=key)
        shown = TOTP(second_factor.begun(session, person, clock.now, key=key).secret)
        more = {"key": key, "paper": (), "keep_token": None}
        second_factor.confirm(session, person, shown.at(clock.now), clock.now, **more)
    return shown


@pytest.mark.usefixtures("linked")
def test_it_shows_anew_who_one_is_and_only_with_the_own_account(client_of, clock, elsewhere):
    browser = client_of("learner")
    clock.forward(hours=1)
    elsewhere.now = int(clock.now.timestamp())
    page = browser.get("/account/second-factor/codes")
    prove = page.location.replace("/account/prove", "/account/elsewhere/prove")
    assert "/account/elsewhere/prove" in str(browser.get(page.location).links())

    elsewhere.claims = {"auth_time": elsewhere.now - 60}
    assert back(browser, elsewhere, prove, subject="another").status == 403
    there = browser.get(prove).location
    asked = parse_qs(urlsplit(there).query)
    assert (asked["prompt"], asked["max_age"]) == (["login"], ["0"])
    assert browser.get(elsewhere.answer(there)).location == "/account/second-factor/codes"
    assert browser.get("/account/second-factor/codes").location == "/account/second-factor"


@pytest.mark.usefixtures("linked")
@pytest.mark.parametrize("ago", [None, 3600, -3600, 10**15, "soon"])
def test_it_shows_nothing_when_one_was_signed_in_there_before(client_of, clock, elsewhere, ago):
    browser = client_of("learner")
    clock.forward(hours=1)
    elsewhere.now = int(clock.now.timestamp())
    elsewhere.claims = {"auth_time": elsewhere.now - ago if isinstance(ago, int) else ago}
    prove = browser.get("/account/second-factor/codes").location.replace("/account/prove", "/account/elsewhere/prove")

    page = back(browser, elsewhere, prove)

    assert page.status in {400, 403}
    assert "/account/prove" in browser.get("/account/second-factor/codes").location


@pytest.mark.usefixtures("linked")
def test_who_deleted_the_account_here_is_not_known_any_more(client_of, client, elsewhere):
    client_of("learner").submit("/account/delete", {"sign_in_name": "learner"})

    assert back(client, elsewhere).status == 403
