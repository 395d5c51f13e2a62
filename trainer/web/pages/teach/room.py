"""Work in the room: opening and ending it, what comes in, and the same for the wall, without names."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from trainer.groups.looks import note_looks
from trainer.groups.results import LOOKED
from trainer.groups.room import Room, end_room, open_room
from trainer.groups.room import room as room_of
from trainer.web.content import library
from trainer.web.kinds import rule_of
from trainer.web.language import gettext
from trainer.web.pages.teach.blueprint import LEADERS, blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import now, reading, writing
from trainer.web.visitors import visitors

__all__ = ["room", "room_end", "room_open", "wall"]


@blueprint.get("/given/<room_id>/room")
@visitors(*LEADERS)
def room(room_id: str) -> str:
    """The leader's own screen. It is read again every few seconds, so the look at names is written down only when due."""
    with reading() as session:
        found = room_of(session, library(), actor(), room_id, now())
    if found.look_is_due:
        with writing() as session:
            note_looks(session, actor(), found.work.group.id, found.learners, what=LOOKED, now=now())
    return _page("teach/room.html", found)


@blueprint.get("/given/<room_id>/wall")
@visitors(*LEADERS)
def wall(room_id: str) -> str:
    """What may stand on the wall: how many, and no names."""
    with reading() as session:
        found = room_of(session, library(), actor(), room_id, now())
    return _page("teach/wall.html", found)


@blueprint.post("/given/<room_id>/room/open")
@visitors(*LEADERS)
def room_open(room_id: str) -> Response:
    """Everybody may begin."""
    with writing() as session:
        open_room(session, actor(), room_id, now())
    flash(gettext("It is open. It stands first on everybody’s page of the day."), "done")
    return redirect(url_for("teach.room", room_id=room_id), 303)


@blueprint.post("/given/<room_id>/room/end")
@visitors(*LEADERS)
def room_end(room_id: str) -> Response:
    """Nothing counts any more, and everybody sees the steps."""
    with writing() as session:
        end_room(session, actor(), room_id, now())
    flash(gettext("It is ended. Everybody sees the steps now; what is answered from here on is practice."), "done")
    return redirect(url_for("teach.room", room_id=room_id), 303)


def _page(template: str, found: Room) -> str:
    return render_template(
        template, room=found, group=found.work.group, rule=rule_of("room"), lessons=library().lessons
    )
