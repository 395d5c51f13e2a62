"""A site's content and records with hostile words in every text that somebody writes."""

from __future__ import annotations

import shutil
import tomllib

import tomli_w
from sqlalchemy import func, update

from trainer.problems.shelf import content_root
from trainer.problems.texts import prose_of
from trainer.records.models import Base

#: Short enough for a name or a title: of people's words, and of content.
TYPED_WORDS = " <zq9 onzq=1>[z](javascript:zq())"
SHORT = " <zq8 onzq=1>[z](javascript:zq())"
#: What a text in Markdown may try.
LONG = (
    SHORT
    + """ <script>zq()</script><svg onload=zq()><foreignObject><zq9></foreignObject><use href="//zq.example/a"/></svg>
</style></title></textarea></td><img src=//zq.example/a onerror=zq()><!-- zq &lol; <iframe srcdoc="zq">

[a](data:text/html,zq) ![z](//zq.example/z.png) [b](/&#9;/zq.example) <javascript:zq()> #panic("zq") $zq$ @zq \\zq

<div onclick=zq()>

[z]: javascript:zq()

[z] *unclosed **bold `code [open](
"""
)
#: Keys with longer texts; other texts are lines.
PARAGRAPHS = {"scene", "text", "why", "say"}
#: Columns with words that people type, and of what a browser calls itself.
TYPED = {
    "organisation": ("name",),
    "person": ("display_name",),
    "job_type": ("name", "about", "supervision"),
    "key_ruling": ("reason",),
    "problem_set": ("name",),
    "registration": ("words",),
    "shoe": ("name",),
    "sign_in_session": ("device",),
    "signer": ("licence",),
    "study_group": ("name",),
    "work_process": ("title",),
    "assigned_work": ("title",),
    "class_day": ("topic",),
    "field_finding": ("note", "withdrawn_reason"),
    "job_hours": ("note", "reason"),
    "membership": ("roster_name", "roster_number"),
    "check_photo": ("shows",),
    "check_signing": ("note",),
    "check_withdrawal": ("reason",),
    "finding_photo": ("shows",),
    "work_extension": ("reason",),
    "result_mark": ("reason",),
    "answer": ("typed",),
    "key_claim": ("own_answer", "why", "reply"),
}


def spoil_content(root):
    """The content that comes with the program, spoilt, in a folder."""
    shipped = content_root()
    for folder in ("lessons", "questions"):
        shutil.copytree(shipped / folder, root / folder)
    for file in (root / "questions").rglob("*.toml"):
        # What is said of a rule of a place is a line.
        long = () if file.parent.name == "local" else PARAGRAPHS
        file.write_text(tomli_w.dumps(spoilt(tomllib.loads(file.read_text("utf-8")), long)), "utf-8")
    for file in (root / "lessons").glob("*.md"):
        _, front, body = file.read_text("utf-8").split("+++\n", 2)
        front = tomli_w.dumps(spoilt(tomllib.loads(front), PARAGRAPHS))
        file.write_text(f"+++\n{front}+++\n{body}\n\n{LONG}\n", "utf-8")


def spoilt(data, paragraphs):
    """Tables with hostile words behind every text that people read."""
    for path, text in list(prose_of(data)):
        place = data
        for step in path[:-1]:
            place = place[step]
        # A line keeps its beginning: most are bound to a few words.
        place[path[-1]] = (
            f"{text.rstrip()}{LONG}" if path[-1] in paragraphs else f"{text[:24].partition('{')[0]}{SHORT}"
        )
    return data


def spoil_records(database):
    """Hostile words behind everything that people have typed, past all readers: as if one of them had let it through."""
    with database.engine.begin() as connection:
        for name, columns in TYPED.items():
            table = Base.metadata.tables[name]
            for column in (table.columns[one] for one in columns):
                spoilt_words = func.substr(column, 1, 24) + TYPED_WORDS
                connection.execute(update(table).where(column.is_not(None)).values({column: spoilt_words}))
