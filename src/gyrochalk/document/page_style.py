"""How a page looks: one column, notes in the margin, light, dark and print, from the same theme as the pictures."""

from __future__ import annotations

import functools

from gyrochalk.document.html_slider import slider_style
from gyrochalk.figures.style import colour_properties, font_faces, stylesheet
from gyrochalk.figures.theme import DARK, FIGURE_STACK, GREY, LIGHT, MONO_STACK, TEXT_STACK, THEMES

PAGE_CSS = """
*{box-sizing:border-box}
html{font-size:100%;scroll-behavior:smooth;-webkit-text-size-adjust:100%;scroll-padding-top:1rem}
body{margin:0;background:var(--g-ground);color:var(--g-ink);font:1.125rem/1.6 @TEXT;font-variant-numeric:lining-nums;
  hanging-punctuation:first;text-rendering:optimizeLegibility;overflow-wrap:break-word}
.sheet{width:min(100% - 2.5rem,62rem);margin:0 auto;padding:2.5rem 0 4rem}
.skip{position:absolute;left:-60rem;top:.5rem;padding:.5rem 1rem;background:var(--g-ground);color:var(--g-ink);
  font-family:@FIGURE;border:2px solid var(--g-ink);z-index:1}
.skip:focus{left:1rem}
a{color:inherit;text-decoration-line:underline;text-decoration-thickness:1px;text-underline-offset:.18em;
  text-decoration-color:var(--g-axis)}
a:hover{text-decoration-color:currentcolor}
:focus-visible{outline:2px solid var(--g-G);outline-offset:2px;border-radius:2px}
h1,h2,h3,h4,.over,.note-title,.verdict,.margin,figcaption,table,nav,footer,.caution-line,.tally,summary,.first,
  .under{font-family:@FIGURE}
h1{font-size:2.25rem;line-height:1.15;margin:.2rem 0 .6rem;letter-spacing:-.01em;max-width:22em;text-wrap:balance}
h2{font-size:1.5rem;line-height:1.25;margin:2.6rem 0 .2rem;padding-top:.9rem;border-top:1px solid var(--g-hair);
  text-wrap:balance}
h3{font-size:1.2rem;line-height:1.3;margin:1.8rem 0 0}
h4{font-size:1.05rem;margin:1.4rem 0 0}
.over{margin:0;color:var(--g-quiet);font-size:.95rem}
.under{margin:0 0 1rem;color:var(--g-quiet);font-size:1.1rem;max-width:38rem}
.tally,.caution-line{font-size:.9rem;line-height:1.5;max-width:42rem;margin:.5rem 0;color:var(--g-quiet)}
.tally.bad{color:var(--g-alert);border:2px solid var(--g-alert);padding:.6rem .8rem;font-size:1rem}
.tally.bad a{font-weight:700}
.caution-line{border-left:3px solid var(--g-axis);padding-left:.8rem}
nav{margin:1.6rem 0 0;font-size:.95rem}
nav p{margin:0 0 .3rem;font-weight:700}
nav ol{margin:0;padding:0;list-style:none;columns:2;column-gap:2.5rem;max-width:42rem}
nav li{margin:0;padding:.15rem 0;break-inside:avoid}
main{margin-top:1.8rem;outline:none}
.row{display:grid;grid-template-columns:minmax(0,42rem) minmax(0,15rem);column-gap:2.6rem}
.row>*{grid-column:1;min-width:0}
.row>.margin{grid-column:2;grid-row:1}
.column{display:flex;flex-direction:column}
.column>*{min-width:0}
p,ul,ol,pre,blockquote,.note,.equation,dl{margin:.65rem 0}
.row>p{hyphens:manual}
ul,ol{padding-left:1.4em}
li{margin:.3rem 0}
blockquote{margin-left:0;padding-left:1.1rem;border-left:3px solid var(--g-hair);color:var(--g-quiet)}
hr{border:0;border-top:1px solid var(--g-hair);margin:2rem 0;width:100%}
pre{font:.92rem/1.5 @MONO;background:var(--g-shade);padding:.8rem 1rem;overflow-x:auto}
code{font-family:@MONO;font-size:.92em}
.equation{padding:.3rem 0;overflow-x:auto}
math{font-size:1.12em}
math[display=block]{width:max-content;margin-left:2rem}
.number{font-variant-numeric:tabular-nums lining-nums;text-decoration-style:dotted;text-decoration-thickness:1.5px;
  text-decoration-color:var(--g-quiet);white-space:nowrap}
.wrong{border:2px solid var(--g-alert);padding:0 .25em;border-radius:3px;color:var(--g-alert);
  box-decoration-break:clone;-webkit-box-decoration-break:clone}
.wrong .number{text-decoration:underline wavy var(--g-alert) 1px;white-space:normal}
.verdict{font-size:.9em;font-weight:700}
.margin{font-size:.8125rem;line-height:1.42;color:var(--g-quiet);padding-top:.85rem}
.margin p{margin:0 0 .45rem;padding-left:.7rem;border-left:2px solid var(--g-hair)}
.margin .back{font-weight:700;color:var(--g-ink);text-decoration:none;white-space:nowrap}
.margin .back:hover{text-decoration:underline}
.margin b{color:var(--g-ink)}
.margin .pair{display:block}
.margin .pair span{display:block}
.source:target{border-left-color:var(--g-ink);background:var(--g-shade)}
.number:target{background:var(--g-shade);outline:2px solid var(--g-axis)}
figure{margin:1.6rem 0 1.2rem}
figure.drawn{width:min(100%,45rem)}
.row:has(>figure.drawn){grid-template-columns:minmax(0,45rem) minmax(0,15rem);column-gap:1.2rem}
figure img{max-width:100%;height:auto}
.picture{display:block;width:100%;height:auto;min-width:34rem}
.scroll{overflow-x:auto;max-width:100%}
figcaption{font-size:.875rem;line-height:1.5;color:var(--g-quiet);margin-top:.7rem;max-width:42rem}
figcaption b{color:var(--g-ink)}
.quiet{color:var(--g-quiet)}
table{border-collapse:collapse;font-size:.9rem;line-height:1.4;font-variant-numeric:tabular-nums;margin:.4rem 0}
caption{text-align:left;color:var(--g-quiet);padding:.3rem 0}
caption b{color:var(--g-ink)}
th,td{text-align:left;padding:.32rem 1.1rem .32rem 0;vertical-align:top;border-bottom:1px solid var(--g-hair)}
thead th,thead td{border-bottom:1.5px solid var(--g-axis)}
.right{text-align:right}
.centre{text-align:center}
.data td{text-align:right}
.data th[scope=row]{font-weight:400}
summary{cursor:pointer}
.data summary{margin-top:.3rem;text-decoration:underline;text-decoration-color:var(--g-hair);
  text-underline-offset:.18em}
.note,.ask{border:1px solid var(--g-hair);background:var(--g-shade);padding:.9rem 1.2rem;margin:1.2rem 0}
.note.caution,.note.problem{border:2px solid var(--g-alert)}
.note-title{font-weight:700;font-size:.95rem;margin:0 0 .2rem}
.note>:last-child,.ask>:last-child{margin-bottom:0}
.ask{border-left:4px solid var(--g-ink)}
.ask fieldset{border:0;padding:0;margin:0}
.ask legend{padding:0;margin-bottom:.5rem}
.ask label{display:flex;gap:.6rem;align-items:baseline;padding:.3rem 0;min-height:2.2rem;cursor:pointer}
.ask input{width:1.15rem;height:1.15rem;flex:none;accent-color:var(--g-ink);transform:translateY(.15rem)}
.first{font-size:.9rem;color:var(--g-quiet);margin:.4rem 0 0}
.reveal{margin-top:.6rem}
.reveal summary{display:inline-block;border:1.5px solid var(--g-ink);padding:.35rem .9rem;font-weight:700;
  font-size:.95rem}
.outcomes{list-style:none;padding:0}
.outcomes .not-so{color:var(--g-quiet)}
@supports selector(:has(*)){
  .ask:not(:has(:checked)) .reveal:not([open]){display:none}
  .ask:has(:checked) .first{display:none}
}
footer{margin-top:3.5rem;padding-top:1rem;border-top:1.5px solid var(--g-axis);font-size:.875rem;line-height:1.5;
  color:var(--g-quiet)}
footer p{margin:.4rem 0;max-width:46rem}
@media (max-width:62rem){
  .sheet{width:min(100% - 2rem,45rem)}
  .row,.row:has(>figure.drawn){grid-template-columns:minmax(0,1fr)}
  .row>.margin{grid-column:1;grid-row:auto;padding-top:0;margin:-.2rem 0 .5rem}
  nav ol{columns:1}
}
@media (max-width:30rem){
  body{font-size:1.0625rem}
  h1{font-size:1.75rem}
}
@media (prefers-reduced-motion:reduce){html{scroll-behavior:auto}*{animation:none!important;transition:none!important}}
@media print{
  @page{margin:18mm 16mm}
  html{font-size:9.5pt}
  .sheet{width:100%;padding:0}
  .row,.column{display:block}
  .row>*,.column>*{max-width:44rem}
  .row>figure.drawn{max-width:none}
  .row>.margin{columns:2;column-gap:1.6rem;padding:0;margin:-.2rem 0 1rem}
  .margin p{break-inside:avoid}
  nav,.skip,.data,.first{display:none}
  h2,h3,h4,.row:has(>h2,>h3,>h4){break-after:avoid}
  figure,table,.ask,.note,.equation{break-inside:avoid}
  p{orphans:3;widows:3}
  a{text-decoration-color:transparent}
  .scroll,pre,.equation{overflow:visible}
  .ask .reveal,.ask:not(:has(:checked)) .reveal:not([open]){display:block}
  .reveal::details-content{content-visibility:visible!important;display:block!important;height:auto!important}
  .reveal summary{border:0;padding:0;list-style:none}
  .picture{min-width:0}
  figure.drawn{width:100%}
  footer{break-before:avoid;margin-top:1.5rem}
}
"""


@functools.cache
def page_stylesheet(
    *, code: bool = False, slider: bool = False, print_theme: str = "grey", line_scale: float = 1.0
) -> str:
    """The whole style sheet of a page: fonts, colours by ground, page and pictures.

    `code` puts the mono face in; `slider` what a slider needs; `print_theme` names the theme of a print (grey: safe on
    any copier; light: colours); `line_scale` makes the lines of its pictures heavier.
    """
    families = ("Literata", "Atkinson Hyperlegible Next", *(("Atkinson Hyperlegible Mono",) if code else ()))
    css = PAGE_CSS.replace("@TEXT", TEXT_STACK).replace("@FIGURE", FIGURE_STACK).replace("@MONO", MONO_STACK)
    printed = colour_properties(THEMES[print_theme])
    return "\n".join(
        (
            font_faces(families),
            f":root{{color-scheme:light dark;{colour_properties(LIGHT)}}}",
            f"@media screen and (prefers-color-scheme:dark){{:root:not([data-theme]){{{colour_properties(DARK)}}}}}",
            f"@media screen{{:root[data-theme=dark]{{color-scheme:dark;{colour_properties(DARK)}}}"
            ":root[data-theme=light],:root[data-theme=projector]{color-scheme:light}"
            f":root[data-theme=grey]{{color-scheme:light;{colour_properties(GREY)}}}}}",
            f"@media print{{:root,:root[data-theme]{{color-scheme:light;{printed}}}}}",
            css.strip(),
            stylesheet(".picture", line_scale),
            *((slider_style(FIGURE_STACK),) if slider else ()),
        )
    )
