"""Holds files against JSON Schemas (jsonschema, draft 7).

    python check_schema.py < DESCRIPTION.json

The description: {"schemas": {name: schema, ...}, "files": [{"name": text, "schema": name, "toml": text}, ...]}.
Prints a list, for each file {"name": text, "why": null, or where and what the first fault is}. The schemas
themselves are held against the schema of schemas; the script fails where one is none.
"""

import json
import sys
import tomllib

from jsonschema import Draft7Validator

description = json.load(sys.stdin)
validators = {}
for name, schema in description["schemas"].items():
    Draft7Validator.check_schema(schema)
    validators[name] = Draft7Validator(schema)
told = []
for file in description["files"]:
    why = None
    for fault in validators[file["schema"]].iter_errors(tomllib.loads(file["toml"])):
        why = f"{'.'.join(str(part) for part in fault.absolute_path)}: {fault.message}"
        break
    told.append({"name": file["name"], "why": why})
json.dump(told, sys.stdout)
