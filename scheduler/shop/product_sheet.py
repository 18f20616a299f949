"""Product sheets: what a product is, how it is sprayed and how long it takes to cure."""

from enum import StrEnum

from pydantic import Field

from scheduler.shop.fields import CelsiusMaterial, Days, Hours, Id, Minutes, Name, NotNegative, Percent, Positive, Row


class Supply(StrEnum):
    """How a product comes: cartridges are warmed and sprayed, cans are brushed or rolled as they stand."""

    CARTRIDGE = "cartridge"
    CAN = "can"


class Product(Row):
    """A product sheet."""

    product_id: Id
    name: Name
    supply: Supply
    volume_solids_pct: Percent
    pack_ml: Positive = Field(description="nominal content of a cartridge or can")
    start_purge_ml: NotNegative = Field(0.0, description="first shot with the air bubble, to waste")
    end_heel_ml: NotNegative = Field(0.0, description="last of the pack, never sprayed on the work")
    recap_purge_ml: NotNegative = Field(0.0, description="to waste when a recapped cartridge is started again")
    loss_pct: Percent = Field(0.0, description="overspray and other losses, as a share of what leaves the gun")
    gel_time_min: Minutes = Field(description="longest stop before the static mixer sets")
    open_life_d: Days = Field(183.0, description="how long an opened, recapped pack keeps")
    shelf_life_d: Days = 365.0
    lead_time_d: Days = Field(10.0, description="from an order of the product to its arrival, calendar days")
    spray_min_c: CelsiusMaterial | None = Field(None, description="coldest material that may be sprayed")
    spray_target_c: CelsiusMaterial | None = None
    spray_max_c: CelsiusMaterial | None = None
    air_min_c: CelsiusMaterial | None = None
    air_max_c: CelsiusMaterial | None = None
    steel_min_c: CelsiusMaterial | None = None
    steel_max_c: CelsiusMaterial | None = None
    rh_max_pct: Percent | None = 85.0
    dew_margin_k: NotNegative = Field(3.0, description="steel above the dew point by at least this")
    wind_max_m_s: NotNegative | None = None
    radius_mm: Positive | None = Field(None, description="cartridge radius, for the warm-up")
    length_mm: Positive | None = None
    conductivity_w_mk: Positive | None = None
    density_kg_m3: Positive | None = None
    specific_heat_j_kgk: Positive | None = None
    wet_edge_min: Minutes | None = Field(
        None,
        description="longest stop after which a film is gone on with wet on wet, on the warmest steel; "
        "if empty, its rest waits for the recoat minimum",
    )

    @property
    def usable_ml(self) -> float:
        """Millilitres of one full pack that can go on the work."""
        return self.pack_ml - self.start_purge_ml - self.end_heel_ml


class ProductTime(Row):
    """A sheet's row at one steel temperature."""

    product_id: Id
    temp_c: CelsiusMaterial
    tack_free_h: Hours = Field(description="wet film until then: gives off vapour and takes dust")
    rain_safe_h: Hours = Field(description="can take rain, wind and condensation from then on")
    recoat_min_h: Hours
    recoat_max_h: Hours
    handle_h: Hours
    service_h: Hours
