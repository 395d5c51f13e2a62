"""
Codes that prove who somebody is: those an app shows (RFC 6238: six digits, a new one every thirty seconds) and those on
paper that stand in for the app once.

What a thief of the database has: a salt for each person, from which the app's secret cannot be worked out without the
site's key, and the codes on paper hashed like passwords. With the key as well (the instance folder of a site that keeps
its key there) he can work out the codes of the app, though no password.
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets
from base64 import b32encode
from datetime import datetime

from msgspec import Struct

from trainer.accounts.passwords import UNAMBIGUOUS, Check, Passwords

__all__ = [
    "PaperCode",
    "app_address",
    "app_secret",
    "grouped",
    "is_paper_code",
    "key_mark",
    "new_paper_codes",
    "new_salt",
    "step_of",
    "written",
]

SECRET_BYTES = 20
"""As long as RFC 4226, section 4, recommends: 160 bits."""

NEAR_STEPS = (0, -1, 1)
"""A phone's clock may be thirty seconds off: RFC 6238, section 5.2, asks for no more than one step."""

PAPER_CODES = 10
SIGNS, GROUP = 16, 4


class PaperCode(Struct, frozen=True):
    """
    A code on paper as it is kept.

    Args:
        tag: Its first signs, by which it is found.
        code_hash: Of all its signs, as passwords are stored.
    """

    tag: str
    code_hash: str


def new_salt() -> str:
    """What the next secret is worked out from; drawn anew each time that somebody sets an app up."""
    return secrets.token_urlsafe(32)


def app_secret(key: str, salt: str) -> str:
    """The secret that the app and the site share, in base 32 as apps take it: from the site's key and a salt."""
    return b32encode(_keyed(key, "second factor", salt)[:SECRET_BYTES]).decode()


def key_mark(key: str, salt: str) -> str:
    """By which to tell that the site's key is the one of the set-up still; says nothing about key or secret."""
    return _keyed(key, "mark of second factor", salt).hex()[:16]


def _keyed(key: str, purpose: str, salt: str) -> bytes:
    return hmac.digest(key.encode(), f"trainer {purpose}\n{salt}".encode(), hashlib.sha256)


def app_address(secret: str, sign_in_name: str, site: str) -> str:
    """The secret as an address that an app reads from a picture."""
    from pyotp import TOTP  # noqa: PLC0415 - few people use codes, and every start would wait for it

    return TOTP(secret).provisioning_uri(name=sign_in_name, issuer_name=site)


def step_of(secret: str, typed: str, now: datetime, *, after: int | None) -> int | None:
    """
    Which thirty seconds, counted from 1970, a typed code belongs to.

    Args:
        secret: As `app_secret` gives it.
        typed: Six digits, with spaces between them or not.
        now: This moment.
        after: The step of the last code that was taken: that one and those before it count no more.

    Returns:
        The step; None for a code that is wrong, too old or taken already.
    """
    from pyotp import TOTP  # noqa: PLC0415 - as above

    code = "".join(typed[:LONGEST_TYPED].split())
    if not (code.isascii() and code.isdigit() and len(code) == 6):
        return None
    app = TOTP(secret)
    steps = [app.timecode(now) + near for near in NEAR_STEPS]
    # All are worked out and compared, whichever fits: the time taken tells nothing.
    right = [step for step in steps if hmac.compare_digest(app.generate_otp(step), code)]
    return next((step for step in right if after is None or step > after), None)


LONGEST_TYPED = 100


def new_paper_codes(passwords: Passwords) -> tuple[tuple[str, ...], tuple[PaperCode, ...]]:
    """Ten codes as they are shown this once, and as they are kept."""
    drawn: dict[str, str] = {}
    while len(drawn) < PAPER_CODES:
        code = "".join(secrets.choice(UNAMBIGUOUS) for _ in range(SIGNS))
        drawn[code[:GROUP]] = code
    shown = tuple(grouped(code, "-") for code in drawn.values())
    return shown, tuple(PaperCode(tag, passwords.store(code)) for tag, code in drawn.items())


def written(typed: str) -> str | None:
    """
    A code on paper in its one spelling; None for what cannot be one.

    >>> written("K7QM-2w9p abcd-efgh"), written("123 456")
    ('k7qm2w9pabcdefgh', None)
    """
    signs = re.sub(r"[\W_]", "", typed[:LONGEST_TYPED]).casefold()
    return signs if len(signs) == SIGNS and set(signs) <= set(UNAMBIGUOUS) else None


def is_paper_code(kept: str | None, code: str, passwords: Passwords) -> bool:
    """Whether a code in its one spelling is the one kept; takes as long when none is."""
    return passwords.check(kept, code) is not Check.WRONG


def grouped(text: str, between: str = " ") -> str:
    """
    Signs in fours, to be read out or typed.

    >>> grouped("JBSWY3DPEH")
    'JBSW Y3DP EH'
    """
    return between.join(text[start : start + GROUP] for start in range(0, len(text), GROUP))
