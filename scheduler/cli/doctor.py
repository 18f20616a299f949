"""coatrun doctor: what is installed, what works, and what is missing."""

import click

from scheduler.cli.command import as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table


@command(
    "doctor",
    "Look at the installation: solver, libraries, extras, fonts, PDF.",
    ("coatrun doctor", "coatrun doctor --json"),
    "Everything is tried, not only looked up: the solver solves, a PDF is set. What is optional may be missing. The exit code "
    "is 70 if something that the main job needs does not work.",
)
@as_json
def doctor(as_json: bool) -> None:
    """Look at everything and say it."""
    from scheduler.cli.doctor_checks import findings

    found = list(findings())
    ok = all(finding.ok for finding in found if finding.required)
    code = ExitCode.DONE if ok else ExitCode.INTERNAL
    if as_json:
        names = ("name", "ok", "required", "says")
        show_json("doctor", code, {"ok": ok, "findings": [{n: getattr(f, n) for n in names} for f in found]})
    else:
        states = {True: "works", False: "missing"}
        rows = [(f.name, states[f.ok] if f.ok or f.required else "optional", f.says) for f in found]
        show(text_table(("what", "state", "found"), rows))
        say("Everything that planning needs works." if ok else "Something that planning needs does not work.")
    raise click.exceptions.Exit(code.value)
