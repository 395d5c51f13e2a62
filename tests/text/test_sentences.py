"""
Every message that the program can say has its sentence, with the placeholders that are filled; no sentence is spare.

The program's source is read, not run: `Message("id", {...})`, the refusals of the readers, and the notes of the steps.
"""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import pytest

from trainer.text import formats, sentences
from trainer.text.sentences import SentenceError, english, placeholders, read_sentences

ROOT = Path(sentences.__file__).resolve().parents[1]
SENTENCE_ID = re.compile(r"[a-z0-9_]+(\.[a-z0-9_-]+)+")
#: Methods that take the parameters of a sentence as keywords.
BY_KEYWORD = {"because", "note"}


def sources():
    for path in sorted(ROOT.rglob("*.py")):
        if "migrations" not in path.parts:
            yield path, ast.parse(path.read_text("utf-8"))


def called(call):
    return call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")


def literal(node):
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def alternatives(node):
    """The literal ids that an argument may be: `"a.b"`, or `"a.b" if condition else "a.c"`."""
    if isinstance(node, ast.IfExp):
        return [*alternatives(node.body), *alternatives(node.orelse)]
    return [literal(node)] if literal(node) else []


def messages():
    """Where a sentence is called by a literal id: place, id, names of its parameters (None when they are not literal)."""
    for path, tree in sources():
        for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
            place = f"{path.relative_to(ROOT)}:{call.lineno}"
            if called(call) == "Message" and call.args:
                params = call.args[1] if len(call.args) > 1 else None
                for sentence_id in alternatives(call.args[0]):
                    yield place, sentence_id, dict_keys(params)
            elif called(call) in BY_KEYWORD and call.args:
                for sentence_id in alternatives(call.args[-1]):
                    if SENTENCE_ID.fullmatch(sentence_id):
                        yield place, sentence_id, keyword_names(call)


def dict_keys(node):
    if node is None:
        return frozenset()
    if not isinstance(node, ast.Dict) or not all(key is not None and literal(key) for key in node.keys):
        return None
    return frozenset(literal(key) for key in node.keys)


def keyword_names(call):
    return None if any(word.arg is None for word in call.keywords) else frozenset(word.arg for word in call.keywords)


@pytest.fixture(scope="module")
def said():
    found = list(messages())
    assert len(found) > 60
    return found


def test_every_message_has_a_sentence(said):
    assert [(place, sentence_id) for place, sentence_id, _ in said if sentence_id not in english()] == []


def test_every_placeholder_of_a_sentence_is_filled_by_its_message(said):
    lacking = [
        (place, sentence_id, sorted(placeholders(english()[sentence_id]) - params))
        for place, sentence_id, params in said
        if params is not None and sentence_id in english() and placeholders(english()[sentence_id]) - params
    ]
    assert lacking == []


def written_in_the_program():
    """Every text that stands in the source, and a pattern for each f-string that could make an id or a part of one."""
    texts, patterns = set(), set()
    for _, tree in sources():
        for node in ast.walk(tree):
            if literal(node):
                texts.add(literal(node))
            elif isinstance(node, ast.JoinedStr):
                patterns.add("".join(map(part_of_pattern, node.values)))
    return texts, [re.compile(pattern) for pattern in patterns if re.match(r"[a-z_]{3,}(\\\.|\\-)", pattern)]


def part_of_pattern(part):
    """A literal part as it stands; a hole as a group, or as the texts that stand in its condition."""
    if literal(part):
        return re.escape(literal(part))
    if isinstance(part.value, ast.IfExp):
        either, other = literal(part.value.body), literal(part.value.orelse)
        if either is not None and other is not None:
            return f"(?:{re.escape(either)}|{re.escape(other)})"
    return "([a-z0-9_.-]+?)"


def is_said(sentence_id, texts, patterns):
    """Written out, or made by an f-string whose holes take a word, or something that is itself written or made so."""
    if sentence_id in texts:
        return True
    matches = filter(None, (pattern.fullmatch(sentence_id) for pattern in patterns))
    return any(
        all("." not in hole or is_said(hole, texts, patterns) for hole in match.groups()) for match in matches if match
    )


def test_no_sentence_is_spare():
    texts, patterns = written_in_the_program()

    assert [sentence_id for sentence_id in english() if not is_said(sentence_id, texts, patterns)] == []


def test_a_sentence_that_nobody_says_would_be_found():
    texts, patterns = written_in_the_program()

    assert not is_said("length.never-said", texts, patterns)
    assert not is_said("audit.never.said", texts, patterns)
    assert is_said("fitting.why.set-screw", texts, patterns)


def test_a_counted_noun_has_two_forms_and_is_a_unit():
    nouns = {sentence_id.split(".")[1] for sentence_id in english() if sentence_id.startswith("unit.")}

    assert nouns == formats.COUNTED


def test_a_sentence_holds_braces_only_around_names():
    assert [
        one
        for one, text in english().items()
        if re.sub(sentences.PLACEHOLDER, "", text).strip("{}") != re.sub(sentences.PLACEHOLDER, "", text)
    ] == []
    assert [one for one, text in english().items() if "{" in re.sub(sentences.PLACEHOLDER, "", text)] == []


def test_a_sentence_is_one_line_without_loose_spaces():
    assert [one for one, text in english().items() if text != " ".join(text.split())] == []


def test_every_file_of_sentences_is_toml_with_flat_keys():
    for path in (ROOT / "text" / "english").glob("*.toml"):
        assert all(isinstance(text, str) for text in tomllib.loads(path.read_text("utf-8")).values()), path.name


def test_an_id_may_stand_in_one_file_only():
    with pytest.raises(SentenceError, match=r"b\.toml: 'x.y' stands in another file"):
        read_sentences({"a.toml": '"x.y" = "one"', "b.toml": '"x.y" = "two"'})


def test_an_id_without_quotes_is_found():
    with pytest.raises(SentenceError, match="in quotes"):
        read_sentences({"a.toml": 'x.y = "one"'})


def test_every_file_says_what_it_says_as_toml():
    for path in (ROOT / "text" / "english").glob("*.toml"):
        text = path.read_text("utf-8")

        assert read_sentences({path.name: text}) == tomllib.loads(text)


@pytest.mark.parametrize(
    "text",
    [
        '"x.y" = "a"',
        '"x.y" = "a \\"quoted\\" word"\n',
        '"x.y" = """\na"""\n',
        '"x.y"="a" # a comment\n',
        '# "x.y" = "b"\n\n"x.y" = "# a"\n',
        '"x.y" = "a\tb"\r\n',
        "'x.y' = 'a'\n",
    ],
)
def test_a_file_may_be_written_as_toml_has_it(text):
    assert read_sentences({"a.toml": text}) == tomllib.loads(text)


@pytest.mark.parametrize(
    "text", ['"x.y" = "a"\n"x.y" = "b"\n', '"x.y" = "a\x01b"\n', '"x.y" = "a" "b"\n', '"x.y" = "a\nb"\n']
)
def test_what_is_no_toml_is_refused(text):
    with pytest.raises(tomllib.TOMLDecodeError):
        read_sentences({"a.toml": text})
