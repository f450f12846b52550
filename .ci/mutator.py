"""Small wrongs for a module: each mutant is its text with one place changed, as a slip of the hand would.

PURE. What no run depends on is left alone: annotations, texts, what stands inside an f-string, and whether a
`zip` is strict.
"""

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

EDGES: Final[dict[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
SUMS: Final[dict[type[ast.operator], type[ast.operator]]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
}
NAMES: Final = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True, slots=True, order=True)
class Mutant:
    """One place of a module and what stands there instead; offsets are bytes of the module's text."""

    line: int
    begin: int
    end: int
    what: str
    text: str

    def of(self, source: bytes) -> bytes:
        """The module's text with this one change."""
        return source[: self.begin] + self.text.encode() + source[self.end :]


def mutants(source: bytes) -> list[Mutant]:
    """All mutants of a module's text that Python can read, in the order of their places."""
    lines = source.splitlines(keepends=True)
    starts = [sum(map(len, lines[:at])) for at in range(len(lines))]

    def placed(node: ast.expr | ast.stmt, what: str, text: str) -> Mutant:
        begin = starts[node.lineno - 1] + node.col_offset
        end = starts[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
        return Mutant(node.lineno, begin, end, what, text)

    found = {placed(node, what, text) for node, what, text in _changes(ast.parse(source))}
    return sorted(mutant for mutant in found if _is_readable(mutant.of(source)))


Change = tuple[ast.expr | ast.stmt, str, str]


def _changes(node: ast.AST) -> Iterator[Change]:
    for maker in _MAKERS.get(type(node), ()):
        yield from maker(node)
    for child in _children(node):
        yield from _changes(child)


def _children(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, (ast.JoinedStr, ast.arg)) or (isinstance(node, ast.keyword) and node.arg == "strict"):
        return
    for name, field in ast.iter_fields(node):
        if name not in ("annotation", "returns", "decorator_list"):
            fields = field if isinstance(field, list) else [field]
            yield from (each for each in fields if isinstance(each, ast.AST))


def _expression(node: ast.expr) -> str:
    return f"({ast.unparse(node)})"


def _comparison(node: ast.Compare) -> Iterator[Change]:
    for at, op in enumerate(node.ops):
        ops = [*node.ops[:at], EDGES[type(op)](), *node.ops[at + 1 :]]
        yield node, "comparison edge", _expression(ast.Compare(node.left, ops, node.comparators))


def _boolean(node: ast.BoolOp) -> Iterator[Change]:
    op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
    yield node, "boolean", _expression(ast.BoolOp(op, node.values))


def _negation(node: ast.UnaryOp) -> Iterator[Change]:
    if isinstance(node.op, (ast.Not, ast.USub)):
        yield node, "negation lost", _expression(node.operand)


def _arithmetic(node: ast.BinOp) -> Iterator[Change]:
    if type(node.op) in SUMS:
        yield node, "arithmetic", _expression(ast.BinOp(node.left, SUMS[type(node.op)](), node.right))


def _constant(node: ast.Constant) -> Iterator[Change]:
    match node.value:
        case bool():
            yield node, "constant", str(not node.value)
        case int():
            yield node, "constant", str(node.value + 1)
        case float():
            yield node, "constant", repr(node.value * 1.5 or 1.0)


def _returned(node: ast.Return) -> Iterator[Change]:
    if node.value is not None and not (isinstance(node.value, ast.Constant) and node.value.value is None):
        yield node, "return None", "return None"


def _lost_call(node: ast.Expr) -> Iterator[Change]:
    if isinstance(node.value, (ast.Call, ast.Await)):
        yield node, "call lost", "pass"


def _branches(node: ast.If | ast.IfExp) -> Iterator[Change]:
    yield node.test, "branches swapped", f"(not ({ast.unparse(node.test)}))"


def _name(node: ast.Name) -> Iterator[Change]:
    if node.id in NAMES and isinstance(node.ctx, ast.Load):
        yield node, "other end", NAMES[node.id]


def _loop(node: ast.Break | ast.Continue) -> Iterator[Change]:
    yield node, "loop", "continue" if isinstance(node, ast.Break) else "break"


_MAKERS: Final[dict[type[ast.AST], tuple[Callable[..., Iterator[Change]], ...]]] = {
    ast.Compare: (_comparison,),
    ast.BoolOp: (_boolean,),
    ast.UnaryOp: (_negation,),
    ast.BinOp: (_arithmetic,),
    ast.Constant: (_constant,),
    ast.Return: (_returned,),
    ast.Expr: (_lost_call,),
    ast.If: (_branches,),
    ast.IfExp: (_branches,),
    ast.Name: (_name,),
    ast.Break: (_loop,),
    ast.Continue: (_loop,),
}


def _is_readable(text: bytes) -> bool:
    try:
        ast.parse(text)
    except SyntaxError:
        return False
    return True
