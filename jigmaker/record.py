"""The decorator of records: the standard library's `dataclass`, with one set of methods that all records share.

The library writes and compiles six functions for every class as its module loads. A hundred records are behind
`jigmaker angles`, and these functions were a third of its time. Here `__init__` alone is compiled; the rest reads the
names of the fields.
"""

import dataclasses
from dataclasses import MISSING, FrozenInstanceError, fields
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls=None, *, frozen=False, slots=False, eq=True, kw_only=False):
        """As the library's. Of its parameters those that are used here; every field is a parameter of `__init__`."""

        def made(plain):
            bare = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)(plain)
            for name, method in _methods(bare, frozen, slots, eq).items():
                if name not in plain.__dict__:
                    setattr(bare, name, method)
            return bare

        return made if cls is None else made(cls)


def _methods(cls: type, frozen: bool, slots: bool, eq: bool) -> dict[str, Any]:
    """Methods by name, where the class has none of its own."""
    methods: dict[str, Any] = {"__init__": _init(cls, frozen, slots), "__repr__": _Shared.__repr__}
    if eq:
        names = [field.name for field in fields(cls) if field.compare]
        # Of one name attrgetter gives the value alone; a tuple, as of two, takes a NaN for equal to itself.
        methods |= {
            "_compared": attrgetter(*names * 2 if len(names) == 1 else names),
            "__eq__": _Shared.__eq__,
            "__hash__": _Shared.__hash__ if frozen else None,  # what can change is no key of a dictionary
        }
    if frozen:
        methods |= {"__setattr__": _Shared.__setattr__, "__delattr__": _Shared.__delattr__}
    if frozen and slots:
        methods["__setstate__"] = _Shared.__setstate__
    return methods


def _init(cls: type, frozen: bool, slots: bool) -> Any:
    """`__init__`, compiled: a loop over the names would take twice as long for each of a kit's lines and arcs.

    A frozen record's values go straight into their slots, which takes half as long as object.__setattr__.
    """
    # For a frozen record with a plain, a preset and a made field, in slots, this is compiled:
    #
    #     def __init__(self, name, count=_preset_count, notes=_missing):
    #      _slot_name(self, name)
    #      _slot_count(self, count)
    #      _slot_notes(self, _new_notes() if notes is _missing else notes)
    #
    # The presets are names, not their texts: any value may be one.
    known: dict[str, Any] = {"_missing": MISSING, "_set": object.__setattr__}
    takes, does = ["self"], []
    for field in sorted(fields(cls), key=lambda field: bool(field.kw_only)):
        name, value = field.name, field.name
        if field.kw_only and "*" not in takes:
            takes.append("*")
        if field.default is not MISSING:
            known[f"_preset_{name}"] = field.default
            takes.append(f"{name}=_preset_{name}")
        elif field.default_factory is not MISSING:
            known[f"_new_{name}"] = field.default_factory
            takes.append(f"{name}=_missing")
            value = f"_new_{name}() if {name} is _missing else {name}"
        else:
            takes.append(name)
        if frozen and slots:
            known[f"_slot_{name}"] = getattr(cls, name).__set__
            does.append(f"_slot_{name}(self, {value})")
        else:
            does.append(f"_set(self, {name!r}, {value})" if frozen else f"self.{name} = {value}")
    if hasattr(cls, "__post_init__"):
        does.append("self.__post_init__()")
    exec(f"def __init__({', '.join(takes)}):\n " + "\n ".join(does), known)
    init = known["__init__"]
    init.__qualname__, init.__module__ = f"{cls.__qualname__}.__init__", cls.__module__
    init.__annotations__ = {field.name: field.type for field in fields(cls)} | {"return": None}
    return init


class _Shared:
    """Methods that all records have in common, taken from here one by one; `_compared` is each class's own."""

    _compared: Any

    def __repr__(self: Any) -> str:
        told = [f"{field.name}={getattr(self, field.name)!r}" for field in fields(self) if field.repr]
        return f"{type(self).__qualname__}({', '.join(told)})"

    def __eq__(self: Any, other: Any) -> Any:
        return self._compared(self) == self._compared(other) if other.__class__ is self.__class__ else NotImplemented

    def __hash__(self: Any) -> int:
        return hash(self._compared(self))

    def __setattr__(self, name: str, value: object) -> None:
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def __setstate__(self, state: tuple[dict[str, Any] | None, ...]) -> None:
        """Of a copy and of what was pickled: the values in the instance's dictionary, then those in its slots."""
        for values in state:
            for name, value in (values or {}).items():
                object.__setattr__(self, name, value)
