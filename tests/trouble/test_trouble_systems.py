"""What goes wrong on other people's machines: their locale, their code page, their editor's bytes."""

import ast
import os
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from sample_jobs import ideal_shop_text

from jigmaker.errors import JobError
from jigmaker.job.read import read_shop

PACKAGE = Path(__file__).parent.parent.parent / "jigmaker"
MODULES = sorted(PACKAGE.rglob("*.py"))


def locale_faults(source):
    """What would follow the system's locale or code page: number formats by locale, text files without an encoding."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import | ast.ImportFrom) and "locale" in ast.unparse(node):
            found.append(ast.unparse(node))
        if isinstance(node, ast.FormattedValue) and node.format_spec and _spec(node.format_spec).endswith("n"):
            found.append(ast.unparse(node))
        if isinstance(node, ast.Call):
            found += _call_faults(node)
    return found


def _spec(spec):
    return "".join(part.value for part in spec.values if isinstance(part, ast.Constant))


def _call_faults(call):
    if ast.unparse(call.func) in (
        "os.open",
        "webbrowser.open",
    ):  # a descriptor of bytes; no file
        return []
    name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    named = {word.arg for word in call.keywords} | {"encoding" for one in call.args if _is(one, "utf-8", "ascii")}
    if name in ("read_text", "write_text") and isinstance(call.func, ast.Attribute) and "encoding" not in named:
        return [ast.unparse(call)]
    is_bytes = any(_is(one, "rb", "wb", "xb") for one in [*call.args, *(word.value for word in call.keywords)])
    return [ast.unparse(call)] if name == "open" and not is_bytes and "encoding" not in named else []


def _is(node, *values):
    return isinstance(node, ast.Constant) and str(node.value).lower() in values


def test_nothing_asks_the_system_how_to_write():
    """Under a German locale 123.45 becomes 123,45, which is two numbers; under a Western code page files break."""
    assert len(MODULES) > 40
    found = {str(path.relative_to(PACKAGE)): locale_faults(path.read_text("utf-8")) for path in MODULES}
    assert {name: faults for name, faults in found.items() if faults} == {}


@pytest.mark.parametrize(
    "source",
    [
        "import locale",
        "from locale import setlocale",
        "f'{x:n}'",
        "open('a.svg', 'w')",
        "Path('a').open()",
        "path.write_text(words)",
        "path.read_text()",
    ],
)
def test_what_asks_the_system_is_found(source):
    """The check above can fail."""
    assert len(locale_faults(source)) == 1


@pytest.mark.parametrize(
    "source", ["open('a', 'wb')", "os.open('a', os.O_RDONLY)", "path.read_text('utf-8')", "open(p, encoding='utf-8')"]
)
def test_what_is_safe_is_passed(source):
    """And only then."""
    assert locale_faults(source) == []


def test_a_name_with_accents_on_a_system_that_knows_ascii_only(bench, tmp_path):
    """Files that claim to be UTF-8 and are not open nowhere: every SVG parses, with the name as it was given."""
    job, name = bench / "job.toml", "Bänkchen ½ Łódź 鋸"
    job.write_bytes(job.read_bytes().replace(b"Potting bench", name.encode()))
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("LC_", "LANG", "PYTHON"))}
    elsewhere = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    words = [sys.executable, "-m", "jigmaker", "make", str(job), "--out", str(tmp_path / "made")]
    run = subprocess.run(words, env={**kept, **elsewhere}, capture_output=True, check=False)
    assert (run.returncode, run.stderr, run.stdout.isascii()) == (0, b"", True)
    written = sorted((tmp_path / "made").rglob("*.svg"))
    assert written
    for path in written:
        title = ElementTree.fromstring(path.read_bytes()).findtext("{http://www.w3.org/2000/svg}title")
        assert name in (title or ""), path.name
    for path in (tmp_path / "made").rglob("*.dxf"):  # drawings are R2007, which is UTF-8
        assert name in path.read_text("utf-8") if "drawings" in path.parts else path.read_bytes().isascii(), path.name


SAVED = {
    "windows line ends": ideal_shop_text().replace(b"\n", b"\r\n"),
    "byte order mark": b"\xef\xbb\xbf" + ideal_shop_text(),
    "both": b"\xef\xbb\xbf" + ideal_shop_text().replace(b"\n", b"\r\n"),
}


@pytest.mark.parametrize("data", SAVED.values(), ids=list(SAVED))
def test_a_shop_saved_by_any_editor(data):
    """A mark before the first letter is no fault, and when there is one, its line is still the editor's line."""
    assert read_shop(data) == read_shop(ideal_shop_text())
    line = next(n for n, text in enumerate(ideal_shop_text().splitlines(), 1) if text.startswith(b"kerf"))
    with pytest.raises(JobError, match=rf"shop\.toml line {line}: machine\.kerf is nan"):
        read_shop(data.replace(b"kerf = 0.20", b"kerf = nan"))
