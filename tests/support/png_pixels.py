"""A reader of PNG for tests: 8-bit RGBA bytes in, an array of rows, columns and channels out."""

import struct
import zlib

import numpy as np
from numpy.typing import NDArray


def pixels(png: bytes) -> NDArray[np.uint8]:
    """The picture, top row first. PNG (second edition), clause 9: five row filters, undone one row at a time."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height, depth, colour = struct.unpack(">IIBB", png[16:26])
    assert (depth, colour) == (8, 6)
    raw = np.frombuffer(zlib.decompress(_image_data(png)), np.uint8).reshape(height, 1 + 4 * width)
    rows = np.zeros((height, width, 4), np.uint8)
    above = np.zeros((width, 4), np.int64)
    for i in range(height):
        above = _unfiltered(int(raw[i, 0]), raw[i, 1:].reshape(width, 4).astype(np.int64), above)
        rows[i] = above
    return rows


def _image_data(png: bytes) -> bytes:
    at, data = 8, b""
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + length]
        at += 12 + length
    return data


def _unfiltered(kind: int, row: NDArray[np.int64], above: NDArray[np.int64]) -> NDArray[np.int64]:
    if kind == 0:
        return row
    if kind == 1:
        return np.cumsum(row, axis=0) % 256
    if kind == 2:
        return (row + above) % 256
    done = np.zeros_like(row)
    left = corner = np.zeros(4, np.int64)
    for i in range(len(row)):
        guess = (left + above[i]) // 2 if kind == 3 else _paeth(left, above[i], corner)
        left, corner = (row[i] + guess) % 256, above[i]
        done[i] = left
    return done


def _paeth(left: NDArray[np.int64], up: NDArray[np.int64], corner: NDArray[np.int64]) -> NDArray[np.int64]:
    guess = left + up - corner
    near_left, near_up, near_corner = abs(guess - left), abs(guess - up), abs(guess - corner)
    other = np.where(near_up <= near_corner, up, corner)
    return np.where((near_left <= near_up) & (near_left <= near_corner), left, other)
