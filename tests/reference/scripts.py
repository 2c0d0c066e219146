"""Runs scripts of this folder for the tests, with the packages that are slow to load loaded once.

Reads requests, one JSON object a line: {"script": name, "arguments": [text, ...], "input": text}.
Writes an answer a line: {"status": exit status, "out": text, "err": text}. Each script runs in a
fork, so that none meets what another left behind.
"""

import json
import os
import runpy
import sys
import tempfile
import traceback

sys.dont_write_bytecode = True  # nothing compiled beside the sources
import ezdxf  # noqa: E402, F401
import pyogrio  # noqa: E402, F401
import pypdf  # noqa: E402, F401
import shapely.geometry  # noqa: E402, F401

FOLDER = os.path.dirname(os.path.abspath(__file__))


def run(request):
    """The part of the fork: the script as if it were started by itself. Does not return."""
    sys.stdin, sys.stdout, sys.stderr = open(0), open(1, "w"), open(2, "w")
    script = os.path.join(FOLDER, request["script"])
    sys.argv = [script, *request["arguments"]]
    status = 0
    try:
        runpy.run_path(script, run_name="__main__")
    except SystemExit as end:
        status = end.code
        if not isinstance(status, int):
            if status is not None:
                print(status, file=sys.stderr)
            status = 0 if status is None else 1
    except BaseException:
        traceback.print_exc()
        status = 1
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    finally:
        os._exit(status)


def answer(request):
    with tempfile.TemporaryFile() as given, tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        given.write(request["input"].encode())
        given.seek(0)
        fork = os.fork()
        if fork == 0:
            for number, file in enumerate((given, out, err)):
                os.dup2(file.fileno(), number)
            run(request)
        _, ended = os.waitpid(fork, 0)
        told = []
        for file in (out, err):
            file.seek(0)
            told.append(file.read().decode(errors="replace"))
    return {"status": os.waitstatus_to_exitcode(ended), "out": told[0], "err": told[1]}


for line in sys.stdin:
    print(json.dumps(answer(json.loads(line))), flush=True)
