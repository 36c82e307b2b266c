"""kit.json, numbers.json and proof.json are what their schemas say, by a general validator of JSON Schema 2020-12."""

import json
from functools import cache
from importlib.resources import files as package_files
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from kit_cache import kept, made
from sample_jobs import DEMO

from jigmaker.job.demo import demo_job_text
from jigmaker.making.proof_json import proof_json
from jigmaker.proof.prove import prove
from jigmaker.trestle.numbers import numbers_of
from jigmaker.trestle.solve import solve

TESTS = Path(__file__).parents[1]
NAMES = ("kit", "numbers", "proof")


@cache
def schema(name):
    """A published schema."""
    return json.loads((package_files("jigmaker") / "schemas" / f"{name}.schema.json").read_text("utf-8"))


def closed(part):
    """The same schema, by which a key that it does not name is wrong; published it lets later versions add keys."""
    if isinstance(part, list):
        return [closed(each) for each in part]
    if not isinstance(part, dict):
        return part
    shut = {"unevaluatedProperties": False} if "properties" in part else {}
    return {key: closed(value) for key, value in part.items()} | shut


def faults(name, data, is_closed=True):
    """Where the data differ from the schema, and how."""
    found = Draft202012Validator(closed(schema(name)) if is_closed else schema(name)).iter_errors(data)
    return [(fault.json_path, fault.message[:200]) for fault in found]


def some_of_each(data):
    """The same with the first of every long list: a validator takes a second for all the lines of a kit."""
    if isinstance(data, dict):
        return {key: some_of_each(value) for key, value in data.items()}
    return [some_of_each(each) for each in data[:6]] if isinstance(data, list) else data


@pytest.fixture(scope="module")
def told(demo_files, quick_shop):
    """(schema, data) of every kind that is written: laser and CNC, crooked machine, proved and broken folders."""
    pair = made(*((TESTS / where / "workshop_pair.toml").read_bytes() for where in ("jobs", "shops")))
    quick = made(demo_job_text(), quick_shop.encode())
    report = kept(b"schemas" + quick["kit.json"], lambda: prove(quick))
    crooked = made(
        demo_job_text() + b'\n[timber]\nspecies = "softwood"\nmoisture_now = 12\nmoisture_later = 16\n',
        quick_shop.replace("kerf = ", "scale_x = 1.001\nkerf_x = 0.16\nkerf_y = 0.24\nkerf = ").encode(),
    )
    sizes = made((TESTS / "jobs" / "class.toml").read_bytes(), quick_shop.encode())
    others = [json.loads(files["kit.json"]) for files in (pair, quick, crooked, sizes)]
    kits = [("kit", json.loads(demo_files["kit.json"])), *(("kit", some_of_each(kit)) for kit in others)]
    numbers = [("numbers", json.loads(files["numbers.json"])) for files in (demo_files, sizes)]
    numbers.append(("numbers", numbers_of(solve(DEMO))))
    proofs = [
        ("proof", json.loads(proof_json(each))) for each in (report, prove({}), prove({**quick, "job.toml": b""}))
    ]
    return kits + numbers + proofs


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_one(name):
    """By the standard's own schema; title and description say what the file is."""
    Draft202012Validator.check_schema(schema(name))
    assert schema(name)["title"].startswith(f"{name}.json: jigmaker {name} ")


def test_files_hold_to_their_schemas(told):
    """Nothing missing, nothing of another kind, and no key that the schema does not tell of."""
    assert {name for name, _ in told} == set(NAMES)
    assert [faults(name, data) for name, data in told] == [[]] * len(told)


def test_a_key_may_be_added_and_none_may_go(told):
    """Within a number keys are only added: readers must not fail at a new one, and may rely on the old ones."""
    _, kit = told[0]
    kit["parts"] = kit["parts"][:2]  # of a whole kit's a validator takes its time
    assert faults("kit", kit | {"new": 1}, is_closed=False) == []
    assert faults("kit", kit | {"new": 1}) != []
    for key in schema("kit")["required"]:
        assert faults("kit", {name: value for name, value in kit.items() if name != key}, is_closed=False) != []
