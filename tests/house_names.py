"""Which top-level definitions of the program its own text uses: read, not run. For tests/test_house.py."""

import ast
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

Name = tuple[str, str]  # module, definition


@dataclass
class _Module:
    """What a module defines, and what its names stand for."""

    name: str
    tree: ast.Module
    defined: set[str] = field(default_factory=set)
    names: dict[str, Name] = field(default_factory=dict)  # imported by name
    modules: dict[str, str] = field(default_factory=dict)  # imported whole
    strings: set[str] = field(default_factory=set)


def unused(trees: Mapping[str, ast.Module]) -> list[Name]:
    """Definitions at the top of a module that no module uses, neither by name, as an attribute, nor by string.

    A use inside its own body does not count, nor being handed on by an import or `__all__`.
    """
    modules = [_read(name, tree, trees) for name, tree in trees.items()]
    handed_on = {(m.name, own): there for m in modules for own, there in m.names.items()}
    used: set[Name] = set()
    for module in modules:
        for found in _uses(module, trees):
            while found in handed_on and found not in used:
                used.add(found)
                found = handed_on[found]
            used.add(found)
    return sorted((m.name, d) for m in modules for d in m.defined if (m.name, d) not in used)


def _read(name: str, tree: ast.Module, trees: Mapping[str, ast.Module]) -> _Module:
    module = _Module(name, tree)
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            module.defined.add(node.name)
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            stored = (n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name))
            module.defined.update(n for n in stored if not n.startswith("__"))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            module.strings.add(node.value)
        elif isinstance(node, ast.ImportFrom):
            for alias in node.names:
                own, whole = alias.asname or alias.name, f"{node.module}.{alias.name}"
                if whole in trees:
                    module.modules[own] = whole
                else:
                    module.names[own] = (node.module or "", alias.name)
        elif isinstance(node, ast.Import):
            module.modules.update({a.asname: a.name for a in node.names if a.asname})
    return module


def _uses(module: _Module, trees: Mapping[str, ast.Module]) -> Iterator[Name]:
    for other in module.strings & set(trees):  # a page is named by its module and its class, to be imported when opened
        yield from ((other, text) for text in module.strings if text.isidentifier())
    for top in module.tree.body:
        if isinstance(top, ast.Assign) and ast.unparse(top.targets[0]) == "__all__":
            continue
        own = top.name if isinstance(top, ast.FunctionDef | ast.ClassDef) else ""
        for node in _seen(top):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                if node.value.id in module.modules:
                    yield module.modules[node.value.id], node.attr
            elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
                yield from _meant(module, node.id, own)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):  # a type named ahead of its time
                yield from _meant(module, node.value, own)


def _meant(module: _Module, name: str, own: str) -> Iterator[Name]:
    if name in module.names:
        yield module.names[name]
    elif name in module.defined and name != own:
        yield module.name, name


def _seen(top: ast.AST) -> Iterator[ast.AST]:
    """Nodes from this one down, without the names that a function's own arguments and variables hide."""
    todo: list[tuple[ast.AST, frozenset[str]]] = [(top, frozenset())]
    while todo:
        node, hidden = todo.pop()
        if isinstance(node, ast.Name) and node.id in hidden:
            continue
        yield node
        children = list(ast.iter_child_nodes(node))
        if isinstance(node, ast.FunctionDef | ast.Lambda):
            body = node.body if isinstance(node, ast.FunctionDef) else [node.body]
            inside = hidden | _bound(node, body)
            todo += [(part, inside) for part in body]
            children = [part for part in children if part not in body]
        todo += [(child, hidden) for child in children]


def _bound(node: ast.FunctionDef | ast.Lambda, body: Sequence[ast.AST]) -> frozenset[str]:
    """Names of a function's own: its arguments and what it stores."""
    held = {n.arg for n in ast.walk(node.args) if isinstance(n, ast.arg)}
    inner = (n for part in body for n in ast.walk(part))
    return frozenset(held | {n.id for n in inner if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)})
