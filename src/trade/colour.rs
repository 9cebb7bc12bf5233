//! Contrast of two opaque colours as WCAG 2.2 defines it (`script/trade/colour.js`).

fn channel(value: u32) -> f64 {
    let share = f64::from(value & 0xff) / 255.0;
    if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
}

/// Relative luminance of a colour written `0xRRGGBB`.
pub fn luminance(colour: u32) -> f64 {
    0.2126 * channel(colour >> 16) + 0.7152 * channel(colour >> 8) + 0.0722 * channel(colour)
}

/// From 1 (none) to 21.
pub fn contrast(one: u32, other: u32) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}
