"""Says of each JSON file in a folder whether it keeps to a schema: validate.py SCHEMA FOLDER.

One line a file, by name: "NAME ok" or "NAME bad". The validator is Debian's python3-jsonschema,
written independently of this program. The schema itself is checked against its own draft first.
"""

import json
import pathlib
import sys

import jsonschema

schema = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
for path in sorted(pathlib.Path(sys.argv[2]).glob("*.json")):
    value = json.loads(path.read_text(encoding="utf-8"))
    print(path.name, "ok" if validator.is_valid(value) else "bad")
