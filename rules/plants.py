"""Plants: which one a person means, how much water it uses on a day, and how deep its managed roots go."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from rules.names import Names, names, plain
from rules.stages import DORMANT, Stage
from rules.tables import Plant, Tables
from rules.terms import Plot

_DAYS_A_YEAR = 365.25
_WOODY = ("fruit_tree", "citrus", "nut", "vine")
# Until when a perennial counts as just planted and as young. [years] Woody plants need longer (our judgement).
_YOUNG_UNTIL = {"woody": (1.0, 4.0), "soft": (0.17, 1.0)}
_GROUP_WORDS = {
    "tree": ("tree", "trees", "arbol", "arboles", "arbolito"),
    "flower": ("flower", "flowers", "flor", "flores", "lily"),
    "lawn": ("grass", "pasto", "zacate"),
    "vine": ("vine", "vines", "enredadera"),
    "berry": ("berry", "berries", "baya", "bayas"),
    "herb": ("herb", "herbs", "hierba", "hierbas"),
    "vegetable": ("cabbage", "greens", "beans", "lettuce", "verdura"),
}

# Words beside a plant's name that change no plant: of its age, size and owner, and of its kind.
_BESIDE = (
    "a", "an", "the", "my", "our", "new", "old", "big", "large", "young", "little", "small", "tall",
    "un", "una", "el", "la", "los", "las", "de", "mi", "mis", "nuestro", "nuestra", "nuevo", "nueva", "viejo", "vieja",
    "grande", "joven", "chico", "chica", "pequeno", "pequena",
)  # fmt: skip
_KINDS = (
    "tree", "trees", "bush", "bushes", "plant", "plants", "vine", "vines",
    "arbol", "arboles", "arbolito", "planta", "plantas", "mata", "matas",
)  # fmt: skip


@dataclass(frozen=True)
class Match:
    """What a name turned out to be.

    Args:
        plant: id of plants.csv; a group such as `shrub` where the plant is not known.
        how: `exact`; `near`, a slip of the pen; `ambiguous`, one of `choices`: ask; `unknown`, only a group: ask once.
        choices: for `ambiguous` what it may be, for `unknown` the three names most like it.
    """

    plant: str
    how: str
    choices: tuple[str, ...] = ()


@lru_cache(maxsize=8)
def _names(tables: Tables, language: str) -> Names:
    def called(plant: Plant) -> tuple[str, ...]:
        mine = (plant.name_es, *plant.names_es) if language == "es" else (plant.name_en, *plant.names_en)
        return (plant.id.replace("_", " "), *mine)

    return names((plant.id, called(plant)) for plant in tables.plants.values())


@lru_cache(maxsize=4096)
def find(name: str, language: str, tables: Tables) -> Match:
    """Plant that a person means by a name, in either language, `language` first.

    Whole names come first, then slips of the pen, then a name inside the words; last a group and what looks like it.
    """
    known = [_names(tables, each) for each in (language, "es" if language == "en" else "en")]
    for among in known:
        if ids := among.whole(name):
            return _matched(ids, "exact")
    if name in tables.plants:
        return Match(name, "exact")
    for among in known:
        if ids := among.whole(_alone(name)):
            return _matched(ids, "exact")
    near = max((hit for among in known for hit in among.nearest(name, 1)), key=lambda hit: hit[1], default=None)
    if near:
        return Match(near[0], "near")
    for among in known:
        ids = among.within(name)
        if ids and not tables.plants[ids[0]].generic:
            return _matched(ids, "near")
    return Match(_group(name), "unknown", _most_like(name, known))


def _alone(name: str) -> str:
    """A name without the words beside it: `oak` of `new oak tree`; where there are none but those, its kind: `tree`."""
    said = plain(name).split()
    return " ".join(word for word in said if word not in _BESIDE + _KINDS) or next(
        (word for word in said if word in _KINDS), ""
    )


def _matched(ids: tuple[str, ...], how: str) -> Match:
    return Match(ids[0], how) if len(ids) == 1 else Match(ids[0], "ambiguous", ids)


def _most_like(name: str, known: list[Names]) -> tuple[str, ...]:
    hits = [hit for among in known for hit in among.nearest(name, 3, cutoff=0)]
    return tuple(dict.fromkeys(plant for plant, _ in sorted(hits, key=lambda hit: -hit[1])))[:3]


def _group(name: str) -> str:
    said = plain(name).split()
    return next((group for group, hints in _GROUP_WORDS.items() if any(word in hints for word in said)), "shrub")


def age_years(plot: Plot, on: date) -> float | None:
    """Years since planting; None when the day of planting is not known or still to come."""
    if plot.planted_on is None or plot.planted_on > on:
        return None
    return (on - plot.planted_on).days / _DAYS_A_YEAR


def _is_woody(plant: Plant) -> bool:
    return plant.category in _WOODY or plant.id in ("tree", "conifer", "palm", "shrub", "azalea", "hydrangea", "roses")


def kc_on(plant: Plant, plot: Plot, on: date, stage: Stage, tables: Tables) -> float:
    """Water use of the plant against grass reference use. [1]

    Source: FAO56 ch. 6, Eq. 66 between the periods; values of plants.csv. Differs: a share by age for young trees.
    """
    return _single_coefficient(plant, stage) * _young_share(plant, plot, on, tables)


def _single_coefficient(plant: Plant, stage: Stage) -> float:
    if stage.phase == DORMANT:
        return plant.kc_dormant if plant.kc_dormant is not None else plant.kc_ini
    before, after = {
        "ini": (plant.kc_ini, plant.kc_ini),
        "dev": (plant.kc_ini, plant.kc_mid),
        "mid": (plant.kc_mid, plant.kc_mid),
        "late": (plant.kc_mid, plant.kc_end),
    }[stage.phase]
    return before + stage.progress * (after - before)


def _young_share(plant: Plant, plot: Plot, on: date, tables: Tables) -> float:
    age = age_years(plot, on)
    if age is None or plant.category not in _WOODY:
        return 1.0
    row = tables.delivery.get(f"young_tree.use_year_{math.floor(age) + 1}")
    return row.value if row else 1.0


def root_depth_cm(plant: Plant, plot: Plot, on: date, stage: Stage) -> float:
    """Managed root depth: what is watered, not the deepest root. [cm]

    It goes in steps (seedling, young, grown) so that it seldom changes. A depth that a person gave caps the steps and
    stands for a grown plant; a pot caps it at its own depth.
    """
    depths = (plant.root_seedling_cm, plant.root_young_cm, plant.root_cm)
    step = _root_step(plant, plot, on, stage)
    depth = depths[step]
    if plot.root_depth_cm is not None:
        depth = plot.root_depth_cm if step == 2 else min(depth, plot.root_depth_cm)
    if plot.container_litres:
        depth = min(depth, container_depth_cm(plot.container_litres))
    return depth


def root_column(plant: Plant, plot: Plot, on: date, stage: Stage) -> str:
    """Column of plants.csv that `root_depth_cm` reads, for citing it."""
    return ("root_seedling_cm", "root_young_cm", "root_cm")[_root_step(plant, plot, on, stage)]


def _root_step(plant: Plant, plot: Plot, on: date, stage: Stage) -> int:
    if plant.habit == "annual":
        return {"ini": 0, "dev": 1}.get(stage.phase, 2)
    age = age_years(plot, on)
    if age is None:
        return 2
    new, young = _YOUNG_UNTIL["woody" if _is_woody(plant) else "soft"]
    return 0 if age < new else 1 if age < young else 2


def container_depth_cm(litres: float) -> float:
    """Depth of soil in a pot as deep as it is wide. [cm] Our judgement: pots vary by a third."""
    return float(10 * (4 * litres / math.pi) ** (1 / 3))
