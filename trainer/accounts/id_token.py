"""
What another site says of who came back: an ID token (OpenID Connect Core 1.0, section 2), held against section 3.1.3.7.

Issuer, audience, time, nonce and signature have to be right, and what it says of the access token, too.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from msgspec import Struct

from trainer.calc.message import Message

__all__ = ["Identity", "OpenIdError", "ProviderSettings", "UnknownKeyError", "identity_in"]

ALGORITHMS = ["RS256", "RS384", "RS512", "PS256", "PS384", "PS512", "ES256", "ES384", "ES512", "EdDSA"]
"""Signatures with a key pair only: what anybody could make, unsigned or with a secret that two know, is left out."""

CLOCKS_APART = timedelta(minutes=1)
LONGEST = 255


class ProviderSettings(Struct, frozen=True):
    """
    What a site is told about the other.

    Args:
        issuer: Its name, which is an https address.
        client: What this site is called there.
        secret: By which this site is known there.
        label: What people call it: "your school account".
        takes_newcomers: Whether somebody whom nobody here knows gets an account.
    """

    issuer: str
    client: str
    secret: str
    label: str
    takes_newcomers: bool = False


class Identity(Struct, frozen=True):
    """
    Whom the other site names.

    Args:
        issuer: The other site.
        subject: Who it is there.
        name: As the other site has it, or ""; never a proof of anything.
        user_name: As above.
        signed_in_at: When the person signed in there; None where it does not say.
    """

    issuer: str
    subject: str
    name: str = ""
    user_name: str = ""
    signed_in_at: datetime | None = None


class OpenIdError(RuntimeError):
    """
    The other site does not answer, or its answer cannot be believed.

    Attributes:
        reason: What to say to the person.
        detail: What to write into the log; holds no secret and no name.
    """

    def __init__(self, reason: str, detail: str) -> None:
        super().__init__(detail)
        self.reason = Message(f"accounts.outside-{reason}")
        self.detail = detail


class UnknownKeyError(RuntimeError):
    """None of the keys that are known has signed this."""


def identity_in(token: Mapping[str, Any], keys: Any, settings: ProviderSettings, nonce: str, now: datetime) -> Identity:
    """
    Whom the answer of a token endpoint names.

    Args:
        token: The answer, with an ID token in it.
        keys: Keys of the other site, as it gives them out (RFC 7517).
        settings: What this site is told about the other.
        nonce: What was sent along when the trip began.
        now: This moment.

    Raises:
        UnknownKeyError: When none of these keys has signed it.
        OpenIdError: When it cannot be believed.
    """
    from authlib.oidc.core import CodeIDToken  # noqa: PLC0415 - of the extra `oidc`
    from joserfc import jwt  # noqa: PLC0415 - of the extra `oidc`
    from joserfc.errors import BadSignatureError, InvalidKeyIdError, JoseError  # noqa: PLC0415 - as above
    from joserfc.jwk import KeySet  # noqa: PLC0415 - as above
    from joserfc.jws import JWSRegistry  # noqa: PLC0415 - as above

    wanted = {
        "iss": {"essential": True, "value": settings.issuer},
        "aud": {"essential": True, "value": settings.client},
        "sub": {"essential": True},
    }
    proof = {"nonce": nonce, "client_id": settings.client, "access_token": token.get("access_token")}
    try:
        registry = JWSRegistry(algorithms=ALGORITHMS, strict_check_header=False)
        read = jwt.decode(token["id_token"], key=KeySet.import_key_set(keys), registry=registry)
        claims = CodeIDToken(read.claims, read.header, wanted, proof)
        claims.validate(now=int(now.timestamp()), leeway=int(CLOCKS_APART.total_seconds()))
    except (InvalidKeyIdError, BadSignatureError) as error:
        raise UnknownKeyError(type(error).__name__) from error
    except (JoseError, ValueError, TypeError, KeyError) as error:
        raise OpenIdError("unbelievable", f"ID token: {type(error).__name__}") from error
    subject = claims["sub"]
    if not isinstance(subject, str) or not 1 <= len(subject) <= LONGEST:
        raise OpenIdError("unbelievable", "ID token: subject")
    names = _text(claims.get("name")), _text(claims.get("preferred_username"))
    return Identity(settings.issuer, subject, *names, _moment(claims.get("auth_time")))


def _moment(seconds: object) -> datetime | None:
    """A moment as an ID token has it, in seconds since 1970."""
    try:
        return datetime.fromtimestamp(seconds, UTC) if isinstance(seconds, int | float) else None
    except (OverflowError, ValueError, OSError):
        return None


def _text(value: object) -> str:
    return value.strip()[:LONGEST] if isinstance(value, str) else ""
