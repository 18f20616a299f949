"""What methods and product sheets ask of the weather, as limits on an hour. The checker reads the tables for itself."""

from scheduler.physics.weather_window import Limits
from scheduler.shop.methods import Method
from scheduler.shop.product_sheet import Product


def method_limits(method: Method) -> Limits:
    """Weather limits of a method."""
    return Limits(
        air_min_c=method.air_min_c,
        air_max_c=None,
        steel_min_c=None,
        steel_max_c=None,
        rh_max_pct=method.rh_max_pct,
        dew_margin_k=None,
        wind_max_m_s=method.wind_max_m_s,
        rain_max_mm=method.rain_max_mm,
    )


def product_limits(product: Product) -> Limits:
    """Weather limits of a product while it is applied; no rain falls on it."""
    return Limits(
        air_min_c=product.air_min_c,
        air_max_c=product.air_max_c,
        steel_min_c=product.steel_min_c,
        steel_max_c=product.steel_max_c,
        rh_max_pct=product.rh_max_pct,
        dew_margin_k=product.dew_margin_k,
        wind_max_m_s=product.wind_max_m_s,
        rain_max_mm=0.0,
    )


def wet_limits(product: Product) -> Limits:
    """Limits until the film can take weather: no condensation and no rain."""
    return Limits(None, None, None, None, None, product.dew_margin_k, None, 0.0)
