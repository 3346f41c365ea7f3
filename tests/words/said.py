"""What the command says, as sentences: unwrapped, without tables, tags and pictures."""

import re
import subprocess

TWOTURN = ""  # set by the test that imports this


def run(*arguments):
    return subprocess.run([TWOTURN, *arguments], capture_output=True, text=True, check=False)


def texts(document):
    """Every text that stands in a document, whatever it is called."""
    if isinstance(document, dict):
        for value in document.values():
            yield from texts(value)
    elif isinstance(document, list):
        for value in document:
            yield from texts(value)
    elif isinstance(document, str):
        yield document


def readable(output):
    """A page's words without their tags, pictures, styles and scripts."""
    if not output.startswith("<!"):
        return output
    text = re.sub(r"<(style|script|svg)\b.*?</\1>", "\n\n", output, flags=re.S)
    return re.sub(r"<[^>]+>", "\n\n", text).replace("\u00a0", " ").replace("&apos;", "'")


def sentences(output):
    """Lines of prose, unwrapped; rows of tables fall out by the room between their columns."""
    for paragraph in re.split(r"\n\n|\n(?=- )|(?<=[.:])\n(?! )", readable(output)):
        rows = [line.strip() for line in paragraph.split("\n")]
        yield " ".join(row for row in rows if row and "  " not in row)
