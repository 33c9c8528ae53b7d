"""Run as a program in a copy of the package: adds each breach, asks the import rules, prints what turned red.

One process for all breaches, for speed; nothing is cached between them.
"""

from __future__ import annotations

import contextlib
import json
import sys
from pathlib import Path

from importlinter.application import use_cases
from importlinter.configuration import configure


def broken(config: str) -> list[str]:
    """The ids of the contracts that do not hold, sorted."""
    options = use_cases.read_user_options(config_filename=config)
    report = use_cases.create_report(options, cache_dir=None)
    ids = {contract["name"]: contract["id"] for contract in options.contracts_options}
    red = [ids[contract.name] for contract, check in report.get_contracts_and_checks() if not check.kept]
    return sorted(red) + (["invalid options"] if report.could_not_run else [])


def main() -> None:
    """Read breaches (name -> file -> text) from standard input, write name -> broken ids."""
    sys.path.insert(0, str(Path.cwd()))
    configure()
    use_cases._register_built_in_contract_types()  # its command line does the same before it reads the rules
    breaches: dict[str, dict[str, str]] = json.load(sys.stdin)
    found = {}
    with contextlib.redirect_stdout(sys.stderr):  # it draws its progress
        for name, files in breaches.items():
            made = [path for file in files for path in _write(Path(file), files[file])]
            found[name] = broken("pyproject.toml")
            for path in reversed(made):
                path.unlink() if path.is_file() else path.rmdir()
    json.dump(found, sys.stdout)


def _write(file: Path, text: str) -> list[Path]:
    """Write a new file with the packages above it; what was made, outermost first."""
    if file.exists():
        raise FileExistsError(file)
    made: list[Path] = []
    for folder in reversed(file.parents):
        if not folder.exists():
            folder.mkdir()
            init = folder / "__init__.py"
            init.touch()
            made += [folder, init]
    if not file.exists():
        made.append(file)
    file.write_text(text, encoding="utf-8")
    return made


if __name__ == "__main__":
    main()
