"""A slider over pictures without a script: radio buttons set side by side as its stops, one picture shown for each."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

from gyrochalk.document.blocks import FigureBlock
from gyrochalk.figures import DataTable

MOST_STOPS = 41

SLIDER_CSS = """
.slider{border:0;margin:0 0 .6rem;padding:0;font-family:@FIGURE;font-size:.95rem;max-width:42rem}
.slider legend{padding:0;font-weight:700}
.stops{display:flex;position:relative;padding-bottom:1.7rem}
.stops label{flex:1 1 0;min-width:0;display:block;cursor:pointer}
.stops input{appearance:none;display:block;width:100%;height:1.75rem;margin:0;cursor:pointer;background:
  linear-gradient(var(--g-axis),var(--g-axis)) center/1.5px .6rem no-repeat,
  linear-gradient(var(--g-axis),var(--g-axis)) center/100% 2px no-repeat}
.stops input:checked{background:radial-gradient(circle closest-side,var(--g-ink) 96%,transparent) center/1.1rem 1.1rem
  no-repeat,linear-gradient(var(--g-axis),var(--g-axis)) center/100% 2px no-repeat}
.stops span{position:absolute;left:0;right:0;bottom:0;text-align:center;font-variant-numeric:tabular-nums;opacity:0}
.stops label:first-child span{text-align:left;opacity:1;right:60%;color:var(--g-quiet)}
.stops label:last-child span{text-align:right;opacity:1;left:60%;color:var(--g-quiet)}
.stops label:has(:checked) span{opacity:1;color:var(--g-ink);font-weight:700}
.at{margin:0 0 .3rem;font-weight:700;font-family:@FIGURE;font-size:.95rem}
.slides .data{font-family:@FIGURE;font-size:.875rem;margin-top:.4rem}
.slides table{font-size:.9rem}
.ends{display:none}
@supports selector(:has(*)){.slide{display:none}@SHOWN{display:block}}
@media (forced-colors:active){.stops input{appearance:auto}}
@media print{.slider,.slide:not(:first-child){display:none!important}.slide:first-child{display:block!important}
  .ends{display:table}}
"""


def slider_style(figure_stack: str) -> str:
    """The style sheet of sliders, for a page that has one; `figure_stack` are the font families of its words."""
    shown = ",".join(
        f".slides:has(.stops>:nth-child({n}) :checked) .slide:nth-child({n})" for n in range(1, MOST_STOPS + 1)
    )
    return SLIDER_CSS.strip().replace("@SHOWN", shown).replace("@FIGURE", figure_stack)


def slider_html(block: FigureBlock, number: int, name: str, data: Callable[[DataTable, int], str]) -> str:
    """The slider and its pictures.

    `number` counts the page's figures; `name` is what the figure is called; `data` folds a table of numbers away.
    """
    title = escape(block.slider, quote=False)
    stops = "".join(
        f'<label><input type="radio" name="slider-{number}"{" checked" if n == 0 else ""}>'
        f"<span>{escape(stop.label, quote=False)}</span></label>"
        for n, stop in enumerate(block.stops)
    )
    slides = "".join(
        f'<div class="slide"><p class="at">{title}: {escape(stop.label, quote=False)}</p>'
        f'<div class="scroll" tabindex="0" role="group" aria-label="{name}, {escape(stop.label)}">{stop.figure.svg}'
        f"</div>{data(stop.figure.table, number)}</div>"
        for stop in block.stops
    )
    return (
        f'<div class="slides"><fieldset class="slider"><legend>{title}</legend><div class="stops">{stops}</div>'
        f"</fieldset>"
        f"<div>{slides}</div>{_ends(block, title)}</div>"
    )


def _ends(block: FigureBlock, title: str) -> str:
    """What a print shows in place of the slider: what the pictures at both ends say."""
    rows = "".join(
        f'<tr><th scope="row">{escape(stop.label, quote=False)}</th>'
        f"<td>{escape(stop.figure.title, quote=False)}</td></tr>"
        for stop in (block.stops[0], block.stops[-1])
    )
    head = f'<thead><tr><th scope="col">{title}</th><td></td></tr></thead>'
    return f'<table class="ends">{head}<tbody>{rows}</tbody></table>'
