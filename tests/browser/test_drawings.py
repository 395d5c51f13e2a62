"""Every drawing in a real browser, with a real font: nothing runs out of its frame, no text stands on another."""

from pathlib import Path

import pytest

import trainer.web
from trainer.calc.catalogue import CATALOGUE
from trainer.figures.catalogue import FIGURES, draw_figure
from trainer.text.words import say

STYLES = Path(trainer.web.__file__).parent / "static" / "css"
WRONG = {
    "offset": {"spacing": 9.0},
    "stub_up": {"mark": 12.0},
    "straps": {"straps": 4.0},
    "cut_plan": {"sticks": 5.0},
    "bend_total": {"total": 180.0},
    "fitting": {"suitable": "compression"},
}
COLLISIONS = """svg => {
    const frame = svg.viewBox.baseVal, found = [];
    const texts = [...svg.querySelectorAll('text')].map(text => [text.textContent, text.getBBox()]);
    texts.forEach(([words, box], index) => {
        if (box.x < frame.x || box.x + box.width > frame.x + frame.width) found.push(`${words}: outside`);
        for (const [other, near] of texts.slice(index + 1)) {
            const across = Math.min(box.x + box.width, near.x + near.width) - Math.max(box.x, near.x);
            const down = Math.min(box.y + box.height, near.y + near.height) - Math.max(box.y, near.y);
            // The box of a line of text is taller than its letters.
            if (across > 0.5 && down > 3.5) found.push(`${words} on ${other}`);
        }
    });
    return found;
}"""


def drawings():
    for name, figure in FIGURES.items():
        if figure.calculation:
            yield name, CATALOGUE[figure.calculation].example_inputs, WRONG.get(name, {})
        for word in figure.words:
            yield name, {figure.takes: word}, {}


@pytest.fixture
def page(chromium):
    styles = "".join(
        (STYLES / f"{name}.css").read_text("utf-8") for name in ("tokens", "base", "components", "figures")
    )
    opened = chromium.new_page(viewport={"width": 390, "height": 844})
    opened.set_content(f"<html lang=en><style>{styles}</style><figure class=drawing></figure></html>")
    yield opened
    opened.close()


@pytest.mark.parametrize(
    ("name", "inputs", "wrong"), list(drawings()), ids=lambda part: part if isinstance(part, str) else ""
)
def test_no_text_runs_out_or_stands_on_another(page, name, inputs, wrong):
    svg = draw_figure(name, inputs, say=say, wrong=wrong)
    page.eval_on_selector("figure", "(figure, svg) => { figure.innerHTML = svg }", svg)

    drawing = page.locator("svg.fig")

    assert drawing.evaluate(COLLISIONS) == []
    assert drawing.evaluate("svg => parseFloat(getComputedStyle(svg.querySelector('text')).fontSize)") >= 12
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
