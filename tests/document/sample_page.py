"""A page with one of everything, made of invented runs and invented claims."""

from __future__ import annotations

from gyrochalk.document import (
    Ask,
    AskOption,
    Block,
    Break,
    ClaimMark,
    Code,
    CodeText,
    Emphasis,
    Equation,
    FigureBlock,
    Heading,
    InlineEquation,
    Link,
    ListBlock,
    Note,
    Origin,
    Page,
    Paragraph,
    Quote,
    RuleBeside,
    Strong,
    Table,
    Text,
)
from gyrochalk.figures import FigureOptions, draw
from tests.figures.sample_runs import cold_start, drift, orbit


def words(text: str) -> tuple[Text, ...]:
    """Plain text as runs."""
    return (Text(text),)


def blocks() -> tuple[Block, ...]:
    """One of every block, as a lesson might have them."""
    return (
        Paragraph(
            words(
                "An aircraft needs to know which way it points, at once and for hours. One instrument is quick but "
                "forgets; another remembers but is slow and easily upset. This page joins them."
            )
        ),
        Heading(2, words("The gyro forgets")),
        Paragraph(
            (
                Text("Left alone for an hour, the "),
                Emphasis(words("unslaved gyro")),
                Text(" wanders by "),
                ClaimMark(
                    "10.9°", "10.9°", "holds", "Flight “drift”: size of the error of the unslaved gyro at its end."
                ),
                Text(
                    ". Nothing broke: the Earth turns under it, and a gyro holds its direction among the stars, not "
                    "on the ground. At this latitude the reading changes by "
                ),
                ClaimMark(
                    "−11.9 °/h", "−11.9 °/h", "holds", "Flight “drift”: rate of the reading of the unslaved gyro."
                ),
                Text(", which follows from "),
                InlineEquation(r"\Omega\sin\varphi", "Omega sine phi"),
                Text(". "),
                Strong(words("Remember the sign:")),
                Text(" north of the equator the reading falls."),
            )
        ),
        FigureBlock(
            draw(drift(), FigureOptions(show=("gyro", "slaved"))),
            words("An hour on a westerly heading"),
            "Flight “drift”.",
        ),
        Equation(
            r"\dot\psi = -\Omega\sin\varphi - \frac{v_E\tan\varphi}{R}",
            "The rate of the reading is minus Omega sine phi minus east speed times tangent of phi over R",
        ),
        Heading(2, words("The detector is upset in every turn")),
        Paragraph(
            (
                Text("In a rate-one circle the detector is wrong by "),
                ClaimMark("about 40°", "38.2°", "holds", "Flight “orbit”: peak error of the detector, within 10 %."),
                Text(", because it hangs along apparent gravity. The slaved compass moves by only "),
                ClaimMark("0.9°", "1.4°", "false", "Flight “orbit”: peak error of the slaved compass."),
                Text(". The rule for the lag through north at this latitude is "),
                ClaimMark(
                    "40°", "40°", "holds", "", RuleBeside("turning-lag", "40°", "31.4° (static, bank 15°, dip 67°)")
                ),
                Text(". A raw tag in the text is shown, not obeyed: <script>alert(1)</script>. See "),
                Link("https://example.org/", words("an outside page")),
                Text(" or type "),
                CodeText("gyrochalk check"),
                Text("."),
            )
        ),
        Ask(
            words("The aircraft circles at rate one. How far does the slaved compass move?"),
            (
                AskOption(words("As far as the detector, tens of degrees"), right=False, note="The motor is too slow."),
                AskOption(words("A degree or two"), right=True),
                AskOption(words("Not at all"), right=False, note="A slow motor is not a stopped one."),
            ),
            words("1.4°"),
            "Flight “orbit”: peak error of the slaved compass.",
        ),
        FigureBlock(draw(orbit()), words("A circle of two minutes"), "Flight “orbit”."),
        FigureBlock(draw(orbit(), FigureOptions(kind="faces", at=(27.0,))), words("Just after the turn began")),
        FigureBlock(draw(orbit(), FigureOptions(kind="ribbon", at=(27.0,)))),
        Heading(2, words("What each is good for")),
        Table(
            (words("instrument"), words("quick?"), words("remembers north?"), words("error in a turn")),
            (
                (words("Direct compass"), words("no"), words("yes"), words("26°")),
                (words("Unslaved gyro"), words("yes"), words("no"), words("1.3°")),
                (words("Slaved compass"), words("yes"), words("yes"), words("1.4°")),
            ),
            ("left", "left", "left", "right"),
            words("The three instruments side by side"),
        ),
        ListBlock(
            (
                (Paragraph(words("Set the gyro to the compass in straight and level flight.")),),
                (
                    Paragraph(words("Wait, and set it again:")),
                    ListBlock(((Paragraph(words("every fifteen minutes, by the book")),),)),
                ),
            ),
            ordered=True,
        ),
        Heading(2, words("Switching on")),
        Note((Paragraph(words("Some maintenance books call the slow rate the normal rate.")),), "In other books"),
        FigureBlock(
            draw(cold_start(), FigureOptions(kind="ribbon", instants=6, show=("slaved", "detector"))),
            words("The slaved card comes in"),
        ),
        Quote((Paragraph(words("A quoted remark.")),)),
        Code("place: 52.5 N 13.4 E\nflight:\n  - turn: 90 right\n"),
        Break(),
    )


def page() -> Page:
    """The page."""
    return Page(
        "Why a gyro and a magnetic detector are joined",
        blocks(),
        Origin(("WMM2025 at 2026-01-01",), "0.1.0", ("drift", "orbit", "cold-start"), ()),
        "Heading instruments, lesson 1",
        "One forgets, one is easily upset; together they do neither.",
    )
