"""A fingerprint of what a shop says, whatever its files look like."""

import hashlib
import json

from scheduler.shop.shop import Shop


def input_hash(shop: Shop) -> str:
    """SHA-256 over the content of a shop, as 64 hexadecimal digits.

    Line ends, order of columns, blank rows, quotes, a byte order mark, the offset in which a moment is written and ISO 8601
    durations in place of numbers make no difference. The order of rows does: the search goes through them in it.
    """
    content = json.dumps(shop.model_dump(mode="json"), sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(content.encode("ascii")).hexdigest()
