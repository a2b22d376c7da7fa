"""Read surveys with two readers of YAML that are not ours: python3 read_texts.py FOLDER

Each FOLDER/N.yaml is read as YAML 1.1 (PyYAML) and as YAML 1.2 (ruamel.yaml). Every text that N.expected names must be read by
both as a text, and as these bytes. Exit status 0 when all are, 1 when one is not, 77 without the readers.
"""
import binascii
import glob
import os
import sys

try:
    import ruamel.yaml
    import yaml
except ImportError:
    sys.exit(77)


def read_1_1(data):
    return yaml.load(data, yaml.SafeLoader)


def read_1_2(data):
    # Comments and places are of no interest; a duplicate key is, and is an error there.
    return ruamel.yaml.YAML(typ="safe", pure=True).load(data)


def find(node, path):
    for step in path.split("/"):
        if isinstance(node, dict):
            node = node[step]
        elif step.isdigit():
            node = node[int(step)]
        else:
            node = next(item for item in node if item["ref"] == step)
    return node


def check(name, version, root, expected):
    wrong = 0
    for line in expected:
        path, text = line.rstrip("\n").split("\t")
        text = binascii.unhexlify(text).decode()
        read = find(root, path)
        if not isinstance(read, str) or read != text:
            print("%s: %s is %r to YAML %s, and was %r" % (name, path, read, version, text))
            wrong += 1
    return wrong


def main():
    texts = wrong = 0
    for name in sorted(glob.glob(os.path.join(sys.argv[1], "*.yaml"))):
        with open(name, "rb") as file:
            data = file.read()
        with open(name[:-4] + "expected") as file:
            expected = file.readlines()
        texts += len(expected)
        for version, read in (("1.1", read_1_1), ("1.2", read_1_2)):
            try:
                wrong += check(name, version, read(data), expected)
            except (yaml.YAMLError, ruamel.yaml.error.YAMLError, KeyError, StopIteration) as error:
                print("%s: YAML %s: %s" % (name, version, error))
                wrong += 1
    print("%d texts, read twice, %d wrong" % (texts, wrong))
    return 1 if wrong or not texts else 0


sys.exit(main())
