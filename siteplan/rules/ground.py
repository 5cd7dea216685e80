"""What the machine stands on, and water."""

from collections.abc import Iterator

from siteplan.rules.book import rule
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.ladder import STANDS_ON, Says, ladder
from siteplan.scene import Scene, Standing
from siteplan.words import Text

_SURFACES = {
    "concrete": Text("It stands on concrete."),
    "gravel": Text("It stands on gravel."),
    "soil": Text("It stands on bare soil."),
}
_PAVE = Text("Stand it on concrete, gravel or bare soil, or lay paving slabs under it.")
_OFF_DECK = Text("Carry it off the deck, onto the ground.")
_POOL = Says(
    Text(
        "Move it to at least {limit} from the pool, or feed only from receptacles with "
        "ground-fault protection."
    ),
    Text("no pool is drawn"),
    danger=Text("Do not run it here: a pool is a pit, with or without water."),
    on=STANDS_ON,
    on_signal="DANGER",
)
_WATER = Says(
    Text("Move it to dry ground that stays dry."),
    Text("no standing water is drawn"),
    on=STANDS_ON,
)


def ground_surface(scene: Scene, standing: Standing) -> Iterator[Outcome]:  # noqa: ARG001
    """Judge the surface under the machine."""
    book = rule("ground-surface")
    surface = standing.placement.ground
    if surface is None:
        yield Unjudged(book.id, (), Text("what the generator stands on"))
    elif surface == "grass":
        what = Text("The generator stands on grass, which dries and burns.")
        yield Finding(book.id, "CAUTION", (), what, _PAVE, book.sources)
    elif surface == "deck":
        what = Text("The generator stands on a deck.")
        yield Finding(book.id, "WARNING", (), what, _OFF_DECK, book.sources)
    else:
        yield Met(book.id, (), _SURFACES[surface], book.sources)


def level_and_dry(scene: Scene, standing: Standing) -> Iterator[Outcome]:  # noqa: ARG001
    """Judge what was answered about the ground being level and dry."""
    book = rule("level-and-dry")
    answer = standing.placement.level_and_dry
    if answer is None:
        yield Unjudged(book.id, (), Text("whether the ground there is level and dry"))
    elif answer:
        yield Met(book.id, (), Text("The ground there is level and dry."), book.sources)
    else:
        what = Text("The ground there is not level and dry.")
        do = Text("Choose level ground that stays dry in rain, or raise it on a paved pad.")
        yield Finding(book.id, "WARNING", (), what, do, book.sources)


def pool(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to pools."""
    yield from ladder(scene, standing, rule("pool"), scene.near("pool"), _POOL)


def standing_water(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Refuse a machine in standing water."""
    water = scene.near("standing-water")
    yield from ladder(scene, standing, rule("standing-water"), water, _WATER)
