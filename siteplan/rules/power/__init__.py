"""The rules of the power path: cords, outlets, the way into the house, and the loads."""

from collections.abc import Callable, Iterator, Mapping

from siteplan.rules.findings import Outcome
from siteplan.rules.power import backfeed, cord, crossings, gauge, house, loads, outlets, passes
from siteplan.scene import Scene, Standing

OF_THE_PLAN: Mapping[str, Callable[[Scene], Iterator[Outcome]]] = {
    "backfeed": backfeed.backfeed,
    "transfer-equipment": house.transfer_equipment,
    "neutral-bond": house.neutral_bond,
    "machine-gfci": house.machine_gfci,
    "wall-outlet-gfci": house.wall_outlet_gfci,
    "inlet-disconnect": house.inlet_disconnect,
    "inlet-enclosure": house.inlet_enclosure,
    "inlet-sign": house.inlet_sign,
    "feeder-size": house.feeder_size,
    "transfer-size": house.transfer_size,
    "electrician": house.electrician,
    "permit": house.permit,
    "running-load": loads.running_load,
    "starting-load": loads.starting_load,
    "leg-load": loads.leg_load,
    "leg-start": loads.leg_start,
    "leg-balance": loads.leg_balance,
    "loads-together": loads.loads_together,
    "load-fed": loads.load_fed,
    "medical-load": loads.medical_load,
}
"""Judged whether or not a generator stands on the plan."""
OF_THE_PLACE: Mapping[str, Callable[[Scene, Standing], Iterator[Outcome]]] = {
    "cord-pinched": passes.cord_pinched,
    "cord-opening-ajar": passes.cord_opening_ajar,
    "cord-exit": passes.cord_exit,
    "cord-vehicles": crossings.cord_vehicles,
    "cord-trip": crossings.cord_trip,
    "cord-water": crossings.cord_water,
    "cord-pieces": cord.cord_pieces,
    "cord-coiled": cord.cord_coiled,
    "cord-reach": cord.cord_reach,
    "cord-20-ft": cord.cord_20_ft,
    "cord-jacket": cord.cord_jacket,
    "cord-wires": cord.cord_wires,
    "cord-thin": gauge.cord_thin,
    "cord-gauge": gauge.cord_gauge,
    "cord-drop": gauge.cord_loss,
    "cord-start-drop": gauge.cord_start_loss,
    "chain-drop": gauge.chain_loss,
    "start-dip": gauge.start_dip,
    "plug-match": outlets.plug_match,
    "voltage-path": outlets.voltage_path,
    "shared-neutral": outlets.shared_neutral,
    "outlet-load": outlets.outlet_load,
    "continuous-load": outlets.continuous_load,
    "plugged-load": outlets.plugged_load,
    "box-breakers": outlets.box_breakers,
}
"""Judged of the cords of a placement."""
