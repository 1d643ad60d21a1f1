#!/usr/bin/env python3
"""The notices of everything of others that the program contains, and its bill of materials.

usage: scripts/third_party.py            writes assets/notices/third_party.txt
       scripts/third_party.py --check    says whether that file is as it should be; exit 1 if not
       scripts/third_party.py --sbom OUT writes a bill of materials (CycloneDX 1.5, JSON)

Both are read from `cargo metadata`, `Cargo.lock` and the sources that cargo has fetched.
"""

import json
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
NOTICES = ROOT / "assets" / "notices" / "third_party.txt"
NAMES = re.compile(r"^(licen[cs]e|copying|notice|unlicense|ofl|ufl)", re.I)


def contained():
    """The packages of others that are linked into the program, on any system."""
    command = ["cargo", "metadata", "--format-version", "1", "--locked"]
    told = json.loads(subprocess.run(command, cwd=ROOT, check=True, capture_output=True).stdout)
    packages = {p["id"]: p for p in told["packages"]}
    nodes = {n["id"]: n for n in told["resolve"]["nodes"]}
    start = next(i for i, p in packages.items() if p["name"] == "phasewright")
    seen, todo = set(), [start]
    while todo:
        one = todo.pop()
        if one in seen:
            continue
        seen.add(one)
        for dep in nodes[one]["deps"]:
            # Neither what only tests need nor what only builds is in the program, but for what
            # our own builds pack into it.
            packs = packages[one]["source"] is None
            if any(k["kind"] is None or packs and k["kind"] == "build" for k in dep["dep_kinds"]):
                todo.append(dep["pkg"])
    found = [packages[i] for i in seen if packages[i]["source"]]
    return sorted(found, key=lambda p: (p["name"], p["version"]))


def texts_of(package):
    """The licence files that come with a package, by name."""
    folder = pathlib.Path(package["manifest_path"]).parent
    named = [folder / package["license_file"]] if package["license_file"] else []
    named += [p for p in folder.iterdir() if p.is_file() and NAMES.match(p.name)]
    folders = [p for p in folder.iterdir() if p.is_dir() and NAMES.match(p.name)]
    named += [p for f in folders for p in f.iterdir() if p.is_file()]
    texts = {}
    for path in sorted(set(named)):
        if path.suffix in (".rs", ".toml", ".html"):
            continue
        text = path.read_text(encoding="utf-8", errors="replace").replace("\r\n", "\n")
        texts[path.name] = "\n".join(line.rstrip() for line in text.strip().splitlines())
    return texts


def notices():
    packages = contained()
    # The same licence is laid out in many ways; one of each wording is enough.
    by_text, first = {}, {}
    lines = [
        "Phasewright contains the work of others. Each is named with its version, its licence and",
        "where it is from; the texts of the licences, as they come with it, follow.",
        "Made by scripts/third_party.py.",
        "",
        "Typefaces: Noto Sans, SIL Open Font License 1.1 (assets/fonts/OFL.txt).",
        "",
    ]
    for p in packages:
        licence = p["license"] or "see its text"
        where = p["repository"] or p["homepage"] or "crates.io"
        lines.append(f"{p['name']} {p['version']} - {licence} - {where}")
        for text in texts_of(p).values():
            text = first.setdefault(re.sub(r"\W+", " ", text).strip().lower(), text)
            by_text.setdefault(text, []).append(f"{p['name']} {p['version']}")
    for text, of in sorted(by_text.items(), key=lambda item: (-len(item[1]), item[1])):
        lines += ["", "=" * 78, "For: " + ", ".join(sorted(set(of))), "", text]
    return "\n".join(lines) + "\n"


def sbom():
    lock = (ROOT / "Cargo.lock").read_text(encoding="utf-8")
    sums = dict()
    for block in lock.split("[[package]]")[1:]:
        field = lambda name: re.search(rf'^{name} = "(.*)"', block, re.M)
        if field("checksum"):
            sums[(field("name")[1], field("version")[1])] = field("checksum")[1]
    version = re.search(r'^version = "(.*)"', (ROOT / "Cargo.toml").read_text(), re.M)[1]
    components = []
    for p in contained():
        purl = f"pkg:cargo/{p['name']}@{p['version']}"
        one = {"type": "library", "bom-ref": purl, "name": p["name"], "version": p["version"], "purl": purl}
        if p["license"]:
            one["licenses"] = [{"expression": p["license"].replace("/", " OR ").replace("  ", " ")}]
        if (p["name"], p["version"]) in sums:
            one["hashes"] = [{"alg": "SHA-256", "content": sums[p["name"], p["version"]]}]
        components.append(one)
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "version": 1,
        "metadata": {"component": {"type": "application", "bom-ref": "phasewright", "name": "phasewright", "version": version}},
        "components": components,
    }


def main(arguments):
    if arguments[:1] == ["--sbom"] and len(arguments) == 2:
        pathlib.Path(arguments[1]).write_text(json.dumps(sbom(), indent=1) + "\n", encoding="utf-8")
        return 0
    text = notices()
    if arguments == ["--check"]:
        if NOTICES.exists() and NOTICES.read_text(encoding="utf-8") == text:
            return 0
        print("assets/notices/third_party.txt is not as it should be; run scripts/third_party.py", file=sys.stderr)
        return 1
    if arguments:
        print(__doc__, file=sys.stderr)
        return 2
    NOTICES.parent.mkdir(parents=True, exist_ok=True)
    NOTICES.write_text(text, encoding="utf-8")
    return 0


sys.exit(main(sys.argv[1:]))
