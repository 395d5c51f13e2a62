"""Joining a group with a new sign-in: the account is made with the first membership, or not at all."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.accounts.actor import actor_of_person
from trainer.accounts.passwords import SITE_PASSWORDS, Passwords
from trainer.accounts.people import create_person
from trainer.accounts.sessions import USUAL_LIFE, SignInLife, open_session
from trainer.accounts.sign_in import Refused, SignedIn
from trainer.calc.message import InputError
from trainer.groups.joining import join, join_preview

__all__ = ["Newcomer", "join_as_newcomer"]


class Newcomer(Struct, frozen=True):
    """What someone new has typed: a name to sign in with, a name for others to read, a password."""

    sign_in_name: str
    display_name: str
    password: str


def join_as_newcomer(
    session: Session,
    code: str,
    newcomer: Newcomer,
    *,
    address: str,
    device: str,
    now: datetime,
    passwords: Passwords = SITE_PASSWORDS,
    life: SignInLife = USUAL_LIFE,
) -> SignedIn | Refused:
    """
    Make a person, join the group with this code, and sign in.

    Args:
        session: A write session.
        code: As typed.
        newcomer: As typed.
        address: Where the request comes from; wrong codes are counted against it.
        device: What the browser says about itself.
        now: This moment.
        passwords: How passwords are stored.
        life: How long sign-ins last.

    Returns:
        The session of the new person; Refused when the code opens nothing, and then nobody is made.

    Raises:
        InputError: With `field` "sign_in_name", "display_name" or "new_password", when one cannot be used.
    """
    found = join_preview(session, None, code, now, address=address)
    if isinstance(found, Refused):
        return found
    person_id = _made(session, newcomer, now, passwords)
    join(session, actor_of_person(session, person_id), found.code, now)
    token, expires_at = open_session(session, person_id, device, now, life=life)
    return SignedIn(token, expires_at, person_id, must_change_password=False)


def _made(session: Session, newcomer: Newcomer, now: datetime, passwords: Passwords) -> int:
    try:
        person = create_person(
            session,
            sign_in_name=newcomer.sign_in_name,
            display_name=newcomer.display_name,
            password=newcomer.password,
            now=now,
            passwords=passwords,
        )
    except InputError as error:
        if error.field != "password":
            raise
        # One name for a new password, wherever one is asked for.
        raise error.for_field("new_password") from error
    return person.id
