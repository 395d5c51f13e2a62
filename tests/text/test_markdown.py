"""Markdown to clean HTML."""

from __future__ import annotations

import pytest

from trainer.text.markdown import inline_html, to_html


def test_paragraphs_emphasis_and_lists_come_through():
    html = to_html("Cut *square*.\n\n1. Ream **inside**.\n2. Dress the outside.\n")

    assert html == (
        "<p>Cut <em>square</em>.</p>\n<ol>\n<li>Ream <strong>inside</strong>.</li>\n<li>Dress the outside.</li>\n</ol>"
    )


@pytest.mark.parametrize(("marks", "tag"), [("#", "h3"), ("##", "h3"), ("###", "h3"), ("####", "h4"), ("######", "h4")])
def test_headings_have_the_two_ranks_that_pages_leave_to_prose(marks, tag):
    assert to_html(f"{marks} Reaming") == f"<{tag}>Reaming</{tag}>"


def test_a_conductor_size_at_the_head_of_a_line_is_no_heading():
    assert to_html("three\n#12 THHN") == "<p>three\n#12 THHN</p>"


def test_a_table_says_its_alignment_by_class_and_not_by_style():
    html = to_html("| size | take-up | x |\n|---|---:|:-:|\n| 1/2 | 5 in | y |\n")

    assert '<td class="number">5 in</td>' in html
    assert '<th class="middle">x</th>' in html
    assert "style" not in html
    assert "align" not in html


@pytest.mark.parametrize(
    "hostile",
    [
        "<script>alert(1)</script>",
        '<img src=x onerror="alert(1)">',
        "<style>body{}</style>",
        "<svg onload=alert(1)>",
        "<div>\n<b>raw</b>\n</div>",
        "![picture](https://example.org/x.png)",
        "![picture][one]\n\n[one]: https://example.org/x.png",
        "a <span class='x'>b</span>",
    ],
)
def test_raw_tags_and_images_become_text_or_nothing(hostile):
    html = to_html(hostile)

    for tag in ("<script", "<img", "<style", "<svg", "<div", "<b>", "<span"):
        assert tag not in html


@pytest.mark.parametrize(
    "target",
    [
        *("javascript:alert(1)", "data:text/html,x", "//example.org", "http://example.org", "/\\example.org"),
        # A browser leaves out tabs and ends of lines in an address, and controls before it.
        *(
            "/&#9;/example.org",
            "&#x2f;&#10;/example.org",
            "/&#13;\\example.org",
            "&#1;//example.org",
            "&#9;//example.org",
        ),
        *("java&#9;script:alert(1)", "JaVaScRiPt&colon;alert(1)", "&#1;javascript:alert(1)", "vbscript:x", "blob:x"),
    ],
)
def test_a_link_that_leads_elsewhere_without_saying_https_loses_its_target(target):
    assert "href" not in to_html(f"[here]({target})")


@pytest.mark.parametrize("target", ["/lessons/offset-bends", "https://example.org/a"])
def test_a_link_inside_or_by_https_stays(target):
    assert f'href="{target}"' in to_html(f"[here]({target})")


def test_one_line_stands_without_its_paragraph():
    assert inline_html("a *set-screw* connector") == "a <em>set-screw</em> connector"


def test_several_paragraphs_keep_theirs():
    assert inline_html("one\n\ntwo") == "<p>one</p>\n<p>two</p>"


def test_no_heading_list_or_table_is_taken_for_a_line():
    assert inline_html("- one") == "<ul>\n<li>one</li>\n</ul>"


def test_signs_that_nobody_sees_do_not_come_through():
    assert to_html("bend\x07 **up**\u202e now\u2066") == "<p>bend <strong>up</strong> now</p>"
