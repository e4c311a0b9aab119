#!/usr/bin/env python3
"""Seals a text as app/files/sealed_file.h describes it, without libsodium.

ChaCha20 and Poly1305 are written from RFC 8439, HChaCha20 from draft-irtf-cfrg-xchacha-03, the
stream from libsodium's documentation of secretstream; Argon2id is the reference implementation's
command (Debian package argon2). sealed_file_test.cpp holds what it printed.

  seal_independently.py PASSPHRASE TEXT    the file in hexadecimal digits
  seal_independently.py --check            the examples of the two documents
"""
import struct
import subprocess
import sys

SALT = b"sixteen salty by"
STREAM = bytes(range(100, 124))
PASSES, KIB = 2, 64
CHUNK = 64 * 1024


def rotate(v, n):
    return ((v << n) | (v >> (32 - n))) & 0xFFFFFFFF


def quarter(s, a, b, c, d):
    s[a] = (s[a] + s[b]) & 0xFFFFFFFF; s[d] = rotate(s[d] ^ s[a], 16)
    s[c] = (s[c] + s[d]) & 0xFFFFFFFF; s[b] = rotate(s[b] ^ s[c], 12)
    s[a] = (s[a] + s[b]) & 0xFFFFFFFF; s[d] = rotate(s[d] ^ s[a], 8)
    s[c] = (s[c] + s[d]) & 0xFFFFFFFF; s[b] = rotate(s[b] ^ s[c], 7)


def rounds(s):
    for _ in range(10):
        for q in ((0, 4, 8, 12), (1, 5, 9, 13), (2, 6, 10, 14), (3, 7, 11, 15),
                  (0, 5, 10, 15), (1, 6, 11, 12), (2, 7, 8, 13), (3, 4, 9, 14)):
            quarter(s, *q)


def state(key, last):
    return list(struct.unpack("<4I8I4I", b"expand 32-byte k" + key + last))


def block(key, counter, nonce):
    s = state(key, struct.pack("<I", counter) + nonce)
    w = s[:]
    rounds(w)
    return struct.pack("<16I", *((x + y) & 0xFFFFFFFF for x, y in zip(s, w)))


def xor(key, counter, nonce, text):
    out = bytearray()
    for i in range(0, len(text), 64):
        out += bytes(x ^ y for x, y in zip(text[i:i + 64], block(key, counter + i // 64, nonce)))
    return bytes(out)


def hchacha(key, nonce):
    w = state(key, nonce)
    rounds(w)
    return struct.pack("<8I", *(w[:4] + w[12:]))


def poly1305(key, text):
    r = int.from_bytes(key[:16], "little") & 0x0FFFFFFC0FFFFFFC0FFFFFFC0FFFFFFF
    s = int.from_bytes(key[16:], "little")
    a = 0
    for i in range(0, len(text), 16):
        a = (a + int.from_bytes(text[i:i + 16] + b"\x01", "little")) * r % (2**130 - 5)
    return ((a + s) % 2**128).to_bytes(16, "little")


def sealed_chunks(key, header, text):
    k = hchacha(key, STREAM[:16])
    counter, rest = 1, STREAM[16:]
    out = b""
    for i in range(0, max(len(text), 1), CHUNK):
        chunk, ad = text[i:i + CHUNK], header if i == 0 else b""
        tag = 3 if i + CHUNK >= len(text) else 0
        nonce = struct.pack("<I", counter) + rest
        first = xor(k, 1, nonce, bytes([tag]) + bytes(63))
        c = xor(k, 2, nonce, chunk)
        mac = poly1305(block(k, 0, nonce)[:32],
                       ad + bytes(-len(ad) % 16) + first + c + bytes(len(chunk) % 16)
                       + struct.pack("<QQ", len(ad), 64 + len(chunk)))
        out += first[:1] + c + mac
        counter, rest = counter + 1, bytes(x ^ y for x, y in zip(rest, mac))
    return out


def sealed(passphrase, text):
    key = bytes.fromhex(subprocess.run(
        ["argon2", SALT.decode(), "-id", "-t", str(PASSES), "-k", str(KIB), "-p", "1", "-l", "32",
         "-r", "-v", "13"], input=passphrase, capture_output=True, check=True).stdout.decode())
    header = (b"HOLDSEAL" + bytes([1, 2]) + struct.pack("<IQ", PASSES, KIB * 1024) + SALT + STREAM)
    return header + sealed_chunks(key, header, text)


def check():
    # RFC 8439, 2.3.2 and 2.5.2; draft-irtf-cfrg-xchacha-03, 2.2.1
    key = bytes(range(32))
    assert block(key, 1, bytes.fromhex("000000090000004a00000000")).hex().startswith(
        "10f1e7e4d13b5915500fdd1fa32071c4")
    assert poly1305(bytes.fromhex(
        "85d6be7857556d337f4452fe42d506a80103808afb0db2fd4abff6af4149f51b"),
        b"Cryptographic Forum Research Group").hex() == "a8061dc1305136c6c22b8baf0c0127a9"
    assert hchacha(key, bytes.fromhex("000000090000004a0000000031415927")).hex() == (
        "82413b4227b27bfed30e42508a877d73a0f9e4d58a74a853c12ec41326d3ecdc")
    print("as published")


if sys.argv[1] == "--check":
    check()
else:
    print(sealed(sys.argv[1].encode(), sys.argv[2].encode()).hex())
