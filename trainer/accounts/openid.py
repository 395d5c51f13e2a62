"""
Signing in with an account at another site: OpenID Connect Core 1.0, the code flow with PKCE (RFC 7636), state and nonce.

Of the site only the issuer is believed, whom its settings name: its metadata (OpenID Connect Discovery 1.0) is fetched
from there, and its keys from the address that the metadata names. When an ID token counts, `trainer.accounts.id_token`
says. Whoever it names is known by issuer and subject: a mail address says nothing, since others may come to have it.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any
from urllib.parse import urlsplit

from msgspec import Struct

from trainer.accounts.id_token import Identity, OpenIdError, ProviderSettings, UnknownKeyError, identity_in

__all__ = ["Identity", "OpenIdError", "Provider", "ProviderSettings", "Trip", "is_safe_address"]

PATIENCE = 5.0
"""How long the other site may take to connect, and then between two pieces of its answer [s]."""

METADATA_KEPT = timedelta(hours=1)
LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})


class Trip(Struct, frozen=True):
    """
    A way to the other site and back.

    Args:
        address: Where the browser goes.
        state: Comes back with it, and ties what comes back to this browser.
        nonce: Comes back inside the ID token, and ties that to this trip.
        verifier: Shows that whoever brings the code back has asked for it.
    """

    address: str
    state: str
    nonce: str
    verifier: str


class Provider:
    """
    The other site, as one process knows it; metadata and keys are kept for an hour.

    Args:
        settings: What this site is told about it.
    """

    def __init__(self, settings: ProviderSettings) -> None:
        self.settings = settings
        self._metadata: dict[str, Any] = {}
        self._keys: Any = None
        self._fetched_at: datetime | None = None

    def set_out(self, back: str, now: datetime, *, anew: bool = False) -> Trip:
        """
        Begin a trip.

        Args:
            back: Address of this site that takes the answer.
            now: This moment.
            anew: Whether the person has to sign in there, also where that was done already.

        Raises:
            OpenIdError: When the other site does not answer.
        """
        self._learn(now)
        trip = Trip("", secrets.token_urlsafe(32), secrets.token_urlsafe(32), secrets.token_urlsafe(48))
        # Asked for by an age, the moment of signing in has to stand in the token: a prompt may be passed over.
        more = {"prompt": "login", "max_age": "0"} if anew else {}
        with self._client(back) as client:
            address, _ = client.create_authorization_url(
                self._metadata["authorization_endpoint"],
                state=trip.state,
                nonce=trip.nonce,
                code_verifier=trip.verifier,
                **more,
            )
        return Trip(address, trip.state, trip.nonce, trip.verifier)

    def come_back(self, code: str, back: str, trip: Trip, now: datetime) -> Identity:
        """
        Who came back from a trip with this code.

        Raises:
            OpenIdError: When the other site does not answer, refuses the code, or what it answers cannot be believed.
        """
        self._learn(now)
        token = self._token(code, back, trip.verifier)
        try:
            return identity_in(token, self._keys, self.settings, trip.nonce, now)
        except UnknownKeyError:
            # Keys change. Fetched once more, and only once.
            self._fetched_at = None
            self._learn(now)
            try:
                return identity_in(token, self._keys, self.settings, trip.nonce, now)
            except UnknownKeyError as error:
                raise OpenIdError("unbelievable", f"ID token: {error}") from error

    def _client(self, back: str) -> Any:
        from authlib.integrations.requests_client import OAuth2Session  # noqa: PLC0415 - of the extra `oidc`

        return OAuth2Session(
            client_id=self.settings.client,
            client_secret=self.settings.secret,
            scope="openid profile",
            redirect_uri=back,
            code_challenge_method="S256",
            default_timeout=PATIENCE,
        )

    def _token(self, code: str, back: str, verifier: str) -> Mapping[str, Any]:
        from authlib.integrations.base_client.errors import OAuthError  # noqa: PLC0415 - of the extra `oidc`
        from requests import RequestException  # noqa: PLC0415 - of the extra `oidc`

        try:
            with self._client(back) as client:
                token = client.fetch_token(
                    self._metadata["token_endpoint"],
                    grant_type="authorization_code",
                    code=code,
                    redirect_uri=back,
                    code_verifier=verifier,
                    allow_redirects=False,
                )
        except OAuthError as error:
            raise OpenIdError("refused", f"token endpoint: {error.error}") from error
        except (RequestException, ValueError) as error:
            raise OpenIdError("down", f"token endpoint: {type(error).__name__}") from error
        if not isinstance(token, Mapping) or not isinstance(token.get("id_token"), str):
            raise OpenIdError("unbelievable", "token endpoint: no ID token")
        return token

    def _learn(self, now: datetime) -> None:
        """Fetch metadata and keys where they are not known, or have been for an hour."""
        if self._fetched_at is not None and timedelta(0) <= now - self._fetched_at < METADATA_KEPT:
            return
        metadata = self._fetch(f"{self.settings.issuer.rstrip('/')}/.well-known/openid-configuration")
        if metadata.get("issuer") != self.settings.issuer:
            raise OpenIdError("unbelievable", "metadata: another issuer")
        for name in ("authorization_endpoint", "token_endpoint", "jwks_uri"):
            if not is_safe_address(metadata.get(name)):
                raise OpenIdError("unbelievable", f"metadata: {name}")
        self._keys = self._fetch(metadata["jwks_uri"])
        self._metadata, self._fetched_at = metadata, now

    def _fetch(self, address: str) -> dict[str, Any]:
        import requests  # noqa: PLC0415 - of the extra `oidc`

        try:
            asked = {"Accept": "application/json"}
            answer = requests.get(address, timeout=PATIENCE, headers=asked, allow_redirects=False)
            answer.raise_for_status()
            found = answer.json()
        except (requests.RequestException, ValueError) as error:
            raise OpenIdError("down", f"{urlsplit(address).path}: {type(error).__name__}") from error
        if not isinstance(found, dict):
            raise OpenIdError("unbelievable", f"{urlsplit(address).path}: no object")
        return found


def is_safe_address(address: object) -> bool:
    """
    Whether an address is https, or on this machine.

    >>> is_safe_address("https://sign-in.example.org/token"), is_safe_address("http://127.0.0.1:9000/keys")
    (True, True)
    >>> is_safe_address("http://sign-in.example.org"), is_safe_address("javascript:0"), is_safe_address(None)
    (False, False, False)
    """
    if not isinstance(address, str):
        return False
    try:
        parts = urlsplit(address)
        return bool(parts.hostname) and (
            parts.scheme == "https" or (parts.scheme == "http" and parts.hostname in LOOPBACK)
        )
    except ValueError:
        return False
