"""The sheet for mitres at a sled by its headings, every line of it accounted for."""

import re

from mitre_orders import Unclear

SECTION = re.compile(r"^[A-Z0-9][A-Z0-9 ,.:]+$")


class Section:
    """A heading with its sentences, steps and tables, all lines accounted for."""

    def __init__(self, heading):
        self.heading, self.text, self.steps, self.tables = heading, "", [], []

    def take(self, lines):
        at = 0
        while at < len(lines):
            line = lines[at]
            at += 1
            step = re.match(r"^  \[ \] +(\d+)\. (.*)$", line)
            table = self._table_at(lines, at - 1)
            if not line.strip():
                continue
            if step:
                told, indent = step.group(2), line.index(step.group(2))
                while at < len(lines) and re.match(rf"^ {{{indent}}}\S", lines[at]):
                    told += " " + lines[at].strip()
                    at += 1
                self.steps.append(told)
                if int(step.group(1)) != len(self.steps):
                    raise Unclear(f"step {step.group(1)} after {len(self.steps) - 1}")
            elif table:
                rows, at = table
                self.tables.append(rows)
            elif re.match(r"^  \S", line):
                self.text += line[1:]
            else:
                raise Unclear(f"{self.heading}: {line!r}")

    @staticmethod
    def _table_at(lines, at):
        """A heading of columns, its rows under it: cells end where the headings end."""
        columns = [(m.group(0), m.end()) for m in re.finditer(r"\S+(?: \S+)*", lines[at])]
        if len(columns) < 2 or columns[0][0] != "sticks":
            return None
        rows, at = [], at + 1
        while at < len(lines) and lines[at].strip() and not re.match(r"^  [A-Z]", lines[at]):
            cells = {m.end(): m.group(0) for m in re.finditer(r"\S+(?: \S+)*", lines[at])}
            row = {name: cells.pop(end, "") for name, end in columns}
            if cells:
                raise Unclear(f"cells beside their columns: {lines[at]!r}")
            rows.append(row)
            at += 1
        return rows, at


def sections_of(text):
    lines = text.splitlines()
    starts = (
        k for k, line in enumerate(lines) if re.match(r"^=+$", line) and " - mitres, " in lines[k - 1]
    )
    start = next(starts, None)
    if start is None:
        raise Unclear("no sheet for mitres")
    sections = []
    for k in range(start + 1, len(lines)):
        if k + 1 < len(lines) and re.match(r"^=+$", lines[k + 1]):
            break
        if SECTION.match(lines[k]):
            sections.append((lines[k], []))
        elif sections:
            sections[-1][1].append(lines[k])
        elif lines[k]:
            raise Unclear(f"before the first heading: {lines[k]!r}")
    told = []
    for heading, lines in sections:
        if heading == "SAFETY FIRST":
            if not all(re.match(r"^(  ! |    \S|$)", line) for line in lines):
                raise Unclear("safety notes")
            continue
        section = Section(heading)
        section.take(lines)
        told.append(section)
    return told
