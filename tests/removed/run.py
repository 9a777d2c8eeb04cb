#!/usr/bin/env python3
"""Does each promise's test fail once its mechanism is gone?

Every patch beside this file takes one mechanism out of the program and names the promise that it
holds up and the test that must notice. In a copy of the tree, this applies one patch after the
other, runs that one test, and prints a table. It ends with 1 where a test passes without the
mechanism, fails with it, or does not even compile.

    tests/removed/run.py            all of them
    tests/removed/run.py 03 11      those whose names begin so
"""

import os
import pathlib
import re
import shutil
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
TREE = ROOT / "target" / "removed" / "tree"
RAN = re.compile(r"test result: (\w+)\. (\d+) passed; (\d+) failed")


def read(patch: pathlib.Path) -> dict[str, str]:
    """The lines before the first hunk: `Promise:`, `Removes:` and `Test:`."""
    head, _, _ = patch.read_text().partition("\n--- ")
    lines = [line.partition(":") for line in head.splitlines()]
    told = {key: value.strip() for key, _, value in lines}
    missing = {"Promise", "Removes", "Test"} - told.keys()
    if missing:
        sys.exit(f"{patch.name} does not say its {', '.join(sorted(missing))}")
    return told


def copy_tree() -> None:
    """The files under version control as they are now; what did not change keeps its date, so that
    nothing is compiled twice."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
    )
    wanted = {TREE / name for name in listed.stdout.split("\0") if name}
    for target in wanted:
        source = ROOT / target.relative_to(TREE)
        if target.exists() and target.read_bytes() == source.read_bytes():
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)
        shutil.copymode(source, target)
    for left in [path for path in TREE.rglob("*") if path.is_file()]:
        if left not in wanted and "proptest-regressions" not in left.parts:
            left.unlink()


def run(tests: list[str]) -> tuple[str, str]:
    """How the tests with exactly these names ended: passed, failed, or what kept them from it."""
    environment = os.environ | {
        "CARGO_TARGET_DIR": str(ROOT / "target" / "removed" / "target"),
        "RUST_BACKTRACE": "0",
        "PROPTEST_FAILURE_PERSISTENCE": "none",
    }
    command = ["cargo", "test", "--no-fail-fast", "--", "--exact", *tests]
    ended = subprocess.run(command, cwd=TREE, env=environment, capture_output=True, text=True)
    results = RAN.findall(ended.stdout)
    passed = sum(int(count) for _, count, _ in results)
    failed = sum(int(count) for _, _, count in results)
    # A test that runs itself once more, with another disk under it, is counted twice.
    if passed + failed < len(tests):
        return "did not run", ended.stdout[-2000:] + ended.stderr[-4000:]
    return ("failed" if failed else "passed"), ended.stdout


def why(output: str) -> str:
    """The first line of the first panic."""
    lines = output.splitlines()
    at = next((number for number, line in enumerate(lines) if " panicked at " in line), None)
    return lines[at + 1].strip()[:80] if at is not None else ""


def main() -> int:
    wanted = tuple(sys.argv[1:]) or ("",)
    patches = [patch for patch in sorted(HERE.glob("*.patch")) if patch.name.startswith(wanted)]
    told = {patch: read(patch) for patch in patches}
    copy_tree()
    ended, output = run(sorted({told[patch]["Test"] for patch in patches}))
    print(f"with every mechanism in place, {len(patches)} tests: {ended}", flush=True)
    if ended != "passed":
        print(output)
        return 1
    print("\n| promise | without | the test | ends | with |\n|---|---|---|---|---|", flush=True)
    wrong = 0
    for patch in patches:
        apply = ["git", "apply", "--unsafe-paths", f"--directory={TREE.relative_to(ROOT)}"]
        subprocess.run([*apply, str(patch)], cwd=ROOT, check=True)
        ended, output = run([told[patch]["Test"]])
        copy_tree()
        wrong += ended != "failed"
        about = told[patch]
        row = [about["Promise"], about["Removes"], f"`{about['Test']}`", ended, why(output)]
        print(f"| {' | '.join(row)} |", flush=True)
        if ended == "did not run":
            print(output)
    print(f"\n{len(patches) - wrong} of {len(patches)} tests notice")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
