"""From a sheet of paper to the same questions on a phone, by the code that is printed on it."""

from __future__ import annotations

import re

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import StringField

from trainer.accounts.access import NotFoundError
from trainer.calc.message import InputError
from trainer.groups.sheets import work_of_code
from trainer.problems.codes import read_code
from trainer.web.forms import SHOWN_AGAIN, Filled, SiteForm, refusal
from trainer.web.language import Later, gettext
from trainer.web.pages.learn.blueprint import blueprint
from trainer.web.sessions import actor
from trainer.web.transactions import reading
from trainer.web.visitors import Visitor, visitors

__all__ = ["enter_sheet", "sheet"]


class SheetForm(SiteForm):
    """The code of a sheet."""

    code = StringField(validators=[Filled(Later("Type the code that stands at the top of the sheet."))])


@blueprint.route("/sheet", methods=["GET", "POST"])
@visitors(Visitor.SIGNED_IN)
def enter_sheet() -> str | Response | tuple[str, int]:
    """Type the code of a sheet."""
    form = SheetForm()
    if form.validate_on_submit():
        # Letters and digits only: a code with a stroke in it would be another address.
        signs = re.sub(r"[\W_]", "", form.code.data)[:40]
        return redirect(url_for("learn.sheet", code=signs or "-"), 303)
    page = render_template("learn/sheet.html", form=form)
    return page, SHOWN_AGAIN if form.sentences else 200


@blueprint.get("/sheet/<code>")
@visitors(Visitor.SIGNED_IN)
def sheet(code: str) -> Response | tuple[str, int]:
    """What the printed code opens: one's own work, or for who leads the group what came of it."""
    try:
        with reading() as session:
            work, own = work_of_code(session, actor(), read_code(code))
    except InputError as error:
        return _refused(code, refusal(error), SHOWN_AGAIN)
    except NotFoundError:
        said = gettext(
            "No sheet of yours has this code. It opens for the person whose name is on the sheet, as long as the work is "
            "given. Are you signed in as yourself?"
        )
        return _refused(code, said, 404)
    where = url_for("learn.work_one", work_id=work) if own else url_for("teach.results", work_id=work)
    return redirect(where, 303)


def _refused(code: str, said: str, status: int) -> tuple[str, int]:
    form = SheetForm(formdata=None, data={"code": code[:40]})
    form.refuse("code", said)
    return render_template("learn/sheet.html", form=form), status
