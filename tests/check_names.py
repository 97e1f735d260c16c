"""Refuses two types of one name in one namespace of the library: the linker takes either for both.

usage: check_names.py SOURCE
"""
import pathlib
import re
import sys


def types_of(header):
    """The types that a header defines at the level of its namespace, as NAMESPACE::NAME."""
    namespace = ''
    for line in header.read_text().splitlines():
        if found := re.match(r'namespace ([\w:]+) \{', line):
            namespace = found[1]
        if found := re.match(r'(?:struct|class|enum class) (\w+)(?: final)?(?: : [\w:, ]+)? \{', line):
            yield f'{namespace}::{found[1]}'


def main():
    places = {}
    root = pathlib.Path(sys.argv[1]) / 'lib'
    for header in sorted(root.rglob('*.hpp')):
        for name in types_of(header):
            places.setdefault(name, []).append(str(header.relative_to(root)))
    twice = {name: headers for name, headers in places.items() if len(headers) > 1}
    for name, headers in twice.items():
        print(f'{name} is defined in {" and ".join(headers)}')
    print(f'{len(places)} types')
    return 1 if twice or len(places) < 100 else 0


sys.exit(main())
