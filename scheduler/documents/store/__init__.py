"""For the store and the buyer: what to fetch and bring back, what became of the material, what to order."""
