//! Sizes of sheets, and which of them a measured sheet can be (`script/trade/paper.js`).

/// Name, shorter and longer side in millimetres.
pub struct Size {
    pub name: &'static str,
    pub width: f64,
    pub length: f64,
}

const fn size(name: &'static str, width: f64, length: f64) -> Size {
    Size { name, width, length }
}

/// ISO 216:2007 (A and B), ISO 269 (DL, C5), ANSI/ASME Y14.1 and common North American sizes (8.5 x 11 in and so on); Japanese B sizes of JIS P 0138,
/// from memory.
pub const SIZES: [Size; 16] = [
    size("A3", 297.0, 420.0),
    size("A4", 210.0, 297.0),
    size("A5", 148.0, 210.0),
    size("A6", 105.0, 148.0),
    size("B4", 250.0, 353.0),
    size("B5", 176.0, 250.0),
    size("B4 of the Japanese standard", 257.0, 364.0),
    size("B5 of the Japanese standard", 182.0, 257.0),
    size("DL envelope", 110.0, 220.0),
    size("C5 envelope", 162.0, 229.0),
    size("Letter", 215.9, 279.4),
    size("Legal", 215.9, 355.6),
    size("Ledger", 279.4, 431.8),
    size("Executive", 184.15, 266.7),
    size("Half Letter", 139.7, 215.9),
    size("Number 10 envelope", 104.775, 241.3),
];

/// What a rule may be off: common practice, no source.
const RULE: f64 = 1.0;

/// How far a cut side may lie from its size (ISO 216, from memory).
pub fn tolerance(side: f64) -> f64 {
    if side <= 150.0 {
        1.5
    } else if side <= 600.0 {
        2.0
    } else {
        3.0
    }
}

fn fits(measured: f64, side: f64) -> bool {
    (measured - side).abs() <= tolerance(side) + RULE
}

/// The sizes that a measured sheet can be.
pub fn sizes_of(width: f64, length: f64) -> Vec<&'static Size> {
    SIZES.iter().filter(|size| fits(width, size.width) && fits(length, size.length)).collect()
}

/// The sizes whose shorter side alone fits.
pub fn sizes_of_width(width: f64) -> Vec<&'static Size> {
    SIZES.iter().filter(|size| fits(width, size.width)).collect()
}
