#!/usr/bin/env python3
"""Prints the licences of the code in the program, for a package: licences.py TARGET.

Cargo says which crates are built in for a target; their licence texts are in the crates themselves. Crates with
the same text are listed over it once. A crate without a text is listed with the licence it names, whose text
must then stand under another crate's; if it does not, this fails.
"""

import json
import pathlib
import re
import subprocess
import sys

NAMES = re.compile(r"^(licen[cs]e|copying|unlicense|copyright|notice)([-_. ].*)?$", re.IGNORECASE)


def crates(target):
    """Name, version, licence and folder of every crate that goes into the program, sorted."""
    command = ["cargo", "metadata", "--locked", "--format-version", "1", "--filter-platform", target]
    data = json.loads(subprocess.check_output(command))
    packages = {package["id"]: package for package in data["packages"]}
    nodes = {node["id"]: node for node in data["resolve"]["nodes"]}
    root = data["resolve"]["root"]
    found, todo = set(), [root]
    while todo:
        for dependency in nodes[todo.pop()]["deps"]:
            # Kind null is an ordinary dependency; tests and build scripts are not in the program.
            if any(kind["kind"] is None for kind in dependency["dep_kinds"]) and dependency["pkg"] not in found:
                found.add(dependency["pkg"])
                todo.append(dependency["pkg"])
    for package in sorted((packages[id] for id in found), key=lambda p: (p["name"], p["version"])):
        folder = pathlib.Path(package["manifest_path"]).parent
        yield package["name"], package["version"], package["license"] or "see its text", folder


def texts(folder):
    """The licence texts in a crate's folder, without differences of line ends and blank edges."""
    for path in sorted(folder.iterdir()):
        if path.is_file() and NAMES.match(path.name):
            text = path.read_text(encoding="utf-8", errors="replace").replace("\r\n", "\n")
            yield "\n".join(line.rstrip() for line in text.strip().split("\n"))


def main():
    target = sys.argv[1]
    shared, without = {}, []
    for name, version, licence, folder in crates(target):
        own = list(texts(folder))
        for text in own:
            shared.setdefault(text, []).append(f"{name} {version} ({licence})")
        if not own:
            without.append((f"{name} {version}", licence))
    everything = "\n".join(shared)
    for crate, licence in without:
        one = re.split(r" OR | AND |/|\(|\)", licence)
        known = {"MIT": "Permission is hereby granted, free of charge", "Apache-2.0": "Apache License",
                 "ISC": "Permission to use, copy, modify, and/or distribute", "Zlib": "freely, subject to the following",
                 "BSD-3-Clause": "Neither the name", "BSD-2-Clause": "Redistributions in binary form",
                 "BSL-1.0": "Boost Software License", "MPL-2.0": "Mozilla Public License"}
        if not any(known.get(part.strip(), "\0") in everything for part in one):
            sys.exit(f"licences.py: {crate} has no licence text, and {licence} stands under no other crate")
    print("The code in Spelk that others wrote, with its licences.")
    print("The licences of the typefaces are beside this file.\n")
    for text, named in sorted(shared.items(), key=lambda item: item[1]):
        print("=" * 78)
        print("\n".join(named))
        print("=" * 78 + "\n")
        print(text + "\n")
    if without:
        print("=" * 78)
        print("These name their licence and bring no text of their own; the text stands above.\n")
        for crate, licence in without:
            print(f"{crate} ({licence})")


main()
