//! Takes comments and needless blanks out of a script, so that readers do not pay for what only its authors read.
//!
//! Everything else stays as written: names, lines and tokens; a blank stays where two tokens would become another one. Lines that hold nothing but a comment go whole. What is
//! a comment is told from strings, templates and regular expressions by the tokens of ECMAScript (ECMA-262, 12: a slash begins a regular expression where an operand may stand).

/// The script without comments, blank lines and needless blanks outside strings and templates.
pub fn short(script: &str) -> String {
    let mut strip = Strip { text: script, at: 0, out: String::with_capacity(script.len()), operand_next: true, open: Vec::new() };
    while strip.at < script.len() {
        strip.token();
    }
    strip.out
}

struct Strip<'a> {
    text: &'a str,
    at: usize,
    out: String,
    /// Whether an operand may stand here: then a slash begins a regular expression.
    operand_next: bool,
    /// For each open brace, whether a template goes on after it.
    open: Vec<bool>,
}

/// Words after which an operand follows, though they look like names.
const BEFORE_OPERAND: [&str; 14] =
    ["return", "typeof", "instanceof", "in", "of", "new", "delete", "void", "throw", "case", "do", "else", "await", "yield"];

impl Strip<'_> {
    fn token(&mut self) {
        let rest = &self.text[self.at..];
        let next = rest.chars().next().unwrap_or_default();
        match next {
            _ if rest.starts_with("//") => self.skip(rest.find('\n').unwrap_or(rest.len())),
            _ if rest.starts_with("/*") => {
                let length = rest.find("*/").map_or(rest.len(), |end| end + 2);
                // A line break in a comment counts as one (ECMA-262, 12.4).
                let broken = rest[..length].contains('\n');
                self.skip(length);
                if broken {
                    self.line_end();
                }
            }
            '\n' => {
                self.at += 1;
                self.line_end();
            }
            '"' | '\'' => self.operand(quoted(rest, next)),
            '`' => self.template(1),
            '/' if self.operand_next => self.operand(expression(rest)),
            '{' => {
                self.open.push(false);
                self.sign(1);
            }
            '}' => match self.open.pop() {
                Some(true) => self.template(1),
                _ => self.sign(1),
            },
            ')' | ']' => self.operand(1),
            _ if is_name(next) => {
                let length = rest.find(|c| !is_name(c)).unwrap_or(rest.len());
                let word = &rest[..length];
                self.copy(length);
                self.operand_next = BEFORE_OPERAND.contains(&word);
            }
            _ if next.is_whitespace() && (self.out.is_empty() || self.out.ends_with('\n')) => self.at += next.len_utf8(),
            _ if next.is_whitespace() => self.blank(next.len_utf8()),
            _ if rest.starts_with("++") || rest.starts_with("--") => self.copy(2),
            _ => self.sign(next.len_utf8()),
        }
    }

    fn copy(&mut self, length: usize) {
        self.out.push_str(&self.text[self.at..self.at + length]);
        self.at += length;
    }

    fn operand(&mut self, length: usize) {
        self.copy(length);
        self.operand_next = false;
    }

    fn sign(&mut self, length: usize) {
        self.copy(length);
        self.operand_next = true;
    }

    /// A blank between two tokens: kept where the tokens would grow together without it.
    fn blank(&mut self, length: usize) {
        self.at += length;
        let (before, after) = (self.out.chars().next_back(), self.text[self.at..].chars().next());
        let grows =
            |before: char, after: char| (is_name(before) && is_name(after)) || (before == after && matches!(before, '+' | '-' | '/'));
        if before.zip(after).is_some_and(|(before, after)| grows(before, after)) {
            self.out.push(' ');
        }
    }

    /// A comment becomes nothing, where nothing would glue two names together a blank.
    fn skip(&mut self, length: usize) {
        self.at += length;
        let after = self.text[self.at..].chars().next();
        if self.out.chars().next_back().is_some_and(is_name) && after.is_some_and(is_name) {
            self.out.push(' ');
        }
    }

    /// Ends the line that was written, unless nothing stands on it.
    fn line_end(&mut self) {
        let kept = self.out.trim_end_matches([' ', '\t', '\r']).len();
        self.out.truncate(kept);
        if !self.out.is_empty() && !self.out.ends_with('\n') {
            self.out.push('\n');
        }
    }

    /// The rest of a template, or a piece of it up to where an expression begins; the character at hand opens it.
    fn template(&mut self, opening: usize) {
        let rest = &self.text[self.at..];
        let mut escaped = false;
        for (offset, next) in rest.char_indices().skip(opening) {
            if escaped {
                escaped = false;
            } else if next == '\\' {
                escaped = true;
            } else if next == '`' {
                return self.operand(offset + 1);
            } else if rest[offset..].starts_with("${") {
                self.open.push(true);
                return self.sign(offset + 2);
            }
        }
        self.operand(rest.len());
    }
}

fn is_name(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '_' | '$' | '#')
}

/// Bytes of a string, its quotes included.
fn quoted(rest: &str, quote: char) -> usize {
    let mut escaped = false;
    for (offset, next) in rest.char_indices().skip(1) {
        if !escaped && next == quote {
            return offset + 1;
        }
        escaped = !escaped && next == '\\';
    }
    rest.len()
}

/// Bytes of a regular expression up to its closing slash; its flags follow as a name.
fn expression(rest: &str) -> usize {
    let (mut escaped, mut class) = (false, false);
    for (offset, next) in rest.char_indices().skip(1) {
        match next {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '[' => class = true,
            ']' => class = false,
            '/' if !class => return offset + 1,
            '\n' => return offset,
            _ => {}
        }
    }
    rest.len()
}

/// A style sheet of ours without its comments, indentation and empty lines. Comments there stand between rules, never in a text.
pub fn sheet(css: &str) -> String {
    let mut out = String::with_capacity(css.len());
    let mut rest = css;
    while let Some((before, after)) = rest.split_once("/*") {
        out.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, behind)| behind);
    }
    out.push_str(rest);
    let lines = out.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.flat_map(|line| [line, "\n"]).collect()
}

#[cfg(test)]
mod tests {
    use super::short;

    #[test]
    fn comments_and_needless_blanks_go_and_nothing_else() {
        let cases = [
            ("a; // b\nc;\n", "a;\nc;\n"),
            ("// only\n\n/** doc\n * more */\nf(/** @type {any} */ x);\n", "f(x);\n"),
            ("\"// no\" + '/* no */'; // yes\n", "\"// no\"+'/* no */';\n"),
            ("x = /[/*] \\/\\//g; y = a / b; // z / w\n", "x=/[/*] \\/\\//g;y=a/b;\n"),
            ("`// ${ f(\"}\") /* gone */ } // stays\n\n  ${`/* in */`}`;\n", "`// ${f(\"}\")} // stays\n\n  ${`/* in */`}`;\n"),
            ("return /a\\/b/.test(s) // c\n", "return/a\\/b/.test(s)\n"),
            ("(a) / 2 /* x */ / 3;\n", "(a)/2/3;\n"),
            ("let/* x */y = i++ / 2;\n", "let y=i++/2;\n"),
            ("a /* one\ntwo */ b\n", "a\nb\n"),
            ("if (x) {\n  // nothing\n}\n", "if(x){\n}\n"),
            ("a + +b; c - --d; e / /f/; g in h\n", "a+ +b;c- --d;e/ /f/;g in h\n"),
            ("a /* b */ /* c */ d; e = x /* y */ / z\n", "a d;e=x/z\n"),
        ];
        for (script, expected) in cases {
            assert_eq!(short(script), expected, "{script}");
        }
    }

    #[test]
    fn a_second_time_changes_nothing() {
        let script = crate::theme::script(crate::theme::Kind::Procedure).expect("the embedded modules join");
        assert_eq!(short(&script), script);
        assert!(!script.contains("/**") && !script.contains("\n//"));
    }
}
