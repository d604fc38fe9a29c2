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
        (
            ["wings", 0, "plate_in"],
            "tall",
            ['wings[0].plate_in (wing "wing-1") is the text "tall"', "a number from -12,000 to 12,000"],
        ),
        (["wings", 0, "eave_overhang_in"], -4, ["wings[0].eave_overhang_in", "is -4", "from 0"]),
        (["wings", 0, "colour"], "red", ['unknown key "colour"', "wings[0]"]),
        (["wings", 0, "slope_in_12"], 0, ["wings[0].slope_in_12", "over 0"]),
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
        (["name"], None, ["name is null", "text in double quotes"]),
        (["wings", 0, "edges", 0, "kind"], "gable", ['edge "e1"', 'is the text "gable"', '"eave", "rake" or "wall"']),
        (["wings", 0, "outline", 0], [0, 0, 0], ["outline[0]", "a list of 3", "a list of 2"]),
        (["wings", 0, "id"], "a/b", ["wings[0].id", "letters, digits"]),
        (["wings", 0, "rafter", "spaceing_in"], 16, ['unknown key "spaceing_in"', 'write "spacing_in"']),
        (["hours", "crew"], 4, ["hours.crew is 4; give 1, 2 or 3"]),
        (
            ["hours", "log"],
            [{"task": "tapes", "amount": 1, "hours": 1}],
            ["hours.log[0].task", 'give "tape", or another'],
        ),
        (["hours", "log"], [{"task": "tape", "hours": 1}], ['lacks the key "amount"', "a number over 0"]),
        (["units", "fraction"], 7, ["units.fraction is 7; give 8, 16 or 32"]),
        (
            ["alternatives"],
            [{"id": "a", "name": "A", "changes": [{"input": "slop", "value": 8}]}],
            ['alternative "a"', '"slop"', 'give "slope_in_12", or another'],
        ),
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


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b'{"format": "roof-workbench-job",}', ["line 1, column 33", "take the comma away"]),
        (b"{'format': 1}", ["straight double quotes"]),
        (b'{"format": 1\n"version": 1}', ["line 2, column 1", "a comma or a closing bracket is missing"]),
        (b'{"format" 1}', ["a colon is missing"]),
        (b'// a roof\n{"format": 1}', ["no comments"]),
        (b'{"format": 1} more', ["after the end of the job"]),
        (b'{"format": +1}', ["no number, text, list or object"]),
        (b"\x89PNG\r\n", ["not a text file"]),
        ('{"format": 1}'.encode("utf-16"), ["UTF-8"]),
        (b"[1, 2]", ["one object"]),
    ],
)
def test_what_is_no_json_is_told_with_its_place_and_the_mend(data: bytes, words: list[str]) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(data, "house.json")
    for word in words:
        assert word in str(caught.value)


def test_the_mark_some_editors_put_before_utf8_is_no_fault(gable: Job) -> None:
    assert parse_job(b"\xef\xbb\xbf" + dump_job(gable), "house.json") == gable


def test_every_sentence_of_a_refusal_is_plain(gable: Job) -> None:
    """No word of the reader's own: each field of a wing, with each kind of JSON value."""
    tree = json.loads(dump_job(gable))
    for key in tree["wings"][0]:
        for value in (None, True, 1e12, -1e12, "x/y z", [], [None], {}, {"odd": 1}):
            wing = {**tree["wings"][0], key: value}
            try:
                parse_job(msgspec.json.encode({**tree, "wings": [wing]}), "x")
            except JobError as error:
                for raw in ("xpected", "enum", "regex", "array", "float", " str", "`", "$"):
                    assert raw not in str(error), error


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
