"""The boards of a job from the command line: as a table of its own, in the spreadsheet, and in JSON."""

from __future__ import annotations

import csv
import json
from pathlib import Path

from openpyxl import load_workbook

from workbench.cli import main


def gable(folder: Path) -> Path:
    path = folder / "gable.json"
    outline = ["--outline", "0,0 240,0 240,192 0,192", "--edges", "eave,rake,eave,rake"]
    assert main(["new", str(path), *outline, "--slope", "6/12", "--overhang", "12"]) == 0
    return path


def test_boards_as_a_table_of_their_own_and_in_the_spreadsheet(tmp_path: Path, capsys) -> None:
    job = gable(tmp_path)
    boards, book = tmp_path / "boards.csv", tmp_path / "list.xlsx"
    assert main(["list", str(job), "--boards", str(boards), "--xlsx", str(book)]) == 0
    with boards.open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    assert {"section", "lumber", "boards", "stock_in", "pieces", "cut_from_each", "left_in"} == set(rows[0])
    assert all(float(row["stock_in"]) >= 96.0 and row["cut_from_each"] for row in rows)
    sheets = load_workbook(book)
    assert sheets.sheetnames == ["Order list", "Boards to cut"]
    assert sheets["Boards to cut"].max_row == len(rows) + 1
    capsys.readouterr()


def test_solve_json_holds_boards_that_add_up_to_the_members(tmp_path: Path, capsys) -> None:
    job = gable(tmp_path)
    capsys.readouterr()
    assert main(["solve", str(job), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    made: dict[str, int] = {}
    for section in told["lumber"]["sections"]:
        assert section["proven"] and section["bought_in"] == section["at_least_in"]
        for cut in section["cut"]:
            length = sum(piece["length_in"] for piece in cut["pieces"])
            assert length + told["lumber"]["kerf_in"] * (len(cut["pieces"]) - 1) <= cut["stock_in"] + 1e-6
            for piece in cut["pieces"]:
                made[piece["mark"]] = made.get(piece["mark"], 0) + cut["boards"]
    assert made == {member["mark"]: member["count"] for member in told["members"]}
    assert all(member["plies"] == 1 and member["cut"] == 0 for member in told["members"])
