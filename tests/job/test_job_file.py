"""Reading, writing and refusing job files."""

from __future__ import annotations

import json

import jsonschema
import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import JobError
from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.job.read import parse_job, read_job
from workbench.job.samples import sample_jobs
from workbench.job.schema import job_schema
from workbench.job.write import dump_job, write_job

RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
KINDS = ["eave", "rake", "eave", "rake"]


@pytest.fixture
def gable() -> Job:
    return add_wing(Job(name="test"), RECTANGLE, KINDS)[0]


def changed(job: Job, path: list[str | int], value: object) -> bytes:
    """The job's file with one value in it replaced (or a key added)."""
    tree = json.loads(dump_job(job))
    place = tree
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return json.dumps(tree).encode()


def test_round_trip_gives_the_same_job_and_the_same_bytes(gable: Job, tmp_path) -> None:
    path = tmp_path / "job.json"
    write_job(gable, path)
    assert read_job(path) == gable
    assert dump_job(read_job(path)) == path.read_bytes()


def test_every_sample_job_is_valid_by_the_published_schema() -> None:
    samples = sample_jobs()
    assert len(samples) >= 4
    for sample in samples:
        jsonschema.validate(json.loads(sample.path.read_bytes()), job_schema())
        assert "invented" in sample.title
        assert "Invented" in read_job(sample.path).note


def test_the_schema_refuses_what_the_reader_refuses(gable: Job) -> None:
    for path, value in ((["wings", 0, "slope_in_12"], -1), (["colour"], "red"), (["sheathing", "rip"], "left")):
        data = changed(gable, path, value)
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(json.loads(data), job_schema())
        with pytest.raises(JobError):
            parse_job(data, "job.json")


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (["wings", 0, "plate_in"], "tall", ["wings[0].plate_in", "float"]),
        (["wings", 0, "eave_overhang_in"], -4, ["wings[0].eave_overhang_in", ">= 0"]),
        (["wings", 0, "colour"], "red", ['unknown key "colour"', "wings[0]"]),
        (["wings", 0, "slope_in_12"], 0, ["wings[0].slope_in_12", "> 0"]),
        (["wings", 0, "slope_in_12"], 1e9, ["wings[0].slope_in_12"]),
        (["wings", 0, "edges"], [], ["4 corners but 0 edges"]),
        (["wings", 0, "outline"], [[0, 0], [480, 336], [480, 0], [0, 336]], ["crosses itself", "edge 1", "edge 3"]),
        (["wings", 0, "outline"], [[0, 0], [0, 336], [480, 336], [480, 0]], ["clockwise"]),
        (["wings", 0, "outline"], [[0, 0], [480, 0], [480, 0], [0, 336]], ["corners 2 and 3"]),
        (["wings", 0, "rafter", "spacing_in"], 0, ["spacing_in"]),
        (["version"], 2, ["newer program", "version 2"]),
        (["version"], "1", ["version"]),
        (["format"], "something", ["not a job file"]),
        (["brackets"], [{"from_in_12": 8}, {"from_in_12": 8}], ["brackets", "order"]),
        (["sheathing", "least_in"], 30, ["least_in", "half"]),
        (["name"], None, ["name"]),
    ],
)
def test_a_bad_value_is_told_with_its_place_and_the_mend(gable: Job, path, value, words) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(changed(gable, path, value), "house.json")
    text = str(caught.value)
    assert text.startswith("house.json: ")
    assert "\n" not in text
    for word in words:
        assert word in text


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity"])
def test_nan_and_infinity_are_refused(gable: Job, number: str) -> None:
    data = dump_job(gable).replace(b'"plate_in": 97.125', f'"plate_in": {number}'.encode())
    assert number.encode() in data
    with pytest.raises(JobError, match="NaN and Infinity"):
        parse_job(data, "job.json")


def test_a_truncated_file_is_told_so_wherever_it_was_cut(gable: Job) -> None:
    data = dump_job(gable).rstrip()
    for length in range(0, len(data) - 1, 37):
        with pytest.raises(JobError):
            parse_job(data[:length], "job.json")
    with pytest.raises(JobError, match="cut short"):
        parse_job(data[: len(data) // 2], "job.json")


@given(st.binary(max_size=200))
def test_any_bytes_give_a_sentence_never_another_error(data: bytes) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(data, "x")
    assert "\n" not in str(caught.value)


@given(st.recursive(st.none() | st.booleans() | st.floats(-1e9, 1e9) | st.text(max_size=5), st.lists, max_leaves=8))
def test_any_value_at_any_key_gives_a_job_or_a_sentence(value: object) -> None:
    base = add_wing(Job(), RECTANGLE, KINDS)[0]
    tree = json.loads(dump_job(base))
    for key in tree["wings"][0]:
        wing = {**tree["wings"][0], key: value}
        try:
            parse_job(msgspec.json.encode({**tree, "wings": [wing]}), "x")
        except JobError as error:
            assert "\n" not in str(error)


def test_a_file_that_can_not_be_written_leaves_the_old_one(gable: Job, tmp_path) -> None:
    target = tmp_path / "no folder" / "job.json"
    with pytest.raises(JobError, match="can't be written"):
        write_job(gable, target)
    folder = tmp_path / "taken.json"
    folder.mkdir()
    with pytest.raises(JobError):
        write_job(gable, folder)
    assert list(tmp_path.iterdir()) == [folder]  # no temporary file is left


def test_missing_file_and_folder_are_told(tmp_path) -> None:
    with pytest.raises(JobError, match="no such file"):
        read_job(tmp_path / "none.json")
    with pytest.raises(JobError, match="folder"):
        read_job(tmp_path)
