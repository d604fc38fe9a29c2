"""Arguments in, exit status out.

Exit status: 0 fine, 1 solved with errors among the findings (``solve``, ``check``, ``handout``, ``list``), 2 bad input
(one sentence on standard error), 3 a window was asked for and there is no display.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NoReturn

from workbench.cli import calculate, compare, exchange, jobs, prices, revisions, window
from workbench.cli.arguments import length, number, plain_words
from workbench.cli.outputs import check_outputs
from workbench.errors import BadInput, NoSolution

PROGRAM = "roof-workbench"
VERSION = "0.1.0"

Command = Callable[[argparse.Namespace], int]
_Add = Callable[..., "_Parser"]


class _Parser(argparse.ArgumentParser):
    """A parser that says what is wrong in one sentence."""

    def error(self, message: str) -> NoReturn:
        message = plain_words(message)
        text = message[0].upper() + message[1:] if message else "The command can't be read"
        self.exit(2, f"{text.rstrip('.')}; {self.prog} --help shows how it is written.\n")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Args:
        argv: Arguments without the program's name; None takes the process's own.

    Returns:
        The exit status.
    """
    arguments = list(sys.argv[1:] if argv is None else argv)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a terminal without our fractions and signs shows ? for them
            stream.reconfigure(errors="replace")
    try:
        parser, commands = _parsers()
        if not arguments or (arguments[0] not in commands and not arguments[0].startswith("-")):
            return window.open_window(arguments)
        parsed = parser.parse_args(arguments)
        command: Command = parsed.command
        check_outputs(parsed)
        return command(parsed)
    except (BadInput, NoSolution) as error:
        print(str(error), file=sys.stderr)
        return 2
    except SystemExit as stop:  # argparse has said its sentence
        return stop.code if isinstance(stop.code, int) else 2
    except BrokenPipeError:  # the reader of our output has gone, as with "| head"
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130


def _parsers() -> tuple[_Parser, frozenset[str]]:
    parser = _Parser(
        prog=PROGRAM,
        description="Roof framing and sheathing, from the plans to dried in. Without a command the window opens.",
        epilog="Lengths: 13' 6 1/2\", 162.5 (inches), 4128mm, 4.128m. Slopes: 7/12, 28.9deg, 58%%. "
        "Screening, not design: the local code, the engineer and licensed practice decide.",
        usage=f"{PROGRAM} [JOB] | {PROGRAM} COMMAND …",
    )
    parser.add_argument("--version", action="version", version=f"{PROGRAM} {VERSION}")
    group = parser.add_subparsers(metavar="COMMAND", required=True, prog=PROGRAM)
    calculations = (_slope, _rows, _span)
    for declare in (*calculations, _new, _solve, _check, _list, _handout, _issue, _compare, _prices, _export, _schema):
        declare(group.add_parser)
    return parser, frozenset(group.choices)


def _command(add: _Add, name: str, command: Command, text: str) -> _Parser:
    parser = add(name, help=text, description=text, allow_abbrev=False)
    parser.set_defaults(command=command)
    return parser


def _json(parser: _Parser) -> None:
    parser.add_argument("--json", action="store_true", help="print one JSON object, inches and degrees, unrounded")


def _slope(add: _Add) -> None:
    parser = _command(add, "slope", calculate.slope, "find the slope at which a rafter lands")
    parser.add_argument("--run", type=length, required=True, metavar="R", help="level, between the bearing lines")
    parser.add_argument("--rise", type=length, required=True, metavar="H", help="landing less low plate height")
    parser.add_argument("--heel-low", type=length, default=0.0, metavar="h0", help="height above plate at the low end")
    parser.add_argument("--heel-high", type=length, metavar="h1", help="height above the landing at the high end")
    parser.add_argument("--depth", type=length, metavar="d", help="rafter depth square to its edge")
    parser.add_argument("--whole", action="store_true", help="the rafter is not notched on the landing")
    parser.add_argument(
        "--bracket", type=number, default=8.0, metavar="S", help="price bracket from S in 12 (default 8)"
    )
    parser.add_argument("--target", type=number, metavar="S", help="slope to come down to (default: next lower whole)")
    _json(parser)


def _rows(add: _Add) -> None:
    parser = _command(add, "rows", calculate.rows, "split a plane length into rows of sheets")
    parser.add_argument("length", type=length, metavar="LENGTH")
    parser.add_argument("--panel", type=length, default=48.0)
    parser.add_argument("--least", type=length, default=24.0)
    parser.add_argument("--gap", type=length, default=0.125)
    parser.add_argument("--rip", choices=("bottom", "top", "both"), default="bottom")
    parser.add_argument("--split", choices=("fewest", "halves", "least"), default="fewest")
    _json(parser)


def _span(add: _Add) -> None:
    parser = _command(add, "span", calculate.span, "greatest rafter span; screening, never design")
    parser.add_argument("--species", required=True, help='such as "Douglas fir-larch"')
    parser.add_argument("--grade", required=True, help="such as No.2")
    parser.add_argument("--size", required=True, help="nominal, such as 2x8")
    parser.add_argument("--spacing", type=length, required=True, help="on centre")
    parser.add_argument("--live", type=number, required=True, help="live or snow load, psf on the level")
    parser.add_argument("--snow", action="store_true", help="the load is snow, not roof live load")
    parser.add_argument("--dead", type=number, required=True, help="dead load, psf on the level")
    parser.add_argument("--deflection", type=number, required=True, metavar="K", help="limit L/K, such as 240")
    parser.add_argument("--basis", choices=("current", "ibc2018"), default="current", help="design values used")
    _json(parser)


def _new(add: _Add) -> None:
    parser = _command(add, "new", jobs.new, "write a one-wing job")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--outline", required=True, help='building line, anticlockwise: "0,0 480,0 480,336 0,336"')
    parser.add_argument("--edges", required=True, help="eave, rake or wall for each edge: eave,rake,eave,rake")
    parser.add_argument("--slope", required=True, help="one slope, or one for each edge, parted by commas")
    parser.add_argument("--plate", default="97.125", help="plate height, or one for each edge (default 97.125)")
    parser.add_argument("--overhang", type=length, default=0.0, help="level overhang at the eaves (default 0)")
    parser.add_argument("--rake-overhang", type=length, default=0.0, help="level overhang at the rakes (default 0)")
    parser.add_argument("--spacing", type=length, default=24.0, help="rafter spacing on centre (default 24)")


def _job_argument(parser: _Parser) -> None:
    parser.add_argument("job", type=Path, metavar="JOB")


def _solve(add: _Add) -> None:
    parser = _command(add, "solve", jobs.solve_job, "solve a job: planes, members, sheets, seams, nails, findings")
    _job_argument(parser)
    _json(parser)


def _check(add: _Add) -> None:
    parser = _command(add, "check", jobs.check, "list the findings of a job")
    _job_argument(parser)
    _json(parser)


def _list(add: _Add) -> None:
    parser = _command(add, "list", jobs.list_quantities, "list what to buy")
    _job_argument(parser)
    parser.add_argument("--csv", type=Path, metavar="FILE", help="write the list as CSV")
    parser.add_argument("--boards", type=Path, metavar="FILE", help="write the cutting list of the boards as CSV")
    parser.add_argument("--xlsx", type=Path, metavar="FILE", help="write the list as a spreadsheet")
    _json(parser)


def _handout(add: _Add) -> None:
    parser = _command(add, "handout", jobs.handout, "write the handout as PDF")
    _job_argument(parser)
    parser.add_argument("-o", "--output", type=Path, required=True, metavar="FILE.pdf")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter")
    parser.add_argument("--parts", default="", metavar="PARTS", help="only these, such as roof,planes,safety")


def _issue(add: _Add) -> None:
    parser = _command(add, "issue", revisions.issue_job, "record the handout as gone out; the next one lists changes")
    _job_argument(parser)


def _compare(add: _Add) -> None:
    parser = _command(add, "compare", compare.compare_job, "put the alternatives of a job side by side")
    _job_argument(parser)
    _json(parser)


def _prices(add: _Add) -> None:
    parser = _command(add, "prices", prices.prices, "price the order list by the job's own price list")
    _job_argument(parser)
    parser.add_argument("--read", type=Path, metavar="FILE", help="take over prices from a CSV or XLSX into the job")
    parser.add_argument("--write", type=Path, metavar="FILE", help="write the price list as CSV or XLSX, to fill in")
    _json(parser)


def _export(add: _Add) -> None:
    parser = _command(add, "export", exchange.export, "write drawing, building model or tables in an open format")
    _job_argument(parser)
    parser.add_argument("output", type=Path, metavar="FILE.(dxf|ifc|svg|png|csv|xlsx)")


def _schema(add: _Add) -> None:
    _command(add, "schema", jobs.schema, "print the JSON Schema of the job file")
