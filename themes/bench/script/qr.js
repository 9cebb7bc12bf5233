// A QR code symbol of a text (ISO/IEC 18004): bytes, error correction level L, versions 1 to 40. Made on the device: the text goes nowhere.

/** Error correction codewords of each block, and how many blocks, by version from 1 (ISO/IEC 18004, table 9, level L). */
const CORRECTION = [7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30];
const BLOCKS = [1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25];

/** Which modules a mask turns over, by row and column (table 10). @type {((r: number, c: number) => boolean)[]} */
const MASKS = [
  (r, c) => (r + c) % 2 === 0, (r) => r % 2 === 0, (_r, c) => c % 3 === 0, (r, c) => (r + c) % 3 === 0, (r, c) => (Math.floor(r / 2) + Math.floor(c / 3)) % 2 === 0,
  (r, c) => ((r * c) % 2) + ((r * c) % 3) === 0, (r, c) => (((r * c) % 2) + ((r * c) % 3)) % 2 === 0, (r, c) => (((r + c) % 2) + ((r * c) % 3)) % 2 === 0,
];

/** Places of the alignment patterns along a side. @param {number} version @returns {number[]} */
function alignment(version) {
  if (version === 1) return [];
  const count = Math.floor(version / 7) + 2;
  const step = version === 32 ? 26 : Math.ceil((version * 4 + 4) / (count * 2 - 2)) * 2;
  return [6, ...Array.from({ length: count - 1 }, (_, place) => version * 4 + 10 - step * (count - 2 - place))];
}

/** Codewords that a version holds, those for correction included. @param {number} version */
function codewords(version) {
  const count = version === 1 ? 0 : Math.floor(version / 7) + 2;
  const patterns = count === 0 ? 0 : (25 * count - 10) * count - 55;
  return Math.floor(((16 * version + 128) * version + 64 - patterns - (version >= 7 ? 36 : 0)) / 8);
}

/** Data codewords of a version. @param {number} version */
function dataCodewords(version) {
  return codewords(version) - CORRECTION[version - 1] * BLOCKS[version - 1];
}

/** Powers of 2 in the field of 256 with x^8 + x^4 + x^3 + x^2 + 1. */
const POWER = new Uint8Array(255);
const LOG = new Uint8Array(256);
for (let exponent = 0, value = 1; exponent < 255; exponent++, value = (value << 1) ^ (value & 128 ? 0x11d : 0)) {
  POWER[exponent] = value;
  LOG[value] = exponent;
}

/** @param {number} one @param {number} other */
function product(one, other) {
  return one === 0 || other === 0 ? 0 : POWER[(LOG[one] + LOG[other]) % 255];
}

/** The Reed-Solomon codewords of a block. @param {number[]} block @param {number} degree */
function correction(block, degree) {
  let generator = [1];
  for (let root = 0; root < degree; root++) {
    generator = [...generator, 0].map((factor, place) => factor ^ product(place > 0 ? generator[place - 1] : 0, POWER[root]));
  }
  const rest = [...block, ...new Array(degree).fill(0)];
  block.forEach((_, place) => {
    const lead = rest[place];
    generator.forEach((factor, offset) => (rest[place + offset] ^= product(factor, lead)));
  });
  return rest.slice(block.length);
}

/** The smallest version for so many bytes; 0 if there is none. @param {number} length */
function versionFor(length) {
  for (let version = 1; version <= 40; version++) {
    if (4 + (version < 10 ? 8 : 16) + length * 8 <= dataCodewords(version) * 8) return version;
  }
  return 0;
}

/** All codewords in the order in which they are placed. @param {Uint8Array} bytes @param {number} version */
function message(bytes, version) {
  /** @type {number[]} */
  const bits = [];
  const put = (/** @type {number} */ value, /** @type {number} */ length) => {
    for (let place = length - 1; place >= 0; place--) bits.push((value >> place) & 1);
  };
  const room = dataCodewords(version);
  put(0b0100, 4);
  put(bytes.length, version < 10 ? 8 : 16);
  bytes.forEach((byte) => put(byte, 8));
  put(0, Math.min(4, room * 8 - bits.length));
  put(0, (8 - (bits.length % 8)) % 8);
  for (let pad = 0xec; bits.length < room * 8; pad ^= 0xec ^ 0x11) put(pad, 8);
  const data = Array.from({ length: room }, (_, place) => bits.slice(place * 8, place * 8 + 8).reduce((sum, bit) => sum * 2 + bit, 0));
  const count = BLOCKS[version - 1];
  const short = Math.floor(room / count);
  const longer = room % count;
  const blocks = Array.from({ length: count }, (_, place) => {
    const start = place * short + Math.max(0, place - (count - longer));
    return data.slice(start, start + short + (place >= count - longer ? 1 : 0));
  });
  const checks = blocks.map((block) => correction(block, CORRECTION[version - 1]));
  const across = (/** @type {number[][]} */ list) => Array.from({ length: Math.max(...list.map((one) => one.length)) }, (_, place) => list.flatMap((one) => one.slice(place, place + 1))).flat();
  return [...across(blocks), ...across(checks)];
}

/** A remainder of binary polynomials. @param {number} value @param {number} divisor @param {number} degree */
function remainder(value, divisor, degree) {
  let rest = value << degree;
  for (let place = 31 - Math.clz32(rest); place >= degree; place = 31 - Math.clz32(rest)) {
    rest ^= divisor << (place - degree);
    if (rest === 0) break;
  }
  return rest;
}

/** The fifteen bits that tell level L and the mask (7.9). @param {number} mask */
export function formatBits(mask) {
  const data = (0b01 << 3) | mask;
  return ((data << 10) | remainder(data, 0b10100110111, 10)) ^ 0b101010000010010;
}

/** The eighteen bits that tell the version, from 7 on (7.10). @param {number} version */
export function versionBits(version) {
  return (version << 12) | remainder(version, 0b1111100100101, 12);
}

class Symbol_ {
  /** @param {number} version */
  constructor(version) {
    this.version = version;
    this.size = version * 4 + 17;
    /** @type {boolean[][]} */
    this.dark = Array.from({ length: this.size }, () => new Array(this.size).fill(false));
    /** Modules with a meaning of their own, where no data goes. @type {boolean[][]} */
    this.fixed = this.dark.map((row) => [...row]);
  }

  /** @param {number} row @param {number} column @param {boolean} dark */
  fix(row, column, dark) {
    if (row < 0 || column < 0 || row >= this.size || column >= this.size) return;
    this.dark[row][column] = dark;
    this.fixed[row][column] = true;
  }

  patterns() {
    const { size, version } = this;
    for (let place = 0; place < size; place++) {
      this.fix(6, place, place % 2 === 0);
      this.fix(place, 6, place % 2 === 0);
    }
    for (const [row, column] of [[3, 3], [3, size - 4], [size - 4, 3]]) {
      this.square(row, column, 4, (distance) => distance !== 2 && distance !== 4);
    }
    const places = alignment(version);
    const last = places.length - 1;
    places.forEach((row, r) => places.forEach((column, c) => {
      const corner = (r === 0 && c === 0) || (r === 0 && c === last) || (r === last && c === 0);
      if (!corner) this.square(row, column, 2, (distance) => distance !== 1);
    }));
    this.format(0);
    for (let place = 0; version >= 7 && place < 18; place++) {
      const dark = ((versionBits(version) >> place) & 1) === 1;
      this.fix(Math.floor(place / 3), size - 11 + (place % 3), dark);
      this.fix(size - 11 + (place % 3), Math.floor(place / 3), dark);
    }
  }

  /** @param {number} row @param {number} column @param {number} reach @param {(distance: number) => boolean} dark by distance from the middle */
  square(row, column, reach, dark) {
    for (let r = -reach; r <= reach; r++) {
      for (let c = -reach; c <= reach; c++) this.fix(row + r, column + c, dark(Math.max(Math.abs(r), Math.abs(c))));
    }
  }

  /** @param {number} mask */
  format(mask) {
    const bit = (/** @type {number} */ place) => ((formatBits(mask) >> place) & 1) === 1;
    const { size } = this;
    for (let place = 0; place < 6; place++) {
      this.fix(place, 8, bit(place));
      this.fix(8, 5 - place, bit(place + 9));
    }
    this.fix(7, 8, bit(6));
    this.fix(8, 8, bit(7));
    this.fix(8, 7, bit(8));
    for (let place = 0; place < 8; place++) this.fix(8, size - 1 - place, bit(place));
    for (let place = 8; place < 15; place++) this.fix(size - 15 + place, 8, bit(place));
    this.fix(size - 8, 8, true);
  }

  /** Two columns at a time from the right, up and down in turn. @param {number[]} words */
  data(words) {
    const { size } = this;
    let bit = 0;
    for (let right = size - 1; right > 0; right -= 2) {
      if (right === 6) right = 5;
      const upwards = ((right + 1) & 2) === 0;
      for (let step = 0; step < size; step++) {
        const row = upwards ? size - 1 - step : step;
        for (const column of [right, right - 1]) {
          if (this.fixed[row][column]) continue;
          this.dark[row][column] = bit < words.length * 8 && ((words[bit >> 3] >> (7 - (bit & 7))) & 1) === 1;
          bit++;
        }
      }
    }
  }

  /** @param {number} mask */
  masked(mask) {
    this.format(mask);
    return this.dark.map((line, row) => line.map((dark, column) => dark !== (!this.fixed[row][column] && MASKS[mask](row, column))));
  }
}

/** How hard a symbol is to read (7.8.3): the least is taken. @param {boolean[][]} rows */
function penalty(rows) {
  const size = rows.length;
  const lines = [...rows, ...rows.map((_, column) => rows.map((row) => row[column]))].map((line) => line.map((dark) => (dark ? "1" : "0")).join(""));
  let points = 0;
  for (const line of lines) {
    for (const run of line.match(/1{5,}|0{5,}/g) ?? []) points += run.length - 2;
    for (const finder of ["10111010000", "00001011101"]) {
      for (let at = line.indexOf(finder); at >= 0; at = line.indexOf(finder, at + 1)) points += 40;
    }
  }
  let dark = 0;
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      dark += Number(rows[row][column]);
      const four = row + 1 < size && column + 1 < size && [rows[row][column + 1], rows[row + 1][column], rows[row + 1][column + 1]].every((one) => one === rows[row][column]);
      points += four ? 3 : 0;
    }
  }
  return points + Math.floor(Math.abs(dark * 20 - size * size * 10) / (size * size)) * 10;
}

/** The symbol as rows of modules, dark ones `true`, without its quiet zone of four; `null` if the text is too long. @param {string} text @returns {boolean[][] | null} */
export function qrCode(text) {
  const bytes = new TextEncoder().encode(text);
  const version = versionFor(bytes.length);
  if (version === 0) return null;
  const symbol = new Symbol_(version);
  symbol.patterns();
  symbol.data(message(bytes, version));
  let best = symbol.masked(0);
  let least = penalty(best);
  for (let mask = 1; mask < 8; mask++) {
    const rows = symbol.masked(mask);
    const points = penalty(rows);
    if (points < least) [best, least] = [rows, points];
  }
  return best;
}
