"""The shapes in which ways to connect are asked about and answered."""

from dataclasses import dataclass
from typing import Literal

from siteplan.power._checks import within
from siteplan.power.receptacles import Receptacle, receptacles

WayKind = Literal["single-cords", "locking-cord-box", "through-wall", "inlet-transfer"]
Refusal = Literal["needs-240-v", "hardwired", "no-outlet", "over-outlet", "no-outlet-left"]
PartKind = Literal[
    "cord",
    "inside-cord",
    "distribution-box",
    "through-wall-outlet",
    "inlet-box",
    "weather-cover",
    "transfer-switch-or-interlock",
    "breaker",
    "feeder-cable",
    "ground-conductor",
    "inlet-label",
]


@dataclass(frozen=True, slots=True)
class Machine:
    """What stands outside.

    Attributes
    ----------
    running_w, starting_w : float
        After derating [W].
    outlets : tuple of str
        Configuration of each receptacle, a duplex twice.
    ambient_c : float
        Air around the cords [°C].
    """

    running_w: float
    starting_w: float
    outlets: tuple[str, ...]
    ambient_c: float = 30.0

    def __post_init__(self) -> None:
        within("running power [W]", self.running_w, 1.0, 200_000.0)
        within("starting power [W]", self.starting_w, self.running_w, 400_000.0)

    @property
    def legs(self) -> int:
        """2 if any of its known outlets has both legs, else 1."""
        return max((each.legs for each in self.known_outlets()), default=1)

    def known_outlets(self) -> list[Receptacle]:
        """Return those of its outlets that the book of receptacles has."""
        book = receptacles()
        return [book[config] for config in self.outlets if config in book]


@dataclass(frozen=True, slots=True)
class Lengths:
    """How far it is, one way, with rises and slack [m].

    Attributes
    ----------
    cord_m : float
        Machine to the house wall, inlet or opening.
    inside_m : float
        From there to the farthest load by cord.
    feeder_m : float
        Inlet to panel.
    branch_m : float
        Panel to the farthest load.
    """

    cord_m: float
    inside_m: float = 0.0
    feeder_m: float = 0.0
    branch_m: float = 0.0

    def __post_init__(self) -> None:
        for value in (self.cord_m, self.inside_m, self.feeder_m, self.branch_m):
            within("length [m]", value, 0.0, 500.0)


@dataclass(frozen=True, slots=True)
class Part:
    """A thing to buy: how many, its size, length and configuration where it has them."""

    kind: PartKind
    count: int = 1
    gauge_awg: int | None = None
    length_m: float | None = None
    config: str | None = None

    @property
    def sold(self) -> bool:
        """Whether it, being a cord, is sold in this size and length."""
        return self.gauge_awg is not None and self.length_m is not None


@dataclass(frozen=True, slots=True)
class Way:
    """One way to connect.

    Attributes
    ----------
    kind : str
        Which way.
    outlet : str or None
        Receptacle of the machine that is used; None where the machine has none for it.
    legs : int
        1 or 2; 0 without an outlet.
    serves : tuple of int
        Places of the loads it reaches.
    refuses : tuple of (int, str)
        Places of the loads it does not reach, and why.
    limit_w, start_limit_w : float
        What machine and outlet give for hours, and for a start [W].
    run_w, start_w : float
        What the loads it reaches need, running and with the hardest start last [W].
    leg_run_w, leg_start_w : float
        The same for the heavier leg [W]; for all where everything hangs on one.
    leg_limit_w, leg_start_limit_w : float
        What one leg gives [W]: half of a machine with two.
    drop_shares : tuple of (str, float)
        Share of 120 V lost in the worst cord, in feeder and in branch.
    drop_total : float
        The sum.
    cord_missing : bool
        Whether no cord that is sold is long or thick enough.
    parts : tuple of Part
    electrician : bool
        Whether house wiring is worked on.
    """

    kind: WayKind
    outlet: str | None
    legs: int
    serves: tuple[int, ...]
    refuses: tuple[tuple[int, Refusal], ...]
    limit_w: float
    start_limit_w: float
    run_w: float
    start_w: float
    leg_run_w: float
    leg_start_w: float
    leg_limit_w: float
    leg_start_limit_w: float
    drop_shares: tuple[tuple[str, float], ...]
    drop_total: float
    cord_missing: bool
    parts: tuple[Part, ...]
    electrician: bool

    @property
    def carries_all(self) -> bool:
        """Whether every load is reached and all may run, the hardest starting last."""
        whole = self.run_w <= self.limit_w and self.start_w <= self.start_limit_w
        run_fits = self.leg_run_w <= self.leg_limit_w
        start_fits = self.leg_start_w <= self.leg_start_limit_w
        reached = self.outlet is not None and not self.refuses
        return reached and whole and run_fits and start_fits
