// SHA-256 (FIPS 180-4), at once and in one piece: the browser's own is asynchronous, and missing where a page is opened from a folder.

const ROOTS = primes(64);
/** The first 32 bits of the fractional parts of the cube roots of the first 64 primes (4.2.2). */
const K = ROOTS.map((prime) => fraction(Math.cbrt(prime)));
/** The same of the square roots of the first 8 (5.3.3). */
const H = ROOTS.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));

/** @param {number} count */
function primes(count) {
  /** @type {number[]} */
  const found = [];
  for (let candidate = 2; found.length < count; candidate++) {
    if (found.every((prime) => candidate % prime !== 0)) found.push(candidate);
  }
  return found;
}

/** @param {number} root */
function fraction(root) {
  return ((root - Math.floor(root)) * 2 ** 32) >>> 0;
}

/** @param {number} word @param {number} by */
function turned(word, by) {
  return (word >>> by) | (word << (32 - by));
}

/** The digest of bytes, 32 of them. @param {Uint8Array} bytes @returns {Uint8Array} */
export function sha256(bytes) {
  const padded = new Uint8Array(((bytes.length + 72) >> 6) << 6);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, bytes.length << 3);
  const state = Uint32Array.from(H);
  const words = new Uint32Array(64);
  for (let block = 0; block < padded.length; block += 64) {
    for (let t = 0; t < 16; t++) words[t] = view.getUint32(block + t * 4);
    for (let t = 16; t < 64; t++) words[t] = small(words[t - 2], 17, 19, 10) + words[t - 7] + small(words[t - 15], 7, 18, 3) + words[t - 16];
    rounds(state, words);
  }
  const digest = new DataView(new ArrayBuffer(32));
  state.forEach((word, place) => digest.setUint32(place * 4, word));
  return new Uint8Array(digest.buffer);
}

/** @param {number} word @param {number} one @param {number} two @param {number} shift */
function small(word, one, two, shift) {
  return turned(word, one) ^ turned(word, two) ^ (word >>> shift);
}

/** @param {Uint32Array} state @param {Uint32Array} words */
function rounds(state, words) {
  let [a, b, c, d, e, f, g, h] = state;
  for (let t = 0; t < 64; t++) {
    const one = h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + K[t] + words[t];
    const two = (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    [a, b, c, d, e, f, g, h] = [(one + two) | 0, a, b, c, (d + one) | 0, e, f, g];
  }
  [a, b, c, d, e, f, g, h].forEach((word, place) => (state[place] += word));
}

/** The digest of a text (as UTF-8) in hexadecimal digits. @param {string} text */
export function digestOf(text) {
  return [...sha256(new TextEncoder().encode(text))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
