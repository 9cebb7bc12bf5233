//! Safety signs by their code. Which may stand in a hazard's `sign`, and what each is called.

/// Code and English referent of the registered signs that fit a laser printer.
///
/// Codes: ISO 7010 as listed in public code tables; referents in part from memory. The standard's pictures are copyrighted and not used.
pub static SIGNS: [(&str, &str); 35] = [
    ("M001", "General mandatory action"),
    ("M002", "Refer to the instruction manual"),
    ("M004", "Wear eye protection"),
    ("M005", "Connect an earth terminal to the ground"),
    ("M006", "Disconnect the mains plug"),
    ("M009", "Wear protective gloves"),
    ("M011", "Wash your hands"),
    ("M016", "Wear a mask"),
    ("M017", "Wear respiratory protection"),
    ("M021", "Disconnect before maintenance or repair"),
    ("M027", "Install and check the guard"),
    ("M028", "Keep locked"),
    ("M032", "Wear anti-static footwear"),
    ("P003", "No open flame, fire, ignition source or smoking"),
    ("P007", "No access for people with active implanted cardiac devices"),
    ("P010", "Do not touch"),
    ("P011", "Do not extinguish with water"),
    ("P012", "No heavy load"),
    ("P015", "No reaching in"),
    ("P022", "No eating or drinking"),
    ("P031", "Do not alter the state of the switch"),
    ("W001", "General warning"),
    ("W004", "Laser beam"),
    ("W005", "Non-ionizing radiation"),
    ("W006", "Magnetic field"),
    ("W011", "Slippery surface"),
    ("W012", "Electricity"),
    ("W017", "Hot surface"),
    ("W018", "Automatic start-up"),
    ("W019", "Crushing"),
    ("W022", "Sharp element"),
    ("W024", "Crushing of hands"),
    ("W025", "Counter-rotating rollers"),
    ("W026", "Battery charging"),
    ("W027", "Optical radiation"),
];

/// What a sign is called, or `None` for a code that is not in the table.
pub fn referent(code: &str) -> Option<&'static str> {
    SIGNS.binary_search_by(|(known, _)| (*known).cmp(code)).ok().and_then(|index| SIGNS.get(index)).map(|(_, referent)| *referent)
}

/// Whether a code has the form of one: `E`, `F`, `M`, `P` or `W` and three digits.
pub fn is_code(text: &str) -> bool {
    text.strip_prefix(['E', 'F', 'M', 'P', 'W']).is_some_and(|digits| digits.len() == 3 && digits.bytes().all(|byte| byte.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_and_every_code_has_the_form_of_one() {
        assert!(SIGNS.windows(2).all(|pair| pair[0].0 < pair[1].0));
        assert!(SIGNS.iter().all(|(code, _)| is_code(code) && referent(code).is_some()));
    }

    #[test]
    fn a_code_is_one_letter_and_three_digits() {
        assert_eq!(referent("W017"), Some("Hot surface"));
        for odd in ["", "W17", "W0170", "w017", "X017", "W01a", "W01\u{663}"] {
            assert!(!is_code(odd) && referent(odd).is_none(), "{odd}");
        }
        assert!(is_code("E003") && referent("E003").is_none());
    }
}
