"""The steps of the job as forms that are sent."""

import re

from starlette.testclient import TestClient

SHEETS = {
    "name": "J1 sill flange",
    "thickness-1": "0.7",
    "steel-1": "DC04",
    "coating-1": "GI",
    "thickness-2": "1.2",
    "steel-2": "HCT600X",
    "coating-2": "GI",
    "thickness-3": "1.6",
    "steel-3": "22MnB5",
    "coating-3": "AlSi",
}


def open_job(client: TestClient, **more: str) -> str:
    data = {"title": "HL-1", "vehicle": "Kestrel H5", "person": "Tomas Veld", **more}
    answer = client.post("/jobs/new", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def describe_joint(client: TestClient, job: str, **more: str) -> str:
    data = {**SHEETS, **more}
    answer = client.post(f"{job}/joints/new", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def seen(client: TestClient, joint: str) -> str:
    found = re.search(r'name="seen" value="([^"]+)"', client.get(f"{joint}/sheets").text)
    assert found
    return found[1]


def cite_procedure(client: TestClient, joint: str) -> None:
    data = {
        "seen": seen(client, joint),
        "reference": "Body repair manual, section 7.2, page 14",
        "revision": "B, 2024-03",
        "read_on": "2024-05-06",
        "says": "Spot weld, 1.3 times the old spots.",
        "spots_factor": "1.3",
    }
    answer = client.post(f"{joint}/procedure", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text


def accept_own_set_up(client: TestClient, joint: str) -> None:
    data = {
        "seen": seen(client, joint),
        "machine": "Gun A",
        "outlet": "W3",
        "lead": "L25",
        "welding_current": "8.4",
        "electrode_force": "4.5",
        "weld_time": "600",
        "squeeze_time": "340",
        "hold_time": "250",
        "electrode_face": "6",
        "electrode_radius": "50",
        "current_type": "MFDC",
    }
    answer = client.post(f"{joint}/set-up", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text


def weld_coupon(client: TestClient, joint: str, **more: str) -> str:
    data = {"seen": seen(client, joint), "outlet": "W3", "lead": "L25", "welds_since_dress": "0"}
    answer = client.post(f"{joint}/coupon", data={**data, **more}, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"]).removesuffix("/compare")


def tear_coupon(client: TestClient, joint: str, coupon: str, *diameters: str) -> None:
    """Read it, by one diameter or one for each interface."""
    data = {"seen": seen(client, joint), "splash": "no", "gauge": "calliper"}
    for index in (0, 1):
        data |= {f"test-{index}": "peel", f"mode-{index}": "full_button"}
        diameter = diameters[index % len(diameters)]
        data |= {f"max-{index}": diameter, f"min-{index}": diameter}
    answer = client.post(f"{coupon}/tear", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text


GOOD = ("5.7", "6.5")  # mm, far over both limits and as expected


def make_sure(client: TestClient, joint: str, at_most: int = 4) -> None:
    """Weld and tear good coupons until the set-up may be released."""
    for _ in range(at_most):
        if ">Release it</button>" in client.get(f"{joint}/release").text:
            return
        tear_coupon(client, joint, weld_coupon(client, joint), *GOOD)
    raise AssertionError(client.get(f"{joint}/release").text)


def release(client: TestClient, joint: str) -> None:
    make_sure(client, joint)
    data = {"seen": seen(client, joint), "hours": "4", "max_welds": "40"}
    answer = client.post(f"{joint}/release", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
