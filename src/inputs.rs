//! The files that a run reads. None of them is ever overwritten, by whatever name it is called; but for one
//! that somebody asked to be changed, a profile ([`Inputs::may_rewrite`]).

use std::cell::RefCell;
use std::fs::{self, Metadata};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// Every input of a run. Whoever reads a file reads it from here, and whoever writes one asks here
/// first, so that no command can forget either.
#[derive(Debug, Default)]
pub struct Inputs {
    known: RefCell<Vec<Input>>,
    /// Every path that was asked for, whether there was a file or not, and what the run found in it.
    states: RefCell<Vec<(PathBuf, State)>>,
    /// What came over standard input, once it was asked for: it comes only once.
    standard: RefCell<Option<Vec<u8>>>,
}

/// The path that stands for standard input.
pub const STANDARD_INPUT: &str = "-";

/// What a file holds at some time, to be compared with another time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// There is none, or it cannot be read.
    Missing,
    /// Of these bytes.
    Holds {
        /// How many.
        length: u64,
        /// All of them, as one number.
        hash: u64,
    },
}

impl State {
    /// What a file holds now. Nothing is read from what is none: a pipe waits for ever, a device has no end.
    pub fn of(path: &Path) -> State {
        if !fs::metadata(path).is_ok_and(|about| about.is_file()) {
            return State::Missing;
        }
        let held = fs::File::open(path).and_then(State::of_all);
        held.unwrap_or(State::Missing)
    }

    /// In parts of one length, wherever they come from: then the same bytes give the same number.
    fn of_all(mut source: impl Read) -> io::Result<State> {
        const PART: u64 = 1 << 16;
        let mut hasher = DefaultHasher::new();
        let mut length = 0;
        let mut part = Vec::new();
        loop {
            part.clear();
            let count = source.by_ref().take(PART).read_to_end(&mut part)?;
            if count == 0 {
                let hash = hasher.finish();
                return Ok(State::Holds { length, hash });
            }
            part.hash(&mut hasher);
            length += count as u64;
        }
    }
}

/// What an input is to the run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InputKind {
    /// A panel's design.
    Job,
    /// A machine's profile.
    Profile,
    /// A pattern of pieces.
    Pattern,
    /// A program or drawing that is proved.
    Proved,
    /// Readings from test pieces.
    Readings,
}

/// A file that is read, or that one that was read names.
#[derive(Debug)]
struct Input {
    kind: InputKind,
    /// As the person at the bench called it.
    path: PathBuf,
    identity: Identity,
}

/// Why an input gives no bytes.
#[derive(Debug)]
pub enum Unread {
    /// It cannot be opened or read.
    Io(io::Error),
    /// It is a folder or a device, or larger than anybody expects.
    NoFile,
}

/// Why a profile is not written anew where it was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotRewritten {
    /// The run did not read it as a profile under this name.
    NotRead,
    /// It is another input of the run as well.
    IsAnother(InputKind),
    /// Its file holds something else than what was read.
    Changed,
}

/// A file that must not be written.
#[derive(Debug)]
pub struct Overwrites {
    /// What it is to the run.
    pub kind: InputKind,
    /// What the run knows it by, which need not be the name that was to be written.
    pub input: PathBuf,
}

impl InputKind {
    /// In words, after "this is".
    pub fn words(self) -> &'static str {
        match self {
            InputKind::Job => "the job",
            InputKind::Profile => "a machine's profile",
            InputKind::Pattern => "the pattern",
            InputKind::Proved => "the program or drawing that is proved",
            InputKind::Readings => "the file of readings",
        }
    }
}

impl Inputs {
    /// A file's bytes, at most `most` of them. From now on it is an input.
    ///
    /// # Errors
    /// [`Unread`].
    pub fn read(&self, path: &Path, kind: InputKind, most: u64) -> Result<Vec<u8>, Unread> {
        if path == Path::new(STANDARD_INPUT) {
            return self.standard_input(most);
        }
        let read = self.bytes(path, kind, most);
        let state = match &read {
            Ok(bytes) => State::of_all(bytes.as_slice()).unwrap_or(State::Missing),
            Err(Unread::Io(_)) => State::Missing,
            Err(Unread::NoFile) => State::of(path),
        };
        self.saw(path, state);
        read
    }

    fn standard_input(&self, most: u64) -> Result<Vec<u8>, Unread> {
        let mut standard = self.standard.borrow_mut();
        if standard.is_none() {
            let mut bytes = Vec::new();
            let mut input = io::stdin().lock().take(most + 1);
            input.read_to_end(&mut bytes).map_err(Unread::Io)?;
            *standard = Some(bytes);
        }
        let bytes = standard.clone().unwrap_or_default();
        if bytes.len() as u64 > most {
            return Err(Unread::NoFile);
        }
        Ok(bytes)
    }

    fn bytes(&self, path: &Path, kind: InputKind, most: u64) -> Result<Vec<u8>, Unread> {
        let about = fs::metadata(path).map_err(Unread::Io)?;
        if !about.is_file() || about.len() > most {
            return Err(Unread::NoFile);
        }
        self.add(path, kind, &about);
        // It may grow, or another one take its place, while it is read.
        let mut bytes = Vec::new();
        let file = fs::File::open(path).map_err(Unread::Io)?;
        let read = file.take(most + 1).read_to_end(&mut bytes);
        read.map_err(Unread::Io)?;
        if bytes.len() as u64 > most {
            return Err(Unread::NoFile);
        }
        Ok(bytes)
    }

    /// Every path that was asked for, and what the run found there: what was read in it, else what it
    /// held when it was named. Whoever looks later and finds something else has an input that changed.
    pub fn states(&self) -> Vec<(PathBuf, State)> {
        self.states.borrow().clone()
    }

    /// What was read last counts.
    fn saw(&self, path: &Path, state: State) {
        let mut states = self.states.borrow_mut();
        match states.iter_mut().find(|(known, _)| known == path) {
            Some((_, known)) => *known = state,
            None => states.push((path.to_owned(), state)),
        }
    }

    /// Takes in a file that an input names, whether it is going to be read or not.
    pub fn named(&self, path: &Path, kind: InputKind) {
        self.saw(path, State::of(path));
        if let Ok(about) = fs::metadata(path)
            && about.is_file()
        {
            self.add(path, kind, &about);
        }
    }

    fn add(&self, path: &Path, kind: InputKind, about: &Metadata) {
        self.known.borrow_mut().push(Input {
            kind,
            path: path.to_owned(),
            identity: Identity::of(path, about),
        });
    }

    /// Whether a file may be written: not where it is an input, by this or another name or link.
    ///
    /// # Errors
    /// [`Overwrites`], with the name that the run has for it.
    pub fn may_write(&self, path: &Path) -> Result<(), Overwrites> {
        // What is not there yet is no input.
        let Ok(about) = fs::metadata(path) else {
            return Ok(());
        };
        let identity = Identity::of(path, &about);
        let known = self.known.borrow();
        match known.iter().find(|input| input.identity.is(&identity)) {
            Some(input) => Err(Overwrites {
                kind: input.kind,
                input: input.path.clone(),
            }),
            None => Ok(()),
        }
    }

    /// Whether a profile may be written anew: it was read as one in this run under this very name, is no
    /// other input of it, and its file still holds what was read. Whoever asks was told to change it.
    ///
    /// # Errors
    /// [`NotRewritten`].
    pub fn may_rewrite(&self, path: &Path) -> Result<(), NotRewritten> {
        let about = fs::metadata(path).map_err(|_| NotRewritten::Changed)?;
        let identity = Identity::of(path, &about);
        let known = self.known.borrow();
        let same = || known.iter().filter(|input| input.identity.is(&identity));
        if let Some(other) = same().find(|input| input.kind != InputKind::Profile) {
            return Err(NotRewritten::IsAnother(other.kind));
        }
        if !same().any(|input| input.path == path) {
            return Err(NotRewritten::NotRead);
        }
        let states = self.states.borrow();
        let read = states.iter().find(|(known, _)| known == path);
        match read {
            Some((_, state)) if *state == State::of(path) => Ok(()),
            _ => Err(NotRewritten::Changed),
        }
    }
}

/// What tells a file from all others, whatever it is called.
#[derive(Debug)]
struct Identity {
    /// Device and number on it, where the system has these: two names of one file, hard links, have
    /// them in common.
    number: Option<(u64, u64)>,
    /// The path without links and detours. It stays the same where a file is replaced by another
    /// while the program runs, as many editors do.
    place: Option<PathBuf>,
}

impl Identity {
    fn of(path: &Path, about: &Metadata) -> Self {
        Identity {
            number: number(about),
            place: fs::canonicalize(path).ok(),
        }
    }

    fn is(&self, other: &Identity) -> bool {
        let same_number = self.number.is_some() && self.number == other.number;
        same_number || self.place.is_some() && self.place == other.place
    }
}

#[cfg(unix)]
#[allow(clippy::unnecessary_wraps)] // other systems have none
fn number(about: &Metadata) -> Option<(u64, u64)> {
    use std::os::unix::fs::MetadataExt;
    Some((about.dev(), about.ino()))
}

#[cfg(not(unix))]
fn number(_: &Metadata) -> Option<(u64, u64)> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_read_or_named_may_not_be_written_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for name in ["job.toml", "mine.toml", "other.toml"] {
            fs::write(path(name), name).unwrap();
        }
        let inputs = Inputs::default();
        let bytes = inputs.read(&path("job.toml"), InputKind::Job, 100).unwrap();
        assert_eq!(bytes, b"job.toml");
        inputs.named(&path("mine.toml"), InputKind::Profile);
        inputs.named(&path("none.toml"), InputKind::Profile);
        let refused = |name: &str| inputs.may_write(&path(name)).err().map(|told| told.kind);
        assert_eq!(refused("job.toml"), Some(InputKind::Job));
        assert_eq!(refused("./job.toml"), Some(InputKind::Job));
        assert_eq!(refused("mine.toml"), Some(InputKind::Profile));
        assert_eq!(refused("other.toml"), None);
        assert_eq!(refused("none.toml"), None);
        // An editor that saves by renaming puts another file in its place.
        fs::rename(path("other.toml"), path("job.toml")).unwrap();
        assert_eq!(refused("job.toml"), Some(InputKind::Job));
    }

    #[test]
    fn a_profile_may_be_written_anew_where_it_was_read_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for name in ["job.toml", "mine.toml", "other.toml", "both.toml"] {
            fs::write(path(name), name).unwrap();
        }
        let inputs = Inputs::default();
        let read = |name: &str, kind| drop(inputs.read(&path(name), kind, 100).unwrap());
        read("job.toml", InputKind::Job);
        read("mine.toml", InputKind::Profile);
        read("both.toml", InputKind::Profile);
        read("both.toml", InputKind::Readings);
        let asked = |name: &str| inputs.may_rewrite(&path(name)).err();
        assert_eq!(asked("mine.toml"), None);
        assert!(inputs.may_write(&path("mine.toml")).is_err());
        assert_eq!(asked("other.toml"), Some(NotRewritten::NotRead));
        assert_eq!(
            asked("job.toml"),
            Some(NotRewritten::IsAnother(InputKind::Job))
        );
        assert_eq!(
            asked("both.toml"),
            Some(NotRewritten::IsAnother(InputKind::Readings))
        );
        fs::write(path("mine.toml"), "edited").unwrap();
        assert_eq!(asked("mine.toml"), Some(NotRewritten::Changed));
        fs::remove_file(path("mine.toml")).unwrap();
        assert_eq!(asked("mine.toml"), Some(NotRewritten::Changed));
    }

    #[test]
    fn what_changed_since_it_was_read_is_seen() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        fs::write(path("job.toml"), "a").unwrap();
        fs::write(path("mine.toml"), "a").unwrap();
        let inputs = Inputs::default();
        inputs.read(&path("job.toml"), InputKind::Job, 100).unwrap();
        inputs.named(&path("mine.toml"), InputKind::Profile);
        inputs.named(&path("later.toml"), InputKind::Pattern);
        assert!(
            inputs
                .read(&path("gone.toml"), InputKind::Pattern, 100)
                .is_err()
        );
        let changed = || {
            let states = inputs.states().into_iter();
            let changed = states.filter(|(path, state)| State::of(path) != *state);
            let names = changed.map(|(path, _)| path.file_name().unwrap().to_owned());
            names
                .map(|name| name.into_string().unwrap())
                .collect::<Vec<_>>()
        };
        assert_eq!(changed(), Vec::<String>::new());
        // The same length, and within the grain of any clock.
        fs::write(path("job.toml"), "b").unwrap();
        fs::write(path("gone.toml"), "").unwrap();
        assert_eq!(changed(), ["job.toml", "gone.toml"]);
        fs::write(path("job.toml"), "a").unwrap();
        fs::write(path("later.toml"), "x").unwrap();
        fs::remove_file(path("mine.toml")).unwrap();
        assert_eq!(changed(), ["mine.toml", "later.toml", "gone.toml"]);
    }

    #[test]
    fn folders_and_long_files_are_not_read() {
        let folder = tempfile::tempdir().unwrap();
        let inputs = Inputs::default();
        let read = |path: &Path, most| inputs.read(path, InputKind::Job, most);
        assert!(matches!(read(folder.path(), 100), Err(Unread::NoFile)));
        let path = folder.path().join("a");
        assert!(matches!(read(&path, 100), Err(Unread::Io(_))));
        fs::write(&path, "1234").unwrap();
        assert!(matches!(read(&path, 3), Err(Unread::NoFile)));
        assert_eq!(read(&path, 4).unwrap(), b"1234");
    }
}
