"""The command line: thin; reads arguments, calls the pipeline, prints. Heavy libraries are imported inside commands."""

from scheduler.cli.interrupt import stop_at_once


def main() -> None:
    """Run the command ``coatrun``; its commands are loaded once Ctrl-C has an answer."""
    stop_at_once()
    from scheduler.cli.app import app
    from scheduler.cli.talk import forgive_encodings

    forgive_encodings()
    app(prog_name="coatrun")
