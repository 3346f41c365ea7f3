#!/usr/bin/env python3
"""Whether two builds of the command answer alike: numbers of documents to 12 significant digits, text and pages
to the byte.

    alike.py TWOTURN OTHER     one line for each difference; exit 1 if there is any
"""

import concurrent.futures
import os
import sys

import answers


def main():
    programs = sys.argv[1:3]
    asked = list(answers.questions())
    assert len(asked) > 250, len(asked)

    def look(question):
        return answers.compared(question, *(answers.answer(program, question) for program in programs))

    different = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for question, found in zip(asked, pool.map(look, asked)):
            different += bool(found)
            for line in found[:5]:
                print(f"{' '.join(question)}: {line}")
    print(f"{len(asked) - different} of {len(asked)} answers are alike")
    return 1 if different else 0


if __name__ == "__main__":
    sys.exit(main())
