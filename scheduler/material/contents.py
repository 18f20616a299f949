"""What a pack of a product holds and loses, from its sheet: everything about it that no clock is needed for."""

from scheduler.material.pack import PackSheet, at_least_ul, at_most_ul
from scheduler.shop.product_sheet import Product, Supply
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop


def contents(shop: Shop, product: Product) -> PackSheet:
    """Return the sheet of a pack without its times: no slot at which it lapses or is warm again."""
    changes = [row.change_min for row in shop.equipment_of(Kind.GUN)]
    return PackSheet(
        full_ul=at_most_ul(product.pack_ml),
        heel_ul=at_least_ul(product.end_heel_ml),
        start_ul=at_least_ul(product.start_purge_ml),
        recap_ul=at_least_ul(product.recap_purge_ml),
        lapses=(),
        back=(),
        goes_on=product.supply is Supply.CARTRIDGE and min(changes, default=0.0) == 0,
    )
