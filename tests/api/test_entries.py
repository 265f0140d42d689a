"""An entry that was wrong is taken back with its reason, and stays readable."""

import re

from starlette.testclient import TestClient

from tests.api import steps


def test_a_wrong_procedure_is_taken_back(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, joint)
    entry = re.findall(rf'href="({joint}/entries/[^"]+)"', client.get(joint).text)[-1]
    assert "Body repair manual" in client.get(entry).text
    data = {"seen": steps.seen(client, joint), "reason": ""}
    assert client.post(entry, data=data).status_code == 422
    data["reason"] = "That page is of another model"
    answer = client.post(entry, data=data)
    assert answer.status_code == 200
    assert "withdrawn: That page is of another model" in answer.text
    assert "What does the vehicle maker say?" in answer.text
    assert entry not in answer.text
    again = client.post(entry, data={**data, "seen": steps.seen(client, joint)})
    assert again.status_code == 422
    assert "taken back already" in again.text


def test_an_entry_of_another_joint_is_not_reached(client: TestClient) -> None:
    job = steps.open_job(client)
    one, other = steps.describe_joint(client, job), steps.describe_joint(client, job)
    entry = re.findall(rf'href="{one}(/entries/[^"]+)"', client.get(one).text)[-1]
    assert client.get(f"{other}{entry}").status_code == 404
