// SHA-256 against the examples of FIPS 180-4 (NIST, "Examples with intermediate values": one block, two blocks, and a million times "a") and against
// node's own on random bytes of every length around the block's edges.
import assert from "node:assert/strict";
import { createHash, randomBytes } from "node:crypto";
import { test } from "node:test";
import { digestOf, sha256 } from "../../themes/bench/script/sha256.js";

test("the published examples", () => {
  assert.equal(digestOf("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  assert.equal(digestOf("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"), "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  assert.equal(digestOf(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  assert.equal(digestOf("a".repeat(1_000_000)), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
});

test("node's own digest of random bytes, of every length from 0 to 300", () => {
  for (let length = 0; length <= 300; length++) {
    const bytes = randomBytes(length);
    assert.equal(Buffer.from(sha256(bytes)).toString("hex"), createHash("sha256").update(bytes).digest("hex"), `${length} bytes`);
  }
});
