"""jigmaker angles: the table and numbers.json on the screen, with and without a shop."""

import json
import re
from pathlib import Path

from click.testing import CliRunner, Result
from sample_jobs import SAW_AND_CHISEL

from jigmaker.cli.main import jigmaker
from jigmaker.job.demo import demo_shop_text

JOBS = Path(__file__).parent.parent / "jobs"


def run(*words: object) -> Result:
    """One command line."""
    return CliRunner().invoke(jigmaker, ["angles", *(str(word) for word in words)])


def test_the_demo_has_its_table_and_its_jig() -> None:
    """Without a word more; figures of the demo as worked out by hand: 9.1 + 7 + 32."""
    result = run()
    assert result.exit_code == 0
    assert result.stdout.startswith("Potting bench: 6 trestles, 720 mm high")
    assert re.search(r"projection +48\.1 mm", result.stdout)
    assert result.stderr == ""


def test_no_shop_is_needed(tmp_path: Path) -> None:
    """Then the jig's numbers are left out, and nothing is said about it."""
    (tmp_path / "job.toml").write_bytes((JOBS / "job_a.toml").read_bytes())
    table, numbers = run(tmp_path / "job.toml"), run(tmp_path / "job.toml", "--json")
    assert table.exit_code == numbers.exit_code == 0
    assert "HOUSING JIG" not in table.stdout
    assert "jig" not in json.loads(numbers.stdout)
    assert list(tmp_path.iterdir()) == [tmp_path / "job.toml"]


def test_a_shop_without_a_router_has_no_jig(tmp_path: Path) -> None:
    """Nor figures of one: what its guides are is on their parts."""
    (tmp_path / "job.toml").write_bytes((JOBS / "job_a.toml").read_bytes())
    shop = re.sub(r"(?ms)^\[hand_router\].*?(?=^\[|\Z)", "", demo_shop_text().decode())
    (tmp_path / "shop.toml").write_text(shop + SAW_AND_CHISEL, "utf-8")
    result = run(tmp_path / "job.toml")
    assert result.exit_code == 0 and not re.search("JIG|slot|projection|[Rr]out", result.stdout)


def test_a_shop_whose_saw_does_not_tilt_is_told_what_it_can_do(tmp_path: Path) -> None:
    """The other angles are the trestle's own; one sentence says how this saw comes to them, none for one that tilts."""
    (tmp_path / "job.toml").write_bytes((JOBS / "job_a.toml").read_bytes())
    shop = demo_shop_text().decode()
    plain = '[leg_saw]\nkind = "plain"\ncutting_height'
    says = {
        f"{plain} = 100\n": "Sloping cradle: mitre 7.39° off square",  # of 82/74, proved on solids of another kernel
        f"{plain} = 40\n": "Legs: both ends marked with the bevel and sawn by hand.",
        f'{SAW_AND_CHISEL}[leg_saw]\nkind = "hand"\n': "Leg box: wide face down, head at your left, slid along",
    }
    for saw, words in says.items():
        (tmp_path / "shop.toml").write_text(f"{shop}\n{saw}", "utf-8")
        result = run(tmp_path / "job.toml")
        assert result.exit_code == 0, result.output
        assert words in result.stdout.partition("THE SHOP'S OWN SAW")[2]
    (tmp_path / "shop.toml").write_text(shop, "utf-8")
    assert "THE SHOP'S OWN SAW" not in run(tmp_path / "job.toml").stdout


def test_json_is_the_file(demo_files) -> None:
    """What make writes as numbers.json is what --json prints."""
    assert run("--json").stdout_bytes == demo_files["numbers.json"]


def test_a_shop_beside_the_job_adds_the_jig(bench: Path) -> None:
    """By the same rule as make."""
    assert json.loads(run(bench / "job.toml", "--json").stdout)["jig"]["projection_mm"] == 48.1


def test_units_may_be_chosen() -> None:
    """The same job in inches: 720 mm is 28 11/32 in to the 64th (28.346)."""
    assert '28 11/32" high' in run("--units", "in").stdout
    assert '28 1/2" high' in run(JOBS / "inch.toml").stdout
    assert "723.9 mm high" in run(JOBS / "inch.toml", "--units", "mm").stdout


def test_a_jig_that_cannot_be_leaves_the_angles(bench: Path) -> None:
    """The trestle can be sawn by hand: the angles are told, and on stderr why the jig's numbers are not."""
    shop = (bench / "shop.toml").read_text("utf-8")
    (bench / "shop.toml").write_text(shop.replace("cutter_reach = 55", "cutter_reach = 30"), "utf-8")
    result = run(bench / "job.toml")
    assert result.exit_code == 0
    assert "HOUSING JIG" not in result.stdout
    assert re.search(
        r"the jig's numbers are left out: .*shop\.toml line [0-9]+: hand_router\.cutter_reach: ", result.stderr
    )


def test_a_trestle_that_cannot_be_is_refused(bench: Path) -> None:
    """Its angles would be of no use."""
    job = (bench / "job.toml").read_text("utf-8")
    (bench / "job.toml").write_text(job.replace("thickness = 32", "thickness = 12"), "utf-8")
    result = run(bench / "job.toml")
    assert result.exit_code == 1
    assert "the housing runs out" in result.stderr
    assert result.stdout == ""
