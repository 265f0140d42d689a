"""The archive of a vehicle: read and checked by a program that has nothing of ours."""

import ast
import json
import struct
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from buttonhole.desk.import_archive import import_archive
from buttonhole.desk.make_archive import MakeArchive, make_archive
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.sign_entry import SignEntry, make_key, sign_entry
from buttonhole.record import verify
from buttonhole.record.archive import layout, open_archive
from buttonhole.record.archive.opening import Refused
from buttonhole.record.device import device_key_path, open_device
from buttonhole.record.store import open_store
from buttonhole.units import BadInput

PIN = "torn-4471"
PAPER = b"%PDF-1.7 a paper for the test"


@pytest.fixture
def device(store):
    return open_device(device_key_path(store.path), "Tablet 1")


@pytest.fixture
def archive(desk, store, device, welded, monkeypatch, tmp_path):
    from buttonhole.record import key_box

    monkeypatch.setattr(key_box, "MEMORY_KIB", 8)
    open_job(desk, OpenJob("Another vehicle", "Orvanel H5"))  # stands between; must not be in it
    make_key(desk, store, PIN)
    sign_entry(desk, store, SignEntry(store.events()[2].id, PIN))
    digest = store.files.keep(PAPER, "application/pdf")
    about = [f"job/{welded.job_id}", f"joint/{welded.id}"]
    payload = {
        "job": welded.job_id,
        "joint": welded.id,
        "serves": welded.id,
        "questions": 1,
        "sha256": digest,
    }
    store.append([desk.draft("letter_printed", about[:1], payload)])
    made = make_archive(desk, store, device, MakeArchive(job_id=welded.job_id))
    path = tmp_path / "vehicle.zip"
    path.write_bytes(made.data)
    return path


def independent(where: Path, script: Path) -> subprocess.CompletedProcess[str]:
    """Run the verifier of the archive itself, where none of our packages can be imported."""
    return subprocess.run(
        [sys.executable, "-I", str(script), str(where)],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
        cwd=script.parent,
    )


def unpack(archive: Path, folder: Path) -> Path:
    with zipfile.ZipFile(archive) as file:
        file.extractall(folder)
    return folder


def test_it_needs_the_standard_library_and_one_package():
    text = layout.verifier().decode()
    named = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            named |= {one.name.partition(".")[0] for one in node.names}
        elif isinstance(node, ast.ImportFrom):
            named.add(str(node.module).partition(".")[0])
    assert named - set(sys.stdlib_module_names) == {"cryptography"}
    code = [line for line in text.split('"""')[2].splitlines() if line.strip()]
    assert len(code) <= 88
    assert max(map(len, text.splitlines())) <= 100


def test_the_archive_checks_itself_packed_and_unpacked(archive, tmp_path):
    folder = unpack(archive, tmp_path / "out")
    script = folder / "verify.py"
    for where in (folder, archive):
        done = independent(where, script)
        assert (done.returncode, done.stderr) == (0, "")
        key, said = done.stdout.splitlines()
        assert key.endswith(open_archive(archive).public)
        assert said.startswith("OK")


def test_it_is_the_same_to_the_byte(desk, store, device, welded, archive):
    again = make_archive(desk, store, device, MakeArchive(job_id=welded.job_id))
    assert again.data == archive.read_bytes()
    assert again.lacking == ()


def test_it_can_be_read_without_any_program(archive, welded):
    with zipfile.ZipFile(archive) as file:
        events = [json.loads(line) for line in file.read("events.jsonl").decode().splitlines()]
        readme = file.read("README.txt").decode()
        names = json.loads(file.read("names.json"))
        papers = [name for name in file.namelist() if name.startswith("files/")]
        assert file.read(papers[0]) == PAPER
        assert all(one.date_time == (1980, 1, 1, 0, 0, 0) for one in file.infolist())
        assert file.namelist() == sorted(file.namelist())
    assert {one["type"] for one in events} >= {"job_opened", "coupon_welded", "key_introduced"}
    assert all("Another vehicle" not in json.dumps(one) for one in events)
    assert "python verify.py" in readme
    assert len(papers) == 1
    assert {one["name"] for one in names.values()} == {"Tomas Brindeval"}
    assert all("Tomas" not in one["actor"] for one in events)


LINE = "events.jsonl"


def changed_line(change):
    def apply(parts):
        lines = parts[LINE].decode().split("\n")[:-1]
        change(lines)
        parts[LINE] = "".join(f"{line}\n" for line in lines).encode()

    return apply


def flip_bit(lines):
    at = lines[4].index('"payload"') + 40
    lines[4] = lines[4][:at] + chr(ord(lines[4][at]) ^ 1) + lines[4][at + 1 :]


def swap(lines):
    lines[2], lines[3] = lines[3], lines[2]


def cut_out(lines):
    del lines[3]


def cut_end(lines):
    del lines[-2:]


def double(lines):
    lines.insert(3, lines[2])


def respell(lines):
    lines[4] = lines[4].replace('"type"', ' "type"')


CASES = [
    (flip_bit, "event 5"),
    (swap, "event 3"),
    (cut_out, "event 4"),
    (cut_end, "missing"),
    (double, "event 4"),
    (respell, "event 5"),
]


@pytest.mark.parametrize(("change", "named"), CASES, ids=lambda one: getattr(one, "__name__", ""))
def test_what_is_done_to_events_is_found_and_located(archive, tmp_path, change, named):
    folder = unpack(archive, tmp_path / "out")
    parts = {LINE: (folder / LINE).read_bytes()}
    changed_line(change)(parts)
    (folder / LINE).write_bytes(parts[LINE])
    done = independent(folder, folder / "verify.py")
    assert done.returncode == 1, done.stdout
    first = next(line for line in done.stdout.splitlines() if line.startswith("event "))
    assert named in first, done.stdout
    assert "events.jsonl: was altered" in done.stdout


@pytest.mark.parametrize(
    ("name", "change", "named"),
    [
        ("files", lambda data: data + b"x", "was altered"),
        ("manifest.json", lambda data: data.replace(b'"size":', b'"size":1'), "manifest"),
        ("signature.json", lambda data: data.replace(b"a", b"b"), "signature"),
        ("README.txt", lambda data: data + b" ", "README.txt"),
    ],
)
def test_what_is_done_to_files_is_found(archive, tmp_path, name, change, named):
    folder = unpack(archive, tmp_path / "out")
    target = next((folder / name).iterdir()) if name == "files" else folder / name
    target.write_bytes(change(target.read_bytes()))
    done = independent(folder, folder / "verify.py")
    assert done.returncode == 1, done.stdout + done.stderr
    assert named in done.stdout
    (folder / "extra.txt").write_text("slipped in")
    if name != "signature.json":  # what cannot be read says nothing of the rest
        again = independent(folder, folder / "verify.py").stdout
        assert "extra.txt: is not in the manifest" in again


def repacked(archive: Path, target: Path, change) -> Path:
    with zipfile.ZipFile(archive) as file:
        parts = {one.filename: file.read(one) for one in file.infolist()}
    change(parts)
    with zipfile.ZipFile(target, "w") as file:
        for name, data in parts.items():
            file.writestr(name, data)
    return target


def linked(parts_archive: Path, target: Path) -> Path:
    with zipfile.ZipFile(parts_archive) as file, zipfile.ZipFile(target, "w") as out:
        for one in file.infolist():
            out.writestr(one, file.read(one))
        link = zipfile.ZipInfo("files/" + "a" * 64 + ".pdf")
        link.create_system, link.external_attr = 3, 0o120777 << 16
        out.writestr(link, "/etc/passwd")
    return target


def hostile(archive: Path, folder: Path):
    """Yield archives that somebody with bad intentions, or a bad disk, might hand over."""
    whole = archive.read_bytes()
    for name, change in (
        ("climbs.zip", lambda parts: parts.update({"../../out.txt": b"x"})),
        ("absolute.zip", lambda parts: parts.update({"/etc/out.txt": b"x"})),
        ("windows.zip", lambda parts: parts.update({"..\\out.txt": b"x"})),
        ("unknown.zip", lambda parts: parts.update({"run.exe": b"x"})),
        ("lacking.zip", lambda parts: parts.pop("events.jsonl")),
        ("altered.zip", lambda parts: parts.update({LINE: parts[LINE].replace(b"8500", b"9500")})),
        ("readme.zip", lambda parts: parts.update({"README.txt": b"call this number"})),
        ("more.zip", lambda parts: parts.update({"files/" + "b" * 64 + ".pdf": b"x"})),
        ("no-json.zip", lambda parts: parts.update({"manifest.json": b"{"})),
        ("empty.zip", lambda parts: parts.clear()),
    ):
        yield repacked(archive, folder / name, change)
    yield linked(archive, folder / "link.zip")
    for count in (0, 4, 100, len(whole) // 2, len(whole) - 1):
        path = folder / f"cut-{count}.zip"
        path.write_bytes(whole[:count])
        yield path
    with zipfile.ZipFile(archive) as file, zipfile.ZipFile(folder / "twice.zip", "w") as out:
        for one in file.infolist():
            out.writestr(one.filename, file.read(one))
        with pytest.warns(UserWarning, match="Duplicate"):
            out.writestr("events.jsonl", b"")
    yield folder / "twice.zip"
    with zipfile.ZipFile(folder / "bomb.zip", "w", zipfile.ZIP_DEFLATED) as out:
        for name in ("events.jsonl", "names.json", "README.txt", "verify.py"):
            out.writestr(name, b"\0" * (layout.LARGEST_TEXT + 2) if name == LINE else b"{}")
        with zipfile.ZipFile(archive) as file:
            for name in ("manifest.json", "signature.json"):
                out.writestr(name, file.read(name))
    yield folder / "bomb.zip"
    yield lying(whole, folder / "lying.zip")


def lying(whole: bytes, path: Path) -> Path:
    """Let the directory say that an entry is far larger than it is."""
    data = bytearray(whole)
    at = data.index(b"PK\x01\x02")
    struct.pack_into("<I", data, at + 24, 0xFFFFFFF0)
    path.write_bytes(bytes(data))
    return path


def test_hostile_archives_are_refused_and_nothing_is_written(desk, archive, tmp_path):
    folder = tmp_path / "hostile"
    folder.mkdir()
    other = tmp_path / "other" / "record.db"
    with open_store(other) as site:
        before = sorted(tmp_path.rglob("*"))
        for path in hostile(archive, folder):
            try:
                import_archive(desk, site, path)
            except BadInput as fault:
                refused = str(fault)
            else:
                pytest.fail(f"{path.name} was taken in")
            assert "refused, nothing was taken in" in refused, path.name
            assert len(refused) < 400
            assert site.head()[0] == 0
            assert site.files.listed() == ()
        assert [one for one in sorted(tmp_path.rglob("*")) if folder not in one.parents] == before


def test_the_union_of_two_sites(desk, store, welded, archive, tmp_path):
    with open_store(tmp_path / "other" / "record.db") as site:
        first = import_archive(desk, site, archive)
        assert (first.new, first.known, first.files) == (len(site.events()) - 1, 0, 1)
        assert not first.known_key
        mine = {one.id: one for one in store.events()}
        for one in site.events()[:-1]:
            assert (one.hash, one.actor) == (mine[one.id].hash, mine[one.id].actor)
            assert one.origin == first.origin
        assert verify(site).whole
        again = import_archive(desk, site, archive)
        assert (again.new, again.known, again.files) == (0, first.new, 0)
        assert again.known_key
        assert site.events("joint/" + welded.id)
        assert site.events_of_type("job_opened")[0].payload["title"] == "Left sill"
        # and what is theirs comes home as what it is, once
        from buttonhole.desk.desk import Desk

        there = Desk(site, desk.clock, "Priya Marr", desk.randomness, desk.zone)
        about = [f"job/{welded.job_id}"]
        site.append(
            [
                there.draft(
                    "gate_ticked", about, {"job": welded.job_id, "gate": "fire", "remark": ""}
                )
            ]
        )
        other = open_device(tmp_path / "other" / "key", "Tablet 2")
        back = tmp_path / "back.zip"
        back.write_bytes(make_archive(there, site, other, MakeArchive(job_id=welded.job_id)).data)
    home = import_archive(desk, store, back)
    assert home.new == 1
    assert verify(store).whole
    assert store.events(f"job/{welded.job_id}")[-1].actor == "Priya Marr"
    done = independent(back, unpack(back, tmp_path / "back") / "verify.py")
    assert "\nOK: " in done.stdout, done.stdout


def test_an_event_of_the_same_name_and_other_contents_is_refused(desk, store, archive, tmp_path):
    from buttonhole.record import Draft

    name = json.loads(zipfile.ZipFile(archive).read(LINE).decode().split("\n")[1])["id"]
    with open_store(tmp_path / "other.db") as site:
        site.append([Draft(name, "note", "2026-01-01T00:00:00.000000Z", "x", {})])
        with pytest.raises(BadInput, match="other contents"):
            import_archive(desk, site, archive)
        assert site.head()[0] == 1


def test_names_may_stay_at_home(desk, store, device, welded, tmp_path):
    made = make_archive(desk, store, device, MakeArchive(job_id=welded.job_id, with_names=False))
    path = tmp_path / "without.zip"
    path.write_bytes(made.data)
    assert b"Tomas" not in made.data
    script = unpack(path, tmp_path / "out") / "verify.py"
    assert "\nOK: " in independent(path, script).stdout
    with open_store(tmp_path / "other.db") as site:
        import_archive(desk, site, path)
        assert "withheld" in site.events()[0].actor
        assert verify(site).whole


def test_any_flipped_byte_is_refused(archive, tmp_path):
    import numpy as np

    whole = archive.read_bytes()
    chance = np.random.default_rng(3)
    path = tmp_path / "flipped.zip"
    harmless = 0
    for place in chance.choice(len(whole), 60, replace=False):
        data = bytearray(whole)
        data[place] ^= 1 << int(chance.integers(8))
        path.write_bytes(bytes(data))
        try:
            found = open_archive(path)
        except Refused:
            continue
        # Dates and rights in the frame of the zip say nothing; the contents are all there.
        harmless += 1
        assert found.events == open_archive(archive).events
    assert harmless < 20
