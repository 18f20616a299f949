"""Heat transfer between a cartridge and the still air around it: natural convection and radiation.

Nusselt number of a horizontal cylinder: Churchill and Chu, *Int. J. Heat Mass Transfer* 18 (1975) 1049 (from memory).
Air as an ideal gas at one atmosphere, viscosity and conductivity by Sutherland's law with constants from memory.
"""

from scheduler.physics.ranges import OutOfRange, require_positive, require_within

STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
KELVIN = 273.15
_GRAVITY_M_S2 = 9.80665
_SEA_LEVEL_PA = 101325.0
_AIR_GAS_CONSTANT_J_KGK = 287.05
_AIR_HEAT_J_KGK = 1006.0


def nusselt_horizontal_cylinder(rayleigh: float, prandtl: float = 0.71) -> float:
    """Mean Nusselt number of a horizontal cylinder in still air.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the diameter, from 1e-5 to 1e12.
    prandtl : float
        Prandtl number.

    Raises
    ------
    OutOfRange
        When the Rayleigh number lies outside that range.

    References
    ----------
    Churchill and Chu (1975), correlation for all Rayleigh numbers (from memory).
    """
    require_within("Rayleigh number", rayleigh, 1e-5, 1e12)
    require_positive("Prandtl number", prandtl)
    prandtl_part = (1.0 + (0.559 / prandtl) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    root_nusselt: float = 0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / prandtl_part
    return root_nusselt**2


def film_coefficient_w_m2k(surface_c: float, air_c: float, diameter_mm: float, emissivity: float = 0.9) -> float:
    """Film coefficient of a cartridge lying in still air, convection and radiation together, W/m²K.

    Parameters
    ----------
    surface_c, air_c : float
        Temperature of the cartridge wall and of the air and walls around it, °C, from -40 to 100.
    diameter_mm : float
        Outer diameter, mm.
    emissivity : float
        Of the cartridge wall, 0 to 1.

    Raises
    ------
    OutOfRange
        When a value lies outside its range, or the two temperatures are equal (then there is no convection to speak of).
    """
    for quantity, value in (("surface temperature, °C", surface_c), ("air temperature, °C", air_c)):
        require_within(quantity, value, -40.0, 100.0)
    require_positive("diameter, mm", diameter_mm)
    require_within("emissivity", emissivity, 0.0, 1.0)
    if surface_c == air_c:
        raise OutOfRange("difference of surface and air temperature, K", 0.0, "anything but 0")
    return _convection_w_m2k(surface_c, air_c, diameter_mm / 1000.0) + _radiation_w_m2k(surface_c, air_c, emissivity)


def air_at_one_atmosphere(temp_c: float) -> tuple[float, float, float]:
    """Conductivity (W/mK), kinematic viscosity (m²/s) and Prandtl number of dry air at one atmosphere.

    Raises
    ------
    OutOfRange
        Outside -40 to 100 °C.
    """
    require_within("air temperature, °C", temp_c, -40.0, 100.0)
    kelvin = temp_c + KELVIN
    conductivity = 0.0241 * (kelvin / KELVIN) ** 1.5 * (KELVIN + 194.0) / (kelvin + 194.0)
    viscosity = 1.716e-5 * (kelvin / KELVIN) ** 1.5 * (KELVIN + 110.4) / (kelvin + 110.4)
    density = _SEA_LEVEL_PA / (_AIR_GAS_CONSTANT_J_KGK * kelvin)
    return conductivity, viscosity / density, viscosity * _AIR_HEAT_J_KGK / conductivity


def _convection_w_m2k(surface_c: float, air_c: float, diameter_m: float) -> float:
    film_c = 0.5 * (surface_c + air_c)
    conductivity, viscosity, prandtl = air_at_one_atmosphere(film_c)
    buoyancy = _GRAVITY_M_S2 * abs(surface_c - air_c) / (film_c + KELVIN)
    rayleigh = buoyancy * diameter_m**3 * prandtl / viscosity**2
    return nusselt_horizontal_cylinder(rayleigh, prandtl) * conductivity / diameter_m


def _radiation_w_m2k(surface_c: float, air_c: float, emissivity: float) -> float:
    surface, around = surface_c + KELVIN, air_c + KELVIN
    return emissivity * STEFAN_BOLTZMANN_W_M2K4 * (surface**2 + around**2) * (surface + around)
