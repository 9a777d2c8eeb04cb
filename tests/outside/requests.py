"""Does every request the bot made fit the platform's published schema?

The second opinion is aiogram 3.31.0 (PyPI), whose classes are generated from the Bot API's
reference (10.3). Only their declared fields, types and documented lengths are used; aiogram's own
reading of values is lenient and is left aside. Pixel sizes, byte sizes of files, token formats and
what the platform remembers are not looked at here: the stand-in server of the tests holds those.

    requests.py --self-test
    requests.py FOLDER [--needs METHOD,METHOD]

FOLDER holds *.jsonl, one request a line: {"method": "sendMessage", "params": {...}}. Parameters of
a multipart form are logged as what they stand for, and an uploaded file as "attach://NAME". An
empty log is a failure, and so is a method that --needs names and that was never called.
"""

import argparse
import ast
import collections
import datetime
import html
import inspect
import json
import pathlib
import re
import sys
import textwrap
import types
import typing

import aiogram.methods
import pydantic
from aiogram.client.default import Default
from aiogram.types import InputFile

PROBLEMS_SHOWN_MAX = 40


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("folder", nargs="?", type=pathlib.Path)
    arguments.add_argument("--needs", default="", metavar="METHOD,METHOD")
    arguments.add_argument("--self-test", action="store_true")
    given = arguments.parse_args()
    if given.self_test:
        return self_test()
    if given.folder is None:
        arguments.error("a FOLDER with the request log is needed")
    return check_log(given.folder, {name for name in given.needs.split(",") if name})


def check_log(folder, needed):
    """Reads the whole log, says what does not fit, and gives the exit code."""
    calls, problems = collections.Counter(), []
    for file in sorted(folder.glob("*.jsonl")):
        for number, line in enumerate(file.read_text("utf-8").splitlines(), start=1):
            place = f"{file.name}:{number}"
            try:
                request = json.loads(line)
                method, params = request["method"], request["params"]
            except (ValueError, KeyError, TypeError) as fault:
                problems.append(f"{place}: not a request: {fault!r}")
                continue
            calls[method] += 1
            problems += [f"{place}: {problem}" for problem in misfits(method, params)]
    for method in sorted(needed - set(calls)):
        problems.append(f"{method}: never called")
    if not calls:
        problems.append(f"no request in {folder}: nothing was checked")
    for problem in problems[:PROBLEMS_SHOWN_MAX]:
        print(problem)
    if len(problems) > PROBLEMS_SHOWN_MAX:
        print(f"and {len(problems) - PROBLEMS_SHOWN_MAX} more")
    print(", ".join(f"{method} {count}" for method, count in sorted(calls.items())))
    print(f"{calls.total()} requests checked, {len(problems)} problems")
    return 1 if problems else 0


def misfits(method, params):
    """Everything about one request that the schema does not allow."""
    schema = METHODS.get(method)
    if schema is None:
        return [f"{method}: no such method"]
    if not isinstance(params, dict):
        return [f"{method}: its parameters are {kind(params)}, not an object"]
    return object_misfits(schema, params, method, "parse_mode" in params)


def object_misfits(schema, value, path, formatted):
    problems = []
    fields = schema.model_fields
    for name, field in fields.items():
        if field.is_required() and name not in value:
            problems.append(f"{path}.{name}: missing")
    by_wire_name = {field.alias or name: name for name, field in fields.items()}
    for name, part in value.items():
        if name not in by_wire_name:
            problems.append(f"{path}.{name}: no such field")
            continue
        own = by_wire_name[name]
        found = value_misfits(fields[own].annotation, part, f"{path}.{name}", formatted)
        problems += found or length_misfits(schema, own, part, f"{path}.{name}", formatted)
    return problems


def value_misfits(wanted, value, path, formatted):
    """Why a JSON value is not what an annotation asks for; empty when it is."""
    origin, inner = typing.get_origin(wanted), typing.get_args(wanted)
    if origin is typing.Annotated:
        return value_misfits(inner[0], value, path, formatted)
    if origin in (typing.Union, types.UnionType):
        return union_misfits(inner, value, path, formatted)
    if origin is typing.Literal:
        return [] if value in inner else [f"{path}: {value!r} is none of {list(inner)}"]
    if origin is list:
        if not isinstance(value, list):
            return [f"{path}: {kind(value)} instead of a list"]
        parts = (value_misfits(inner[0], v, f"{path}[{i}]", formatted) for i, v in enumerate(value))
        return [problem for part in parts for problem in part]
    if inspect.isclass(wanted) and issubclass(wanted, pydantic.BaseModel):
        if not isinstance(value, dict):
            return [f"{path}: {kind(value)} instead of a {wanted.__name__}"]
        return object_misfits(wanted, value, path, formatted)
    return [] if is_simple(wanted, value) else [f"{path}: {kind(value)} instead of {wanted}"]


def union_misfits(choices, value, path, formatted):
    """Fits when one choice does; else the complaint of the choice that came nearest."""
    complaints = [value_misfits(choice, value, path, formatted) for choice in choices]
    return min(complaints, key=len, default=[f"{path}: nothing fits here"])


def is_simple(wanted, value):
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    if wanted in (int, datetime.datetime, datetime.timedelta):
        return number and isinstance(value, int)
    if wanted is float:
        return number
    if wanted is bool or wanted is str:
        return isinstance(value, wanted)
    if wanted is InputFile:
        return isinstance(value, str) and value.startswith("attach://")
    # Default is aiogram's mark for "take the bot's default", which never travels; nor does null.
    if wanted is Default or wanted is type(None):
        return False
    raise TypeError(f"the schema has a type that this program does not know: {wanted}")


def length_misfits(schema, name, value, path, formatted):
    """Documented lengths: "1-64 bytes", "1-4096 characters after entities parsing"."""
    manual = manuals(schema).get(name, "")
    limit = re.search(r"(\d+)-(\d+) (characters|bytes)( after entities)?", manual)
    if limit is None or not isinstance(value, str):
        return []
    least, most, unit = int(limit[1]), int(limit[2]), limit[3]
    seen = html.unescape(re.sub(r"<[^>]*>", "", value)) if limit[4] and formatted else value
    length = len(seen.encode()) if unit == "bytes" else len(seen.encode("utf-16-le")) // 2
    return [] if least <= length <= most else [f"{path}: {length} {unit}, not {least} to {most}"]


MANUALS = {}


def manuals(schema):
    """The sentence below each field in the class's source."""
    if schema not in MANUALS:
        body = ast.parse(textwrap.dedent(inspect.getsource(schema))).body[0].body
        MANUALS[schema] = {
            field.target.id: text.value.value
            for field, text in zip(body, body[1:])
            if isinstance(field, ast.AnnAssign)
            and isinstance(text, ast.Expr)
            and isinstance(text.value, ast.Constant)
        }
    return MANUALS[schema]


def kind(value):
    return {dict: "an object", list: "a list", type(None): "null"}.get(type(value), repr(value))


METHODS = {
    schema.__api_method__: schema
    for schema in vars(aiogram.methods).values()
    if inspect.isclass(schema) and isinstance(getattr(schema, "__api_method__", None), str)
}


def keyboard(**button):
    return {"inline_keyboard": [[{"text": "Smooth", "callback_data": "1.a", **button}]]}


GOOD = [
    ("getMe", {}),
    ("getUpdates", {"offset": 7, "timeout": 50, "allowed_updates": ["message"]}),
    ("sendMessage", {"chat_id": 5, "text": "Which fits the day?", "reply_markup": keyboard()}),
    ("sendMessage", {"chat_id": 5, "text": "<b>" + "a" * 4096 + "</b>", "parse_mode": "HTML"}),
    ("sendMessage", {"chat_id": 5, "text": "a", "link_preview_options": {"is_disabled": True}}),
    ("sendMessage", {"chat_id": 5, "text": "a", "reply_markup": {"force_reply": True}}),
    ("editMessageReplyMarkup", {"chat_id": 5, "message_id": 9, "reply_markup": keyboard()}),
    ("answerCallbackQuery", {"callback_query_id": "1", "text": ""}),
    ("sendPhoto", {"chat_id": 5, "photo": "attach://year.png", "caption": "January"}),
    ("setMyCommands", {"commands": [{"command": "rows", "description": "The next rows"}]}),
]

# What is wrong, and a word of the complaint about it.
BAD = [
    ("sendMesage", {"chat_id": 5, "text": "a"}, "no such method"),
    ("sendMessage", {"chat_id": 5}, "text: missing"),
    ("sendMessage", {"chat_id": 5, "text": "a", "silent": True}, "silent: no such field"),
    ("sendMessage", {"chat_id": 5.5, "text": "a"}, "chat_id: 5.5 instead of"),
    ("sendMessage", {"chat_id": True, "text": "a"}, "chat_id: True instead of"),
    ("sendMessage", {"chat_id": 5, "text": None}, "text: null instead of"),
    ("sendMessage", {"chat_id": 5, "text": ""}, "0 characters"),
    ("sendMessage", {"chat_id": 5, "text": "a" * 4097}, "4097 characters"),
    ("sendMessage", {"chat_id": 5, "text": "\U0001f9f6" * 2049}, "4098 characters"),
    ("sendMessage", {"chat_id": 5, "text": "a", "reply_markup": keyboard(label=1)}, "label"),
    ("sendMessage", {"chat_id": 5, "text": "a", "reply_markup": keyboard(text=7)}, "text: 7"),
    ("sendMessage", {"chat_id": 5, "text": "a", "reply_markup": {"inline": []}}, "inline"),
    (
        "sendMessage",
        {"chat_id": 5, "text": "a", "reply_markup": keyboard(callback_data="é" * 33)},
        "66 bytes",
    ),
    ("sendMessage", {"chat_id": 5, "text": "a", "reply_markup": '{"a": 1}'}, "instead of"),
    ("sendMessage", {"chat_id": 5, "text": "a", "reply_markup": None}, "null instead of"),
    ("editMessageText", {"chat_id": 5, "message_id": "9", "text": "a"}, "'9' instead of"),
    ("answerCallbackQuery", {"callback_query_id": 1}, "callback_query_id: 1 instead of"),
    ("answerCallbackQuery", {"callback_query_id": "1", "text": "a" * 201}, "201 characters"),
    ("getUpdates", {"allowed_updates": "message"}, "instead of a list"),
    ("sendPhoto", {"chat_id": 5, "photo": {"path": "year.png"}}, "photo: an object"),
    ("sendPhoto", {"chat_id": 5, "photo": "attach://a", "caption": "a" * 1025}, "1025 characters"),
    ("setMyCommands", {"commands": [{"command": "rows"}]}, "description: missing"),
    ("sendMessage", [5, "a"], "not an object"),
]


def self_test():
    """Requests known to be right and wrong: this program has to tell them apart."""
    wrong = []
    for method, params in GOOD:
        wrong += [f"complained wrongly: {problem}" for problem in misfits(method, params)]
    for method, params, word in BAD:
        found = misfits(method, params)
        if len(found) != 1 or word not in found[0]:
            wrong.append(f"{method} {str(params)[:80]}: wanted {word!r}, got {found}")
    print("\n".join(wrong) or f"{len(GOOD)} right and {len(BAD)} wrong requests told apart")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
