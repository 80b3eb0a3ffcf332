# SPDX-License-Identifier: BSD-3-Clause
"""The check sum with which every line of the link ends. Plain Python that MicroPython runs, too.

A line is a JSON object whose last key is `crc`: the CRC-32 of Ethernet and ITU-T V.42 over the UTF-8 octets before
`,"crc"`, as eight lower-case hexadecimal digits. It finds every error within 32 neighbouring bits, so every garbled
character, and lets one in four thousand million other errors pass.
"""

import binascii

_KEY = ',"crc":"'
_TAIL = len(_KEY) + 8 + len('"}')


def sealed(text: str) -> str:
    """A JSON object's text, not an empty one's, with its check sum as the last key."""
    head = text[:-1]
    return head + _tail(head)


def is_whole(line: str) -> bool:
    """Whether a line arrived as it was sealed."""
    head = line[:-_TAIL]
    try:
        return line[-_TAIL:] == _tail(head)
    except ValueError:  # characters that are none, made of garbled octets
        return False


def _tail(head: str) -> str:
    return _KEY + f"{binascii.crc32(head.encode()):08x}" + '"}'
