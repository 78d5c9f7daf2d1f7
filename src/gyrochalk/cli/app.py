"""The commands and their arguments. What a command does is imported when it is called, so that help comes at once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

application = typer.Typer(
    name="gyrochalk",
    help="Lessons on aircraft heading instruments whose every number is computed or checked.",
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
    no_args_is_help=True,
)

Json = Annotated[bool, typer.Option("--json", help="Answer in JSON, for a program.")]
Lessons = Annotated[list[Path] | None, typer.Argument(help="Lessons; none means every lesson of this workspace.")]


def _version(wanted: bool) -> None:
    if wanted:
        from gyrochalk import __version__

        print(f"gyrochalk {__version__}")
        raise typer.Exit


@application.callback()
def options(
    version: Annotated[
        bool, typer.Option("--version", help="Show the version and stop.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Lessons on aircraft heading instruments whose every number is computed or checked."""


@application.command()
def new(
    folder: Annotated[Path, typer.Argument(help="Folder to make; it must be empty or not there yet.")],
) -> None:
    """Make a workspace with a small course that checks true."""
    from gyrochalk.cli.commands.new import new as command

    command(folder)


@application.command()
def run(
    file: Annotated[Path, typer.Argument(help="A demonstration, or its address such as orbit.textbook.")],
    variant: Annotated[str | None, typer.Option(help="Fly this variant instead of the base run.")] = None,
    json: Json = False,
    csv: Annotated[Path | None, typer.Option(help="Write every channel to this CSV file.")] = None,
    npz: Annotated[Path | None, typer.Option(help="Write every channel to this NumPy file.")] = None,
    parquet: Annotated[Path | None, typer.Option(help="Write every channel to this Parquet file.")] = None,
) -> None:
    """Fly a demonstration and show its measures."""
    from gyrochalk.cli.commands.run import run as command

    command(file, variant, as_json=json, csv=csv, npz=npz, parquet=parquet)


@application.command()
def check(lessons: Lessons = None, json: Json = False) -> None:
    """Check every stated number against the run; exit code 1 if any does not hold."""
    from gyrochalk.cli.commands.check import check as command

    raise typer.Exit(command(lessons or [], as_json=json))


@application.command()
def refresh(lessons: Lessons = None, json: Json = False) -> None:
    """Rewrite the text of value: links to what the run says; nothing else in the file changes."""
    from gyrochalk.cli.commands.refresh import refresh as command

    raise typer.Exit(command(lessons or [], as_json=json))


@application.command()
def build(lessons: Lessons = None, json: Json = False) -> None:
    """Build self-contained pages into the workspace's out folder."""
    from gyrochalk.cli.commands.build import build as command

    raise typer.Exit(command(lessons or [], as_json=json))


@application.command()
def serve(
    folder: Annotated[Path, typer.Argument(help="The workspace.")] = Path(),
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port on this machine; 0 takes a free one.")] = 0,
) -> None:
    """Show the built pages to this machine's browser and build again what changes; Ctrl-C ends it."""
    from gyrochalk.cli.commands.serve import serve as command

    command(folder, port)


@application.command()
def figure(
    demonstration: Annotated[str, typer.Argument(help="A demonstration's address, such as orbit.textbook.")],
    options: Annotated[str, typer.Argument(help='As in a figure: link, such as "kind=ribbon&at=worst".')] = "",
    svg: Annotated[Path | None, typer.Option(help="Write the picture with its caption to this SVG file.")] = None,
    png: Annotated[Path | None, typer.Option(help="Write the picture with its caption to this PNG file.")] = None,
    theme: Annotated[str | None, typer.Option(help="light, dark, grey or projector.")] = None,
) -> None:
    """Draw one picture of a demonstration into a file; without a file, say what it shows."""
    from gyrochalk.cli.commands.figure import figure as command

    command(demonstration, options, svg=svg, png=png, theme=theme)


@application.command()
def gallery(
    out: Annotated[
        Path | None, typer.Option(help="Folder for the pages; the workspace's out folder if not given.")
    ] = None,
) -> None:
    """Build a page of every picture, in every theme, from the demo course's demonstrations."""
    from gyrochalk.cli.commands.gallery import gallery as command

    command(out)


@application.command()
def schema() -> None:
    """Print the JSON Schema of a demonstration, for editors."""
    from gyrochalk.cli.commands.schema import schema as command

    command()
