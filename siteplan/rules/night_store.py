"""The fuel in store for an outage, and the most that may be stored."""

from siteplan.plan.around import FuelStore
from siteplan.plan.document import Plan
from siteplan.rules.book import rule


def _stores(plan: Plan) -> list[FuelStore]:
    """Return the stores that hold the machine's fuel; only gasoline is drawn as a store."""
    if plan.machine is None or plan.machine.fuel == "propane":
        return []
    return [one for one in plan.fixtures if isinstance(one, FuelStore) and one.fuel == "gasoline"]


def stored_l(plan: Plan) -> float | None:
    """Return the machine's fuel in store [L]; None if no amount, or not every one, is entered."""
    amounts = [one.stored_l for one in _stores(plan)]
    known = [one for one in amounts if one is not None]
    return sum(known) if known and len(known) == len(amounts) else None


def store_limit_l(plan: Plan) -> float | None:
    """Return the most gasoline that may be stored [L]; more only if every store is a cabinet."""
    if plan.machine is None or plan.machine.fuel == "propane":
        return None
    stores, book = _stores(plan), rule("fuel-store-amount")
    cabinet = bool(stores) and all(one.in_cabinet for one in stores)
    return book.figure("cabinet_l" if cabinet else "gasoline_l")
