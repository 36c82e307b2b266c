"""The kit as exact models: every part once, every assembly with the pieces that its placements tell."""

import pytest
from sample_jobs import DEMO
from sample_variants import SHOPS

from jigmaker.geometry.outline import Arc
from jigmaker.parts.kit import make_kit
from jigmaker.parts.models import kit_models
from jigmaker.parts.solids import assembled, part_solid
from jigmaker.trestle.solve import solve

KITS = {name: make_kit(solve(DEMO), SHOPS[name]) for name in ("laser, bush, two slots", "laser, bush, one hand")}


@pytest.mark.parametrize("name", KITS)
def test_every_part_has_a_model_of_its_own(name):
    """By its slug, with the job's name in the title; its volume that of the chord solid or a hair more or less."""
    kit = KITS[name]
    models = {model: found for model, found in kit_models(kit).items() if model.startswith("parts/")}
    assert list(models) == [f"parts/{part.slug}" for part in kit.parts]
    for part, model in zip(kit.parts, models.values(), strict=True):
        (body,) = model.bodies
        assert model.title == f"{DEMO.name}: {part.name}"
        assert body.shape.volume == pytest.approx(part_solid(part, 64).volume, rel=1e-4)


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("hand", ["R", "L"])
def test_the_jig_is_put_together_for_each_hand(name, hand):
    """The pieces, by name, that the jig's solids have; nothing is assembled of one piece."""
    models = kit_models(KITS[name])
    bodies = models[f"housing-jig-{hand.lower()}"].bodies
    assert [body.name for body in bodies] == list(assembled(KITS[name], hand))
    whole = {model: found for model, found in models.items() if "/" not in model}
    assert min(len(model.bodies) for model in whole.values()) > 1
    assert {"trestle", "bevel-plate", "foot-block", "housing-jig-r", "housing-jig-l"} == set(whole)


def test_arcs_stay_arcs():
    """The plate's two slots have four rounded corners each, and none of them is chords."""
    (body,) = kit_models(KITS["laser, bush, two slots"])["parts/plate"].bodies
    contours = [body.shape.outline, *body.shape.holes]
    arcs = [piece for contour in contours for piece in getattr(contour, "segments", ()) if isinstance(piece, Arc)]
    assert len(arcs) == 8
