//! The style sheet: contrast of its tokens by the formula of WCAG 2.2, and what it must not contain.

use std::collections::BTreeMap;

/// Relative luminance and contrast as WCAG 2.2 defines them (sRGB, 8 bits a channel).
fn luminance(colour: &str) -> f64 {
    let channel = |from: usize| {
        let value = u8::from_str_radix(&colour[from..from + 2], 16).expect("six hex digits");
        let share = f64::from(value) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

fn contrast(left: &str, right: &str) -> f64 {
    let (a, b) = (luminance(left), luminance(right));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Colour tokens of the light scheme, and the same with those that the dark one replaces.
fn schemes() -> [(&'static str, BTreeMap<String, String>); 2] {
    let css = stepward::theme::style();
    let (light, rest) = css.split_once("prefers-color-scheme: dark").expect("a dark scheme");
    let dark = rest.split_once("\n}").map_or(rest, |(dark, _)| dark);
    let light = tokens(light);
    let mut both = light.clone();
    both.extend(tokens(dark));
    [("light", light), ("dark", both)]
}

fn tokens(css: &str) -> BTreeMap<String, String> {
    let pairs = css.lines().filter_map(|line| line.trim().strip_prefix("--")?.split_once(": "));
    pairs
        .filter_map(|(name, value)| Some((name.to_owned(), value.split(';').next()?.to_owned())))
        .filter(|(_, value)| value.starts_with('#'))
        .collect()
}

/// Examples that W3C publishes in its techniques (G183, G195, G207, G223) and understanding pages, to one place.
#[test]
fn the_formula_gives_the_published_ratios() {
    let published = [
        ("#3366cc", "#000000", 3.9),
        ("#ff3838", "#ffffff", 3.6),
        ("#e3660e", "#ffffff", 3.4),
        ("#ca0000", "#ffffff", 6.0),
        ("#949494", "#ffffff", 3.0),
        ("#e5e5e5", "#6221ea", 5.6),
        ("#fff000", "#ffffff", 1.2),
        ("#9d9d9d", "#ffffff", 2.7),
        ("#aaaaaa", "#ffffff", 2.3),
        ("#000000", "#ffffff", 21.0),
    ];
    for (left, right, ratio) in published {
        assert!((contrast(left, right) - ratio).abs() < 0.1, "{left} on {right}: {}", contrast(left, right));
    }
    assert!(contrast("#767676", "#ffffff") >= 4.5 && contrast("#777777", "#ffffff") < 4.5);
}

#[test]
fn text_and_edges_stand_out_in_both_schemes() {
    let text = [
        ("ink", "paper"),
        ("ink", "paper-tint"),
        ("ink-soft", "paper"),
        ("ink-soft", "paper-tint"),
        ("ink", "spot-tint"),
        ("ink-soft", "spot-tint"),
        ("spot", "paper"),
        ("spot", "spot-tint"),
        ("on-spot", "spot"),
        ("paper", "ink"),
        ("signal-danger-text", "signal-danger"),
        ("signal-warning-text", "signal-warning"),
        ("signal-caution-text", "signal-caution"),
        ("signal-notice-text", "signal-notice"),
        ("sign-black", "sign-yellow"),
        ("sign-white", "sign-blue"),
        ("sign-white", "sign-green"),
        ("sign-white", "sign-red"),
    ];
    let edges = [("rule", "paper"), ("signal-edge", "paper"), ("spot", "paper"), ("ink", "paper")];
    for (scheme, tokens) in schemes() {
        for (pairs, least) in [(&text[..], 4.5), (&edges[..], 3.0)] {
            for (front, ground) in pairs {
                let ratio = contrast(&tokens[*front], &tokens[*ground]);
                assert!(ratio >= least, "{front} on {ground}, {scheme}: {ratio:.3} is under {least}");
            }
        }
    }
}

/// Contrasts of the signal colours with white and black, as computed from 49 CFR 172 Appendix A (red) and the Munsell centres of ANSI Z535.1 (the
/// others from memory): a changed colour token is noticed here.
#[test]
fn signal_colours_are_those_of_their_source_rows() {
    let [(_, tokens), _] = schemes();
    let rows =
        [("signal-danger", 6.20, 3.39), ("signal-warning", 2.99, 7.02), ("signal-caution", 1.64, 12.83), ("signal-notice", 7.20, 2.92)];
    for (token, white, black) in rows {
        let colour = &tokens[token];
        assert!((contrast(colour, "#ffffff") - white).abs() < 0.01, "{token} with white: {}", contrast(colour, "#ffffff"));
        assert!((contrast(colour, "#000000") - black).abs() < 0.01, "{token} with black: {}", contrast(colour, "#000000"));
    }
}

#[test]
fn the_style_sheet_keeps_to_its_tokens_and_loads_nothing() {
    let css = stepward::theme::style();
    let (_, rules) = css.split_once("/* The sheet of paper").expect("the base comes after the tokens");
    for never in ["url(", "@import", "http:", "https:", "text-shadow", "!important"] {
        assert!(!rules.contains(never), "`{never}`");
    }
    let defined: Vec<&str> = css.lines().filter_map(|line| line.trim().strip_prefix("--")?.split(':').next()).collect();
    for used in css.split("var(--").skip(1).filter_map(|rest| rest.split([')', ',']).next()) {
        assert!(defined.contains(&used), "`--{used}` is no token");
    }
    assert!(rules.contains(":focus-visible") && rules.contains("forced-colors") && rules.contains("break-inside: avoid"));
}

/// A sign without words of its own would be read aloud as any sign.
#[test]
fn every_sign_that_may_stand_in_a_catalogue_has_words() {
    let words = stepward::theme::words().expect("the theme's words");
    for (code, _) in stepward::text::signs::SIGNS {
        assert!(words.find("sign", code).is_some(), "{code}");
    }
}
