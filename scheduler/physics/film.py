"""From square metres and film thickness to millilitres of product and cartridges.

Theoretical spreading rate: a litre spread at the wet thickness that dries to the specified one (ISO 23811, ISO 3233,
ASTM D2697 define the volume solids; from memory). What a profile swallows and what the spraying loses come on top.
"""

import math

from scheduler.physics.ranges import OutOfRange, require_not_negative, require_positive, require_within

FT2_MIL_PER_US_GAL = 231.0 / 0.144
"""Square feet that one US gallon (231 cubic inches) covers one mil thick."""

# Upper edge of the profile band, um, and the paint that the band swallows as if it were film, um (published guide; from memory).
_DEAD_VOLUME_BANDS_UM = ((50.0, 10.0), (100.0, 35.0), (150.0, 60.0))
_PITTED_UM = 300.0
_PITTED_DEAD_VOLUME_UM = 125.0
_WHOLE_CARTRIDGE_TOLERANCE = 1e-9


def spreading_rate_m2_l(volume_solids_pct: float, dft_um: float) -> float:
    """Area that a litre covers at a dry film thickness, without any loss, m²/L.

    Parameters
    ----------
    volume_solids_pct : float
        Solids by volume, %, above 0 to 100.
    dft_um : float
        Dry film thickness, um.

    Raises
    ------
    OutOfRange
        When the solids are outside 0 to 100 % or the thickness is not positive.
    """
    return 1000.0 / wet_film_um(volume_solids_pct, dft_um)


def wet_film_um(volume_solids_pct: float, dft_um: float) -> float:
    """Wet film thickness that dries to ``dft_um``, um; the same for a product of 100 % solids.

    Raises
    ------
    OutOfRange
        When the solids are outside 0 to 100 % or the thickness is not positive.
    """
    _require_solids(volume_solids_pct)
    require_positive("dry film thickness, um", dft_um)
    return dft_um * 100.0 / volume_solids_pct


def spreading_rate_ft2_us_gal(volume_solids_pct: float, dft_mil: float) -> float:
    """Area that a US gallon covers at a dry film thickness in mils, without any loss, ft².

    Raises
    ------
    OutOfRange
        When the solids are outside 0 to 100 % or the thickness is not positive.
    """
    _require_solids(volume_solids_pct)
    require_positive("dry film thickness, mil", dft_mil)
    return FT2_MIL_PER_US_GAL * volume_solids_pct / 100.0 / dft_mil


def dead_volume_um(profile_um: float) -> float:
    """Film that a blast or abrasion profile swallows before any counts as thickness, um of dry film.

    A profile of exactly 0 (a coat over a coat) swallows nothing; the edge of a band takes the larger value.

    Parameters
    ----------
    profile_um : float
        Surface profile, um, from 0 to 300 (above 150: pitted steel).

    Raises
    ------
    OutOfRange
        When the profile is negative or above 300 um.
    """
    require_within("surface profile, um", profile_um, 0.0, _PITTED_UM)
    if profile_um == 0:
        return 0.0
    return next((dead for edge, dead in _DEAD_VOLUME_BANDS_UM if profile_um < edge), _PITTED_DEAD_VOLUME_UM)


def practical_ml(area_m2: float, dft_um: float, volume_solids_pct: float, profile_um: float, loss_pct: float) -> float:
    """Product that must leave the nozzle to build the film, mL.

    Parameters
    ----------
    area_m2 : float
        Area to coat, m².
    dft_um : float
        Dry film thickness, um.
    volume_solids_pct : float
        Solids by volume, %.
    profile_um : float
        Surface profile, um; 0 over an earlier coat.
    loss_pct : float
        Share of what is sprayed that does not end on the surface, %, 0 to below 100. It divides: 15 % lost is /0.85, not x1.15.

    Raises
    ------
    OutOfRange
        When a value lies outside its range.
    """
    require_not_negative("area, m²", area_m2)
    if not 0.0 <= loss_pct < 100.0:
        raise OutOfRange("loss, %", loss_pct, "0 to below 100")
    # Square metres times micrometres are millilitres.
    net_ml = area_m2 * wet_film_um(volume_solids_pct, dft_um + dead_volume_um(profile_um))
    return net_ml / (1.0 - loss_pct / 100.0)


def usable_ml(cartridge_ml: float, start_purge_ml: float, end_heel_ml: float) -> float:
    """Give what a cartridge can lay on the work, mL: its content without the first shot to waste and the heel left in it.

    Raises
    ------
    OutOfRange
        When a volume is negative, or purge and heel leave nothing to spray.
    """
    for quantity, value in (("start purge, mL", start_purge_ml), ("end heel, mL", end_heel_ml)):
        require_not_negative(quantity, value)
    usable = cartridge_ml - start_purge_ml - end_heel_ml
    require_positive("usable content of a cartridge, mL", usable)
    return usable


def cartridges_for_run(volume_ml: float, usable_ml_each: float) -> int:
    """Whole cartridges that one continuous spraying run opens; always rounded up.

    A run that fits within a billionth of a cartridge is taken to fit: that is arithmetic noise, not product.

    Raises
    ------
    OutOfRange
        When the volume is negative or a cartridge holds nothing usable.
    """
    require_not_negative("volume of a run, mL", volume_ml)
    require_positive("usable content of a cartridge, mL", usable_ml_each)
    return math.ceil(volume_ml / usable_ml_each - _WHOLE_CARTRIDGE_TOLERANCE)


def _require_solids(volume_solids_pct: float) -> None:
    require_positive("solids by volume, %", volume_solids_pct)
    require_within("solids by volume, %", volume_solids_pct, 0.0, 100.0)
