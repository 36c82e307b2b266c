"""The rules of shop.toml for saws and hand tools: how housings are made and legs are sawn, and with what; mm."""

from jigmaker.job.rules import Rule, Section


def _tool(name: str, meaning: str, *keys: tuple[str, float, float, str, str]) -> Section:
    """A tool that not every shop has: each key's name, least, most, sample and meaning."""
    return Section(
        name,
        meaning,
        tuple(
            Rule(key, "length", means, f"# {sample}", low, high, required=False, field=f"{key}_mm")
            for key, low, high, sample, means in keys
        ),
    )


HAND_SECTIONS = (
    Section(
        "housing_work",
        "How housings are made. With saw and chisel two saw guides and a paring guide are in the kit.",
        (
            Rule(
                "by",
                "choice",
                '"router", "saw and chisel" or "both"',
                "router",
                choices=("router", "saw and chisel", "both"),
                required=False,
                field="by",
            ),
        ),
    ),
    _tool(
        "hand_saw",
        "The back saw that runs along the saw guide; wanted where housings are sawn.",
        ("plate", 0.3, 2, "0.8", "the thickness of its plate"),
        ("kerf", 0.4, 3, "1.0", "the full width of its cut, measured in a scrap"),
        ("depth", 30, 200, "75", "from the teeth to the underside of the back, where that is larger"),
        ("back", 1, 20, "6", "the thickness of its back"),
        ("length", 150, 800, "300", "the length of its line of teeth"),
    ),
    _tool(
        "chisel",
        "The chisel that runs along the paring guide; wanted where housings are sawn.",
        ("blade", 50, 400, "140", "from its edge to its bolster or ferrule"),
    ),
    Section(
        "leg_saw",
        "The saw for the ends of legs. For one that does not tilt a jig is in the kit.",
        (
            Rule(
                "kind",
                "choice",
                '"tilting"; "plain", a mitre saw that does not tilt, or "hand", the back saw of [hand_saw]',
                "tilting",
                choices=("tilting", "plain", "hand"),
                required=False,
                default="tilting",
                field="kind",
            ),
            Rule(
                "cutting_height",
                "length",
                "the height that a plain mitre saw cuts through at its fence; measure your own",
                "# 70",
                20,
                300,
                required=False,
                field="cutting_height_mm",
            ),
        ),
    ),
)
