"""The house rules that a machine can hold: what each room may import, and how long functions and files may be.

Every module is read, none is run. Imports inside functions and under TYPE_CHECKING count like any other.
"""

import ast
import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "jigmaker"
MODULES = sorted(PACKAGE.rglob("*.py"))
IN_ROOMS = [path for path in MODULES if path != PACKAGE / "__init__.py"]
TESTS = sorted((ROOT / "tests").rglob("*.py"))

GROUND = ("record", "errors", "signs", "progress", "units", "findings", "geometry")
"""May be imported by every room, and by each other from right to left only."""

ROOMS: dict[str, set[str]] = {
    "job": set(),
    "trestle": {"job"},
    "parts": {"job", "trestle"},
    "levelling": {"job", "trestle", "parts"},
    "suggest": {"job", "trestle", "parts", "levelling"},
    "stability": {"job", "trestle"},
    "sheets": {"job", "parts"},
    "cutting": {"job", "parts", "sheets", "drawing"},
    "order": {"job", "trestle", "suggest"},
    "coupon": {"job", "parts"},
    "first_off": {"job", "trestle", "parts"},
    "timber": {"job", "trestle", "parts", "levelling", "first_off"},
    "drawing": set(),
    "papers": {
        *[
            "job",
            "trestle",
            "parts",
            "levelling",
            "suggest",
            "stability",
            "order",
            "coupon",
            "first_off",
            "timber",
            "sheets",
            "cutting",
            "drawing",
        ]
    },
    "writers": {"drawing"},
    "proof": {"job"},
}
ROOMS["making"] = set(ROOMS)
ROOMS["api"] = set(ROOMS)
ROOMS["bench"] = set(ROOMS)
ROOMS["cli"] = set(ROOMS)
ROOMS["__main__"] = {"cli"}

HEAVY = {"ezdxf", "shapely", "numpy", "svgwrite", "manifold3d", "reportlab", "OCP"}
FORBIDDEN_NAMES = {"utils", "helpers", "common", "misc", "manager", "data"}
LONGEST_FUNCTION, LONGEST_FILE = 45, 400
MOST_ONCE, MOST_SHORT, SHORT = 0.2, 25, 6
"""Private functions that their module uses once: their share of all functions, and how many of them may be short."""


def faults(paths: list[Path], found: Callable[[Path], object]) -> dict[str, object]:
    """What is found in each file, by the file's name; files in which nothing is found are left out."""
    return {path.relative_to(ROOT).as_posix(): fault for path in paths if (fault := found(path))}


@cache
def parsed(source: str) -> ast.Module:
    """The tree of a source, parsed once for all that look at it."""
    return ast.parse(source)


def source_of(path: Path) -> str:
    """A module's text."""
    return path.read_text("utf-8")


def room_of(path: Path) -> str:
    """The first step below the package: a folder, or a module that is a room of its own."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def allowed(room: str) -> set[str]:
    """The rooms that a room may import, itself included."""
    if room in GROUND:
        return {*GROUND[: GROUND.index(room)], *({room} if room == "geometry" else set())}
    return ROOMS[room] | {room, *GROUND}


def imported(tree: ast.AST) -> Iterator[tuple[str, ast.stmt]]:
    """The dotted name of everything imported anywhere in the tree; a relative import starts with a dot."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield "." * node.level + (node.module or ""), node


def room_faults(source: str, room: str) -> list[str]:
    """Names that a module of the room must not import."""
    names = [name for name, _ in imported(parsed(source)) if name.startswith((".", "jigmaker."))]
    return [name for name in names if name.startswith(".") or name.split(".")[1] not in allowed(room)]


def heavy_faults(source: str) -> list[str]:
    """Heavy libraries that are loaded as soon as the module is: not inside a function, not under TYPE_CHECKING."""
    tree = parsed(source)
    late = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]
    late += [node for node in ast.walk(tree) if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)]
    spared = {id(statement) for node in late for statement in ast.walk(node)}
    return [name for name, node in imported(tree) if name.split(".")[0] in HEAVY and id(node) not in spared]


def long_functions(source: str) -> list[str]:
    """Functions whose body, docstring not counted, is longer than the limit."""
    found = []
    for node in ast.walk(parsed(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            body = node.body[1:] if ast.get_docstring(node) is not None else node.body
            lines = body[-1].end_lineno - body[0].lineno + 1 if body else 0
            found += [f"{node.name}: {lines} lines"] if lines > LONGEST_FUNCTION else []
    return found


def used_once(source: str) -> dict[str, int]:
    """The private functions of a module that it names in one place only, with their lines; methods do not count."""
    tree = parsed(source)
    uses = Counter(getattr(node, "id", getattr(node, "attr", "")) for node in ast.walk(tree))
    own = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name.startswith("_")]
    return {node.name: node.end_lineno - node.lineno + 1 for node in own if uses[node.name] == 1}


def too_long(source: str) -> int:
    """A file's lines, if they are more than the limit; otherwise 0."""
    lines = len(source.splitlines())
    return lines if lines > LONGEST_FILE else 0


def test_there_are_modules_and_tests() -> None:
    """The tests below look at something."""
    assert len(MODULES) > 40
    assert len(TESTS) > 20


def test_a_module_imports_only_what_its_room_may() -> None:
    """Imports run one way: the rooms are drawn so that no reader has to look up."""
    assert faults(IN_ROOMS, lambda path: room_faults(source_of(path), room_of(path))) == {}


@pytest.mark.parametrize(
    ("source", "room", "fault"),
    [
        ("import jigmaker.cli.make", "making", "jigmaker.cli.make"),
        ("def f():\n    from jigmaker.trestle.solve import solve", "writers", "jigmaker.trestle.solve"),
        ("if TYPE_CHECKING:\n    from jigmaker.parts.kit import Kit", "proof", "jigmaker.parts.kit"),
        ("from jigmaker.findings import Finding", "units", "jigmaker.findings"),
        ("from jigmaker.units import text", "errors", "jigmaker.units"),
        ("from . import kit", "parts", "."),
    ],
)
def test_a_forbidden_import_is_found(source: str, room: str, fault: str) -> None:
    """The check above can fail, wherever in the module the import stands."""
    assert room_faults(source, room) == [fault]


def test_heavy_libraries_load_late() -> None:
    """Whoever asks for help does not wait for libraries that draw."""
    assert faults(MODULES, lambda path: heavy_faults(source_of(path))) == {}


@pytest.mark.parametrize(
    "source", ["import numpy as np", "class A:\n    import ezdxf", "try:\n    import shapely.ops\nfinally:\n    pass"]
)
def test_an_early_heavy_import_is_found(source: str) -> None:
    """The check above can fail."""
    assert len(heavy_faults(source)) == 1


def test_records_are_made_by_the_decorator_for_records() -> None:
    """The standard library's compiles six functions for every class, which small commands would wait for."""
    librarys = re.compile(r"^from dataclasses import .*\bdataclass\b|^ *@dataclasses\.dataclass", re.MULTILINE)
    assert faults(MODULES, lambda path: librarys.search(source_of(path))) == {}
    assert librarys.search("import ast\nfrom dataclasses import field, dataclass")


def test_files_and_functions_are_short() -> None:
    """A function fits a glance and a file an afternoon; every module says first what it is for."""
    assert faults(MODULES + TESTS, lambda path: not ast.get_docstring(parsed(source_of(path)))) == {}
    assert faults(MODULES + TESTS, lambda path: too_long(source_of(path))) == {}
    assert faults(MODULES + TESTS, lambda path: long_functions(source_of(path))) == {}


def test_a_long_function_is_found() -> None:
    """The check above can fail, and the docstring does not count."""
    body = "".join(f"    a{n} = {n}\n" for n in range(LONGEST_FUNCTION + 1))
    assert long_functions(f'def f():\n    """One."""\n{body}') == [f"f: {LONGEST_FUNCTION + 1} lines"]
    assert long_functions(f'def f():\n    """One."""\n{body[body.index("a1") - 4 :]}') == []


def test_modules_are_not_sliced_too_fine() -> None:
    """A private function that is used once sends its reader elsewhere, which only a hard matter is worth."""
    found = {path: used_once(source_of(path)) for path in MODULES}
    every = sum(isinstance(node, ast.FunctionDef) for path in MODULES for node in parsed(source_of(path)).body)
    share = sum(map(len, found.values())) / every
    short = [f"{path}: {name}" for path, of in found.items() for name, lines in of.items() if lines <= SHORT]
    do = "write it where it is used, its docstring as a comment; or make one of two that are nearly the same"
    assert share <= MOST_ONCE, f"{share:.1%} of all functions are private and used once: {do}"
    assert len(short) <= MOST_SHORT, f"{len(short)} short functions are private and used once: {do}:\n" + "\n".join(
        short
    )


def test_a_function_used_once_is_found() -> None:
    """The check above can fail; a second use, as a value too, is a reason to be a function."""
    source = "def _a():\n    return 1\n\n\ndef f():\n    return _a()\n"
    assert used_once(source) == {"_a": 2}
    assert used_once(source + "g = _a\n") == {}


def test_packages_hold_a_docstring_only() -> None:
    """Nothing is handed on from a room's __init__.py, which is how imports get into rings."""
    rooms = [path for path in sorted(PACKAGE.rglob("__init__.py")) if path != PACKAGE / "__init__.py"]
    assert faults(rooms, lambda path: [ast.unparse(statement) for statement in parsed(source_of(path)).body[1:]]) == {}


def test_no_module_has_a_name_that_says_nothing() -> None:
    """What is in a module called utils nobody can guess."""
    names = {part.removesuffix(".py") for path in MODULES for part in path.relative_to(PACKAGE).parts}
    assert names & FORBIDDEN_NAMES == set()


def endless_caches(source: str) -> list[str]:
    """Functions whose results are kept without end: in one process through a thousand jobs, memory would only grow."""
    made = [node for node in ast.walk(parsed(source)) if isinstance(node, ast.FunctionDef)]
    asked = [node for node in made if ast.unparse(node.args)]  # one without arguments has one result
    named = [(node.name, ast.unparse(decorator)) for node in asked for decorator in node.decorator_list]
    return [name for name, said in named if re.fullmatch(r"(functools\.)?(cache|lru_cache\(.*None.*\))", said)]


def test_what_is_kept_has_an_end() -> None:
    """No cache of the package is without a bound, and the check can fail."""
    assert faults(MODULES, lambda path: endless_caches(source_of(path))) == {}
    kept = "@cache\ndef f(a): pass\n@lru_cache(maxsize=None)\ndef g(a): pass\n@lru_cache(maxsize=4)\ndef h(a): pass"
    assert endless_caches(kept) == ["f", "g"]


def kinds_named(source: str) -> list[str]:
    """Classes, and aliases with a name like a class, at the top of a module."""
    found = [node.name for node in parsed(source).body if isinstance(node, ast.ClassDef)]
    assigned = [node for node in parsed(source).body if isinstance(node, ast.Assign)]
    names = [target.id for node in assigned for target in node.targets if isinstance(target, ast.Name)]
    return found + [name for name in names if name[0].isupper() and not name.isupper()]


def test_no_class_or_alias_has_the_name_of_another() -> None:
    """Whoever greps a name finds one thing; private ones count. `Record` stands for any record, in each reader."""
    where: dict[str, list[str]] = {}
    for path in MODULES:
        for name in kinds_named(source_of(path)):
            where.setdefault(name, []).append(path.relative_to(PACKAGE).as_posix())
    assert {name: files for name, files in where.items() if len(files) > 1 and name != "Record"} == {}
    assert kinds_named("class Ann: ...\nBob = int\nMOST = 3\nc = 4") == ["Ann", "Bob"]
