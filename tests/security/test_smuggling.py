"""Messages that nginx and the app server could take apart in two ways, given to the server's reader with our options."""

from __future__ import annotations

import pytest
from gunicorn.config import Config
from gunicorn.http.errors import NoMoreData, ParseException
from gunicorn.http.parser import RequestParser

from trainer.cli.serving import OPTIONS

#: A second message in the body of the first, as somebody would smuggle it.
HIDDEN = "GET /site HTTP/1.1\r\nHost: a\r\n\r\n"


@pytest.fixture(scope="module")
def options():
    config = Config()
    for name, value in OPTIONS.items():
        config.set(name, value)
    return config


def messages(options, text):
    """Method, path and body of all messages in what a connection sent."""
    read = RequestParser(options, iter([text.encode("latin-1")]), ("127.0.0.1", 1))
    return [(one.method, one.path, one.body.read()) for one in read]


def sent(*headers, body="", line="POST /sign-in HTTP/1.1"):
    return "\r\n".join([line, "Host: a", *headers, "", body])


def test_a_message_that_ends_in_one_place_is_read_whole(options):
    told = sent("Content-Length: 4", body="a=1&") + sent("Transfer-Encoding: chunked", body="3\r\nb=2\r\n0\r\n\r\n")

    assert messages(options, told) == [("POST", "/sign-in", b"a=1&"), ("POST", "/sign-in", b"b=2")]


@pytest.mark.parametrize(
    "text",
    [
        sent("Content-Length: 5", "Transfer-Encoding: chunked", body="0\r\n\r\n" + HIDDEN),
        sent("Transfer-Encoding: chunked", f"Content-Length: {5 + len(HIDDEN)}", body="0\r\n\r\n" + HIDDEN),
        sent("Content-Length: 0", f"Content-Length: {len(HIDDEN)}", body=HIDDEN),
        sent(f"Content-Length: 0, {len(HIDDEN)}", body=HIDDEN),
        sent(f"Content-Length: +{len(HIDDEN)}", body=HIDDEN),
        sent("Content-Length: 0x1f", body=HIDDEN),
        sent("Content-Length: -1", body=HIDDEN),
        sent("Content-Length : 5", body="12345" + HIDDEN),
        sent("Transfer-Encoding : chunked", body="0\r\n\r\n" + HIDDEN),
        sent("Transfer-Encoding: xchunked", body="0\r\n\r\n" + HIDDEN),
        sent("Transfer-Encoding: chunked", "Transfer-Encoding: chunked", body="0\r\n\r\n" + HIDDEN),
        sent("Transfer-Encoding: chunked, identity", body="0\r\n\r\n" + HIDDEN),
        sent("Transfer-Encoding:\x0bchunked", body="0\r\n\r\n" + HIDDEN),
        sent(" Content-Length: 5", body="12345" + HIDDEN),
        sent("X: a\nContent-Length: 5", body="12345" + HIDDEN),
        sent("Transfer-Encoding: chunked", body="0x3\r\nb=2\r\n0\r\n\r\n"),
        sent("Transfer-Encoding: chunked", body="3\r\nb=2and more\r\n0\r\n\r\n"),
        sent("Transfer-Encoding: chunked", body="0\r\n\r\n", line="POST /sign-in HTTP/1.0"),
    ],
)
def test_a_message_that_could_end_in_two_places_is_refused(options, text):
    with pytest.raises((ParseException, OSError)) as caught:
        messages(options, text)

    assert not isinstance(caught.value, NoMoreData), "it would have read on, had more been sent"
