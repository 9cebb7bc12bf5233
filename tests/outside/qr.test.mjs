// QR code symbols read back by a decoder we did not write (@zxing/library of the npm registry): every version, random texts; and the format and version bits
// against the tables of ISO/IEC 18004 (annexes C and D; from memory).
import assert from "node:assert/strict";
import { test } from "node:test";
import zxing from "@zxing/library";
import { formatBits, qrCode, versionBits } from "../../themes/bench/script/qr.js";
import { random } from "../script/observer.mjs";

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/** The symbol as a grey picture with its quiet zone, so many pixels a module, read by somebody else's reader. */
function read(rows, scale = 2) {
  const size = (rows.length + 8) * scale;
  const grey = new Uint8ClampedArray(size * size).fill(255);
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      if (rows[Math.floor(y / scale) - 4]?.[Math.floor(x / scale) - 4]) grey[y * size + x] = 0;
    }
  }
  const bitmap = new zxing.BinaryBitmap(new zxing.HybridBinarizer(new zxing.RGBLuminanceSource(grey, size, size)));
  return new zxing.QRCodeReader().decode(bitmap, new Map([[zxing.DecodeHintType.CHARACTER_SET, "utf-8"], [zxing.DecodeHintType.PURE_BARCODE, true]])).getText();
}

test("every version is read back, and has its number", () => {
  const roll = random(5);
  const seen = new Set();
  let length = 1;
  while (seen.size < 40) {
    const text = Array.from({ length }, () => LETTERS[roll(64)]).join("");
    const rows = qrCode(text);
    if (rows === null) break;
    const version = (rows.length - 17) / 4;
    if (!seen.has(version)) {
      assert.equal(read(rows), text, `version ${version}`);
      seen.add(version);
    }
    length += version < 10 ? 4 : 25;
  }
  assert.equal(seen.size, 40);
});

test("100 random texts of up to 600 letters, accents among them", () => {
  const roll = random(6);
  for (let count = 0; count < 100; count++) {
    const text = Array.from({ length: 1 + roll(600) }, () => (roll(30) === 0 ? "é" : LETTERS[roll(64)])).join("");
    assert.equal(read(qrCode(text)), text, `text ${count}`);
  }
});

test("the longest text fits version 40, one letter more does not", () => {
  assert.equal(qrCode("x".repeat(2953)).length, 177);
  assert.equal(qrCode("x".repeat(2954)), null);
});

test("format and version bits", () => {
  const formats = ["111011111000100", "111001011110011", "111110110101010", "111100010011101", "110011000101111", "110001100011000", "110110001000001", "110100101110110"];
  formats.forEach((bits, mask) => assert.equal(formatBits(mask).toString(2), bits, `mask ${mask}`));
  assert.equal(versionBits(7), 0b000111110010010100);
  assert.equal(versionBits(40), 0b101000110001101001);
});
