//! Joins small ES modules into one classic script, since pages opened from a folder cannot load modules.
//!
//! Understood are top-level lines `import { a, b as c } from "./x.js";`, `export function|const|let|class|async function NAME` and
//! `export { a, b as c };`. Each module keeps a scope of its own; what it imports stands before it.

use std::collections::BTreeSet;
use std::fmt;

/// Why modules cannot be joined.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Module and what it asks for.
    NotThere(String, String),
    Circle(String),
    /// A line with `import` or `export` in a form that is not understood.
    Form(String, String),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::NotThere(module, target) => write!(f, "`{module}` imports `{target}`, which is not there"),
            Fault::Circle(module) => write!(f, "`{module}` imports itself in a circle"),
            Fault::Form(module, line) => write!(f, "`{module}` has an import or export that cannot be joined: `{line}`"),
        }
    }
}

/// Joins a module and all that it imports, out of modules given as path and text. The order is fixed: whatever is imported stands first.
///
/// What the modules in `before` bring is left out: their scripts run earlier on the same page, and the scripts of a page share their modules.
///
/// # Errors
/// See [`Fault`].
pub fn classic(modules: &[(String, String)], entry: &str, before: &[&str]) -> Result<String, Fault> {
    let mut joiner = Joiner { modules, done: BTreeSet::new(), open: Vec::new(), out: String::new() };
    for earlier in before {
        joiner.add(earlier)?;
    }
    joiner.out.clear();
    joiner.add(entry)?;
    Ok(format!("\"use strict\";\n(function () {{\nconst modules = (globalThis.stepwardModules ??= {{}});\n{}}})();\n", joiner.out))
}

struct Joiner<'a> {
    modules: &'a [(String, String)],
    done: BTreeSet<String>,
    /// The modules that are being added, outermost first.
    open: Vec<String>,
    out: String,
}

impl Joiner<'_> {
    fn add(&mut self, path: &str) -> Result<(), Fault> {
        if self.done.contains(path) {
            return Ok(());
        }
        if self.open.iter().any(|open| open == path) {
            return Err(Fault::Circle(path.to_owned()));
        }
        let Some((_, text)) = self.modules.iter().find(|(name, _)| name == path) else {
            let asker = self.open.last().cloned().unwrap_or_default();
            return Err(Fault::NotThere(asker, path.to_owned()));
        };
        self.open.push(path.to_owned());
        let module = Module::read(path, text)?;
        for target in &module.imports {
            self.add(target)?;
        }
        self.open.pop();
        self.done.insert(path.to_owned());
        self.out.push_str(&module.wrapped(path));
        Ok(())
    }
}

#[derive(Default)]
struct Module {
    imports: Vec<String>,
    /// Name inside and name outside.
    exports: Vec<(String, String)>,
    text: String,
}

impl Module {
    fn read(path: &str, text: &str) -> Result<Self, Fault> {
        let mut module = Self::default();
        let mut lines = text.lines();
        while let Some(line) = lines.next() {
            if line.starts_with("import ") || line.starts_with("import{") || line.starts_with("export {") {
                let mut whole = line.to_owned();
                while !whole.contains('}') && !whole.trim_end().ends_with(';') {
                    let Some(more) = lines.next() else { break };
                    whole = format!("{whole} {}", more.trim());
                }
                module.statement(path, &whole)?;
            } else if let Some(rest) = line.strip_prefix("export ") {
                let name = declared(rest).ok_or_else(|| Fault::Form(path.to_owned(), line.to_owned()))?;
                module.exports.push((name.clone(), name));
                module.push(rest);
            } else {
                module.push(line);
            }
        }
        Ok(module)
    }

    fn push(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// An `import` or `export { }` statement.
    fn statement(&mut self, path: &str, statement: &str) -> Result<(), Fault> {
        let form = || Fault::Form(path.to_owned(), statement.to_owned());
        if let Some(source) = statement.strip_prefix("import ").and_then(|rest| quoted(rest.trim_start())) {
            self.imports.push(beside(path, source));
            return Ok(());
        }
        let (_, rest) = statement.split_once('{').ok_or_else(form)?;
        let (names, tail) = rest.split_once('}').ok_or_else(form)?;
        let pairs = names.split(',').map(str::trim).filter(|name| !name.is_empty()).map(|name| match name.split_once(" as ") {
            Some((inner, outer)) => (inner.trim().to_owned(), outer.trim().to_owned()),
            None => (name.to_owned(), name.to_owned()),
        });
        if statement.starts_with("export") {
            self.exports.extend(pairs);
            return Ok(());
        }
        let source = tail.trim_start().strip_prefix("from").and_then(|rest| quoted(rest.trim_start())).ok_or_else(form)?;
        let target = beside(path, source);
        let list: Vec<String> = pairs.map(|(inner, outer)| if inner == outer { inner } else { format!("{inner}: {outer}") }).collect();
        self.push(&format!("const {{ {} }} = modules[\"{target}\"];", list.join(", ")));
        self.imports.push(target);
        Ok(())
    }

    fn wrapped(&self, path: &str) -> String {
        let list: Vec<String> =
            self.exports.iter().map(|(inner, outer)| if inner == outer { inner.clone() } else { format!("{outer}: {inner}") }).collect();
        format!("modules[\"{path}\"] = (function () {{\n{}return {{ {} }};\n}})();\n", self.text, list.join(", "))
    }
}

/// The name that `function x(`, `const x =` and the like declare.
fn declared(rest: &str) -> Option<String> {
    let heads = ["async function ", "function ", "const ", "let ", "class "];
    let after = heads.iter().find_map(|head| rest.strip_prefix(head))?;
    let name: String = after.chars().take_while(|c| c.is_alphanumeric() || matches!(c, '_' | '$')).collect();
    (!name.is_empty()).then_some(name)
}

fn quoted(text: &str) -> Option<&str> {
    let quote = text.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    text.get(1..)?.split(quote).next()
}

/// `../script/x.js` as seen from `parts/follower/follower.js`: `parts/script/x.js`.
fn beside(path: &str, target: &str) -> String {
    let mut parts: Vec<&str> = path.split('/').collect();
    parts.pop();
    for piece in target.split('/') {
        match piece {
            "." | "" => {}
            ".." => {
                parts.pop();
            }
            name => parts.push(name),
        }
    }
    parts.join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn modules(list: &[(&str, &str)]) -> Vec<(String, String)> {
        list.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect()
    }

    #[test]
    fn what_is_imported_stands_first_and_keeps_its_own_scope() {
        let list = modules(&[
            ("parts/a/a.js", "import {\n  x,\n  y as z,\n} from \"../../script/b.js\";\nz(x);\n"),
            ("script/b.js", "export const x = 1;\nexport function y() {}\nconst own = 2;\n"),
        ]);
        let script = classic(&list, "parts/a/a.js", &[]).expect("joins");
        let b = script.find("modules[\"script/b.js\"] =").expect("b is in it");
        let a = script.find("modules[\"parts/a/a.js\"] =").expect("a is in it");
        assert!(b < a);
        assert!(script.contains("const { x, y: z } = modules[\"script/b.js\"];"));
        assert!(script.contains("return { x, y };"));
        assert!(!script.contains("import ") && !script.contains("export "));
        let later = classic(&list, "parts/a/a.js", &["script/b.js"]).expect("joins");
        assert!(later.contains("modules[\"parts/a/a.js\"] =") && !later.contains("modules[\"script/b.js\"] ="), "{later}");
    }

    #[test]
    fn what_cannot_be_joined_is_said() {
        let circle = modules(&[("a.js", "import { b } from './b.js';"), ("b.js", "import { a } from './a.js';")]);
        assert_eq!(classic(&circle, "a.js", &[]), Err(Fault::Circle("a.js".to_owned())));
        let gone = modules(&[("a.js", "import './c.js';")]);
        assert_eq!(classic(&gone, "a.js", &[]), Err(Fault::NotThere("a.js".to_owned(), "c.js".to_owned())));
        let form = modules(&[("a.js", "export default 3;")]);
        assert_eq!(classic(&form, "a.js", &[]), Err(Fault::Form("a.js".to_owned(), "export default 3;".to_owned())));
    }
}
