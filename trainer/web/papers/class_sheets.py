"""Papers about coming in: slips with first passwords, the sheet to join a class by, and the sheet beside the desk."""

from __future__ import annotations

from collections.abc import Sequence

from flask import url_for
from msgspec import Struct

from trainer.accounts.access import GroupRef
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import STARTS_WITH, Shared
from trainer.calc.message import Message
from trainer.groups.membership import share_words
from trainer.paper import Block, Document, Facts, Heading, Large, Prose, Slip, Slips, Words
from trainer.problems.codes import spoken_code
from trainer.text.words import say
from trainer.web.language import gettext, language
from trainer.web.papers.readable import readable_code
from trainer.web.papers.sheet import document

__all__ = ["FirstSlip", "join_paper", "slips_paper", "start_paper"]


class FirstSlip(Struct, frozen=True):
    """What a slip hands over: a name, what its person signs in with, and the password that works once."""

    display_name: str
    sign_in_name: str
    password: str


def slips_paper(group: GroupRef, slips: Sequence[FirstSlip], reader: Actor) -> Document:
    """A slip for each person, to be cut apart and handed over one by one."""
    address = url_for("account.sign_in", _external=True)
    code = readable_code(address, gettext("Code that leads to the page for signing in"))
    below = gettext("This password works once: the first sign-in asks for one of your own. Then tear this slip up.")
    rows = [
        Slip(
            one.display_name,
            (
                (gettext("Sign-in name"), one.sign_in_name),
                (gettext("First password"), one.password),
                (gettext("Address"), _short(address)),
            ),
            code,
            below,
        )
        for one in slips
    ]
    blocks = (
        Words(gettext("Cut along the lines and hand each slip to its person only."), soft=True),
        Slips(tuple(rows)),
    )
    return document(gettext("First passwords"), _place(group), blocks, reader)


def join_paper(group: GroupRef, leaders: Sequence[Message], reader: Actor) -> Document:
    """One page with the code of a class, for the wall or the projector."""
    code = group.join_code or ""
    address = url_for("joining.preview", code=code, _external=True)
    starts = STARTS_WITH[group.kind]
    shared = "\n".join(f"- {say(share_words(what), language())}" for what in starts)
    kept = "\n".join(f"- {say(share_words(what), language())}" for what in Shared if what not in starts)
    drawn = readable_code(address, gettext("Code that leads to the page for joining"), 0.5)
    blocks: list[Block] = [
        Words(
            gettext("Point the camera of a phone here, or type the address. Then choose a sign-in name and a password.")
        ),
        drawn,
        Large(spoken_code(code)),
        Facts(((gettext("Address"), url_for("joining.enter", _external=True)), (gettext("Code"), code))),
        Heading(gettext("Before you join")),
        Words(
            gettext("Those who lead it, %(leaders)s, will see:")
            % {"leaders": ", ".join(say(one, language()) for one in leaders)}
        ),
        Prose(shared),
        Words(gettext("They will not see, unless you open it:")),
        Prose(kept),
    ]
    title = gettext("Join %(group)s") % {"group": group.name}
    return document(title, group.organisation.name, blocks, reader)


def start_paper(reader: Actor) -> Document:
    """One page for who leads a class, to hang beside the desk."""
    address = url_for("teach.groups", _external=True)
    steps = "\n".join(
        f"{nth}. {step}"
        for nth, step in enumerate(
            (
                gettext("**Make the class.** Groups, then “Make a class”: all it takes is a name."),
                gettext(
                    "**Bring people in.** Print the sheet with its code, or add a list from any spreadsheet and print "
                    "slips with first passwords. Nobody needs e-mail."
                ),
                gettext(
                    "**Look at a question first.** Each question of the list opens as a sample, with its key, its steps "
                    "and every mistake that it knows by name."
                ),
                gettext(
                    "**Give work.** Choose questions, a name and a day, and one of three kinds: in the room, all "
                    "together; at home, until a date; on paper, a sheet for each."
                ),
                gettext(
                    "**Read the mistakes first.** The results begin with “9 of 24 left the shrink out” and what to say "
                    "about it; who needs you stands below. Nothing is left to correct by hand."
                ),
                gettext("**Teach that.** Then give the same questions again, with other numbers."),
            ),
            1,
        )
    )
    trouble = (
        (gettext("Password forgotten"), gettext("Open the person from the class, then “New password at the desk”.")),
        (gettext("Phone dead"), gettext("Sign in on any other one: each answer was kept when it was given.")),
        (
            gettext("A key looks wrong"),
            gettext("Whoever doubts it says so beside the verdict; you find it on your desk."),
        ),
        (gettext("Someone new"), gettext("The code on the class page, or the list once more: nobody comes in twice.")),
        (gettext("Term over"), gettext("Copy the class for the next term, then put the old one away. Records stay.")),
        (
            gettext("Just looking"),
            gettext("A sample class with invented people is one button away, and one button gone."),
        ),
    )
    blocks: tuple[Block, ...] = (
        Facts(
            ((gettext("Address"), address),), code=readable_code(address, gettext("Code that leads to your classes"))
        ),
        Heading(gettext("A first evening")),
        Prose(steps),
        Heading(gettext("When something comes up")),
        Facts(trouble),
        Heading(gettext("What you see, and what not")),
        Words(
            gettext(
                "A class shows you what its people answer in assigned work. Where somebody stands on each skill, and "
                "what was typed in practice, you see only when that person opens it. Whenever you look at a person's "
                "record, it is noted, and the person can read it."
            )
        ),
    )
    return document(gettext("Beside the desk"), gettext("For who leads a class or crew"), blocks, reader)


def _short(address: str) -> str:
    """An address as one types it."""
    return address.removeprefix("https://").removeprefix("http://")


def _place(group: GroupRef) -> str:
    return f"{group.name}, {group.organisation.name}"
