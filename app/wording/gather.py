"""All words of the program that a reader may see, read from its own code: keys of a translation.

Words stand in the code as they are said. A sentence that is composed of words and values is a
template: its values are numbered, as in ``"Move {0} to {1}"``. More is gathered than is ever
shown, since a word such as ``fed`` and a name such as ``nodes`` look alike; what is left without
a translation stays English.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from app.docks.rule_help import sections
from model.tables.catalog import entries
from model.tables.relays import relay_file

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("app", "checks", "model")
RULES = ROOT / "checks" / "rules"
UNSEEN = ("app/start", "app/commands", "app/pictures", "app/cli.py", "model/file/reference.py")
"""Where no words of the window stand."""
KINDS_OF_TABLES = ("copper", "ampacity", "bundles")
_WORD = re.compile(r"[A-Za-z]{2}")
_CODE = re.compile(r"[_#<>\\]|://|^[a-z]+\.|;\s*}|^\.[a-z]|^[/%]|\{\{")
_EMPTY = re.compile(r"\{[^}]*\}")


def words_of_the_program() -> dict[str, str]:
    """Return every text there is to translate, by itself, with the file in which it stands."""
    found: dict[str, str] = {}
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            told = path.relative_to(ROOT).as_posix()
            if told.startswith(UNSEEN):
                continue
            tree = ast.parse(path.read_text(encoding="utf-8"))
            texts = [*texts_of(tree), *(_help_of(tree) if path.parent == RULES else [])]
            for text in texts:
                found.setdefault(text, told)
    for text in _of_tables():
        found.setdefault(text, "assets/tables")
    return found


def _of_tables() -> Iterator[str]:
    """Yield what is said of the tables of the trade."""
    for kind in KINDS_OF_TABLES:
        for entry in entries(kind):
            yield from (entry.title, entry.source, entry.standing)
    for way in relay_file().suppression:
        yield from (way.title, way.source, way.standing)


def texts_of(tree: ast.Module) -> Iterator[str]:
    """Yield the texts and templates of a module, in the order in which they stand in it."""
    told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    yield from _texts_below(tree, told)


def _texts_below(node: ast.AST, told: set[int]) -> Iterator[str]:
    """Yield the texts in a piece of code; `told` are those that speak to its readers only."""
    below: Iterable[ast.AST] = ast.iter_child_nodes(node)
    text = ""
    if isinstance(node, ast.JoinedStr):
        below = [v.value for v in node.values if isinstance(v, ast.FormattedValue)]
        text = template_of(node)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
        text = node.value
    elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        text = joined_of(node)
    if is_words(text):
        yield text
    for child in below:
        yield from _texts_below(child, told)


def template_of(node: ast.JoinedStr) -> str:
    """Return a composed sentence with its values numbered."""
    pieces, count = [], 0
    for piece in node.values:
        if isinstance(piece, ast.Constant):
            pieces.append(str(piece.value))
        else:
            pieces.append(f"{{{count}}}")
            count += 1
    return "".join(pieces)


def joined_of(node: ast.BinOp) -> str:
    """Return texts that are put together with values between them, "" where there is no text."""
    leaves, waiting = list[ast.expr](), list[ast.expr]([node])
    while waiting:
        leaf = waiting.pop()
        if isinstance(leaf, ast.BinOp) and isinstance(leaf.op, ast.Add):
            waiting += [leaf.right, leaf.left]
        else:
            leaves.append(leaf)
    pieces = list[ast.expr]()
    for leaf in leaves:
        pieces += leaf.values if isinstance(leaf, ast.JoinedStr) else [leaf]
    if not any(isinstance(p, ast.Constant) and isinstance(p.value, str) for p in pieces):
        return ""
    return template_of(ast.JoinedStr(pieces))


def is_words(text: str) -> bool:
    """Tell whether a text can be something that people read."""
    bare = _EMPTY.sub("", text)
    return bool(_WORD.search(bare)) and not _CODE.search(bare)


def _help_of(tree: ast.Module) -> Iterator[str]:
    """Yield the help of a rule: its first line, and every section as one running text."""
    help_ = ast.get_docstring(tree) or ""
    yield help_.splitlines()[0]
    for _title, text in sections(help_):
        yield text
