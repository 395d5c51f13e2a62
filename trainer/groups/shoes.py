"""
The bench of a person: whether it is open, on which basis the shop reckons, and the bender shoes that it has measured.

Everybody in an organisation bends with its shoes; who has a role in the whole of it keeps them.
"""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import ColumnElement, select, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, organisation_of_staff
from trainer.accounts.actor import Actor
from trainer.calc.message import InputError, Message
from trainer.calc.shoes import DEFAULT_SHOES, Shoe
from trainer.groups.names import read_name
from trainer.records.locks import locked
from trainer.records.models import Organisation, Person, Problem, ShopShoe
from trainer.records.types import is_public_id, new_public_id

__all__ = [
    "DEFAULT_BASIS",
    "Bench",
    "KeptShoe",
    "Shop",
    "bench_of",
    "end_shoe",
    "keep_shoe",
    "newest_shoe",
    "shop_of_staff",
]

#: For who belongs to no shop and no school, as for an organisation that has chosen none.
DEFAULT_BASIS = "handbook"
LONGEST_NAME = 60
#: A back-of-bend mark that differs by less from where it should stand is where it should stand [in].
_SAME_PLACE = 1e-6


class KeptShoe(Struct, frozen=True):
    """
    A shoe that a shop has measured.

    Args:
        public_id: The shoe in addresses.
        name: How the shop tells it from its others.
        shoe: Its figures.
        measured_by: Who measured it.
        measured_at: When, in UTC.
        is_used: Whether it still is; measured again, or given away, it is not.
        shop: Public id of the organisation.
    """

    public_id: str
    name: str
    shoe: Shoe
    measured_by: str
    measured_at: datetime
    is_used: bool
    shop: str


class Shop(Struct, frozen=True):
    """An organisation as its people meet it at the bench; `may_keep`: whether this one may add and end shoes."""

    public_id: str
    name: str
    kind: str
    basis: str
    may_keep: bool


class Bench(Struct, frozen=True):
    """
    What a person finds at the bench.

    Args:
        closed: A question of a proof run is open: no help until it is answered.
        shops: The person's organisations, in the order in which he came to them.
        shoes: All of their shoes, those that are used no longer too.
    """

    closed: bool
    shops: tuple[Shop, ...]
    shoes: tuple[KeptShoe, ...]

    @property
    def basis(self) -> str:
        """The basis that the first of the person's organisations reckons on."""
        return self.shops[0].basis if self.shops else DEFAULT_BASIS

    @property
    def used(self) -> tuple[KeptShoe, ...]:
        """The shoes to choose from."""
        return tuple(shoe for shoe in self.shoes if shoe.is_used)

    def kept_shoe(self, public_id: str) -> KeptShoe | None:
        """The shoe of this name in addresses, used or not; None when it is none of the person's shops."""
        return next((shoe for shoe in self.shoes if shoe.public_id == public_id), None)


def bench_of(session: Session, actor: Actor) -> Bench:
    """What this person finds at the bench."""
    asked = select(Problem.id).where(
        Problem.person_id == actor.person_id, Problem.context == "proof", Problem.closed_at.is_(None)
    )
    shops = _shops(session, actor)
    return Bench(session.scalar(asked.limit(1)) is not None, shops, _shoes(session, [shop.public_id for shop in shops]))


def shop_of_staff(session: Session, actor: Actor, organisation_public_id: str) -> Shop:
    """
    An organisation whose shoes this person keeps.

    Raises:
        NotFoundError: When the person has no role in the whole of it.
    """
    found = organisation_of_staff(session, actor, organisation_public_id)
    return Shop(found.public_id, found.name, found.kind, found.basis, may_keep=True)


def keep_shoe(
    session: Session, actor: Actor, organisation_public_id: str, *, name: str, shoe: Shoe, now: datetime
) -> str:
    """
    Put a shoe among those of a shop; one of the same name, measured before, is used no longer.

    Args:
        session: A write session.
        actor: Who measured it.
        organisation_public_id: The shop.
        name: How it is told from the others, as typed; 1 to 60 characters.
        shoe: Its figures.
        now: This moment.

    Returns:
        Its public id.

    Raises:
        NotFoundError: When the person has no role in the whole shop.
        InputError: With `field` "name", when that cannot be used.
    """
    shop = organisation_of_staff(session, actor, organisation_public_id)
    wanted = _read_name(name)
    # Two who keep a shoe of one name at once go one after the other.
    session.execute(locked(select(Organisation).where(Organisation.id == shop.id)))
    _end(session, ShopShoe.organisation_id == shop.id, ShopShoe.name == wanted, now=now)
    row = ShopShoe(
        public_id=new_public_id(),
        organisation_id=shop.id,
        name=wanted,
        trade_size=shoe.trade_size,
        take_up=shoe.take_up,
        outside_gain=shoe.outside_gain,
        radius=shoe.radius,
        back_mark=shoe.back_mark,
        measured_by_id=actor.person_id,
        measured_at=now,
    )
    session.add(row)
    return row.public_id


def end_shoe(session: Session, actor: Actor, organisation_public_id: str, public_id: str, now: datetime) -> None:
    """
    Take a shoe out of use. Addresses with it in them still show what they showed.

    Raises:
        NotFoundError: When the shop has no such shoe in use, or the person no role in the whole shop.
    """
    shop = organisation_of_staff(session, actor, organisation_public_id)
    of_shop = ShopShoe.organisation_id == shop.id
    if not is_public_id(public_id) or not _end(session, of_shop, ShopShoe.public_id == public_id, now=now):
        raise NotFoundError


def newest_shoe(session: Session, organisation_id: int, trade_size: str) -> tuple[str, Shoe] | None:
    """Name and figures of the shoe of this size that an organisation measured last and still uses; None without one."""
    query = (
        select(ShopShoe)
        .where(ShopShoe.organisation_id == organisation_id, ShopShoe.trade_size == trade_size)
        .where(ShopShoe.ended_at.is_(None))
        .order_by(ShopShoe.measured_at.desc(), ShopShoe.id.desc())
        .limit(1)
    )
    row = session.scalar(query)
    return None if row is None else (row.name, _figures(row))


def _end(session: Session, *which: ColumnElement[bool], now: datetime) -> int:
    query = select(ShopShoe.id).where(ShopShoe.ended_at.is_(None), *which)
    found = session.scalars(locked(query)).all()
    session.execute(update(ShopShoe).where(ShopShoe.id.in_(found)).values(ended_at=now))
    return len(found)


def _read_name(text: str) -> str:
    name = read_name(text, field="name", example="3/4, yellow handle")
    if len(name) > LONGEST_NAME:
        accepted = Message("groups.name-accepted", {"longest": LONGEST_NAME})
        raise InputError(
            Message("groups.name-long"), given=name, accepted=accepted, example="3/4, yellow handle", field="name"
        )
    return name


def _shops(session: Session, actor: Actor) -> tuple[Shop, ...]:
    """Each organisation once, whatever a person is in it."""
    keeps = {one.organisation_id for one in actor.memberships if one.group_id is None}
    order = list(dict.fromkeys(one.organisation_id for one in actor.memberships))
    rows = session.scalars(select(Organisation).where(Organisation.id.in_(order))) if order else ()
    return tuple(
        Shop(row.public_id, row.name, row.kind, row.basis, may_keep=row.id in keeps)
        for row in sorted(rows, key=lambda row: order.index(row.id))
    )


def _shoes(session: Session, shops: list[str]) -> tuple[KeptShoe, ...]:
    if not shops:
        return ()
    query = (
        select(ShopShoe, Person.display_name, Organisation.public_id)
        .join(Person, Person.id == ShopShoe.measured_by_id)
        .join(Organisation, Organisation.id == ShopShoe.organisation_id)
        .where(Organisation.public_id.in_(shops))
        .order_by(ShopShoe.name, ShopShoe.id)
    )
    return tuple(_kept(*row) for row in session.execute(query))


def _kept(row: ShopShoe, measured_by: str, shop: str) -> KeptShoe:
    return KeptShoe(row.public_id, row.name, _figures(row), measured_by, row.measured_at, row.ended_at is None, shop)


def _figures(row: ShopShoe) -> Shoe:
    shoe = Shoe(row.trade_size, row.take_up, row.radius, DEFAULT_SHOES[row.trade_size].outside_diameter)
    return shoe if abs(shoe.back_mark - row.back_mark) < _SAME_PLACE else replace(shoe, own_back_mark=row.back_mark)
