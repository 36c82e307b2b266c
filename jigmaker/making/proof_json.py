"""proof.json: the proof's Report for other programs. Lengths in mm, angles in degrees, units in the keys."""

from dataclasses import asdict
from typing import Any

from jigmaker.making.json_text import json_text
from jigmaker.making.ownership import PROOF as NAME
from jigmaker.making.ownership import sealed
from jigmaker.proof.prove import Report

__all__ = ["NAME", "proof_json"]


def proof_json(report: Report) -> bytes:
    """The verdict, every finding, and the figures of the routed housings."""
    # All but what the words on parts and papers are judged by, which is for the proof alone.
    told = json_text(
        {
            "schema": "jigmaker proof 2",
            "passed": report.passed,
            "parts": report.parts,
            "files": report.files,
            "findings": [
                {
                    "code": finding.code,
                    "severity": finding.severity,
                    "part": finding.part,
                    "at": finding.at,
                    "value": finding.value,
                    "limit": finding.limit,
                    "says": finding.says,
                    "do": finding.do,
                    "key": finding.key,
                }
                for finding in report.findings
            ],
            "held_without_bridge": [asdict(held) for held in report.loose],
            "figures": _plain_keys(
                {name: value for name, value in asdict(report.figures).items() if name not in ("known", "work")}
            )
            if report.figures
            else None,
        }
    )
    return sealed(told)


def _plain_keys(data: Any) -> Any:
    """The data with the corner ("near", "floor", "top") as near_floor_top."""
    if isinstance(data, dict):
        return {"_".join(key) if isinstance(key, tuple) else key: _plain_keys(value) for key, value in data.items()}
    return [_plain_keys(item) for item in data] if isinstance(data, list | tuple) else data
