"""The sill-flange story by the command line alone, each step a process of its own."""

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

SHEETS = """\
process = "spot"
[[sheet]]
steel = "DC04"
thickness = "0.7 mm"
coating = "GI"
[[sheet]]
steel = "HCT600X"
thickness = "1.2 mm"
coating = "GI"
[[sheet]]
steel = "22MnB5"
thickness = "1.6 mm"
coating = "AlSi"
[set_up]
welding_current = "9.0 kA"
current_type = "MFDC"
electrode_force = "3.5 kN"
electrode_face = "6 mm"
squeeze_time = "400 ms"
weld_time = "340 ms"
hold_time = "200 ms"
"""
LONGER = (
    SHEETS.replace("9.0 kA", "8.4 kA")
    .replace("3.5 kN", "4.5 kN")
    .replace("340 ms", "600 ms")
    .replace('electrode_face = "6 mm"', 'electrode_face = "6 mm"\nelectrode_radius = "50 mm"')
)
OPTIONS_AT_CAR = ["--gun", "Gun A", "--arms", "250", "--outlet", "W3", "--lead", "L25"]


class Shop:
    """One record in a folder of its own, and the program as people start it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.record = folder / "shop.db"
        (folder / "J1.toml").write_text(SHEETS)
        (folder / "longer.toml").write_text(LONGER)
        shutil.copy("examples/machine.toml", folder / "gun_a.toml")

    def start(self, *words: str, by: str = "Ines Okoro") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "buttonhole", *words],
            cwd=self.folder,
            env=os.environ | {"BUTTONHOLE_RECORD": str(self.record), "BUTTONHOLE_BY": by},
            capture_output=True,
            text=True,
            timeout=250,
            check=False,
        )

    def does(self, *words: str, by: str = "Ines Okoro") -> dict[str, Any]:
        done = self.start(*words, "--json", by=by)
        assert done.returncode == 0, done.stderr
        assert done.stderr == ""
        answer = json.loads(done.stdout)
        assert isinstance(answer, dict)
        return answer

    def is_refused(self, *words: str) -> str:
        done = self.start(*words)
        assert done.returncode == 2, (done.stdout, done.stderr)
        assert done.stderr.count("\n") == 1
        return done.stderr


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return Shop(tmp_path_factory.mktemp("shop"))


@pytest.mark.timeout(900)
def test_the_whole_story(shop: Shop) -> None:
    describe(shop)
    cite_and_set(shop)
    first_coupon_is_too_small(shop)
    one_coupon_after_dressing_is_not_enough(shop)
    longer_and_harder_it_is_sure(shop)
    release_and_print(shop)
    the_record_is_whole(shop)
    words_fit_the_terminal(shop)


def describe(shop: Shop) -> None:
    job = shop.does("job", "open", "Kestrel H5", "--vehicle", "five-door hatch", "--demo")
    assert job["demo"] is True
    joint = shop.does(
        *["joint", "add", "Kestrel H5", "J1", "J1.toml", "--where", "left sill flange"],
        *["--old-spots", "14"],
    )
    limits = [[one["diameter_mm"] for one in face["limits"]] for face in joint["interfaces"]]
    assert limits[0] == pytest.approx([3.35, 4.18], abs=0.005)
    assert limits[1] == pytest.approx([4.38, 5.48], abs=0.005)


def cite_and_set(shop: Shop) -> None:
    cited = shop.does(
        *["procedure", "cite", "J1", "--reference", "Body repair manual, sill, page 14"],
        *["--revision", "2024-03", "--read-on", "2026-01-15", "--spots-factor", "1.3"],
        *["--says", "Spot weld, 1.3 times the old spots, away from the old ones."],
    )
    assert cited["required_spots"] == 19  # 14 x 1.3 = 18.2, rounded up
    proposed = shop.does("set-up", "propose", "J1", "--machine", "gun_a.toml", "--arms", "250")
    assert proposed["set_up"] is not None
    assert not proposed["set_up_accepted"]
    predicted = shop.does("joint", "predict", "J1")
    assert len(predicted["interfaces"]) == 2
    accepted = shop.does("set-up", "accept", "J1", *OPTIONS_AT_CAR)
    assert accepted["set_up"] == proposed["set_up"]
    assert "coupon" in shop.is_refused("release", "J1")


WELD = ["coupon", "weld", "J1", "--outlet", "W3", "--lead", "L25"]
READ = ["coupon", "read", "J1", "--instrument", "calliper 3"]


def first_coupon_is_too_small(shop: Shop) -> None:
    shop.does(*WELD, "--welds-since-dress", "60", "--tips", "mushroomed", by="Tomas Veld")
    joint = shop.does(
        *READ,
        *["--reading", "1, peel, full_button, 4.0 mm, 3.8 mm"],
        *["--reading", "2, macro, -, 4.4 mm, 4.2 mm"],
    )
    (coupon,) = joint["coupons"]
    assert coupon["judged"][1]["mean_diameter_mm"] == pytest.approx(4.3)
    assert coupon["judged"][1]["minimum_diameter_mm"] == pytest.approx(4.93, abs=0.005)
    assert coupon["judged"][1]["outcome"] == "reject"
    assert not coupon["accepted"]
    assert "coupon" in shop.is_refused("release", "J1")


def one_coupon_after_dressing_is_not_enough(shop: Shop) -> None:
    shop.does("tip", "dress", "J1", "--face-after", "6 mm", "--welds-before", "60")
    shop.does(*WELD, "--welds-since-dress", "0", by="Tomas Veld")
    joint = shop.does(
        *READ,
        *["--reading", "1, peel, full_button, 5.0 mm, 4.6 mm"],
        *["--reading", "2, macro, -, 5.7 mm, 5.5 mm"],
    )
    assert joint["coupons"][1]["accepted"], joint["coupons"][1]
    assert "the strict rule holds" in shop.is_refused("release", "J1")
    found = shop.does("learn", "--joint", "J1")
    assert found["decision"]["step"] != "release"
    assert found["decision"]["strict_class"]
    assert found["decision"]["good"]["value"] < 0.97
    assert found["decision"]["counting_alone"].startswith("1 of 1 coupon passed")
    assert found["decision"]["next"]["words"]
    assert found["decision"]["next"]["splash"] <= 0.1


def longer_and_harder_it_is_sure(shop: Shop) -> None:
    shop.does("set-up", "accept", "J1", "--file", "longer.toml", *OPTIONS_AT_CAR)
    for first, second in (("5.8", "6.6"), ("5.6", "6.4"), ("5.7", "6.5")):
        shop.does(*WELD, "--welds-since-dress", "1", by="Tomas Veld")
        joint = shop.does(
            *READ,
            *["--reading", f"1, peel, full_button, {first} mm, 5.5 mm"],
            *["--reading", f"2, macro, -, {second} mm, 6.3 mm"],
        )
        assert joint["coupons"][-1]["accepted"], joint["coupons"][-1]


def release_and_print(shop: Shop) -> None:
    released = shop.does("release", "J1")["release"]
    assert released["valid"]
    assert released["valid_until"] > released["released_at"]
    assert released["max_welds"] > 0
    found = released["decision"]
    assert found["step"] == "release"
    assert found["good"]["value"] >= 0.97 <= found["nine_of_ten_good"]
    assert sum(found["carried_by"].values()) == pytest.approx(1.0)
    card = shop.does("card", "J1", "J1-card.pdf")
    raw = (shop.folder / "J1-card.pdf").read_bytes()
    assert raw.startswith(b"%PDF-")
    assert len(raw) == card["bytes"]
    assert hashlib.sha256(raw).hexdigest() == card["sha256"]
    assert shop.does("card", "J1", "J1-card-again.pdf")["sha256"] == card["sha256"]
    shop.does("coupon", "sheet", "J1", "J1-coupon.pdf")
    papers = shop.does("joint", "show", "J1")["papers"]
    assert card["sha256"] in [one["sha256"] for one in papers]


def the_record_is_whole(shop: Shop) -> None:
    whole = shop.does("record", "verify")
    assert whole["whole"] is True
    assert whole["fault"] is None
    assert whole["events"] == len(shop.does("record", "show")["events"])


def words_fit_the_terminal(shop: Shop) -> None:
    for words in (["job", "show", "Kestrel H5"], ["joint", "show", "J1"], ["record", "show"]):
        told = shop.start(*words)
        assert told.returncode == 0, told.stderr
        assert told.stderr == ""
        assert max(len(line) for line in told.stdout.splitlines()) <= 80
