"""coatrun completion: the lines that teach a shell to complete commands, options and files."""

import os
from pathlib import PurePath
from typing import Final

import click

from scheduler.cli.command import as_json, command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.talk import say, show, show_json

SHELLS: Final = ("bash", "zsh", "fish")
_WAYS: Final = {
    "bash": "coatrun completion bash >> ~/.bashrc",
    "zsh": "coatrun completion zsh >> ~/.zshrc",
    "fish": "coatrun completion fish > ~/.config/fish/completions/coatrun.fish",
}


@command(
    "completion",
    "Print what makes a shell complete commands and options.",
    ("coatrun completion bash >> ~/.bashrc", "coatrun completion fish > ~/.config/fish/completions/coatrun.fish"),
    "Without a name it is the shell of the variable SHELL. A new shell then completes with the tab key.",
)
@click.argument("shell", type=click.Choice(SHELLS), required=False)
@as_json
def completion(shell: str | None, as_json: bool) -> None:
    """Print the script."""
    from click.shell_completion import get_completion_class

    own = PurePath(os.environ.get("SHELL", "")).name
    name = shell or (own if own in SHELLS else "bash")
    made = get_completion_class(name)
    assert made is not None  # the library knows all three
    script = made(click.get_current_context().find_root().command, {}, "coatrun", "_COATRUN_COMPLETE").source().strip()
    if as_json:
        show_json("completion", ExitCode.DONE, {"shell": name, "script": script})
        return
    show(script)
    say(f"For {name}. To keep it: {_WAYS[name]}")
