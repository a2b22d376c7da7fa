"""The chain of amendments held by another hand, from docs/survey.md alone: python3 chain_check.py FILE

Prints the head, or why the chain does not hold. Exit status 0 when it holds, 1 when not, 77 without a YAML reader.
"""
import hashlib
import sys

try:
    import yaml
except ImportError:
    sys.exit(77)


def canonical(node, without=None):
    if isinstance(node, yaml.MappingNode):
        entries = sorted((k.value.encode(), v) for k, v in node.value if k.value != without)
        return b"m%d:" % len(entries) + b"".join(b"s%d:%s" % (len(k), k) + canonical(v) for k, v in entries)
    if isinstance(node, yaml.SequenceNode):
        return b"l%d:" % len(node.value) + b"".join(map(canonical, node.value))
    if node.value == "" and node.style is None:
        return b"n"
    text = node.value.encode()
    return b"s%d:%s" % (len(text), text)


def digest(heading, node, without):
    return hashlib.sha256(heading.encode() + canonical(node, without)).hexdigest()


def main():
    with open(sys.argv[1], encoding="utf-8-sig", newline="") as file:
        root = yaml.compose(file.read())
    top = {key.value: value for key, value in root.value}
    head, state = "none", None
    for number, entry in enumerate(top["amendments"].value, 1):
        said = {key.value: value.value for key, value in entry.value}
        made = digest("tundish amendment 1\n%s\n" % head, entry, "head")
        if said["sequence"] != str(number) or said["head"] != made:
            return "amendment %d does not hold" % number
        head, state = made, said["state"]
    if state != digest("tundish state 1\n", root, "amendments"):
        return "not what the last amendment left"
    print(head)
    return 0


sys.exit(main())
