//! How wide words are, and where their lines break. A box gets its size from its words, so they must never be wider than measured here,
//! whatever sans-serif face the reader's machine has.

/// Advance widths of ` ` to `~` in thousandths of an em. Of the wide common sans-serif faces the wider each time, noted from memory and
/// rounded up; a narrower face only leaves more air.
const WIDTHS: [i32; 95] = [
    352, 402, 460, 838, 637, 1077, 780, 275, 454, 454, 637, 838, 364, 454, 364, 454, // space to /
    637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 454, 454, 838, 838, 838, 546, // 0 to ?
    1000, 684, 687, 699, 771, 633, 576, 776, 752, 421, 455, 694, 558, 864, 749, 788, // @ to O
    604, 788, 696, 684, 617, 733, 685, 990, 686, 616, 686, 455, 454, 455, 838, 637, // P to _
    637, 614, 636, 551, 636, 616, 353, 636, 635, 279, 345, 593, 279, 975, 635, 613, // ` to o
    636, 636, 427, 522, 395, 635, 593, 819, 593, 593, 526, 637, 455, 637, 838, // p to ~
];

/// Advance width of a character in thousandths of an em. Letters that are not Latin count as one em, pictograms as one and a half.
fn advance(character: char) -> i32 {
    let code = u32::from(character);
    match code {
        0x20..=0x7E => WIDTHS.get(code as usize - 0x20).copied().unwrap_or(1000),
        0..=0x1F | 0x7F..=0x9F => 0,
        // Punctuation and signs between the words of a Latin text.
        0xA0 | 0xB0 | 0xB7 => 550,
        0x2013 | 0x2018..=0x201E => 640,
        // Accented letters are as wide as the plain ones: capitals at most as O, small ones at most as m.
        0xC0..=0x17F if character.is_lowercase() && !matches!(character, 'æ' | 'œ') => 700,
        0xC0..=0x17F if !matches!(character, 'Æ' | 'Œ') => 860,
        0xC0..=0x17F => 1100,
        0x1F000.. => 1500,
        _ => 1000,
    }
}

/// Width of a text on one line, in pixels, rounded up.
pub fn width(text: &str, size: i32) -> i32 {
    let sum: i64 = text.chars().map(|character| i64::from(advance(character))).sum();
    i32::try_from((sum * i64::from(size) + 999) / 1000).unwrap_or(i32::MAX)
}

/// Breaks a text into lines; `room(line)` is the width that line may have. Lines break at spaces and after hyphens; a word wider than its
/// line is broken, with a hyphen between letters. White space is one space. An empty text has no lines.
pub fn wrap(text: &str, size: i32, room: impl Fn(usize) -> i32) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for (word, glued) in text.split_whitespace().flat_map(pieces) {
        let mut word = word.to_owned();
        loop {
            let joined = if line.is_empty() || glued { format!("{line}{word}") } else { format!("{line} {word}") };
            if width(&joined, size) <= room(lines.len()) {
                line = joined;
                break;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
                continue;
            }
            let (head, tail) = split(&word, size, room(lines.len()));
            lines.push(head);
            if tail.is_empty() {
                break;
            }
            word = tail;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// A word in the pieces that its hyphens between letters make; all but the first are glued to the one before.
fn pieces(word: &str) -> impl Iterator<Item = (&str, bool)> {
    let mut start = 0;
    word.split_inclusive('-').map(move |piece| {
        let glued = start > 0;
        start += piece.len();
        (piece, glued)
    })
}

/// As much of a word as fits, at least one character.
fn split(word: &str, size: i32, room: i32) -> (String, String) {
    let mut head = String::new();
    let mut rest = word.chars();
    let mut tail = word;
    while let Some(character) = rest.next() {
        let longer = format!("{head}{character}");
        let last = rest.as_str().is_empty();
        let shown = if last { longer.clone() } else { hyphenated(&longer) };
        if !head.is_empty() && width(&shown, size) > room {
            return (hyphenated(&head), tail.to_owned());
        }
        head = longer;
        tail = rest.as_str();
    }
    (head, String::new())
}

fn hyphenated(head: &str) -> String {
    if head.ends_with(char::is_alphabetic) { format!("{head}-") } else { head.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_no_wider_than_their_room() {
        let text = "Replace the fuser unit; Antriebsrollenlagerung-Wartungsdokumentation 測定値を記録する";
        for room in [40, 60, 90, 200] {
            for line in wrap(text, 14, |_| room) {
                assert!(width(&line, 14) <= room, "{line} in {room}");
            }
        }
        assert!(wrap("  \n ", 14, |_| 50).is_empty());
    }

    #[test]
    fn breaking_loses_no_letter() {
        let text = "Wartungsdokumentation of 12345678901234567890";
        let lines = wrap(text, 14, |_| 70);
        let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(text));
        assert!(lines.iter().any(|line| line.ends_with('-')), "{lines:?}");
    }

    #[test]
    fn a_letter_that_is_not_latin_is_one_em() {
        assert_eq!(width("測", 14), 14);
        assert_eq!(width("ж", 10), 10);
        assert_eq!(width("", 14), 0);
    }
}
