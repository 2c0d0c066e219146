//! The same bytes at every run: in another time zone and locale, on one core, in another folder.

use super::made_up::{bench, cases};
use crate::support::cli::Bench;
use crate::support::cores::on_all_cores;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

/// What people have set, and what nobody expects.
const SETTINGS: [&[(&str, &str)]; 3] = [
    &[
        ("TZ", "Pacific/Kiritimati"),
        ("LC_ALL", "de_DE.UTF-8"),
        ("LANG", "de_DE.UTF-8"),
    ],
    &[
        ("TZ", "America/St_Johns"),
        ("LC_ALL", "C"),
        ("COLUMNS", "40"),
        ("NO_COLOR", "1"),
    ],
    &[
        ("TZ", ""),
        ("LC_ALL", "tr_TR.UTF-8"),
        ("HOME", "/nonexistent"),
        ("CLICOLOR_FORCE", "1"),
    ],
];

/// Answer and files of a run, by their names in the folder; on one core, where so asked for.
fn built(
    bench: &Bench,
    folder: &str,
    settings: &[(&str, &str)],
    one_core: bool,
) -> (String, BTreeMap<String, Vec<u8>>) {
    let arguments = ["build", "job.toml", "-o", folder, "--format", "json"];
    let mut command = bench.command(&arguments);
    if one_core {
        let program = command.get_program().to_owned();
        let mut bound = Command::new("taskset");
        bound
            .args(["-c", "0"])
            .arg(program)
            .args(arguments)
            .current_dir(bench.path(""));
        command = bound;
    }
    let output = command.envs(settings.iter().copied()).output().unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{told}");
    let inside = |path: &Path| {
        Some(
            path.strip_prefix(bench.path(folder))
                .ok()?
                .to_str()?
                .to_owned(),
        )
    };
    let files = bench
        .contents()
        .into_iter()
        .filter_map(|(path, content)| Some((inside(&path)?, content?)));
    (String::from_utf8(output.stdout).unwrap(), files.collect())
}

#[test]
fn every_run_writes_the_same_bytes() {
    let cases = cases(6);
    on_all_cores(&cases[1..4], |case| {
        let [first, second] = [bench(case), bench(case)];
        let plain = built(&first, "out", &[], false);
        assert!(plain.1.len() > 8, "{}", case.name);
        for (at, settings) in SETTINGS.iter().enumerate() {
            let folder = ["out", "another folder", "d\u{fc}nn"][at];
            let other = built(&second, folder, settings, at != 1);
            assert_eq!(plain.0, other.0, "{}: {settings:?}", case.name);
            for (name, content) in &plain.1 {
                assert!(
                    other.1.get(name) == Some(content),
                    "{}: {name} differs with {settings:?}",
                    case.name
                );
            }
            assert_eq!(plain.1.len(), other.1.len());
        }
    });
}
