"""A number that kernels compute with: one float, or eight floats abreast.

A law is written once, with + - * / and the functions below. Given floats it computes one
circulation; given lanes it computes eight at once in the vectors of the processor. The compiler's
own search for loops to vectorise was tried first and gave up at the ventricle.
"""

# pyright: reportUnknownLambdaType=false, reportCallIssue=false
# The compiler reads these by shape; a checker sees only what is never called.

from __future__ import annotations

import math
import operator
from typing import Any

import numba.core.config
import numpy as np
from llvmlite import ir
from numba import types
from numba.core import cgutils
from numba.extending import intrinsic, models, overload, register_model

# chosen: floats abreast; two vectors of a common processor, so that one works while one waits
WIDTH = 8
# chosen: a product may be added without rounding between; sums keep their order
FLAGS = ("contract", "nsz")
# derived: a place beyond an array is refused where the compiler is asked for such checks
CHECKED = bool(getattr(numba.core.config, "BOUNDSCHECK", None))
# derived: how every kernel is compiled; a division by zero gives infinity, not an exception
COMPILED: dict[str, Any] = {
    "cache": True,
    "nogil": True,
    "error_model": "numpy",
    "fastmath": set(FLAGS),
}
# derived: the same for what makes no array: nobody need count who uses one; checks do make some
LENT: dict[str, Any] = COMPILED if CHECKED else {**COMPILED, "_nrt": False}
# derived: the same for laws, which are written into their callers so that what is unused falls away
INLINED: dict[str, Any] = {**LENT, "forceinline": True}
# derived: layout of IEEE 754 doubles
MANTISSA_BITS, MANTISSA, ONE, TWO_TO_52 = 52, 0x000FFFFFFFFFFFFF, 0x3FF0000000000000, 2.0**52
TWO_TO_52_BITS = 0x4330000000000000
# derived: adding it rounds a float to a whole number, which then lies in its low bits
WHOLE = 6755399441055744.0
# chosen: this less a third of a double's high half gives one over its cube root within 3.5 %
CUBE_ROOT_BITS = 1430188200.0

VECTOR = ir.VectorType(ir.DoubleType(), WIDTH)


class LanesType(types.Type):
    """Eight floats abreast, for the compiler."""

    def __init__(self):
        super().__init__(name=f"Lanes{WIDTH}")


LANES = LanesType()


@register_model(LanesType)
class _LanesModel(models.PrimitiveModel):
    def __init__(self, dmm, fe_type):
        super().__init__(dmm, fe_type, VECTOR)


# ---- arithmetic


def _splat(builder, value):
    empty = ir.Constant(VECTOR, ir.Undefined)
    first = builder.insert_element(empty, value, ir.IntType(32)(0))
    everywhere = ir.Constant(ir.VectorType(ir.IntType(32), WIDTH), [0] * WIDTH)
    return builder.shuffle_vector(first, empty, everywhere)


def _lifted(context, builder, value, kind):
    if kind == LANES:
        return value
    return _splat(builder, context.cast(builder, value, kind, types.float64))


def _all_lifted(context, builder, signature, args):
    pairs = zip(args, signature.args, strict=True)
    return [_lifted(context, builder, value, kind) for value, kind in pairs]


def _mixed(*kinds):
    """Whether these are numbers, one of them lanes."""
    return LANES in kinds and all(
        kind == LANES or isinstance(kind, types.Float | types.Integer) for kind in kinds
    )


def _arithmetic(op, instruction):
    @intrinsic
    def raw(_typing, a, b):
        def codegen(context, builder, signature, args):
            both = _all_lifted(context, builder, signature, args)
            return getattr(builder, instruction)(*both, flags=FLAGS)

        return LANES(a, b), codegen

    @overload(op)
    def on_lanes(a, b):
        return (lambda a, b: raw(a, b)) if _mixed(a, b) else None


for _op, _instruction in (
    (operator.add, "fadd"),
    (operator.sub, "fsub"),
    (operator.mul, "fmul"),
    (operator.truediv, "fdiv"),
):
    _arithmetic(_op, _instruction)


@intrinsic
def _negative(_typing, a):
    def codegen(_context, builder, _signature, args):
        return builder.fneg(args[0], flags=FLAGS)

    return LANES(a), codegen


@overload(operator.neg)
def _negative_lanes(a):
    return (lambda a: _negative(a)) if a == LANES else None


@intrinsic
def _root(_typing, a):
    def codegen(_context, builder, _signature, args):
        kind = ir.FunctionType(VECTOR, [VECTOR])
        name = f"llvm.sqrt.v{WIDTH}f64"
        function = cgutils.get_or_insert_function(builder.module, kind, name)
        return builder.call(function, args, fastmath=FLAGS)

    return LANES(a), codegen


def root(a):
    """Square root."""
    return np.sqrt(a)


@overload(root)
def _root_of(a):
    return (lambda a: _root(a)) if a == LANES else (lambda a: math.sqrt(a))


@intrinsic
def _above(_typing, a, b, yes, no):
    def codegen(context, builder, signature, args):
        a, b, yes, no = _all_lifted(context, builder, signature, args)
        return builder.select(builder.fcmp_ordered(">", a, b), yes, no)

    return LANES(a, b, yes, no), codegen


def above(a, b, yes, no):
    """``yes`` where a > b, otherwise ``no``; both are computed."""
    return np.where(a > b, yes, no)


@overload(above)
def _above_of(a, b, yes, no):
    if _mixed(a, b, yes, no):
        return lambda a, b, yes, no: _above(a, b, yes, no)
    return lambda a, b, yes, no: yes if a > b else no


# ---- between arrays and numbers


def no_lanes():
    """Eight zeros: what says, as ``like``, that eight are computed abreast."""
    return np.zeros(WIDTH)


@intrinsic
def _zero_lanes(_typing):
    def codegen(_context, _builder, _signature, _args):
        return ir.Constant(VECTOR, [0.0] * WIDTH)

    return LANES(), codegen


@overload(no_lanes)
def _no_lanes():
    return lambda: _zero_lanes()


def number_like(abreast):
    """What says, as ``like``, whether one float (None) or lanes are computed."""
    return 0.0 if abreast is None else no_lanes()


@overload(number_like)
def _number_like(abreast):
    alone = isinstance(abreast, types.NoneType)
    return (lambda abreast: 0.0) if alone else (lambda abreast: no_lanes())


def width(like):
    """How many floats a number like this holds."""
    return np.size(like)


@overload(width)
def _width_of(like):
    return (lambda like: WIDTH) if like == LANES else (lambda like: 1)


@intrinsic
def _spread(_typing, a, like):
    def codegen(context, builder, signature, args):
        return _lifted(context, builder, args[0], signature.args[0])

    return LANES(a, like), codegen


def spread(a, like):
    """The number a in every lane that ``like`` has."""
    return a + 0.0 * like


@overload(spread)
def _spread_like(a, like):
    return (lambda a, like: _spread(a, like)) if like == LANES else (lambda a, like: float(a))


# Inside a beat, room for numbers is a bare pointer: arrays as arguments would bring their counts of
# users and their shapes into every law. Where checks are asked for it stays an array.
FLOATS = types.CPointer(types.float64)


def _start(context, builder, kind, where):
    """Address of the first float of an array or behind a pointer."""
    return where if kind == FLOATS else context.make_array(kind)(context, builder, where).data


def _place(context, builder, signature, args):
    where, index = args[0], context.cast(builder, args[1], signature.args[1], types.intp)
    place = builder.mul(index, ir.Constant(index.type, WIDTH))
    start = _start(context, builder, signature.args[0], where)
    return builder.bitcast(builder.gep(start, [place]), VECTOR.as_pointer())


@intrinsic
def _load(_typing, where, index):
    def codegen(context, builder, signature, args):
        return builder.load(_place(context, builder, signature, args), align=8)

    return LANES(where, index), codegen


@intrinsic
def _load_one(_typing, where, index):
    def codegen(context, builder, signature, args):
        index = context.cast(builder, args[1], signature.args[1], types.intp)
        return builder.load(builder.gep(args[0], [index]))

    return types.float64(where, index), codegen


@intrinsic
def _store(_typing, where, index, value):
    def codegen(context, builder, signature, args):
        place = _place(context, builder, signature, args)
        builder.store(_lifted(context, builder, args[2], signature.args[2]), place, align=8)
        return context.get_dummy_value()

    return types.void(where, index, value), codegen


@intrinsic
def _store_one(_typing, where, index, value):
    def codegen(context, builder, signature, args):
        index = context.cast(builder, args[1], signature.args[1], types.intp)
        value = context.cast(builder, args[2], signature.args[2], types.float64)
        builder.store(value, builder.gep(args[0], [index]))
        return context.get_dummy_value()

    return types.void(where, index, value), codegen


@intrinsic
def _behind(_typing, where, offset):
    def codegen(context, builder, signature, args):
        offset = context.cast(builder, args[1], signature.args[1], types.intp)
        return builder.gep(_start(context, builder, signature.args[0], args[0]), [offset])

    return FLOATS(where, offset), codegen


def cut(pool, first, n, like):
    """Room for n numbers like this from place ``first`` (in numbers) of a pool."""
    size = np.size(like)
    return pool[first * size : (first + n) * size]


@overload(cut)
def _cut_like(pool, first, n, like):
    if pool != FLOATS and pool.layout != "C":
        return None  # a pointer would not know of gaps
    if CHECKED:

        def checked(pool, first, n, like):
            if first < 0 or (first + n) * width(like) > pool.size:
                raise IndexError("room outside its pool")
            return pool[first * width(like) : (first + n) * width(like)]

        return checked
    return lambda pool, first, n, like: _behind(pool, first * width(like))


def load(array, i, like):
    """Number i of a flat array that holds numbers like this, one after another."""
    size = np.size(like)
    return array[i] if size == 1 else array[i * size : (i + 1) * size].copy()


@overload(load)
def _load_like(array, i, like):
    if array == FLOATS:
        lanes = like == LANES
        return (
            (lambda array, i, like: _load(array, i))
            if lanes
            else (lambda array, i, like: _load_one(array, i))
        )
    if like != LANES:
        return lambda array, i, like: array[np.uintp(i)]
    if not CHECKED:
        return lambda array, i, like: _load(array, i)

    def checked(array, i, like):
        if i < 0 or (i + 1) * WIDTH > array.size:
            raise IndexError("lanes outside their array")
        return _load(array, i)

    return checked


def store(array, i, value):
    """Puts a number at place i of a flat array of such numbers."""
    size = np.size(value)
    array[i * size : (i + 1) * size] = value


@overload(store)
def _store_like(array, i, value):
    if array == FLOATS:
        lanes = value == LANES
        return (
            (lambda array, i, value: _store(array, i, value))
            if lanes
            else (lambda array, i, value: _store_one(array, i, value))
        )
    if value != LANES:

        def one(array, i, value):
            array[np.uintp(i)] = value

        return one
    if not CHECKED:
        return lambda array, i, value: _store(array, i, value)

    def checked(array, i, value):
        if i < 0 or (i + 1) * WIDTH > array.size:
            raise IndexError("lanes outside their array")
        _store(array, i, value)

    return checked


# ---- the two halves of a double


def _words(kind):
    word = ir.IntType(64)
    return ir.VectorType(word, WIDTH) if isinstance(kind, ir.VectorType) else word


def _constant(kind, value):
    return ir.Constant(kind, [value] * WIDTH if isinstance(kind, ir.VectorType) else value)


@intrinsic
def _mantissa(_typing, x):
    def codegen(_context, builder, _signature, args):
        kind = _words(args[0].type)
        low = builder.and_(builder.bitcast(args[0], kind), _constant(kind, MANTISSA))
        return builder.bitcast(builder.or_(low, _constant(kind, ONE)), args[0].type)

    return x(x), codegen


def mantissa(x):
    """Share m of a positive x = m 2^e with 1 <= m < 2."""
    return 2.0 * np.frexp(x)[0]


@overload(mantissa)
def _mantissa_of(x):
    return lambda x: _mantissa(x)


@intrinsic
def _exponent(_typing, x):
    def codegen(_context, builder, _signature, args):
        kind = _words(args[0].type)
        high = builder.lshr(builder.bitcast(args[0], kind), _constant(kind, MANTISSA_BITS))
        whole = builder.or_(high, _constant(kind, TWO_TO_52_BITS))
        offset = _constant(args[0].type, TWO_TO_52 + 1023.0)
        return builder.fsub(builder.bitcast(whole, args[0].type), offset)

    return x(x), codegen


def exponent(x):
    """Exponent e of a positive x = m 2^e with 1 <= m < 2."""
    return np.frexp(x)[1] - 1.0


@overload(exponent)
def _exponent_of(x):
    return lambda x: _exponent(x)


@intrinsic
def _times_two_to(_typing, x, shifted):
    def codegen(_context, builder, _signature, args):
        kind = _words(args[0].type)
        up = builder.shl(builder.bitcast(args[1], kind), _constant(kind, MANTISSA_BITS))
        return builder.bitcast(builder.add(builder.bitcast(args[0], kind), up), args[0].type)

    return x(x, shifted), codegen


def times_two_to(x, shifted):
    """Product x 2^n, where ``shifted`` is n + WHOLE."""
    return np.ldexp(x, np.asarray(shifted - WHOLE).astype(int))


@overload(times_two_to)
def _times_two_to_of(x, shifted):
    return lambda x, shifted: _times_two_to(x, shifted)


@intrinsic
def _rough_per_cube_root(_typing, x):
    def codegen(_context, builder, _signature, args):
        floats = args[0].type
        kind = _words(floats)
        high = builder.lshr(builder.bitcast(args[0], kind), _constant(kind, 32))
        whole = builder.bitcast(builder.or_(high, _constant(kind, TWO_TO_52_BITS)), floats)
        whole = builder.fsub(whole, _constant(floats, TWO_TO_52))
        third = builder.fmul(whole, _constant(floats, -1.0 / 3.0))
        third = builder.fadd(third, _constant(floats, CUBE_ROOT_BITS + WHOLE))
        return builder.bitcast(
            builder.shl(builder.bitcast(third, kind), _constant(kind, 32)), floats
        )

    return x(x), codegen


def rough_per_cube_root(x):
    """One over the cube root of a positive number, within 3.5 %."""
    return 1.0 / np.cbrt(x)


@overload(rough_per_cube_root)
def _rough_per_cube_root_of(x):
    return lambda x: _rough_per_cube_root(x)
