"""The material of the scenario: coating systems, product sheets and stock. All figures are invented for the demo."""

from collections.abc import Iterator

Cells = dict[str, object]

PRIMER = ("bare", "bond-primer", 60)
SYSTEMS = {
    "body": (PRIMER, ("all", "lining", 400), ("all", "lining", 400), ("impact", "lining", 450), ("impact", "lining", 450)),
    "blade": (PRIMER, ("all", "lining", 450), ("all", "lining", 450), ("impact", "lining", 500), ("impact", "lining", 500)),
    "frame": (PRIMER, ("all", "lining", 350), ("all", "lining", 350), ("grip", "texture", 300)),
}
"""Coats in the order of application as (what it covers, product, dry film in µm)."""

# fmt: off
CARTRIDGE: Cells = {
    "supply": "cartridge", "volume_solids_pct": 100, "pack_ml": 1500, "start_purge_ml": 60, "end_heel_ml": 45,
    "recap_purge_ml": 60, "loss_pct": 15, "gel_time_min": 8, "open_life_d": 183, "shelf_life_d": 270, "lead_time_d": 12,
    "spray_min_c": 26.7, "spray_target_c": 29.4, "spray_max_c": 32.2,
    "radius_mm": 30, "length_mm": 250, "conductivity_w_mk": 0.20, "density_kg_m3": 1100, "specific_heat_j_kgk": 1900,
}
LIMITS: Cells = {
    "air_min_c": 5, "air_max_c": 38, "steel_min_c": 5, "steel_max_c": 40, "rh_max_pct": 85, "dew_margin_k": 3, "wind_max_m_s": 7,
}
# fmt: on

CLOCKS = ("tack_free_h", "rain_safe_h", "recoat_min_h", "recoat_max_h", "handle_h", "service_h")
TIMES = {
    "lining": {
        5: (6.0, 9.0, 6.0, 72, 24.0, 96),
        10: (4.0, 6.0, 4.5, 66, 16.0, 72),
        15: (2.75, 4.0, 3.25, 60, 10.5, 52),
        20: (2.0, 3.0, 2.25, 52, 7.0, 36),
        30: (1.0, 1.75, 1.5, 36, 4.5, 24),
        40: (0.75, 1.25, 1.0, 24, 3.0, 18),
    },
    "texture": {
        5: (7.0, 10.0, 6.0, 72, 24.0, 96),
        10: (4.5, 6.5, 4.5, 66, 18.0, 78),
        15: (3.0, 4.5, 3.5, 60, 12.0, 56),
        20: (2.25, 3.5, 2.5, 48, 8.0, 40),
        30: (1.25, 2.0, 1.75, 36, 5.0, 26),
        40: (1.0, 1.5, 1.25, 24, 3.5, 20),
    },
    "bond-primer": {
        5: (2.5, 4.5, 3.0, 96, 10.0, 60),
        10: (1.5, 3.0, 2.0, 84, 7.0, 48),
        15: (1.0, 2.0, 1.5, 72, 5.0, 36),
        20: (0.75, 1.5, 1.0, 60, 4.0, 24),
        30: (0.5, 1.0, 0.75, 48, 2.5, 18),
        40: (0.33, 0.75, 0.5, 36, 2.0, 12),
    },
}
"""Hours of the clocks above by steel temperature in °C."""


def coating_systems() -> Iterator[Cells]:
    """Rows of the table coating_systems."""
    for system_id, coats in SYSTEMS.items():
        for number, (applies_to, product_id, dft_um) in enumerate(coats, start=1):
            yield {"system_id": system_id, "coat": number, "applies_to": applies_to, "product_id": product_id, "dft_um": dft_um}


def products() -> Iterator[Cells]:
    """Rows of the table products."""
    yield {"product_id": "lining", "name": "Lining, two-component, solvent-free", **CARTRIDGE, **LIMITS}
    yield {"product_id": "texture", "name": "Texture coat for grip, two-component, solvent-free", **CARTRIDGE, **LIMITS}
    can = {"supply": "can", "volume_solids_pct": 60, "pack_ml": 4000, "loss_pct": 10, "gel_time_min": 240, "lead_time_d": 5}
    yield {"product_id": "bond-primer", "name": "Bonding primer for bare steel, brushed and rolled", **can, **LIMITS}


def product_times() -> Iterator[Cells]:
    """Rows of the table product_times."""
    for product_id, rows in TIMES.items():
        for temp_c, hours in rows.items():
            yield {"product_id": product_id, "temp_c": temp_c, **dict(zip(CLOCKS, hours, strict=True))}


def lots() -> Iterator[Cells]:
    """Rows of the table lots: the first lot of lining expires in the second week, two days after the next has arrived."""
    rows = (
        ("LN-131", "lining", 190, "2013-01-14", "2013-10-11"),
        ("LN-167", "lining", 230, "2013-10-09", "2014-07-05"),
        ("LN-172", "lining", 210, "2013-10-21", "2014-07-17"),
        ("TX-22", "texture", 12, "2013-05-06", "2014-01-31"),
        ("BP-08", "bond-primer", 60, "2013-06-03", "2014-06-02"),
    )
    return (dict(zip(("lot_id", "product_id", "packs", "arrives_on", "expires_on"), row, strict=True)) for row in rows)


def opened() -> Iterator[Cells]:
    """Rows of the table opened."""
    rows = (
        ("LN-131-a", "LN-131", "2013-08-26", 820),
        ("LN-131-b", "LN-131", "2013-09-12", 1130),
        ("TX-22-a", "TX-22", "2013-07-18", 900),
    )
    return (dict(zip(("pack_id", "lot_id", "opened_on", "remaining_ml"), row, strict=True)) for row in rows)
