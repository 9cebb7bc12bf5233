// Contrast of two opaque colours as WCAG 2.2 defines it: as `src/trade/colour.rs`.

/** @param {number} value */
function channel(value) {
  const share = (value & 0xff) / 255;
  return share <= 0.04045 ? share / 12.92 : Math.pow((share + 0.055) / 1.055, 2.4);
}

/** @param {number} colour 0xRRGGBB */
function luminance(colour) {
  return 0.2126 * channel(colour >> 16) + 0.7152 * channel(colour >> 8) + 0.0722 * channel(colour);
}

/** @param {number} one @param {number} other */
export function contrast(one, other) {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}
