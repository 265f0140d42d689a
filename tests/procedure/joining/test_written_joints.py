"""Joints whose decision was written from the trade's rules before the program decided."""

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from buttonhole.desk.joint_file import joint_file_from
from buttonhole.procedure.joining.book import built_in
from buttonhole.procedure.joining.decide import decide
from buttonhole.procedure.joining.decision import Decision, Outcome, Standing
from buttonhole.procedure.joining.method import find_method
from buttonhole.sources import bibliography

WRITTEN = tomllib.loads(
    Path(__file__).with_name("written_joints.toml").read_text(encoding="utf-8")
)["joint"]
ON = date(2026, 3, 2)
written = pytest.mark.parametrize("case", WRITTEN, ids=[one["name"] for one in WRITTEN])


def decided(case: dict[str, Any]) -> Decision:
    described = joint_file_from(tomllib.loads(case["file"]))
    return decide(described.joint, built_in().with_filed(described.rules), ON)


def test_there_are_twenty_at_least() -> None:
    assert len({one["name"] for one in WRITTEN}) >= 20


@written
def test_it_is_decided_as_written(case: dict[str, Any]) -> None:
    found = decided(case)
    assert found.outcome is Outcome(case["outcome"])
    assert [one.method.value for one in found.allowed] == case["allowed"]
    if "ask" in case:
        asked = {one.method.value for one in found.of(Standing.ASK)}
        wanted = set(case["ask"])
        assert wanted <= asked if found.outcome is Outcome.HOLD else wanted == asked
    for fact in case.get("tell", []):
        assert fact in found.tell
    if found.allowed:
        is_makers = found.allowed[0].is_makers
        assert is_makers is (case["authority"] == "maker")
        assert found.releases is is_makers


@written
def test_each_rejection_has_the_reason_and_the_source_written(case: dict[str, Any]) -> None:
    found = decided(case)
    for name, word in case["rejected"].items():
        one = found.standing(find_method(name))
        assert one.standing is Standing.REJECTED, name
        keys = [rule.key for rule in one.reasons]
        makers = word == "maker" and one.is_makers
        assert makers or any(word in key for key in keys), (name, keys)
        assert all(one.why)
    for name, source in case.get("because", {}).items():
        assert source in [rule.source for rule in found.standing(find_method(name)).reasons], name
    for name, word in case.get("outranked", {}).items():
        outranked = found.standing(find_method(name)).outranked
        assert any(word in rule.key for rule in outranked), (name, outranked)


@written
def test_the_rest_is_as_written(case: dict[str, Any]) -> None:
    found = decided(case)
    for word in case.get("first", []):
        assert any(word in rule.key for rule in found.first), word
    if "conflict" in case:
        conflict = next(one for one in found.conflicts if one.topic == case["conflict"])
        assert len({rule.value for rule in conflict.rules}) > 1
    if "question" in case:
        assert any(case["question"] in one.text for one in found.questions)
    if found.outcome is not Outcome.TELL and not found.releases:
        assert found.questions
    known = bibliography()
    for rule in found.rules:
        assert rule.filed_by or rule.source in known, rule.name
        assert rule.is_makers or rule.mark, rule.name
