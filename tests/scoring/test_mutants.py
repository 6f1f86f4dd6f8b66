"""The check values of a method catch every wrong operator and every wrong number in its function."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from types import ModuleType
from typing import cast

import pytest

from generator.loading import load_reference
from generator.model.reference import Method
from tests.scoring.check_values import function_name, module_of, reproduces

METHODS = load_reference().methods
HELPERS = {
    "chance-of-a-line": ("_squares",),
    "blower-scatter": ("_squares",),
    "limits-of-a-crossing": ("pressure_as_flow", "limits_about"),
    "mixed-share": ("inhaling_part", "_while_inhaling", "_while_exhaling", "_integral"),
    "supplied-while-exhaling": ("inhaling_part",),
    "pooled-fit-factor": ("exercise_weights",),
    "simulated-overall-interval": (
        "walk_covariance",
        "_middles",
        "_wander",
        "_during",
        "expected_counts",
        "leakage_limits",
        "_zero_rates",
    ),
    "between-and-within-wearers": ("_restricted_fit",),
    "wearers-with-failures": ("chance_of_so_few_failures",),
    "new-donning-bound": ("chance_below", "shift_and_scale"),
    "speech-rating-limits": ("_share_above_guessing",),
    "moist-air-density": ("saturation_pressure",),
    "resistance-behind-the-blower": ("resistance",),
    "flow-without-meter": ("crossing",),
    "run-time": ("first_below",),
    "electrical-energy": ("integral_until",),
    "delivered-volume": ("integral_until",),
}
"""Functions that are no method of their own, by the method that rests on them."""

OPERATORS: dict[type[ast.AST], tuple[type[ast.AST], ...]] = {
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.Pow: (ast.Mult,),
    ast.USub: (ast.UAdd,),
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
SCALE = 1.1


def is_range_check(node: ast.AST) -> bool:
    """Say whether a statement only enforces a range; those have tests of their own, by their messages."""
    if isinstance(node, ast.For):
        return all(is_range_check(part) for part in node.body)
    if isinstance(node, ast.If):
        return all(is_range_check(part) for part in node.body) and not node.orelse
    if not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)):
        return False
    called = node.value.func
    return isinstance(called, ast.Name) and called.id.startswith("require_")


def places(function: ast.FunctionDef) -> Iterator[ast.AST]:
    """Yield the nodes of a function's formula: its statements without the docstring and the range checks."""
    for statement in function.body:
        is_docstring = isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)
        if not is_docstring and not is_range_check(statement):
            yield from ast.walk(statement)


def changes(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    """Yield what to put in a node's place, and what that is called."""
    for new in [*_other_operators(node), *_other_branches(node), *_other_numbers(node)]:
        yield f"{ast.unparse(node)} -> {ast.unparse(ast.fix_missing_locations(new))}", new


def _other_operators(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.BinOp):
        for binary in OPERATORS.get(type(node.op), ()):
            yield ast.BinOp(node.left, cast(ast.operator, binary()), node.right)
    elif isinstance(node, ast.UnaryOp):
        for unary in OPERATORS.get(type(node.op), ()):
            yield ast.UnaryOp(cast(ast.unaryop, unary()), node.operand)
    elif isinstance(node, ast.Compare):
        for comparison in OPERATORS.get(type(node.ops[0]), ()):
            yield ast.Compare(node.left, [cast(ast.cmpop, comparison())], node.comparators)


def _other_branches(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.IfExp):
        yield ast.IfExp(ast.UnaryOp(ast.Not(), node.test), node.body, node.orelse)
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("max", "min"):
        other = "min" if node.func.id == "max" else "max"
        yield ast.Call(ast.Name(other, ast.Load()), node.args, node.keywords)


def _other_numbers(node: ast.AST) -> Iterator[ast.AST]:
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        value = cast(float, node.value)
        yield ast.Constant(value + 1)
        if value != 0:
            yield ast.Constant(value * SCALE)
    elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load) and node.id.isupper():
        yield ast.BinOp(node, ast.Mult(), ast.Constant(SCALE))


class Replace(ast.NodeTransformer):
    """Put another node in the place of one."""

    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        """Remember which and what."""
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        """Replace the node, or look further down."""
        return self.new if node is self.old else super().visit(node)


def mutants(module: ModuleType, name: str) -> Iterator[tuple[str, ModuleType]]:
    """Yield the module with one thing in one of its functions changed, and what was changed."""
    source = inspect.getsource(module)
    count = len(list(_changes_in(ast.parse(source), name)))
    for number in range(count):
        tree = ast.parse(source)
        old, what, new = list(_changes_in(tree, name))[number]
        changed = cast(ast.Module, ast.fix_missing_locations(Replace(old, new).visit(tree)))
        mutant = ModuleType(module.__name__)
        exec(compile(changed, "<mutant>", "exec"), mutant.__dict__)  # our own source, changed in one place
        yield what, mutant


def _changes_in(tree: ast.Module, name: str) -> Iterator[tuple[ast.AST, str, ast.AST]]:
    (function,) = (node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name == name)
    for node in places(function):
        for what, new in changes(node):
            yield node, what, new


def is_caught(method: Method, mutant: ModuleType) -> bool:
    """Say whether a check value fails, or cannot be computed at all, with a changed module."""
    function = getattr(mutant, function_name(method))
    try:
        return not all(reproduces(function, check) for check in method.check_values)
    except Exception:
        return True


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda method: method.id)
def test_check_values_catch_every_mutant(method: Method) -> None:
    module = module_of(method)
    functions = (function_name(method), *HELPERS.get(method.id, ()))
    made = [(function, what, mutant) for function in functions for what, mutant in mutants(module, function)]
    survivors = [(function, what) for function, what, mutant in made if not is_caught(method, mutant)]
    assert survivors == []


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda method: method.id)
def test_check_values_catch_a_result_a_tenth_off(method: Method) -> None:
    function = getattr(module_of(method), function_name(method))
    scalable = [check for check in method.check_values if _scaled(function(**check.inputs)) is not None]
    if not scalable:
        # A verdict is a word: its comparison is what can be wrong, at two places or more.
        assert len(list(mutants(module_of(method), function_name(method)))) >= 2
        return
    caught = [check for check in scalable if not reproduces(lambda **inputs: _scaled(function(**inputs)), check)]
    assert caught


def _scaled(found: object) -> object:
    if isinstance(found, tuple):
        return tuple(_scaled(part) for part in found)
    return found * SCALE if isinstance(found, int | float) else None
