"""The command line: thin; reads arguments, calls the pipeline, prints. Heavy libraries are imported inside commands."""

from scheduler.cli.app import app
from scheduler.cli.talk import forgive_encodings

__all__ = ["app", "main"]


def main() -> None:
    """Run the command ``coatrun``."""
    forgive_encodings()
    app(prog_name="coatrun")
