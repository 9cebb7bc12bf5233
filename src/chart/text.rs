//! How wide words are, and where their lines break. A box gets its size from its words, so they must never be wider than measured here,
//! whatever sans-serif face the reader's machine has.

/// Advance widths of ` ` to `~` in thousandths of an em. Of the wide common sans-serif faces the wider each time, noted from memory and
/// rounded up; a narrower face only leaves more air. `tests/browser/chart.test.mjs` measures real faces against what is laid out by them.
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
    pixels(advances(text), size)
}

/// Advance width of a text in thousandths of an em.
fn advances(text: &str) -> i64 {
    text.chars().map(|character| i64::from(advance(character))).sum()
}

fn pixels(sum: i64, size: i32) -> i32 {
    i32::try_from((sum * i64::from(size) + 999) / 1000).unwrap_or(i32::MAX)
}

/// Breaks a text into lines; `room(line)` is the width that line may have. Lines break at spaces and after hyphens; a word wider than its
/// line is broken, with a hyphen between letters. White space is one space. An empty text has no lines.
pub fn wrap(text: &str, size: i32, room: impl Fn(usize) -> i32) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    // Of the line so far.
    let mut sum = 0;
    for (mut word, glued) in text.split_whitespace().flat_map(pieces) {
        loop {
            let space = if line.is_empty() || glued { "" } else { " " };
            let joined = sum + advances(space) + advances(word);
            if pixels(joined, size) <= room(lines.len()) {
                line.push_str(space);
                line.push_str(word);
                sum = joined;
                break;
            }
            sum = 0;
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
                continue;
            }
            let (head, tail) = split(word, size, room(lines.len()));
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

/// As [`wrap`], in no more lines, but filled evenly: no word alone on the last line or the first. Of all ways to break at spaces it takes the one with the
/// least sum of squares of what is left free (Knuth and Plass 1981, without hyphens). A text whose words had to be broken stays as [`wrap`] has it.
pub fn wrap_evenly(text: &str, size: i32, room: impl Fn(usize) -> i32) -> Vec<String> {
    let lines = wrap(text, size, &room);
    let words: Vec<&str> = text.split_whitespace().collect();
    if lines.len() < 2 || lines.join(" ") != words.join(" ") {
        return lines;
    }
    let mut ends = vec![0];
    for word in &words {
        ends.push(ends.last().copied().unwrap_or(0) + advances(word) + advances(" "));
    }
    // Of the words before `from`, on the lines so far: the least sum, and where the last of these lines begins.
    let mut best: Vec<Vec<Option<(i64, usize)>>> = vec![vec![None; words.len() + 1]; lines.len() + 1];
    best[0][0] = Some((0, 0));
    for line in 0..lines.len() {
        for from in line..words.len() {
            let Some((sum, _)) = best[line][from] else { continue };
            for to in from + 1..=words.len() {
                let free = i64::from(room(line)) - i64::from(pixels(ends[to] - ends[from] - advances(" "), size));
                if free < 0 {
                    break;
                }
                let sum = sum + free * free;
                if best[line + 1][to].is_none_or(|(least, _)| sum < least) {
                    best[line + 1][to] = Some((sum, from));
                }
            }
        }
    }
    let mut even = Vec::new();
    let mut to = words.len();
    for line in (1..=lines.len()).rev() {
        let Some((_, from)) = best[line][to] else { return lines };
        even.push(words[from..to].join(" "));
        to = from;
    }
    even.reverse();
    even
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

/// As much of a word as fits, at least one character, and what is left of it.
fn split(word: &str, size: i32, room: i32) -> (String, &str) {
    let mut sum = 0;
    for (start, character) in word.char_indices() {
        let end = start + character.len_utf8();
        sum += i64::from(advance(character));
        let hyphen = if end == word.len() { "" } else { hyphen_behind(&word[..end]) };
        if start > 0 && pixels(sum + advances(hyphen), size) > room {
            let head = &word[..start];
            return (format!("{head}{}", hyphen_behind(head)), &word[start..]);
        }
    }
    (word.to_owned(), "")
}

fn hyphen_behind(head: &str) -> &'static str {
    if head.ends_with(char::is_alphabetic) { "-" } else { "" }
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
    fn lines_are_filled_evenly_and_no_more_of_them() {
        let text = "Open the front cover while you can see the plug";
        let (greedy, even) = (wrap(text, 14, |_| 160), wrap_evenly(text, 14, |_| 160));
        assert_eq!(even.join(" "), text);
        assert_eq!(even.len(), greedy.len());
        let widest = |lines: &[String]| lines.iter().map(|line| width(line, 14)).max().unwrap_or(0);
        assert!(widest(&even) <= 160);
        let spread = |lines: &[String]| widest(lines) - lines.iter().map(|line| width(line, 14)).min().unwrap_or(0);
        assert!(spread(&even) < spread(&greedy), "{even:?} {greedy:?}");
        // Room that differs by line, as in a decision.
        let rooms = [60, 110, 160, 110, 60];
        let question = "Read the panel. Does it name this tray and the size?";
        let lines = wrap_evenly(question, 14, |line| rooms.get(line).copied().unwrap_or(60));
        assert!(lines.iter().enumerate().all(|(line, words)| width(words, 14) <= rooms[line]), "{lines:?}");
        // A word that had to be broken stays broken.
        assert_eq!(wrap_evenly("Wartungsdokumentation of it", 14, |_| 70), wrap("Wartungsdokumentation of it", 14, |_| 70));
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
