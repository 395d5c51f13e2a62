"""
Short codes under which people find a problem again, and the form `FAMILY#SEED` for the shell.

A code has eight signs, none of which is mistaken for another on paper (no 0, O, 1, I); the last one is a check sign, so
that a slip of the pen or two signs swapped finds no problem instead of another one.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Sequence

from trainer.calc.message import InputError, Message

__all__ = ["ALPHABET", "LENGTH", "new_code", "read_code", "read_reference", "spoken_code"]

ALPHABET = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
LENGTH = 8
MOST_DIGITS = 18  # Of a seed: it is kept in 64 bits.


def new_code(choose: Callable[[Sequence[str]], str] = secrets.choice) -> str:
    """
    A new code: seven signs by chance (some 34 thousand million) and their check sign.

    Args:
        choose: Takes one element of a sequence; `random.Random(...).choice` where a code must come out the same again.

    >>> new_code(lambda signs: signs[0])
    '22222222'
    """
    signs = "".join(choose(ALPHABET) for _ in range(LENGTH - 1))
    return signs + _check_sign(signs)


def spoken_code(code: str) -> str:
    """
    A code in two halves, as people read it out.

    >>> spoken_code("7K3MB9QY")
    '7K3M B9QY'
    """
    return f"{code[:4]} {code[4:]}"


def read_code(typed: str) -> str:
    """
    A code as people copy it: small letters, spaces and dashes are fine.

    Raises:
        InputError: When it has other signs, another length, or its check sign does not fit.

    >>> read_code("2222 2222")
    '22222222'
    """
    code = "".join(typed[:40].upper().replace("-", " ").split())
    if len(code) != LENGTH or any(sign not in ALPHABET for sign in code):
        raise _refused(typed, "code.signs")
    if _check_sign(code[:-1]) != code[-1]:
        raise _refused(typed, "code.check-sign")
    return code


def read_reference(typed: str) -> tuple[str, int | None]:
    """
    A family and perhaps a seed: `offset-spacing#17`.

    Raises:
        InputError: When what stands behind # is no whole number from 0.

    >>> read_reference("offset-spacing#17"), read_reference("offset-spacing")
    (('offset-spacing', 17), ('offset-spacing', None))
    """
    family_id, mark, seed = typed.strip().partition("#")
    if not mark:
        return family_id, None
    if not (seed.isascii() and seed.isdigit() and len(seed) <= MOST_DIGITS):
        raise InputError(
            Message("reference.seed"), given=typed, accepted=Message("reference.accepted"), example=f"{family_id}#17"
        )
    return family_id, int(seed)


def _check_sign(signs: str) -> str:
    """Odd weights below the alphabet's length, each place its own: finds any one wrong sign and most swaps."""
    total = sum((2 * place + 1) * ALPHABET.index(sign) for place, sign in enumerate(signs))
    return ALPHABET[total % len(ALPHABET)]


def _refused(typed: str, reason: str) -> InputError:
    return InputError(Message(reason), given=typed, accepted=Message("code.accepted"), example="7K3MB9QY")
