//! Temporary files beside the places where they are to get their names, and those that a killed run left.

use std::fs;
use std::io::{self, Write};
use std::path::Path;
use tempfile::TempPath;

/// What their names begin with; the run that writes them follows, then something by chance.
const PREFIX: &str = ".lapwright-";

/// And what they end with.
const SUFFIX: &str = ".part";

/// A complete file without its name yet, on the disk and closed: however many there are, none holds a place
/// among the files that a run may have open. It goes when it is dropped.
///
/// # Errors
/// Those of the disk, and of whoever writes.
pub(super) fn written(
    folder: &Path,
    write: impl FnOnce(&mut fs::File) -> io::Result<()>,
) -> io::Result<TempPath> {
    let prefix = format!("{PREFIX}{}-", Run::this().name());
    let mut file = tempfile::Builder::new()
        .prefix(&prefix)
        .suffix(SUFFIX)
        .tempfile_in(folder)?;
    write(file.as_file_mut())?;
    set_usual_permissions(file.as_file());
    file.flush()?;
    file.as_file().sync_all()?;
    Ok(file.into_temp_path())
}

/// Removes from a folder what runs left that were killed while they wrote: files of such a name whose run
/// was on this machine and is no more. Where that cannot be told they stay.
pub(super) fn clear(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let run = name.to_str().and_then(Run::of_file);
        let plain = entry.file_type().is_ok_and(|kind| kind.is_file());
        if plain && run.is_some_and(|run| run.is_over()) {
            // Another run may have been quicker.
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// A run of the program: the machine that it is on, and its process there.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Run {
    /// Letters and digits of the machine's name, the same on each run on it.
    machine: String,
    process: u32,
}

impl Run {
    fn this() -> Run {
        Run {
            machine: machine(),
            process: std::process::id(),
        }
    }

    fn name(&self) -> String {
        format!("{}-{}", self.machine, self.process)
    }

    /// The run that wrote a temporary file, by its name; none for any other file.
    fn of_file(name: &str) -> Option<Run> {
        let middle = name.strip_prefix(PREFIX)?.strip_suffix(SUFFIX)?;
        let mut parts = middle.split('-');
        let machine = parts.next()?.to_owned();
        let process = parts.next()?.parse().ok()?;
        let by_chance = parts.next()?;
        let plain =
            |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_alphanumeric());
        let known = plain(&machine) && plain(by_chance) && parts.next().is_none();
        known.then_some(Run { machine, process })
    }

    /// Whether it is known to be over.
    fn is_over(&self) -> bool {
        self.machine == machine() && !is_running(self.process)
    }
}

/// Letters and digits that stand for this machine: files may lie on a disk that others write to as well.
fn machine() -> String {
    machine_name()
        .bytes()
        .filter(u8::is_ascii_alphanumeric)
        .take(40)
        .map(char::from)
        .collect::<String>()
        + "x"
}

#[cfg(unix)]
fn machine_name() -> String {
    rustix::system::uname()
        .nodename()
        .to_string_lossy()
        .into_owned()
}

#[cfg(not(unix))]
fn machine_name() -> String {
    String::new()
}

/// Whether a process may be there: one of another user is, though it may not be asked.
#[cfg(unix)]
fn is_running(process: u32) -> bool {
    let process = i32::try_from(process).ok();
    let Some(process) = process.and_then(rustix::process::Pid::from_raw) else {
        return true;
    };
    rustix::process::test_kill_process(process) != Err(rustix::io::Errno::SRCH)
}

#[cfg(not(unix))]
fn is_running(_: u32) -> bool {
    true
}

/// Temporary files are made readable by their owner only; results are ordinary files.
#[cfg(unix)]
fn set_usual_permissions(file: &fs::File) {
    use std::os::unix::fs::PermissionsExt;
    let _ = file.set_permissions(fs::Permissions::from_mode(0o644));
}

#[cfg(not(unix))]
fn set_usual_permissions(_: &fs::File) {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_files_of_runs_that_are_over_are_cleared() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        // No process has so high a number: Linux ends at 4194304, others sooner.
        let over = format!(".lapwright-{}-2147483646-AbC123.part", machine());
        let kept = [
            format!(
                ".lapwright-{}-{}-AbC123.part",
                machine(),
                std::process::id()
            ),
            ".lapwright-elsewherex-2147483646-AbC123.part".into(),
            format!(".lapwright-{}-2147483646-AbC123", machine()),
            format!(".lapwright-{}-2147483646-a-b.part", machine()),
            format!("x.lapwright-{}-2147483646-AbC123.part", machine()),
            format!(".lapwright-{}-0-AbC123.part", machine()),
            "panel.nc".into(),
        ];
        for name in kept.iter().chain([&over]) {
            fs::write(at(name), "x").unwrap();
        }
        let folder_like = at(&format!(".lapwright-{}-2147483646-folder.part", machine()));
        fs::create_dir(&folder_like).unwrap();
        clear(folder.path());
        assert_eq!(at(&over).exists(), !cfg!(unix));
        assert!(folder_like.exists());
        for name in &kept {
            assert!(at(name).exists(), "{name}");
        }
    }

    #[test]
    fn a_temporary_file_says_whose_it_is() {
        let folder = tempfile::tempdir().unwrap();
        let file = written(folder.path(), |file| file.write_all(b"x")).unwrap();
        let name = file.file_name().unwrap().to_str().unwrap();
        assert_eq!(Run::of_file(name), Some(Run::this()));
        assert!(!Run::this().is_over());
        clear(folder.path());
        assert_eq!(fs::read(&file).unwrap(), b"x");
    }
}
