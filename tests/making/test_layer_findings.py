"""Layers and colours that machines would mix up are told; only what nobody can see is refused."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO_SHOP, ideal_shop_text

from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import FileChoices
from jigmaker.making.job_check import Source
from jigmaker.making.layer_findings import contrast_with_white, layer_findings
from jigmaker.making.plan import plan


def shop(apart=False, **layers):
    """The demo's shop with some fields of some layers changed."""
    changed = {key: replace(layer, **layers.get(key, {})) for key, layer in DEMO_SHOP.layers.items()}
    return replace(DEMO_SHOP, layers=changed, files=FileChoices(operations="apart" if apart else "together"))


CUT = {"name": "CUT", "colour": "#3f7f7f"}

CAUTIONS = [
    (shop(mark={"colour": "#5f007f"}), "outer.colour", "colour of the marks too", "cuts the marks through"),
    (shop(mark={"colour": "#0000f0"}, inner={"colour": "#0000ff"}), "inner.colour", "as colour 5", "colours of a DXF"),
    (shop(inner=CUT, outer=CUT), "outer.name", "the layer of the inner cuts too", "cut a part loose before"),
    (
        shop(note={"colour": "#5f007f"}),
        "note.colour",
        "colour of the outlines too",
        "with the note, which is never cut",
    ),
    (shop(apart=True, note={"colour": "#a57c00"}), "note.colour", "colour of the marks", "does with the marks"),
]


@pytest.mark.parametrize(("given", "key", "says", "would"), CAUTIONS)
def test_what_one_file_does_not_hold_apart_is_a_caution(given, key, says, would):
    """One for the pair, at the later one's key, with what a machine would do."""
    (finding,) = layer_findings(given)
    assert (finding.severity, finding.key) == ("caution", f"shop layers.{key}")
    assert says in finding.says and would in finding.says


@pytest.mark.parametrize(
    "given",
    [
        DEMO_SHOP,
        shop(apart=True, mark={"colour": "#5f007f"}),
        shop(apart=True, inner=CUT, outer=CUT),
        shop(mark={"colour": "#5f007f", "write": False}),
        replace(shop(mark={"colour": "#5f007f"}), machine=replace(DEMO_SHOP.machine, marking="none")),
    ],
)
def test_what_is_held_apart_or_not_drawn_is_none(given):
    """The defaults; one operation a file; marks that are left out, in either way."""
    assert layer_findings(given) == []


# By hand from WCAG 2.2: white 1.05 / 1.05, black 1.05 / 0.05; #767676, the lightest grey of 4.5 : 1, is widely known.
@pytest.mark.parametrize(("colour", "contrast"), [("#ffffff", 1.0), ("#000000", 21.0), ("#767676", 4.54)])
def test_contrast_is_that_of_the_guidelines(colour, contrast):
    """To two decimals."""
    assert contrast_with_white(colour) == pytest.approx(contrast, abs=0.005)


@pytest.mark.parametrize(
    ("colour", "told"),
    [
        ("#ffffff", "error"),
        ("#fafafa", "error"),
        ("#ffff00", "caution"),
        ("#00ffff", "caution"),
        ("#00ff00", "caution"),
        ("#d5d5d5", "caution"),
        ("#d0d0d0", ""),
    ],
)
def test_a_line_that_nobody_sees_is_refused_with_its_line(colour, told):
    """Before any work, by file, line and key. What machines ask for that know pure colours only is no more than told:
    yellow, cyan and green; that they do is common practice, no source."""
    text = ideal_shop_text() + f'\n[layers.inner]\ncolour = "{colour}"\n'.encode()
    line = text.count(b"\n", 0, text.index(colour.encode())) + 1
    source = Source(demo_job_text(), text)
    if told != "error":
        cautions = plan(read_job(demo_job_text()), read_shop(text), source).cautions
        assert [(each.code, each.key) for each in cautions] == [(131, "shop layers.inner.colour")] * (told == "caution")
        assert all("hard to see on white" in each.says for each in cautions)
        return
    says = rf"shop\.toml line {line}: layers\.inner\.colour: is .* cannot be seen on white: .* must be 1\.05 : 1"
    with pytest.raises(JobError, match=says):
        plan(read_job(demo_job_text()), read_shop(text), source)
