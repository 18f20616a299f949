"""Kinds of steel units in the fleet: size, mass and surfaces."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """A kind of unit: size, mass and its surfaces as (name, m², duty)."""

    name: str
    length_m: float
    width_m: float
    height_m: float
    mass_kg: float
    system: str
    surfaces: tuple[tuple[str, float, str], ...]


def kind(name: str, size_m: tuple[float, float, float], mass_kg: float, system: str, **surfaces: tuple[float, str]) -> Kind:
    """Make a kind of unit; each surface is given as (m², duty)."""
    return Kind(name, *size_m, mass_kg, system, tuple((side, *cells) for side, cells in surfaces.items()))


RUST, IMPACT = "rust", "impact"
BODY_M, FRAME_M = (3.0, 1.6, 1.4), (2.4, 1.5, 1.2)
LONG_BODY = kind(
    "Hopper body, long, filled by loader", (3.2, 1.7, 1.4), 1080, "body", outside=(12.5, RUST), inside=(10.5, IMPACT)
)
SHORT_BODY = kind(
    "Hopper body, short, filled by loader", (2.7, 1.5, 1.3), 780, "body", outside=(10.2, RUST), inside=(8.4, IMPACT)
)
SILO_BODY = kind("Hopper body, filled from a silo", BODY_M, 920, "body", outside=(11.6, RUST), inside=(9.6, RUST))
FLOOR = kind("Hopper body, blisters in last year's floor", BODY_M, 920, "body", floor=(9.6, RUST))
BLADE = kind("Plough blade, long", (3.2, 0.9, 1.0), 690, "blade", front=(4.2, IMPACT), back=(4.6, RUST))
SHORT_BLADE = kind("Plough blade, short", (2.6, 0.9, 0.9), 470, "blade", front=(3.1, IMPACT), back=(3.5, RUST))
BRINE = kind("Brine tank frame", FRAME_M, 380, "frame", steelwork=(9.4, RUST), step=(1.2, RUST))
MOUNT = kind("Plough mounting frame", (1.4, 1.1, 0.8), 240, "frame", steelwork=(5.2, RUST))
