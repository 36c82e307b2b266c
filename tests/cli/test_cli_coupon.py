"""jigmaker coupon: its files, what it says of readings, the change it makes to the shop file and when it does not."""

import errno
import random
import re
import shlex
from dataclasses import replace
from math import radians, tan
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from measured_coupon import MIDDLE, form_of, noisy
from sample_jobs import ideal_shop_text

from jigmaker.cli import coupon as cli_coupon
from jigmaker.cli import coupon_answers
from jigmaker.cli.coupon_answers import QUESTIONS
from jigmaker.cli.main import jigmaker
from jigmaker.cli.speech import WIDTH
from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.form_text import form_text
from jigmaker.coupon.lines import Allowance
from jigmaker.job.read import read_shop
from jigmaker.parts.coupon_size import coupon_size

SHOP = read_shop(ideal_shop_text())
SIZE = coupon_size(SHOP, "mm")
CROOKED = Guess(0.21, 0.27, 1.002, 1.002, tan(radians(0.3)), MIDDLE)
STOPS = {"gap__marked_face": "[20, 20, 20]", "gap__other_face": "[25, 25.5, 24.5]"}


def run(*words: object, said: str = "") -> Result:
    """One command line."""
    return CliRunner().invoke(jigmaker, [str(word) for word in words], input=said)


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a shop.toml and a filled-in form of a crooked machine, and nothing else; we stand in it."""
    monkeypatch.chdir(tmp_path)
    Path("shop.toml").write_bytes(ideal_shop_text())
    taken = noisy(SIZE, Allowance(0.2, 0.2), CROOKED, random.Random(3))
    Path("form.toml").write_bytes(form_of(SHOP, "mm", taken, **STOPS))
    return tmp_path


@pytest.fixture
def at_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody can be asked."""
    for module in (cli_coupon, coupon_answers):
        monkeypatch.setattr(module, "is_terminal", lambda: True)


def test_it_writes_cut_files_and_form(shed: Path) -> None:
    """Into ./coupon unless told otherwise; what it says to open is there, and the form is an empty one of this shop."""
    result = run("coupon")
    assert result.exit_code == 0, result.output
    names = sorted(path.name for path in Path("coupon").iterdir())
    cut = ["coupon-finished-size.dxf", "coupon-finished-size.svg", "coupon-kerf-0.20.dxf", "coupon-kerf-0.20.svg"]
    assert names == [*cut, "form.html", "form.toml", "where.svg"]
    assert Path("coupon/form.toml").read_text("utf-8") == form_text(SHOP, "mm")
    for word in re.findall(r"coupon/\S+\.(?:dxf|html|toml)", result.stdout):
        assert Path(word).is_file()
    assert b"kerf = 0.2 mm + (gap less 12 mm) / 30" in Path("coupon/coupon-kerf-0.20.svg").read_bytes()


def test_a_form_that_is_filled_in_is_never_overwritten(shed: Path) -> None:
    """A second run stops at the first file that is there."""
    assert run("coupon", "--out", "here").exit_code == 0
    Path("here/form.toml").write_text("mine", "utf-8")
    result = run("coupon", "--out", "here")
    assert result.exit_code == 2
    assert "is there already" in result.stderr
    assert Path("here/form.toml").read_text("utf-8") == "mine"


def test_without_a_shop_it_offers_new(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody's kerf is taken from the demo."""
    monkeypatch.chdir(tmp_path)
    result = run("coupon")
    assert result.exit_code == 2
    assert re.search(r"no shop\.toml here; .*--shop FILE.*jigmaker new DIR", result.stderr)


def test_readings_change_the_shop_file(shed: Path) -> None:
    """With --yes: found figures with their uncertainty, the change as lines out and in, and only those lines new."""
    before = Path("shop.toml").read_text("utf-8")
    result = run("coupon", "--read", "form.toml", "--yes")
    assert result.exit_code == 0, result.output
    after = Path("shop.toml").read_text("utf-8")
    machine = read_shop(after.encode()).machine
    assert (machine.kerf_x_mm, machine.kerf_y_mm) == pytest.approx((0.21, 0.27), abs=0.01)
    assert (machine.scale_x, machine.scale_y) == pytest.approx((1.002, 1.002), abs=3e-4)
    assert machine.skew_deg == pytest.approx(0.3, abs=0.025)
    shown = {sign: [x[1:] for x in result.stdout.splitlines() if re.match(rf"\{sign}[^-+]", x)] for sign in "-+"}
    kept = [line for line in after.splitlines() if line not in shown["+"]]
    assert kept == [line for line in before.splitlines() if line not in shown["-"]]
    assert "# full width of the cut, from a test cut in this sheet" in after
    assert sorted(path.name for path in shed.iterdir()) == ["form.toml", "shop.toml"]


ROWS = [
    (r"kerf in x +0\.2[01]\d mm +0\.0[01]\d mm +0\.200 mm"),
    (r"kerf in y +0\.2[67]\d mm +0\.0[01]\d mm +0\.200 mm"),
    (r"scale in x +1\.00[12]\d\d +0\.000\d\d +1\.00000"),
    (r"skew +0\.[23]\d\d° +0\.0[12]\d° +0\.000° +rising diagonal longer"),
    (r"slot for joints, as cut +9\.1\d\d mm .*slot 9\.15 mm"),
    (r"taper of the cut +0\.050 mm +0\.00\d mm +0\.16° a wall, wide on the marked face"),
]


def test_the_table_tells_each_figure_with_its_uncertainty(shed: Path) -> None:
    """And fits the screen."""
    said = run("coupon", "--read", "form.toml", "--yes").stdout
    for row in ROWS:
        assert re.search(rf"(?m)^{row}$", said), row
    assert max(len(line) for line in said.splitlines() if not line.startswith(("+", "-", " "))) <= WIDTH


@pytest.mark.parametrize(("answer", "written"), [("y\n", True), ("n\n", False), ("\n", False)])
def test_it_asks_before_it_writes(shed: Path, at_terminal: None, answer: str, written: bool) -> None:
    """On a terminal, after the change was shown; no is no fault."""
    result = run("coupon", "--read", "form.toml", said=answer)
    assert result.exit_code == 0, result.output
    assert result.stdout.index("+kerf = ") < result.stdout.index("Write this into shop.toml?")
    assert (Path("shop.toml").read_bytes() != ideal_shop_text()) == written
    assert ("Nothing was written." in result.stdout) != written


def test_nobody_to_ask_means_nothing_written(shed: Path) -> None:
    """The table and the change are shown, the shop stays, and the option is named."""
    result = run("coupon", "--read", "form.toml", said="y\n")
    assert result.exit_code == 2
    assert "+kerf = " in result.stdout
    assert "nothing was written: there is no terminal to ask at; give --yes" in result.stderr
    assert Path("shop.toml").read_bytes() == ideal_shop_text()


def test_after_the_change_there_is_nothing_to_change(shed: Path) -> None:
    """The same form read again says what the shop says."""
    assert run("coupon", "--read", "form.toml", "--yes").exit_code == 0
    changed = Path("shop.toml").read_bytes()
    result = run("coupon", "--read", "form.toml", "--yes")
    assert result.exit_code == 0, result.output
    assert "nothing to change" in result.stdout
    assert Path("shop.toml").read_bytes() == changed


def test_contradictions_are_refused_by_name(shed: Path) -> None:
    """A long length read 1 short: named, exit code 1, nothing written."""
    ideal = forecast(SIZE, Allowance(0.2, 0.2), CROOKED)
    Path("form.toml").write_bytes(form_of(SHOP, "mm", ideal | {"D_long_x": ideal["D_long_x"] - 1}))
    result = run("coupon", "--read", "form.toml", "--yes")
    assert result.exit_code == 1
    assert "D, long in X: read 144.28 mm, but the other readings say 145.28" in result.stderr
    assert result.stdout == ""
    assert Path("shop.toml").read_bytes() == ideal_shop_text()


def test_a_kerf_that_no_shop_may_have_is_refused_by_the_shops_own_rule(shed: Path) -> None:
    """1.15 mm where the shop said 0.9: the sentence names key and rule; nothing written."""
    wide = re.sub(rb"(?m)^kerf = 0.20", b"kerf = 0.90", ideal_shop_text())
    Path("shop.toml").write_bytes(wide)
    guess = replace(CROOKED, kerf_x_mm=1.15, kerf_y_mm=1.15)
    ideal = forecast(coupon_size(read_shop(wide), "mm"), Allowance(0.9, 0.9), guess)
    form = form_of(read_shop(wide), "mm", {key: value for key, value in ideal.items() if key[0] in "ABD"})
    Path("form.toml").write_bytes(form)
    result = run("coupon", "--read", "form.toml", "--yes")
    assert result.exit_code == 1
    assert re.search(r"shop\.toml with these changes line \d+: machine\.kerf is 1\.\d+ mm", result.stderr)
    assert Path("shop.toml").read_bytes() == wide


def options_of(taken: dict[str, float], *more: str) -> list[str]:
    """Readings as options, three alike."""
    of = {question.key: f"--{question.option}" for question in QUESTIONS}
    words = [[of[f"readings.{key}"], " ".join([f"{value:.3f}"] * 3)] for key, value in taken.items()]
    return [word for pair in words for word in pair] + list(more)


def test_options_do_for_a_form(shed: Path) -> None:
    """Without a terminal and without a file."""
    taken = forecast(SIZE, Allowance(0.0, 0.0), Guess(0.25, 0.25, 1.0, 1.0, 0.0, MIDDLE))
    words = options_of(taken, "--compensation", "left out", "--c-marked-face", "30 30.5 30")
    result = run("coupon", "--yes", *words, "--read")
    assert result.exit_code == 0, result.output
    assert read_shop(Path("shop.toml").read_bytes()).machine.tool_mm == pytest.approx(0.25, abs=0.001)
    assert "skew" in result.stdout and "no skew to be seen" in result.stdout


def test_what_options_lack_is_named(shed: Path) -> None:
    """Where nobody can be asked: each missing answer by its option."""
    result = run("coupon", "--a", "12.4 12.4 12.4", "--read")
    assert result.exit_code == 2
    assert re.search(
        r"no terminal.*--compensation, --b, --d-long-x, --d-short-x, --d-long-y, --d-short-y$", result.stderr
    )


def three(taken):
    """Readings as somebody types them, by the key of the place."""
    return {key: " ".join([f"{value:.3f}"] * 3) for key, value in taken.items()}


STRAIGHT = ("A_wedge", "B_wedge", "D_long_x", "D_short_x", "D_long_y", "D_short_y")


def test_on_a_terminal_it_asks_for_the_rest(shed: Path, at_terminal: None) -> None:
    """An empty answer leaves a place out; each question tells what was drawn there."""
    typed = three(forecast(SIZE, Allowance(0.2, 0.2), Guess(0.25, 0.25, 1.0, 1.0, 0.0, MIDDLE)))
    answers = ["included", "", "", *(typed[key] for key in STRAIGHT), *[""] * 6, "y"]
    result = run("coupon", "--read", said="\n".join(answers) + "\n")
    assert result.exit_code == 0, result.output
    assert "D, long in X, drawn 145.00 mm (three readings)" in result.output
    assert "E, falling" not in result.output
    assert "not measured" in result.stdout
    assert read_shop(Path("shop.toml").read_bytes()).machine.tool_mm == pytest.approx(0.25, abs=0.001)


SLIPS = [
    ("12", "this has 1 reading, must have 3"),
    ("12,6 12,6 12,6", 'has a decimal comma; write "12.6"'),
    ("a b c", "is not a clear length"),
    ("145 145 145", r"this is 145 mm, must be 0\.5 to 25\.5 mm; it stands for behind the longer wedge"),
]


@pytest.mark.parametrize(("slip", "says"), SLIPS)
def test_a_slip_is_mended_where_it_happens(shed: Path, at_terminal: None, slip: str, says: str) -> None:
    """By the form's own rule, once, and the same question again."""
    typed = three(forecast(SIZE, Allowance(0.2, 0.2), Guess(0.25, 0.25, 1.0, 1.0, 0.0, MIDDLE)))
    answers = ["included", "", "", slip, *(typed[key] for key in STRAIGHT), *[""] * 6, "y"]
    result = run("coupon", "--read", said="\n".join(answers) + "\n")
    assert result.exit_code == 0, result.output
    assert len(re.findall(says, result.output)) == 1
    assert result.output.count("A, wedge, gap behind it") == 2


def test_a_diagonal_asks_for_the_other(shed: Path, at_terminal: None) -> None:
    """One alone says nothing of the skew: the falling one may not stay empty once the rising one was told."""
    typed = three(forecast(SIZE, Allowance(0.2, 0.2), CROOKED))
    measured = [*(typed[key] for key in STRAIGHT), typed["E_rising"], "", typed["E_falling"]]
    result = run("coupon", "--read", said="\n".join(["included", "", "", *measured, *[""] * 5, "y"]) + "\n")
    assert result.exit_code == 0, result.output
    assert read_shop(Path("shop.toml").read_bytes()).machine.skew_deg == pytest.approx(0.3, abs=1e-3)


def test_what_was_typed_is_not_lost_when_it_is_refused(shed: Path, at_terminal: None) -> None:
    """A contradiction ends with the command that gives the same answers; the right figure put in, it passes."""
    taken = forecast(SIZE, Allowance(0.2, 0.2), Guess(0.25, 0.25, 1.0, 1.0, 0.0, MIDDLE))
    typed = three(taken | {"B_wedge": taken["B_wedge"] + 3.0})
    result = run("coupon", "--read", said="\n".join(["included", "", "", *typed.values(), "", "", ""]) + "\n")
    assert result.exit_code == 1
    assert "B, wedge: read" in result.stderr
    program, *words = shlex.split(result.stderr.splitlines()[-1])
    assert program == "jigmaker"
    assert Path("shop.toml").read_bytes() == ideal_shop_text()
    right = [three(taken)["B_wedge"] if word == typed["B_wedge"] else word for word in words]
    assert right != words
    again = run(*right, "--yes")
    assert again.exit_code == 0, again.output


def test_faults_of_options_name_the_options(shed: Path) -> None:
    """Nobody has seen the form that they are put into."""
    taken = forecast(SIZE, Allowance(0.2, 0.2), CROOKED)
    words = options_of(taken | {"A_wedge": 30.0}, "--compensation", "included", "--read")
    result = run("coupon", *words)
    assert result.exit_code == 1
    assert result.stderr.count("--a is 30.0 mm, must be ") == 1
    assert "the answers" not in result.stderr


def test_every_question_of_the_form_has_an_option() -> None:
    """The form's own keys, all but those that the coupon brings with it."""
    section, keys = "", set()
    for line in form_text(SHOP, "mm").splitlines():
        if head := re.match(r"\[(\w+)\]", line):
            section = head[1]
        elif key := re.match(r"(\w+) = ", line):
            keys.add(f"{section}.{key[1]}")
    of_the_coupon = {f"coupon.{key}" for key in ("form", "drawn_in", "machine", "made_for", "thickness")}
    assert {question.key for question in QUESTIONS} == keys - of_the_coupon


WRONG = [
    (["--yes"], "--yes: only together with --read"),
    (["--a", "1 1 1"], "--a: only together with --read"),
    (["--read", "form.toml", "--a", "1 1 1"], "--a: stands in the form"),
    (["--read", "nowhere.toml"], "nowhere.toml is not there; jigmaker coupon writes a form"),
    (["--shop", "shed.toml"], "shed.toml is not there"),
]


@pytest.mark.parametrize(("words", "says"), WRONG)
def test_wrong_usage_ends_in_two(shed: Path, words: list[str], says: str) -> None:
    """With a sentence, and nothing written."""
    result = run("coupon", *words)
    assert result.exit_code == 2
    assert says in result.stderr
    assert sorted(path.name for path in shed.iterdir()) == ["form.toml", "shop.toml"]


def test_a_shop_changed_meanwhile_is_not_overwritten(shed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between the reading and the yes somebody saved another figure."""
    monkeypatch.setattr(cli_coupon, "is_terminal", lambda: True)

    def meanwhile(_: str) -> bool:
        Path("shop.toml").write_text("mine", "utf-8")
        return True

    monkeypatch.setattr(cli_coupon.click, "confirm", meanwhile)
    result = run("coupon", "--read", "form.toml")
    assert result.exit_code == 2
    assert "was changed by someone else meanwhile" in result.stderr
    assert Path("shop.toml").read_text("utf-8") == "mine"


def test_a_linked_shop_keeps_its_link_and_its_rights(shed: Path) -> None:
    """The file behind the link is changed; nobody else may read it afterwards either."""
    Path("real.toml").write_bytes(ideal_shop_text())
    Path("real.toml").chmod(0o600)
    Path("shop.toml").unlink()
    Path("shop.toml").symlink_to("real.toml")
    assert run("coupon", "--read", "form.toml", "--yes").exit_code == 0
    assert Path("shop.toml").is_symlink()
    assert Path("real.toml").read_bytes() != ideal_shop_text()
    assert Path("real.toml").stat().st_mode & 0o777 == 0o600


def test_a_disk_that_says_no_leaves_the_shop_as_it_was(shed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Full while the new file is written: one sentence, the old file whole, nothing beside it."""

    real = Path.open

    def full(self: Path, mode: str = "r", **settings: object):
        if mode == "xb":
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(self, mode, **settings)

    monkeypatch.setattr(Path, "open", full)
    result = run("coupon", "--read", "form.toml", "--yes")
    assert result.exit_code == 1
    assert "shop.toml cannot be written: the disk is full" in result.stderr
    assert Path("shop.toml").read_bytes() == ideal_shop_text()
    assert sorted(path.name for path in shed.iterdir()) == ["form.toml", "shop.toml"]


def test_an_inch_shop_is_told_and_written_in_inches(shed: Path) -> None:
    """Figures to a caliper's ten thousandths; the file's own unit in the file."""
    text = re.sub(r"(?m)^(\w+) = ([0-9.]+)(?=\s)", r"\1 = '\2 mm'", ideal_shop_text().decode())
    Path("shop.toml").write_text(text.replace('units = "mm"', 'units = "in"'), "utf-8")
    shop = read_shop(Path("shop.toml").read_bytes())
    taken = forecast(coupon_size(shop, "in"), Allowance(0.2, 0.2), Guess(0.254, 0.254, 1.0, 1.0, 0.0, MIDDLE))
    Path("form.toml").write_bytes(form_of(shop, "in", taken))
    result = run("coupon", "--read", "form.toml", "--yes")
    assert result.exit_code == 0, result.output
    assert re.search(r'kerf, mean +0\.0100" +0\.000\d" +0\.0079"', result.stdout)
    assert "+kerf = 0.01 " in result.stdout
    assert read_shop(Path("shop.toml").read_bytes()).machine.tool_mm == pytest.approx(0.254, abs=1e-6)
