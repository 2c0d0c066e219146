//! The lesson for authors of patterns, played: what is set in goes into the files, and the program has to
//! answer as the text says.

use crate::support::cli::Bench;

/// What the text says to do.
#[derive(Debug)]
enum Deed {
    /// A whole file.
    Write(String, String),
    /// Lines at a file's end.
    Add(String, String),
    /// Lines in the place of others.
    Instead(String, String, String),
    /// A command, and lines of its answer.
    Type(String, Vec<String>),
}

/// Paragraphs of a text, each with whether it is set in; those set in with what is not part of them taken
/// off, and with the blank lines between them.
fn paragraphs(text: &str) -> Vec<(bool, String)> {
    let mut all: Vec<(bool, String)> = Vec::new();
    let mut after_blank = true;
    for line in text.lines() {
        let is_blank = line.trim().is_empty();
        let set_in = line.strip_prefix("    ");
        match all.last_mut() {
            // A new command is a paragraph of its own.
            Some((true, known)) if set_in.is_some_and(|line| !line.starts_with("$ ")) => {
                let gap = if after_blank { "\n" } else { "" };
                known.push_str(&format!("{gap}{}\n", set_in.unwrap()));
            }
            Some((false, known)) if set_in.is_none() && !is_blank && !after_blank => {
                known.push_str(&format!(" {line}"));
            }
            _ if is_blank => {}
            _ => all.push(match set_in {
                Some(line) => (true, format!("{line}\n")),
                None => (false, line.to_owned()),
            }),
        }
        after_blank = is_blank;
    }
    all
}

/// Before the colon or the comma, the file that a sentence is about.
fn file_in(said: &str, lead: &str) -> Option<String> {
    let rest = said.strip_prefix(lead)?;
    Some(rest.split([':', ',']).next().unwrap().to_owned())
}

fn deeds(text: &str) -> Vec<Deed> {
    let mut deeds = Vec::new();
    let all = paragraphs(text);
    for (at, (is_set_in, block)) in all.iter().enumerate() {
        if !is_set_in {
            continue;
        }
        if let Some(command) = block.strip_prefix("$ ") {
            let mut lines = command.lines();
            let command = lines.next().unwrap().to_owned();
            let lines = lines.filter(|line| *line != "..." && !line.is_empty());
            deeds.push(Deed::Type(command, lines.map(str::to_owned).collect()));
            continue;
        }
        let said = &all[at - 1].1;
        if let Some(file) = file_in(said, "Write into ") {
            deeds.push(Deed::Write(file, block.clone()));
        } else if let Some(file) = file_in(said, "Add at the end of ") {
            deeds.push(Deed::Add(file, block.clone()));
        } else if let Some(file) = file_in(said, "In ") {
            assert!(said.ends_with("instead of"), "{said}");
            assert_eq!(all[at + 1].1, "write", "{said}");
            let new = all[at + 2].1.clone();
            deeds.push(Deed::Instead(file, block.clone(), new));
        } else {
            assert_eq!(said, "write", "nothing says what to do with:\n{block}");
        }
    }
    deeds
}

/// Does it; panics where the program says something else.
fn play(bench: &Bench, deed: &Deed) {
    match deed {
        Deed::Write(file, text) => bench.write(file, text),
        Deed::Add(file, text) => bench.write(file, format!("{}{text}", bench.read(file))),
        Deed::Instead(file, old, new) => {
            let known = bench.read(file);
            let old = old.trim_end();
            assert_eq!(known.matches(old).count(), 1, "`{old}` in\n{known}");
            bench.write(file, known.replace(old, new.trim_end()));
        }
        Deed::Type(command, answer) => {
            let args: Vec<&str> = command.split(' ').collect();
            assert_eq!(args[0], "lapwright");
            let ran = bench.run(&args[1..]);
            let said = format!("{}{}", ran.out, ran.err);
            let mut lines = said.lines();
            for line in answer {
                let found = lines.any(|said| said == line);
                assert!(
                    found,
                    "{command}\nsays no line, or not there:\n{line}\nbut\n{said}"
                );
            }
            let should_fail = answer.iter().any(|line| line.starts_with("error"));
            assert_eq!(ran.code != 0, should_fail, "{command}\n{said}");
        }
    }
}

#[test]
fn the_lesson_is_as_it_says_from_a_blank_file_to_the_proof() {
    let bench = Bench::new();
    let text = bench.ok(&["pattern", "learn"]).out;
    let deeds = deeds(&text);
    let typed = deeds.iter().filter(|deed| matches!(deed, Deed::Type(..)));
    assert!(typed.count() >= 14, "{deeds:?}");
    // Every answer but that of the last drawing is shown in part at least.
    let silent = |deed: &&Deed| matches!(deed, Deed::Type(_, answer) if answer.is_empty());
    assert!(deeds.iter().filter(silent).count() <= 1, "{deeds:?}");
    for deed in &deeds {
        play(&bench, deed);
    }
    assert!(bench.read("figure.svg").contains("several cells"));
}

#[test]
fn the_lesson_names_all_that_the_language_is_made_of() {
    let text = Bench::new().ok(&["pattern", "learn"]).out;
    for word in [
        "point",
        "piece",
        "against",
        "junction",
        "mirror",
        "turn",
        "lap",
        "horn",
        "thickness",
        "over",
        "greatest",
        "locks",
        "middle",
        "meet",
    ] {
        assert!(text.contains(word), "{word}");
    }
    let prose = text.lines().filter(|line| !line.starts_with("    "));
    for line in prose {
        assert!(line.chars().count() <= 100, "{line}");
    }
}

#[test]
fn an_answer_that_has_changed_is_found() {
    let bench = Bench::new();
    let text = bench.ok(&["pattern", "learn"]).out;
    let changed = text.replacen("47.00 mm over points", "46.00 mm over points", 1);
    let deeds = deeds(&changed);
    let first = deeds
        .iter()
        .position(|deed| matches!(deed, Deed::Type(..)))
        .unwrap();
    deeds[..first].iter().for_each(|deed| play(&bench, deed));
    let played = std::panic::catch_unwind(|| play(&bench, &deeds[first]));
    assert!(played.is_err());
}
