//! The embedded theme: templates, styles, scripts, words.
