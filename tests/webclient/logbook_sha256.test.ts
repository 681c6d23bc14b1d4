import { sha256 as reference } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import fc from "fast-check";
import { sha256, utf8 } from "src/logbook/sha256";
import { expect, test } from "vitest";

// FIPS 180-4's examples, as published by NIST ("SHA256.pdf": one block, two blocks), and of nothing at all
test.each([
  ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
  [
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
  ],
  ["", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
])("SHA-256 of %j is the published one", (text, hash) => {
  expect(bytesToHex(sha256(utf8(text)))).toBe(hash);
});

test("any bytes have the hash that another implementation gives", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      expect(bytesToHex(sha256(bytes))).toBe(bytesToHex(reference(bytes)));
    }),
    { numRuns: 1000 },
  );
});
