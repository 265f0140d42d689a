"""Learning, planning and diagnosing at the command line."""

import contextlib
import io
import json
from pathlib import Path
from typing import Any

import pytest

from buttonhole import cli
from buttonhole.learning.seam_surrogate import seam_surrogate
from buttonhole.learning.surrogate import Surrogate
from buttonhole.weld.arc.seam import SeamJoint
from buttonhole.weld.arc.set_up import ArcSetUp

WELD = """\
process = "spot"
[[sheet]]
steel = "DC04"
thickness = "1.0 mm"
coating = "bare"
[[sheet]]
steel = "DC04"
thickness = "1.0 mm"
coating = "bare"
[set_up]
welding_current = "{current} kA"
current_type = "MFDC"
electrode_force = "2.5 kN"
electrode_face = "6 mm"
squeeze_time = "300 ms"
weld_time = "200 ms"
hold_time = "160 ms"
"""
GOOD = "1, peel, full_button, 5.5 mm, 5.3 mm"
SMALL = "1, peel, full_button, 3.7 mm, 3.5 mm"
SPLASH = "1, peel, full_button, 5.1 mm, 4.8 mm, expulsion"


@pytest.fixture(autouse=True)
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "weld.toml").write_text(WELD.format(current=8.0))
    (tmp_path / "other.toml").write_text(WELD.format(current=8.6))
    monkeypatch.chdir(tmp_path)


def run(*words: str, code: int = 0) -> str:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = cli.run(list(words))
    assert status == code, err.getvalue()
    return out.getvalue() if code == 0 else err.getvalue()


def answer(*words: str) -> dict[str, Any]:
    found = json.loads(run(*words, "--json"))
    assert isinstance(found, dict)
    return found


def test_learn_says_machine_next_weld_and_decision() -> None:
    coupons = [word for _ in range(3) for word in ("--coupon", GOOD)]
    found = answer("learn", "weld.toml", *coupons)
    assert found["coupons"] == 3
    assert set(found["machine"]) >= {"current gain", "current offset", "force", "face", "gap"}
    good = found["next_weld"]["good"]
    assert good["low"] <= good["value"] <= good["high"]
    assert "Counting alone" in found["decision"]["counting_alone"]
    assert found["decision"]["step"] in ("release", "another_coupon")
    text = run("learn", "weld.toml", *coupons)
    assert "Counting alone" in text
    assert "maker's procedure" in text


def test_history_counts_and_is_told() -> None:
    rows = "".join(
        f'[[coupon]]\nweld = "other.toml"\ncoupon = "1, peel, full_button, {d} mm, {d} mm"\n'
        for d in (5.6, 5.7, 5.5, 5.6)
    )
    Path("past.toml").write_text(rows)
    found = answer("learn", "weld.toml", "--coupon", GOOD, "--history", "past.toml")
    assert found["history"] == 4
    alone = answer("learn", "weld.toml", "--coupon", GOOD)
    narrow, wide = (one["next_weld"]["size_mm"][0] for one in (found, alone))
    assert narrow["high"] - narrow["low"] < wide["high"] - wide["low"]
    Path("past.toml").write_text('[[coupon]]\nweld = "other.toml"\n')
    words = ("learn", "weld.toml", "--history", "past.toml")
    assert "coupon 1" in run(*words, code=2)


def test_splash_teaches_no_current() -> None:
    one = answer("learn", "weld.toml")
    other = answer("learn", "weld.toml", "--coupon", SPLASH)
    assert other["decision"]["step"] == "refuse"
    assert one["machine"]["current gain"]["value"] == pytest.approx(
        other["machine"]["current gain"]["value"], abs=0.01
    )
    assert other["next_weld"]["splash"] > one["next_weld"]["splash"]


def test_plan_asks_for_more_heat_after_a_small_weld() -> None:
    found = answer("plan", "weld.toml", "--coupon", SMALL)
    assert found["robust"]
    assert found["next"]["current_change_percent"] + found["next"]["time_change_percent"] > 0.0
    assert found["expected_cut"] >= 0.0
    assert "next coupon" in run("plan", "weld.toml", "--coupon", SMALL)


def test_diagnose_with_and_without_a_file() -> None:
    found = answer("diagnose", "weld.toml", "--coupon", SPLASH, "--meter", "gap 0.8 mm")
    assert found["suspects"][0]["cause"] == "gap"
    assert len(found["suspects"]) == 3
    small = answer("diagnose", "weld.toml", "--coupon", SMALL)
    assert small["suspects"][0]["cause"] == "worn_tips"
    remedy = small["suspects"][0]["remedy"]
    assert remedy["size_after_mm"] > remedy["size_before_mm"]
    seam = answer("diagnose", "--process", "seam", "--sign", "m1")
    assert seam["suspects"][0]["cause"] == "aim_top"
    checked = ("--checked", "watch the torch, look at the legs: no")
    after = answer("diagnose", "--process", "seam", "--sign", "M1", *checked)
    assert after["suspects"][0]["cause"] != "aim_top"
    assert "S1 " in run("diagnose", "--signs")
    assert "Look first" in run("diagnose", "--process", "plug", "--sign", "P1")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("learn", "weld.toml", "--coupon", "big"), "--reading"),
        (("learn", "weld.toml", "--meter", "current"), "--meter"),
        (("learn", "weld.toml", "--meter", "current 500 %"), "slip"),
        (("learn", "weld.toml", "--meter", "gap 5 %"), "mm"),
        (("diagnose",), "--process"),
        (("diagnose", "--process", "rivet", "--sign", "S1"), "process"),
        (("diagnose", "--process", "spot", "--sign", "Z9"), "sign"),
    ],
)
def test_what_is_wrong_is_said(words: tuple[str, ...], said: str) -> None:
    assert said in run(*words, code=2)


def test_a_seam_is_learned_planned_and_diagnosed(monkeypatch: pytest.MonkeyPatch) -> None:
    from buttonhole.desk import learning_case

    fitted: list[Surrogate] = []

    def once(joint: SeamJoint, set_up: ArcSetUp, progress: object = None) -> Surrogate:
        if not fitted:
            fitted.append(seam_surrogate(joint, set_up, 64))
        return fitted[0]

    monkeypatch.setattr(learning_case, "seam_surrogate", once)
    seam = str(Path(__file__).parents[2] / "examples" / "seam_lap.toml")
    narrow = ("--coupon", "1.2 mm deep 0.3 mm back faint")
    found = answer("learn", seam, *narrow)
    assert found["process"] == "seam"
    assert found["next_weld"]["what"] == ["fused width", "depth"]
    assert "travel speed" in found["machine"]
    assert found["machine"]["aim"]["unit"] == "m"
    held = answer("learn", seam, "--coupon", "held")
    assert held["next_weld"]["size_mm"][0]["value"] > found["next_weld"]["size_mm"][0]["value"]
    planned = answer("plan", seam, *narrow)
    assert {"feed_change_percent", "speed_change_percent"} <= set(planned["next"])
    slow = answer("diagnose", seam, *narrow, "--meter", "feed -15 %")
    first = slow["suspects"][0]
    assert {first["cause"], *(one["cause"] for one in first["alike"])} & {"cold", "liner"}
    assert slow["suspects"][0]["remedy"] is not None
    assert "fused width" in run("learn", seam, *narrow)
    assert "coupon 1" in run("learn", seam, "--coupon", "3 mm deep x", code=2)
