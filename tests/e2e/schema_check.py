"""Hold surveys against the schema of `tundish rules --schema`: python3 schema_check.py SCHEMA FILE...

Each file is read twice, as YAML 1.2's core schema types it and as YAML 1.1 does, since editors and other tools do either.
Prints a line for each file, "FILE: fine" or "FILE: PATH: what is wrong". Exit status 0 when all are fine, 1 when one is not, 77
where there is no validator, 3 when the schema itself is no schema.
"""
import datetime
import json
import re
import sys

try:
    import jsonschema
    import yaml
except ImportError:
    sys.exit(77)


class Core(yaml.SafeLoader):
    """Scalars as the core schema of YAML 1.2 types them."""

    yaml_implicit_resolvers = {}


for tag, pattern, first in (
    ("null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""]),
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", list("tTfF")),
    ("int", r"^[-+]?[0-9]+$", list("-+0123456789")),
    ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", list("-+0123456789.")),
):
    Core.add_implicit_resolver("tag:yaml.org,2002:" + tag, re.compile(pattern), first)


def once(pairs):
    """A key that comes twice in the schema would hide the first."""
    result = {}
    for key, value in pairs:
        if key in result:
            sys.exit("the schema has the key %s twice" % key)
        result[key] = value
    return result


def plain(value):
    """What JSON can hold: dates as they were written, keys as texts."""
    if isinstance(value, dict):
        return {("yes" if k is True else "no" if k is False else str(k)): plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [plain(v) for v in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        schema = json.load(file, object_pairs_hook=once)
    try:
        jsonschema.Draft7Validator.check_schema(schema)
    except jsonschema.SchemaError as error:
        print(error.message)
        return 3
    validator = jsonschema.Draft7Validator(schema)
    status = 0
    for name in sys.argv[2:]:
        said = "fine"
        with open(name, encoding="utf-8-sig") as file:
            text = file.read()
        for loader in (Core, yaml.SafeLoader):
            for error in validator.iter_errors(plain(yaml.load(text, loader))):
                said = "/".join(map(str, error.absolute_path)) + ": " + error.message[:200]
                status = 1
        print("%s: %s" % (name, said))
    return status


sys.exit(main())
