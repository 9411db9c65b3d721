"""Meets: the list, one meet, its entries and their plans, the handler's board, an athlete's own meets."""
