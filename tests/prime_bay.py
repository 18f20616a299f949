"""A shop whose primer is sprayed in a bay of its own, before the coats."""

from scheduler.shop.methods import Step
from scheduler.shop.shop import Shop


def with_prime_bay(shop: Shop, coat_bays_too: bool = False) -> Shop:
    """The shop with cutting out, wiping and priming in a stage of their own, and a bay for it; the coat bays may take it too."""
    coat = next(bay for bay in shop.bays if "coat" in bay.stages)
    bays = [*shop.bays, coat.model_copy(update={"bay_id": "PR", "name": "Prime", "stages": ("prime",), "air_space": "prime"})]
    if coat_bays_too:
        bays = [bay.model_copy(update={"stages": (*bay.stages, "prime")}) if "coat" in bay.stages else bay for bay in bays]
    moved = {Step.CUT_OUT, Step.WIPE, Step.PRIME}
    methods = [m.model_copy(update={"stage": "prime"}) if m.step in moved else m for m in shop.methods]
    return shop.with_tables(methods=methods, bays=bays)
