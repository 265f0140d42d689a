"""Study what is learned from coupons in simulated shops, and write the page about it.

``./go bench validate_learning`` does all pieces, which takes an hour; with names it does those:
``release-spot-1``, ``release-spot-2`` (true scatter doubled), ``release-plug-1``, ``-2``,
``calibration-spot``, ``calibration-plug``, ``diagnosis-spot``, ``diagnosis-plug``, ``timing``.
What was found is kept in ``docs/validation/learning.json``; the page is written from it.
"""

import json
import math
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks import learning_calibration, learning_diagnosis, learning_release
from benchmarks.learning_page import write
from benchmarks.learning_shops import drawn_shop, judged_by_size, model_of, set_near, torn
from buttonhole.learning.case import Case
from buttonhole.learning.decision import ReleaseRule, decide
from buttonhole.learning.faults import SCATTER_KEY, causes, effect_of
from buttonhole.learning.next_coupon import candidates, choose
from buttonhole.learning.posterior import learn

FOUND = Path(__file__).resolve().parent.parent / "docs" / "validation" / "learning.json"
SHOPS = {"spot": 1000, "plug": 1000}
MACHINES = {"quick": 300, "tempered": 60}
CASES = 200


def release(kind: str, factor: float) -> dict[str, Any]:
    """All rules on the same shops."""
    seed = 1000 + int(factor) + (0 if kind == "spot" else 10)
    scores, said = learning_release.study(kind, SHOPS[kind], seed, factor=factor)
    rows = {
        name: {
            "released": one.released / one.shops,
            "of_good": one.released_good / max(one.good_shops, 1),
            "bad": one.bad,
            "count": one.released,
            "coupons": one.coupons / one.shops,
        }
        for name, one in scores.items()
    }
    good, beliefs = next(iter(scores.values())), model_of(kind).beliefs
    return {
        "believed_scatter_mm": 1e3 * beliefs.scatter,
        "assurance": max(ReleaseRule().assurance, beliefs.assurance),
        "shops": SHOPS[kind],
        "good_shops": good.good_shops / good.shops,
        "rules": rows,
        "calibration_error": learning_release.calibration_error(said),
        "said": len(said),
    }


def calibration(kind: str) -> dict[str, Any]:
    """Coverage of 90 % intervals after 3, 10 and 30 coupons, by both ways of drawing."""
    found: dict[str, Any] = {}
    for engine, machines in MACHINES.items():
        for coupons in (3, 10, 30):
            one = learning_calibration.study(kind, coupons, machines, 500 + coupons, engine)
            found[f"{engine} {coupons}"] = {
                "machines": machines,
                "overall": one.overall,
                "shares": {name: one.share(name) for name in one.inside},
                "evenness": {name: one.evenness(name) for name in one.inside},
                "milliseconds": 1e3 * float(np.median(one.seconds)),
                "effective": float(np.median(one.effective)),
                "handed_over": one.handed_over,
            }
    return found


def diagnosis(kind: str) -> dict[str, Any]:
    """Top three and calibration, from one and from three coupons."""
    found: dict[str, Any] = {"cases": CASES}
    modelled = [one.key for one in causes(kind) if effect_of(one) is not None]
    whole = [key for key in modelled if key != SCATTER_KEY]
    ways: dict[str, dict[str, Any]] = {
        "plain": {}, "check": {"check": True}, "bare": {"bare": True},
        "otherwise": {"otherwise": True}, "all": {"pool": whole},
    }  # fmt: skip
    found["causes"] = len(whole)
    for number, (way, options) in enumerate(ways.items()):
        for coupons in (1, 3):
            seed = 700 + 10 * number + coupons
            one = learning_diagnosis.study(kind, CASES, seed, coupons, **options)
            found[f"{coupons} {way}"] = {
                "known": one.known,
                "first": one.first / one.known,
                "three": one.three / one.known,
                "calibration": one.calibration(),
                "by_fault": {key: float(np.mean(v)) for key, v in one.by_fault.items()},
            }
    return found


def timing() -> dict[str, Any]:
    """Processor time of posterior, next coupon and explanation at 30 coupons, one core."""
    found: dict[str, Any] = {}
    for kind in ("spot", "plug"):
        chance = np.random.default_rng(3)
        shop = drawn_shop(kind, chance, joints=3)
        others = [key for key in shop.model.joints if key != shop.joint]
        past = [
            torn(shop, chance, f"h{i}", others[i % 2], set_near(kind, others[i % 2], chance))
            for i in range(27)
        ]
        own = shop.model.joints[shop.joint]
        series = [judged_by_size(torn(shop, chance, str(i)), own.least) for i in range(3)]
        every = [*past, *(one.coupon for one in series)]
        tried = candidates(kind, own, shop.point)
        times = {"posterior": [], "next coupon": [], "decision and explanation": []}
        case = Case(shop.model, shop.joint, shop.point, shop.current, 40)
        for _ in range(5):
            begun = time.process_time()
            posterior = learn(shop.model, every, seed=1, engine="quick")
            times["posterior"].append(time.process_time() - begun)
            begun = time.process_time()
            choose(posterior, shop.joint, tried)
            times["next coupon"].append(time.process_time() - begun)
            begun = time.process_time()
            decide(case, series, past, seed=1)
            times["decision and explanation"].append(time.process_time() - begun)
        found[kind] = {name: 1e3 * min(each) for name, each in times.items()}
    found["joints"] = len(model_of("spot").joints)
    return found


PIECES: dict[str, Callable[[], dict[str, Any]]] = {
    "release-spot-1": lambda: release("spot", 1.0),
    "release-spot-2": lambda: release("spot", 2.0),
    "release-plug-1": lambda: release("plug", 1.0),
    "release-plug-2": lambda: release("plug", 2.0),
    "calibration-spot": lambda: calibration("spot"),
    "calibration-plug": lambda: calibration("plug"),
    "diagnosis-spot": lambda: diagnosis("spot"),
    "diagnosis-plug": lambda: diagnosis("plug"),
    "timing": timing,
}


def main(names: list[str]) -> None:
    """Do the pieces named, or all, and write the page."""
    for name in names or list(PIECES):
        found = PIECES[name]()
        kept = json.loads(FOUND.read_text()) if FOUND.exists() else {}
        kept[name] = _rounded(found)
        FOUND.write_text(json.dumps(kept, indent=1, sort_keys=True) + "\n")
        print(name, "done", flush=True)
    write(json.loads(FOUND.read_text()))


def _rounded(found: Any) -> Any:
    if isinstance(found, dict):
        return {key: _rounded(one) for key, one in found.items()}
    if isinstance(found, float):
        return round(found, 4) if math.isfinite(found) else None
    return found


if __name__ == "__main__":
    main(sys.argv[1:])
