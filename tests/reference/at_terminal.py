"""Runs a program whose standard error is a terminal and whose standard input keeps it waiting.

    python at_terminal.py PROGRAM < DESCRIPTION.json

The description: {"arguments": [text, ...], "until": text, "input": text or null}. Waits until the terminal shows
"until", then hands over the input, or without one presses Ctrl-C. Prints {"status": exit status, "out": what went
to standard output, "terminal": all that the terminal was sent, "shown": what stands on its lines at the end}.
"""

import json
import os
import pty
import select
import signal
import subprocess
import sys

description = json.load(sys.stdin)
outer, inner = pty.openpty()
environment = {**os.environ, "TERM": "xterm"}
program = subprocess.Popen(
    [sys.argv[1], *description["arguments"]],
    stdin=subprocess.PIPE,
    stdout=subprocess.PIPE,
    stderr=inner,
    env=environment,
)
os.close(inner)
sent = b""


def more(seconds):
    """What the terminal is sent next; nothing once nobody has it open."""
    if not select.select([outer], [], [], seconds)[0]:
        return b""
    try:
        return os.read(outer, 4096)
    except OSError:
        return b""


while description["until"].encode() not in sent:
    part = more(60)
    if not part:
        program.kill()
        sys.exit(f"the terminal shows {sent!r} only")
    sent += part
if description["input"] is None:
    program.send_signal(signal.SIGINT)
    out = program.stdout.read()
else:
    out = program.communicate(description["input"].encode())[0]
status = program.wait()
while part := more(1):
    sent += part

# A line of a terminal is written over from where a carriage return leads back to.
lines, at = [""], 0
for letter in sent.decode():
    if letter == "\n":
        lines.append("")
        at = 0
    elif letter == "\r":
        at = 0
    else:
        lines[-1] = lines[-1][:at] + letter + lines[-1][at + 1 :]
        at += 1
shown = [line.rstrip() for line in lines if line.strip()]
json.dump({"status": status, "out": out.decode(), "terminal": sent.decode(), "shown": shown}, sys.stdout)
