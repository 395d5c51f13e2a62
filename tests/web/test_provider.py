"""What the settings say of another site whose accounts sign in here."""

from __future__ import annotations

import pytest
from flask import Flask

from trainer.config import Settings, SettingsError
from trainer.web.provider import know_provider


@pytest.fixture
def told(tmp_path):
    """Ties what the settings say to an application of its own; what is left out is right."""
    (tmp_path / "secret").write_text("known to two\n")

    def tie(**more):
        elsewhere = {
            "oidc_issuer": "https://sign-in.school.example",
            "oidc_client": "trainer",
            "oidc_secret_file": tmp_path / "secret",
        }
        app = Flask("sample", static_folder=None)
        know_provider(app, Settings(instance=tmp_path, database="sqlite://", **elsewhere | more))
        return app.extensions["trainer.provider"]

    return tie


def test_told_of_it_the_site_knows_it_and_asks_it_nothing_yet(told):
    found = told(oidc_label="your school account").settings

    assert (found.issuer, found.client, found.secret) == ("https://sign-in.school.example", "trainer", "known to two")
    assert not found.takes_newcomers


def test_it_is_off_where_nothing_is_told(told):
    assert told(oidc_issuer=None, oidc_client=None, oidc_secret_file=None) is None


@pytest.mark.parametrize(
    ("left_out", "name"),
    [
        ("oidc_issuer", "TRAINER_OIDC_ISSUER"),
        ("oidc_client", "TRAINER_OIDC_CLIENT"),
        ("oidc_secret_file", "TRAINER_OIDC_SECRET_FILE"),
    ],
)
def test_a_part_of_it_is_refused_with_what_is_missing(told, left_out, name):
    with pytest.raises(SettingsError, match="make sense together only") as caught:
        told(**{left_out: None})

    assert caught.value.name == name


@pytest.mark.parametrize(
    ("sent", "says"), [(None, "cannot be read"), (b" \n", "is empty"), (b"\xff", "cannot be read")]
)
def test_a_secret_that_cannot_be_used_is_told_with_its_file(told, tmp_path, sent, says):
    file = tmp_path / "other"
    if sent is not None:
        file.write_bytes(sent)

    with pytest.raises(SettingsError, match=f"{file} {says}"):
        told(oidc_secret_file=file)
