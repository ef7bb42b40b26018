"""Frozen dataclasses that are made at once: what the standard library compiles for each class is shared or put off.

Up to Python 3.12 the standard library compiles six methods of each class from source while its module is loaded, more
than a millisecond a class. Here `__init__` is compiled with the first instance, and the others are closures; fields,
slots and all else that can be asked of a dataclass are those of the standard library. Type checkers see
`dataclasses.dataclass` itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from dataclasses import dataclass as dataclass
    from typing import TypeVar

    R = TypeVar("R")

    def in_order(cls: type[R]) -> Callable[..., R]:
        """Return what makes a frozen class of the values of all its fields, in order."""

else:
    import dataclasses
    from collections.abc import Callable
    from functools import cache
    from operator import attrgetter
    from typing import Any, NoReturn

    _Method = Callable[..., Any]

    def dataclass(
        *, frozen: bool, slots: bool = False, kw_only: bool = False, eq: bool = True
    ) -> Callable[[type], type]:
        """Return what makes a class a frozen dataclass; every argument is that of `dataclasses.dataclass`."""
        if not frozen:
            raise TypeError("A dataclass that is not frozen is made by the standard library.")

        def made(plain: type) -> type:
            own = vars(plain)
            cls = dataclasses.dataclass(plain, init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)
            for name, method in _methods(cls, eq).items():
                if name not in own:
                    method.__name__, method.__qualname__ = name, f"{cls.__qualname__}.{name}"
                    setattr(cls, name, method)
            return cls

        return made

    def _methods(cls: type, eq: bool) -> dict[str, _Method]:
        fields = dataclasses.fields(cls)
        names = [each.name for each in fields]
        values = _values(names)
        methods = {
            "__init__": _first_init(cls),
            "__repr__": _repr([each.name for each in fields if each.repr]),
            "__setattr__": _refuse_to_set,
            "__delattr__": _refuse_to_delete,
            "__getstate__": lambda self: values(self),
            "__setstate__": _restore(names),
        }
        compared = _values([each.name for each in fields if each.compare])
        return methods | ({"__eq__": _equal(compared), "__hash__": _hash(compared)} if eq else {})

    def _first_init(cls: type) -> _Method:
        def first(self: Any, *values: Any, **given: Any) -> None:
            cls.__init__ = _compiled_init(cls)
            cls.__init__(self, *values, **given)

        return first

    def _compiled_init(cls: type) -> _Method:
        """Compile `__init__`: fields by place, then those by name alone; a default that is made is made each time."""
        fields = dataclasses.fields(cls)
        known: dict[str, Any] = {"_put": object.__setattr__, "_missing": dataclasses.MISSING}
        for each in fields:
            known[f"_make_{each.name}"], known[f"_usual_{each.name}"] = each.default_factory, each.default
        by_name = [_parameter(each) for each in fields if each.kw_only]
        header = ["self", *(_parameter(each) for each in fields if not each.kw_only)]
        header += ["*", *by_name] if by_name else []
        lines = [f"def __init__({', '.join(header)}):"]
        for each in fields:
            if each.default_factory is not dataclasses.MISSING:
                lines.append(f" if {each.name} is _missing: {each.name} = _make_{each.name}()")
            lines.append(f" _put(self, {each.name!r}, {each.name})")
        lines.append(" self.__post_init__()" if hasattr(cls, "__post_init__") else " return")
        exec("\n".join(lines), known)
        made: _Method = known["__init__"]
        made.__qualname__ = f"{cls.__qualname__}.__init__"
        return made

    @cache
    def in_order(cls: type) -> Callable[..., Any]:
        """Return what makes a frozen class with slots of the values of all its fields, in order, and checks them.

        It is for very many at once: it takes a third of the time of the class itself.
        """
        names = [each.name for each in dataclasses.fields(cls)]
        known: dict[str, Any] = {"_new": object.__new__, "_cls": cls}
        known |= {f"_put_{name}": getattr(cls, name).__set__ for name in names}
        lines = [
            f"def made({', '.join(names)}):",
            " made = _new(_cls)",
            *(f" _put_{name}(made, {name})" for name in names),
        ]
        lines += [" made.__post_init__()"] if hasattr(cls, "__post_init__") else []
        exec("\n".join([*lines, " return made"]), known)
        return known["made"]

    def _parameter(each: dataclasses.Field[Any]) -> str:
        if each.default_factory is not dataclasses.MISSING:
            return f"{each.name}=_missing"
        return each.name if each.default is dataclasses.MISSING else f"{each.name}=_usual_{each.name}"

    def _values(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
        if len(names) > 1:
            return attrgetter(*names)
        return lambda self: tuple(getattr(self, name) for name in names)

    def _restore(names: list[str]) -> _Method:
        def restore(self: Any, state: tuple[Any, ...]) -> None:
            for name, value in zip(names, state, strict=True):
                object.__setattr__(self, name, value)

        return restore

    def _repr(names: list[str]) -> _Method:
        def written(self: Any) -> str:
            return f"{type(self).__qualname__}({', '.join(f'{name}={getattr(self, name)!r}' for name in names)})"

        return written

    def _equal(compared: Callable[[Any], tuple[Any, ...]]) -> _Method:
        def equal(self: Any, other: object) -> bool:
            return compared(self) == compared(other) if other.__class__ is self.__class__ else NotImplemented

        return equal

    def _hash(compared: Callable[[Any], tuple[Any, ...]]) -> _Method:
        return lambda self: hash(compared(self))

    def _refuse_to_set(self: Any, name: str, value: Any) -> NoReturn:
        raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")

    def _refuse_to_delete(self: Any, name: str) -> NoReturn:
        raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")
