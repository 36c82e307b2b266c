"""Trestle and kit as exact models: Kit in, named models out; timber and part frames, the assemblies' own; mm.

Parts are at finished size: no kerf, no tool. Marks and letters are left out.
"""

from dataclasses import replace

from jigmaker.geometry.model import Model, ModelBody, Prism
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part, State
from jigmaker.trestle.timber import timber_models, trestle_model

_STATES: tuple[State, ...] = ("R", "L")


def kit_models(kit: Kit) -> dict[str, Model]:
    """Everything there is, by name: "trestle", "housing-jig-r" and -l and what else is put together, "timber/leg" and
    the other pieces of wood, "parts/plate" and the other parts. Titles begin with the job's name.
    """
    models = {"trestle": trestle_model(kit.trestle)}
    # Whatever two pieces or more are put together to; once for each hand where its pieces are set for one.
    for assembly in dict.fromkeys(part.assembly for part in kit.parts):
        parts = [part for part in kit.parts if part.assembly == assembly]
        slug = assembly.replace(" ", "-")
        is_handed = any(place.state != "both" for part in parts for place in part.placements)
        for state in _STATES if is_handed else ("both",):
            bodies = tuple(
                ModelBody(place.name, part.name, part_shape(part), place.assembly_from_part)
                for part in parts
                for place in part.placements
                if place.state in ("both", state)
            )
            if len(bodies) > 1 and is_handed:
                models[f"{slug}-{state.lower()}"] = Model(f"{assembly}, set for {state}", bodies)
            elif len(bodies) > 1:
                models[slug] = Model(assembly, bodies)
    models |= {f"timber/{name}": model for name, model in timber_models(kit.trestle).items()}
    for part in kit.parts:
        models[f"parts/{part.slug}"] = Model(part.name, (ModelBody(part.name, part.name, part_shape(part)),))
    return {name: replace(model, title=f"{kit.trestle.job.name}: {model.title}") for name, model in models.items()}


def part_shape(part: Part) -> Prism:
    """A part's exact shape, part frame."""
    return Prism(part.outline, tuple(hole.contour for hole in part.holes), part.thickness_mm)
