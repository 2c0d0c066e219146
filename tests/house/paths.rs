//! Where the paths of a crate's sources lead: from `super::Strip` to the file that defines `Strip`,
//! through whatever names it again on the way.

use std::collections::{BTreeMap, BTreeSet};

use crate::sources::{is, is_cfg_test, item_length};
use proc_macro2::{Delimiter, TokenStream, TokenTree};

/// Words that a name defined in a module follows.
const DEFINING: [&str; 8] = [
    "const", "enum", "fn", "static", "struct", "trait", "type", "union",
];

/// From one name to the next, a path can be renamed so often; more is a circle of `use`.
const MOST_RENAMINGS: usize = 20;

/// A name that a `use` brings into a module; `*` stands for all.
struct Import {
    path: Vec<String>,
    name: String,
    /// Offers the name to others; whether the module itself needs it, its other words say.
    offered: bool,
}

/// A module of the crate, in a file of its own or inside one.
#[derive(Default)]
struct Module {
    file: String,
    defines: BTreeSet<String>,
    imports: Vec<Import>,
    /// Paths of two words or more outside of `use`.
    paths: Vec<Vec<String>>,
    /// All words outside of `use`.
    words: BTreeSet<String>,
}

/// What a path leads to.
struct Found {
    module: Vec<String>,
    /// The name defined in the module; none where the path ends at the module itself.
    name: Option<String>,
}

/// The modules of a crate by their paths from its top.
#[derive(Default)]
pub(crate) struct Modules {
    all: BTreeMap<Vec<String>, Module>,
    /// Modules in files of their own that are for tests only.
    for_tests: BTreeSet<Vec<String>>,
}

/// For each file, the files that it uses, with the names it takes from there.
pub(crate) type Arrows = BTreeMap<String, BTreeMap<String, BTreeSet<String>>>;

impl Modules {
    /// Reads sources, each with its file's path below `src`.
    pub(crate) fn of<'a>(sources: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let mut modules = Modules::default();
        for (file, source) in sources {
            modules.read(module_path(file), file, source.parse().unwrap());
        }
        modules
    }

    fn read(&mut self, path: Vec<String>, file: &str, source: TokenStream) {
        let mut module = Module {
            file: file.to_owned(),
            ..Module::default()
        };
        let tokens: Vec<TokenTree> = source.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            let rest = &tokens[at..];
            if is_cfg_test(rest) {
                let item = &rest[..item_length(rest)];
                if let Some(name) = after(item, "mod") {
                    self.for_tests.insert(child(&path, &name));
                }
                at += item.len();
                continue;
            }
            match rest {
                [
                    TokenTree::Ident(word),
                    TokenTree::Ident(name),
                    TokenTree::Group(body),
                    ..,
                ] if word == "mod" => {
                    self.read(child(&path, &name.to_string()), file, body.stream());
                    at += 3;
                    continue;
                }
                [TokenTree::Ident(word), TokenTree::Ident(_), ..] if word == "mod" => {
                    at += 2;
                    continue;
                }
                [TokenTree::Ident(word), TokenTree::Ident(name), ..]
                    if DEFINING.contains(&word.to_string().as_str()) =>
                {
                    module.defines.insert(name.to_string());
                }
                [TokenTree::Ident(word), _, TokenTree::Ident(name), ..]
                    if word == "macro_rules" =>
                {
                    module.defines.insert(name.to_string());
                }
                _ => {}
            }
            at += module.take(&tokens, at);
        }
        self.all.insert(path, module);
    }

    /// All that files use of each other.
    pub(crate) fn arrows(&self) -> Arrows {
        let mut arrows = Arrows::new();
        for (at, module) in &self.all {
            if (0..=at.len()).any(|length| self.for_tests.contains(&at[..length])) {
                continue;
            }
            for (path, name) in self.used(at, module) {
                let Some(found) = self.resolve(at, &path, 0) else {
                    continue;
                };
                let file = &self.all[&found.module].file;
                // Of a folder's own file only what it defines is used.
                let named = found.name.is_some() || !is_folder(file);
                if named && *file != module.file {
                    let names = arrows.entry(module.file.clone()).or_default();
                    let names = names.entry(file.clone()).or_default();
                    names.insert(found.name.unwrap_or(name));
                }
            }
        }
        arrows
    }

    /// Paths that a module makes use of, each with the name it goes by there.
    fn used(&self, at: &[String], module: &Module) -> Vec<(Vec<String>, String)> {
        let mut used = Vec::new();
        for import in &module.imports {
            if import.name == "*" {
                for word in &module.words {
                    let path = [import.path.as_slice(), std::slice::from_ref(word)].concat();
                    let led = self.resolve(at, &path, 0);
                    if !import.offered && led.is_some_and(|found| found.name.is_some()) {
                        used.push((path, word.clone()));
                    }
                }
            } else if !import.offered || module.words.contains(&import.name) {
                used.push((import.path.clone(), import.name.clone()));
            }
        }
        for path in &module.paths {
            used.push((path.clone(), path[path.len() - 1].clone()));
        }
        used
    }

    /// Follows a path that stands in the module `at`; none where it leads out of the crate.
    fn resolve(&self, at: &[String], path: &[String], renamings: usize) -> Option<Found> {
        let mut module = at.to_vec();
        let mut path = path;
        loop {
            match path.first().map(String::as_str) {
                Some("crate") => module.clear(),
                Some("self") => {}
                Some("super") => drop(module.pop()?),
                _ => break,
            }
            path = &path[1..];
        }
        for (step, name) in path.iter().enumerate() {
            let is_last = step + 1 == path.len();
            let here = self.all.get(&module)?;
            let inner = child(&module, name);
            let is_module = self.all.contains_key(&inner);
            // A function may bear the name of its module: which is meant, the rest of the path says.
            if is_module && !is_last {
                module = inner;
                continue;
            }
            if here.defines.contains(name) {
                let name = Some(name.clone());
                return Some(Found { module, name });
            }
            match self.renamed(&module, name, renamings) {
                Some(Found { module, name: None }) if !is_last => {
                    return self.resolve(&module, &path[step + 1..], renamings + 1);
                }
                Some(found) => return Some(found),
                None if is_module => module = inner,
                None => return None,
            }
        }
        Some(Found { module, name: None })
    }

    /// What a name that a module has from a `use` leads to.
    fn renamed(&self, at: &[String], name: &str, renamings: usize) -> Option<Found> {
        if renamings == MOST_RENAMINGS {
            return None;
        }
        let imports = &self.all[at].imports;
        let by_name = imports.iter().filter(|import| import.name == name);
        let by_name = by_name.map(|import| import.path.clone());
        let by_star = imports.iter().filter(|import| import.name == "*");
        let by_star = by_star.map(|import| child(&import.path, name));
        let mut paths = by_name.chain(by_star);
        paths.find_map(|path| self.resolve(at, &path, renamings + 1))
    }
}

impl Module {
    /// Takes in what stands at one place of a module's tokens; returns how many these are.
    fn take(&mut self, tokens: &[TokenTree], at: usize) -> usize {
        let rest = &tokens[at..];
        if is_cfg_test(rest) {
            return item_length(rest);
        }
        match &rest[0] {
            TokenTree::Ident(word) if word == "use" => {
                let end = rest.iter().position(|token| is(token, ';'));
                let end = end.unwrap_or(rest.len());
                let offered = is_offered(&tokens[..at]);
                self.import(&rest[1..end], &[], offered);
                end
            }
            // Of `pub(in crate::reading)` nothing is used.
            TokenTree::Ident(word) if word == "pub" => match rest.get(1) {
                Some(TokenTree::Group(_)) => 2,
                _ => 1,
            },
            TokenTree::Ident(_) => {
                let path = path_at(rest);
                self.words.extend(path.iter().cloned());
                let length = 3 * path.len() - 2;
                if path.len() > 1 && !follows_path(&tokens[..at]) {
                    self.paths.push(path);
                }
                length
            }
            TokenTree::Group(group) => {
                let inside: Vec<TokenTree> = group.stream().into_iter().collect();
                let mut at = 0;
                while at < inside.len() {
                    at += self.take(&inside, at);
                }
                1
            }
            _ => 1,
        }
    }

    /// Takes in the names of a `use`, or of a part of its tree.
    fn import(&mut self, tree: &[TokenTree], before: &[String], offered: bool) {
        let mut path = before.to_vec();
        let mut name = None;
        let mut tokens = tree.iter();
        while let Some(token) = tokens.next() {
            match token {
                TokenTree::Ident(word) if word == "as" => {
                    name = tokens.next().map(ToString::to_string);
                }
                // `{self}` is what stands before the braces.
                TokenTree::Ident(word) if word == "self" && !path.is_empty() => {}
                TokenTree::Ident(word) => path.push(word.to_string()),
                TokenTree::Group(group) if group.delimiter() == Delimiter::Brace => {
                    let members: Vec<TokenTree> = group.stream().into_iter().collect();
                    for member in members.split(|token| is(token, ',')) {
                        self.import(member, &path, offered);
                    }
                    return;
                }
                other if is(other, '*') => name = Some("*".to_owned()),
                _ => {}
            }
        }
        if let Some(last) = path.last() {
            let name = name.unwrap_or_else(|| last.clone());
            self.imports.push(Import {
                path,
                name,
                offered,
            });
        }
    }
}

/// The path of the module that a file below `src` holds.
fn module_path(file: &str) -> Vec<String> {
    let path = file.trim_end_matches(".rs");
    let mut path: Vec<String> = path.split('/').map(str::to_owned).collect();
    if is_folder(file) || file == "lib.rs" {
        path.pop();
    }
    path
}

fn is_folder(file: &str) -> bool {
    file.ends_with("/mod.rs")
}

fn child(path: &[String], name: &str) -> Vec<String> {
    [path, &[name.to_owned()]].concat()
}

/// The word after the first such word.
fn after(tokens: &[TokenTree], word: &str) -> Option<String> {
    let is_it = |token: &TokenTree| matches!(token, TokenTree::Ident(found) if found == word);
    let at = tokens.iter().position(is_it)?;
    tokens.get(at + 1).map(ToString::to_string)
}

/// Whether a `use` with this before it offers its names to others.
fn is_offered(before: &[TokenTree]) -> bool {
    let before = match before {
        [rest @ .., TokenTree::Group(group)] if group.delimiter() == Delimiter::Parenthesis => rest,
        all => all,
    };
    matches!(before.last(), Some(TokenTree::Ident(word)) if word == "pub")
}

fn is_colons(tokens: &[TokenTree]) -> bool {
    matches!(tokens, [a, b, ..] if is(a, ':') && is(b, ':'))
}

/// Whether what follows goes on with a path, such as of another crate, or is a method.
fn follows_path(before: &[TokenTree]) -> bool {
    let dot = before.last().is_some_and(|token| is(token, '.'));
    dot || before.len() > 1 && is_colons(&before[before.len() - 2..])
}

/// The words of the path that tokens begin with.
fn path_at(tokens: &[TokenTree]) -> Vec<String> {
    let mut path = vec![tokens[0].to_string()];
    let mut rest = &tokens[1..];
    while is_colons(rest) && matches!(rest.get(2), Some(TokenTree::Ident(_))) {
        path.push(rest[2].to_string());
        rest = &rest[3..];
    }
    path
}
