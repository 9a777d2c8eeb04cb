"""Is what the bot says easy to read?

The measure is the Flesch-Kincaid grade: 0.39 words a sentence + 11.8 syllables a word - 15.59, as
textstat 0.7.4 (PyPI) computes it from the text as it is sent. Short messages are left out: on a
few words the measure says nothing. It undercounts the syllables of some words, such as "ordinary"
and "January", so the sentences are to stay well below the bar.

    reading.py --self-test
    reading.py FILE

FILE holds a message a line: {"say": "Kept", "text": "..."}. A message of 20 words or more above
grade 9, a median above grade 6, and a file with hardly any messages are failures.
"""

import argparse
import json
import pathlib
import statistics
import sys
import tempfile

import textstat

WORDS_MIN = 20
GRADE_MAX = 9
MEDIAN_MAX = 6
# Fewer messages than the bot has kinds of long ones: something was not written down.
MESSAGES_MIN = 30
HARDEST_SHOWN = 3


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("file", nargs="?", type=pathlib.Path)
    arguments.add_argument("--self-test", action="store_true")
    given = arguments.parse_args()
    if given.self_test:
        return self_test()
    if given.file is None:
        arguments.error("a FILE with the messages is needed")
    report, problems = check(given.file)
    print("\n".join(report + problems))
    return 1 if problems else 0


def check(file):
    """What was measured, and what is wrong."""
    messages = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    graded = sorted(
        (
            (grade(message["text"]), message["say"], message["text"])
            for message in messages
            if textstat.lexicon_count(message["text"]) >= WORDS_MIN
        ),
        reverse=True,
    )
    problems = [
        f"{say}: grade {grade:.1f} is above {GRADE_MAX}: {text!r}"
        for grade, say, text in graded
        if grade > GRADE_MAX
    ]
    if len(graded) < MESSAGES_MIN:
        problems.append(f"{len(graded)} messages of {WORDS_MIN} words: too few to be all of them")
        return [], problems
    median = statistics.median(grade for grade, _, _ in graded)
    if median > MEDIAN_MAX:
        problems.append(f"the median grade {median:.1f} is above {MEDIAN_MAX}")
    hardest = ", ".join(f"{say} {grade:.1f}" for grade, say, _ in graded[:HARDEST_SHOWN])
    report = [
        f"{len(messages)} messages, {len(graded)} of {WORDS_MIN} words or more",
        f"median grade {median:.1f}; the hardest: {hardest}",
    ]
    return report, problems


def grade(text):
    return textstat.flesch_kincaid_grade(text)


EASY = "The cat sat on the mat. " * 4
HARD = (
    "Notwithstanding considerable organisational difficulties, the administration subsequently "
    "reconsidered its fundamentally unsatisfactory recommendations concerning municipal "
    "infrastructure, international communication and environmental responsibility."
)
# Neither easy nor hard: above the bar of the median, below that of one message.
MIDDLING = (
    "The teacher opened the window because the morning was warm. The children could hear the river "
    "behind the garden, and another season was beginning. "
)


def self_test():
    """Texts whose grade is known, and files that are right and wrong."""
    wrong = []
    # By hand: 6 words, 6 syllables, one sentence.
    if abs(grade(EASY) - (0.39 * 6 + 11.8 * 1 - 15.59)) > 0.06:
        wrong.append(f"the easy text has grade {grade(EASY)}")
    if not MEDIAN_MAX < grade(MIDDLING) < GRADE_MAX:
        wrong.append(f"the middling text has grade {grade(MIDDLING)}")
    cases = [
        ("easy ones", [EASY] * MESSAGES_MIN, None),
        ("a hard one", [EASY] * MESSAGES_MIN + [HARD], "above 9"),
        ("a hard one that is short", [EASY] * MESSAGES_MIN + ["Administrative impossibility."], None),
        ("many middling ones", [EASY] * MESSAGES_MIN + [MIDDLING] * (MESSAGES_MIN + 1), "median"),
        ("some middling ones", [EASY] * MESSAGES_MIN + [MIDDLING] * (MESSAGES_MIN - 1), None),
        ("too few", [EASY] * (MESSAGES_MIN - 1), "too few"),
        ("none", [], "too few"),
    ]
    for name, texts, word in cases:
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "messages.jsonl"
            file.write_text("".join(json.dumps({"say": "A", "text": t}) + "\n" for t in texts))
            _, problems = check(file)
        if (word is None and problems) or (word and [word in p for p in problems] != [True]):
            wrong.append(f"{name}: wanted {word!r}, got {problems}")
    print("\n".join(wrong) or f"{len(cases)} files told apart")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
