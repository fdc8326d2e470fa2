"""Frozen dataclasses that cost little to define: a constructor is compiled when the first object of its class is made.

``dataclasses`` compiles six methods of each class as it is defined, on Python 3.11 in half a millisecond a class, and a
command loads hundreds of classes of which it makes few. What their objects do is the same
(``tests/test_frozen_classes.py``).
"""

import dataclasses
from collections.abc import Callable, Iterator
from operator import attrgetter
from reprlib import recursive_repr
from typing import TYPE_CHECKING, Any, NoReturn

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # noqa: PLC0414 - exported, with its type
else:

    def dataclass(cls: type | None = None, /, *, frozen: bool = False, eq: bool = True, order: bool = False) -> Any:
        """Return what ``dataclasses.dataclass`` does, of the arguments that it has here."""
        if cls is None:
            return lambda own: dataclass(own, frozen=frozen, eq=eq, order=order)
        if not frozen or order:
            return dataclasses.dataclass(frozen=frozen, eq=eq, order=order)(cls)
        return _frozen(dataclasses.dataclass(init=False, repr=False, eq=False)(cls), eq=eq)


Method = Callable[..., Any]


def _frozen(cls: type, *, eq: bool) -> type:
    """Put into a class what a frozen dataclass has; its fields are known."""
    compared = _values_of(tuple(field.name for field in dataclasses.fields(cls) if field.compare))
    methods = {
        "__repr__": _told,
        "__setattr__": _not_set,
        "__delattr__": _not_deleted,
        **({"__eq__": _is_equal(compared), "__hash__": _hashed(compared)} if eq else {}),
    }
    for name, method in methods.items():
        if name not in vars(cls):
            setattr(cls, name, method)
    cls.__init__ = _compiled_at_first_use(cls)  # type: ignore[misc]
    return cls


def _values_of(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    match names:
        case ():
            return lambda _: ()
        case (name,):
            value_of = attrgetter(name)
            return lambda own: (value_of(own),)
        case _:
            return attrgetter(*names)


def _is_equal(compared: Callable[[Any], tuple[Any, ...]]) -> Method:
    def is_equal(self: Any, other: Any) -> bool:
        return compared(self) == compared(other) if other.__class__ is self.__class__ else NotImplemented

    return is_equal


def _hashed(compared: Callable[[Any], tuple[Any, ...]]) -> Method:
    def hashed(self: Any) -> int:
        return hash(compared(self))

    return hashed


@recursive_repr()
def _told(self: Any) -> str:
    told = (f"{field.name}={getattr(self, field.name)!r}" for field in dataclasses.fields(self) if field.repr)
    return f"{self.__class__.__qualname__}({', '.join(told)})"


def _not_set(_: Any, name: str, __: Any) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _not_deleted(_: Any, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _compiled_at_first_use(cls: type) -> Method:
    def first(self: Any, *args: Any, **named: Any) -> None:
        cls.__init__ = compiled = _constructor(cls)  # type: ignore[misc]
        compiled(self, *args, **named)

    return first


def _constructor(cls: Any) -> Method:
    """Return the constructor of a class; it writes past the class's own ``__setattr__``, as no one else may."""
    fields = dataclasses.fields(cls)
    names: dict[str, Any] = {"put": object.__setattr__, "none": dataclasses.MISSING}
    for field in fields:
        names[f"default_{field.name}"] = field.default
        names[f"make_{field.name}"] = field.default_factory
    text = f"def __init__({', '.join(('self', *map(_parameter, fields)))}):\n" + "\n".join(_lines(cls, fields))
    exec(text, names)  # noqa: S102 - as dataclasses does; names come from the class alone
    return names["__init__"]  # type: ignore[no-any-return]


def _parameter(field: "dataclasses.Field[Any]") -> str:
    if field.default is not dataclasses.MISSING:
        return f"{field.name}=default_{field.name}"
    return field.name if field.default_factory is dataclasses.MISSING else f"{field.name}=none"


def _lines(cls: type, fields: "tuple[dataclasses.Field[Any], ...]") -> Iterator[str]:
    for field in fields:
        made = field.default_factory is not dataclasses.MISSING
        value = f"make_{field.name}() if {field.name} is none else {field.name}" if made else field.name
        yield f" put(self, {field.name!r}, {value})"
    yield " self.__post_init__()" if hasattr(cls, "__post_init__") else " return"
