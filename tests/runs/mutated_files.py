"""Reads files of parts that were spoilt at random: each gives a part or one clear message, never a fault.

    python tests/runs/mutated_files.py --count 5000 --seed 1

Half of the files hold values that nobody would mean, half are spoilt as text. A message names file and line, holds no
number that is none, no sign that a terminal obeys, and is of bounded length; numpy warns of nothing.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import time
import traceback
import warnings
from collections import Counter

import yaml
from drawn import drawn_from, mutated, stated

from parts.families import families
from parts.inputs.problems import InputError
from parts.inputs.reading import read_text

NO_NUMBER = re.compile(r"(?<![.\w])(nan|inf)\b(?! is not a finite)")
LONGEST = 6000
"""Characters of all that is said of one file."""
PIECES = ("\0", "\t", "\x1b[31m", "\ufeff", "\ud800", "é", "漢", "{", "}", "[", "]", ":", "- ", "&a ", "*a", "!!int ",
          "'", '"', "|", "#", "%", "nan", ".inf", "1e999", "-", "0", "12 pin", "mm", "null", "true", "yes", "\r",
          "\u2028", "9" * 400)  # fmt: skip


def spoilt(text: str, draw: random.Random) -> bytes:
    """A file's text with one to four accidents: signs put in, lines lost, doubled, moved or cut short."""
    lines = text.splitlines()
    for _ in range(draw.randint(1, 4)):
        at = draw.randrange(len(lines))
        line, here = lines[at], draw.randint(0, len(lines[at]))
        lines[at : at + 1] = draw.choice(
            [
                lambda line=line, here=here: [line[:here] + draw.choice(PIECES) + line[here:]],
                list,
                lambda line=line: [line, line],
                lambda line=line, here=here: [line[:here]],
                lambda line=line: [" " * draw.randint(0, 5) + line.lstrip()],
                lambda line=line: [line.replace(":", "", 1)],
                lambda line=line: ["".join(draw.sample(line, len(line)))],
            ]
        )() or [""]
    content = "\n".join(lines).encode("utf-8", "surrogatepass")
    return content[: draw.randint(0, len(content))] if draw.random() < 0.1 else content


def fault_of(content: bytes) -> str:
    """What is wrong with how a file was read; empty where a part or a clear message came."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            read_text(content, families(), "spoilt.yaml")
        except InputError as error:
            return _fault_in(str(error), error)
        except Exception:
            return "".join(traceback.format_exc().splitlines(keepends=True)[-4:])
    return ""


def _fault_in(said: str, error: InputError) -> str:
    if found := NO_NUMBER.search(re.sub(r"`[^`]*`|\(value [^)]*\)", "", said)):
        return f"{found[0]} in a message: {said}"
    if len(said) > LONGEST:
        return f"{len(said)} characters: {said[:300]}"
    if any(not c.isprintable() for c in said.replace("\n", "")):
        return f"a sign that a terminal obeys: {said!r}"
    nowhere = [one for one in error.problems if not one.line and one.code not in OF_THE_FILE]
    return f"without a line: {nowhere[0]}" if nowhere else ""


OF_THE_FILE = {"empty", "binary", "not_utf8", "not_yaml", "too_large", "more"}


def run(count: int, seed: int) -> Counter[str]:
    """Reads spoilt files; prints each fault as it is found.

    Returns:
        How many files gave a part or a message, and how many each fault.
    """
    draw, found = random.Random(seed), Counter[str]()
    every = [part for parts in drawn_from().values() for part in parts]
    for i in range(count):
        part = every[i % len(every)]
        by_value = i % 2 == 0
        text = yaml.safe_dump(mutated(part, draw) if by_value else stated(part), sort_keys=False)
        content = text.encode() if by_value else spoilt(text, draw)
        fault = fault_of(content)
        found["fault" if fault else "well read"] += 1
        if fault:
            print(
                f"--- file {i} ({part.family}): {fault.strip()[:1500]}\n{content!r}\n", flush=True
            )
    return found


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--count", type=int, default=5000)
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    start = time.perf_counter()
    tally = run(given.count, given.seed)
    print(f"{given.count} files in {time.perf_counter() - start:.0f} s: {dict(tally)}")
    sys.exit(1 if tally["fault"] else 0)
