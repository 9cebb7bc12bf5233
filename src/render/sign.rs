//! Our own drawings of safety signs: plain shapes after the codes of ISO 7010, never copies of its artwork.

use crate::render::escape;

/// The sign of a code such as `W017` as inline SVG; code and referent are its text alternative. A code without a drawing of its own shows the
/// shape of its kind with the code in it.
pub fn drawing(code: &str, referent: &str) -> String {
    let symbol = symbol(code);
    let (ground, over) = match code.chars().next() {
        Some('W') => (TRIANGLE, ""),
        Some('M') => ("<circle class=\"sign__blue\" cx=\"50\" cy=\"50\" r=\"47\"/>", ""),
        Some('P') => (
            "<circle class=\"sign__white\" cx=\"50\" cy=\"50\" r=\"47\"/>",
            "<circle class=\"sign__bar\" cx=\"50\" cy=\"50\" r=\"42\"/><path class=\"sign__bar\" d=\"M20 20 80 80\"/>",
        ),
        Some('E') => ("<rect class=\"sign__green\" x=\"4\" y=\"4\" width=\"92\" height=\"92\"/>", ""),
        _ => ("<rect class=\"sign__red\" x=\"4\" y=\"4\" width=\"92\" height=\"92\"/>", ""),
    };
    let written = match code.chars().next() {
        Some('W' | 'P') => "sign__black",
        _ => "sign__white",
    };
    let low = if code.starts_with('W') { 72 } else { 57 };
    let inner = symbol.map_or_else(
        || {
            format!(
                "<text class=\"{written}\" x=\"50\" y=\"{low}\" font-size=\"20\" font-weight=\"700\" text-anchor=\"middle\">{}</text>",
                escape::text(code)
            )
        },
        str::to_owned,
    );
    format!(
        "<svg class=\"sign\" viewBox=\"0 0 100 100\" width=\"56\" height=\"56\" role=\"img\" aria-label=\"{}: {}\" focusable=\"false\">{ground}{inner}{over}</svg>",
        escape::text(code),
        escape::text(referent),
    )
}

/// Yellow inside a black rim, with a thin light edge so that it stands out on any ground.
const TRIANGLE: &str = "<path class=\"sign__yellow\" d=\"M50 9 95 89H5Z\"/><path class=\"sign__rim\" d=\"M50 9 95 89H5Z\"/>";

fn symbol(code: &str) -> Option<&'static str> {
    Some(match code {
        "W001" => "<path class=\"sign__black\" d=\"M45 34h10l-2 30h-6Z\"/><circle class=\"sign__black\" cx=\"50\" cy=\"74\" r=\"5\"/>",
        "W004" => {
            "<circle class=\"sign__black\" cx=\"40\" cy=\"65\" r=\"5\"/><path class=\"sign__stroke\" d=\"M40 65H78M40 51V44M40 79v4M30 55l-4-4M30 75l-4 4M50 55l5-5M50 75l5 5M26 65h-4\"/>"
        }
        "W006" => {
            "<path class=\"sign__stroke\" d=\"M36 78V60a14 14 0 0 1 28 0V78\"/><path class=\"sign__black\" d=\"M30 74h12v9H30ZM58 74h12v9H58Z\"/>"
        }
        "W011" => {
            "<circle class=\"sign__black\" cx=\"41\" cy=\"46\" r=\"5\"/><path class=\"sign__stroke\" d=\"M44 53 52 68 66 60l2-4M52 68l13 6 8-2M46 57l-11 9M46 56l11-7M22 81h56\"/>"
        }
        "W012" => "<path class=\"sign__black\" d=\"M56 30 38 60h11l-6 24 20-31H51Z\"/>",
        "W017" => {
            "<path class=\"sign__stroke\" d=\"M28 80H72M37 72c-6-6 6-10 0-17s4-9 2-12M50 72c-6-6 6-10 0-17s4-9 2-12M63 72c-6-6 6-10 0-17s4-9 2-12\"/>"
        }
        "W018" => {
            "<path class=\"sign__stroke\" d=\"M36 54a16 16 0 1 1-1 16\"/><path class=\"sign__black\" d=\"M27 58l17 1-7-15Z\"/><circle class=\"sign__black\" cx=\"50\" cy=\"64\" r=\"5\"/>"
        }
        "W019" => {
            "<path class=\"sign__black\" d=\"M24 80h10V60H24ZM66 80h10V60H66Z\"/><path class=\"sign__stroke\" d=\"M38 70h6M62 70h-6\"/><circle class=\"sign__black\" cx=\"50\" cy=\"52\" r=\"5\"/><path class=\"sign__black\" d=\"M46 60h8v22h-8Z\"/>"
        }
        "W022" => "<path class=\"sign__black\" d=\"M28 62 66 44l4 8-38 18Z\"/><path class=\"sign__stroke\" d=\"M34 80h32M50 70v4\"/>",
        "W024" => {
            "<path class=\"sign__black\" d=\"M34 46h32v9H34Z\"/><path class=\"sign__stroke\" d=\"M50 33v9M45 38l5 5 5-5\"/><path class=\"sign__black\" d=\"M30 70c0-4 6-5 12-5h22c4 0 4 4 0 4h-9 17c4 0 4 5 0 5h3c3 0 3 5-1 5H42c-6 0-12-3-12-9Z\"/>"
        }
        "W025" => {
            "<circle class=\"sign__stroke\" cx=\"39\" cy=\"69\" r=\"10\"/><circle class=\"sign__stroke\" cx=\"63\" cy=\"69\" r=\"10\"/><path class=\"sign__stroke\" d=\"M36 50a18 18 0 0 1 10 3M66 50a18 18 0 0 0-10 3\"/><path class=\"sign__black\" d=\"M43 47l8 8-10 2ZM59 47l-8 8 10 2Z\"/>"
        }
        "W027" => {
            "<circle class=\"sign__black\" cx=\"50\" cy=\"66\" r=\"8\"/><path class=\"sign__stroke\" d=\"M50 52V42M50 80v4M36 66H28M64 66h8M40 56l-6-6M60 56l6-6M40 76l-5 5M60 76l5 5\"/>"
        }
        "M004" => {
            "<circle class=\"sign__stroke sign__stroke--white\" cx=\"33\" cy=\"50\" r=\"13\"/><circle class=\"sign__stroke sign__stroke--white\" cx=\"67\" cy=\"50\" r=\"13\"/><path class=\"sign__stroke sign__stroke--white\" d=\"M46 48q4-3 8 0M20 47l-8-5M80 47l8-5\"/>"
        }
        "M006" | "M021" => {
            "<path class=\"sign__white\" d=\"M20 43h24v22H20ZM44 47h9v4h-9ZM44 57h9v4h-9Z\"/><path class=\"sign__stroke sign__stroke--white\" d=\"M20 54H9M62 42v24h20V42ZM82 54h9\"/>"
        }
        "M009" => {
            "<path class=\"sign__white\" d=\"M34 82V56L24 44c-2-4 3-7 6-4l6 7V24c0-5 7-5 7 0v16-20c0-5 7-5 7 0v20-17c0-5 7-5 7 0v18-12c0-5 7-5 7 0v34l-4 19Z\"/>"
        }
        "M011" => {
            "<path class=\"sign__stroke sign__stroke--white\" d=\"M24 62c12-8 20-8 30-2l22 2M24 74c12 6 24 8 36 2l18-8M50 22v14M40 28v8M60 28v8\"/>"
        }
        "M016" | "M017" => {
            "<circle class=\"sign__white\" cx=\"50\" cy=\"46\" r=\"28\"/><path class=\"sign__blue\" d=\"M31 50h38l-5 18q-14 12-28 0Z\"/><path class=\"sign__stroke sign__stroke--white\" d=\"M38 57h24M40 64h20\"/><path class=\"sign__white\" d=\"M22 88q28-16 56 0Z\"/>"
        }
        "P003" => {
            "<path class=\"sign__black\" d=\"M50 22c14 14 18 24 14 38q-5 16-18 16-16-2-14-20c2-8 8-10 8-18 6 4 8 8 8 14 6-8 6-18 2-30Z\"/>"
        }
        "P010" => {
            "<path class=\"sign__black\" d=\"M36 80V58L27 47c-2-4 3-6 6-3l5 6V28c0-5 6-5 6 0v14-18c0-5 6-5 6 0v18-15c0-5 6-5 6 0v16-10c0-5 6-5 6 0v30l-4 17Z\"/>"
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_has_its_code_and_referent_in_words() {
        let hot = drawing("W017", "Hot surface");
        assert!(hot.contains("aria-label=\"W017: Hot surface\"") && hot.contains("sign__yellow"));
        assert!(drawing("M999", "x").contains(">M999</text>"));
        assert!(drawing("P010", "Do not touch").contains("sign__bar"));
    }
}
