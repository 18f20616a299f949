"""The help of the program and of each command."""


def help_text(examples: tuple[str, ...], says: str) -> str:
    """Help that begins with examples; the mark in front keeps their lines as they are."""
    return "\n".join(["\b", "Examples:", *(f"  {line}" for line in examples), "", says])
