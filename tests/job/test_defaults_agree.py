"""A record made in code and one read from a file that leaves the key out have the same default."""

import inspect
import re
from dataclasses import MISSING, fields, is_dataclass

from jigmaker.job import job, shop
from jigmaker.job.sections import JOB, SHOP


def test_a_records_default_is_its_rules_default():
    """For every record that is checked against a section: fields with a default have it from the section's table."""
    rules, seen = {section.name: section for section in (*JOB, *SHOP)}, 0
    for record in (
        each
        for module in (job, shop)
        for each in vars(module).values()
        if isinstance(each, type) and is_dataclass(each)
    ):
        for name in re.findall(r'check_record\(self, "([a-z_]+)"', inspect.getsource(record)):
            wanted = {rule.field or rule.key: rule.default for rule in rules[name].rules if not rule.required}
            given = {each.name: each.default for each in fields(record) if each.default is not MISSING}
            both = wanted.keys() & given.keys()
            assert {key: given[key] for key in both} == {key: wanted[key] for key in both}, name
            seen += len(both)
    assert seen >= 20
