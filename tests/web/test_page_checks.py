"""The checks that every page goes through: each finds what it is for."""

from __future__ import annotations

import pytest

GOOD = """<!DOCTYPE html><html lang="en"><head><title>Heading · Tubing Trainer</title></head>
<body><main id="main"><h1>Heading</h1>{}</main></body></html>"""


def test_a_good_page_has_no_faults(page_checks):
    form = (
        '<form method="post" action="/x"><input type="hidden" name="csrf_token" value="t">'
        '<label for="a">A</label><input id="a" name="a" aria-describedby="h"><p id="h">Hint</p>'
        "<button>Send</button></form><h2>Next</h2><a href='#main'>Up</a>"
    )

    assert page_checks.faults(GOOD.format(form)) == []


@pytest.mark.parametrize(
    ("inside", "fault"),
    [
        ("<h1>Another</h1>", "2 first headings"),
        ('<p id="main">x</p>', "id 'main' stands 2 times"),
        ('<label for="gone">x</label>', "points to id 'gone'"),
        ('<a href="#gone">x</a>', "points to id 'gone'"),
        ('<input name="a">', "<input name='a'> has no label"),
        ('<select name="b"></select>', "<select name='b'> has no label"),
        ("<form method='get'><button>x</button></form>", "lacks action or method"),
        ("<form method='post' action='/x'><button>x</button></form>", "has 0 tokens"),
        ('<p style="color:red">x</p>', "inline style or script"),
        ("<script>1</script>", "inline style or script"),
        ('<p onclick="x()">x</p>', "inline style or script"),
        ('<a href="/x"></a>', "says nothing"),
        ("<h3>Deep</h3>", "h1 is followed by h3"),
    ],
)
def test_a_fault_is_found(page_checks, inside, fault):
    assert any(fault in found for found in page_checks.faults(GOOD.format(inside)))


@pytest.mark.parametrize(
    ("good", "bad", "fault"),
    [
        ("<title>Heading · Tubing Trainer", "<title>Other · Tubing Trainer", "is not heading"),
        (' lang="en"', "", "no language"),
        ("<main id", "<main></main><main id", "not one main part"),
    ],
)
def test_a_fault_of_the_frame_is_found(page_checks, good, bad, fault):
    assert any(fault in found for found in page_checks.faults(GOOD.format("").replace(good, bad)))


@pytest.mark.parametrize("inside", ["<p><div>x</div></p>", "<b>x", "<table><p>x</p></table>", '<p id="a" id="b">x</p>'])
def test_invalid_html_is_found(page_checks, inside):
    with pytest.raises(pytest.fail.Exception, match="no valid HTML"):
        page_checks.parsed(GOOD.format(inside), "sample")


def test_too_many_queries_are_found(page_checks):
    with pytest.raises(AssertionError, match="sent 17 queries, above 16"):
        page_checks.check_queries("GET", "/x", ["SELECT 1"] * 17)


def test_a_get_that_writes_is_found(page_checks):
    with pytest.raises(AssertionError, match="GET /x wrote"):
        page_checks.check_queries("GET", "/x", ["UPDATE person SET display_name = ?"])


def test_a_get_may_note_that_a_browser_was_used(page_checks):
    page_checks.check_queries("GET", "/x", ["UPDATE sign_in_session SET last_seen_at = ?"])
