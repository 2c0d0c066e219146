//! Files written whole or not at all.

use super::{stopping, temporary};
use crate::inputs::{Inputs, NotRewritten};
use std::fs;
use std::io::{self, BufRead, BufReader, Seek, Write};
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;
use tempfile::{SpooledTempFile, TempPath};

/// Files that get their names together, once all of them are complete on the disk.
#[derive(Debug)]
pub struct FileBatch<'a> {
    inputs: &'a Inputs,
    files: Vec<PendingFile>,
    /// Folders that were made for them, the outermost first.
    made: Vec<PathBuf>,
    /// From the first of them on; the last to be dropped.
    begun: Option<stopping::Begun>,
}

/// A file that is complete and has not got its name.
#[derive(Debug)]
struct PendingFile {
    path: PathBuf,
    file: TempPath,
}

/// What a file is to hold.
#[derive(Debug)]
pub enum Content {
    /// All of it, at hand.
    Whole(Vec<u8>),
    /// Text of any length.
    Spooled(Spool),
}

/// Text of any length, kept out of memory where it is long.
#[derive(Debug)]
pub struct Spool {
    text: SpooledTempFile,
    /// Bytes.
    length: u64,
}

/// Text longer than this is kept in a temporary file, bytes.
const MOST_IN_MEMORY: usize = 1 << 20;

impl Spool {
    /// Text as a writer hands it on.
    ///
    /// # Errors
    /// Those of the writer, and of the temporary file.
    pub fn of(write: impl FnOnce(&mut SpooledTempFile) -> io::Result<()>) -> io::Result<Spool> {
        let mut text = SpooledTempFile::new(MOST_IN_MEMORY);
        write(&mut text)?;
        let length = text.stream_position()?;
        Ok(Spool { text, length })
    }

    /// The text, from its beginning.
    ///
    /// # Errors
    /// Those of the temporary file.
    pub fn reader(&mut self) -> io::Result<impl BufRead + Seek> {
        self.text.rewind()?;
        Ok(BufReader::new(&mut self.text))
    }

    fn copy_to(mut self, file: &mut impl Write) -> io::Result<()> {
        self.text.rewind()?;
        let copied = io::copy(&mut self.text, file)?;
        if copied == self.length {
            Ok(())
        } else {
            Err(io::ErrorKind::UnexpectedEof.into())
        }
    }
}

impl From<Vec<u8>> for Content {
    fn from(bytes: Vec<u8>) -> Self {
        Content::Whole(bytes)
    }
}

impl From<Spool> for Content {
    fn from(spool: Spool) -> Self {
        Content::Spooled(spool)
    }
}

impl Content {
    /// Bytes.
    pub fn length(&self) -> u64 {
        match self {
            Content::Whole(bytes) => bytes.len() as u64,
            Content::Spooled(spool) => spool.length,
        }
    }

    /// Hands all of it on.
    ///
    /// # Errors
    /// Those of whoever takes it, and of the temporary file.
    pub fn copy_to(self, file: &mut impl Write) -> io::Result<()> {
        match self {
            Content::Whole(bytes) => file.write_all(&bytes),
            Content::Spooled(spool) => spool.copy_to(file),
        }
    }
}

/// Why files were not written.
#[derive(Debug)]
pub enum WriteError {
    /// One of them cannot be.
    Refused {
        /// Which.
        path: PathBuf,
        /// What is wrong, in words.
        message: String,
    },
    /// Somebody ended the run (Ctrl-C, or the system).
    Stopped,
}

impl WriteError {
    fn refused(path: &Path, message: impl Into<String>) -> WriteError {
        WriteError::Refused {
            path: path.to_owned(),
            message: message.into(),
        }
    }
}

impl<'a> FileBatch<'a> {
    /// A batch that refuses to overwrite any of the run's inputs.
    pub fn new(inputs: &'a Inputs) -> Self {
        FileBatch {
            inputs,
            files: Vec::new(),
            made: Vec::new(),
            begun: None,
        }
    }

    /// Makes a folder where there is none; it goes again where the batch comes to nothing.
    ///
    /// # Errors
    /// Where an input or another file has its name, or it cannot be made.
    pub fn folder(&mut self, path: &Path) -> Result<(), WriteError> {
        self.spare_inputs(path)?;
        self.begin();
        let missing = path.ancestors().filter(|part| !part.as_os_str().is_empty());
        let missing: Vec<&Path> = missing.take_while(|part| !part.exists()).collect();
        let made = fs::create_dir_all(path);
        self.made
            .extend(missing.into_iter().rev().map(Path::to_owned));
        made.map_err(|error| WriteError::refused(path, error.to_string()))
    }

    /// Whether a file may be written: [`FileBatch::add`] asks again, but long work need not come first.
    ///
    /// # Errors
    /// Where it is an input.
    pub fn spare_inputs(&self, path: &Path) -> Result<(), WriteError> {
        self.inputs.may_write(path).map_err(|told| {
            let what = told.kind.words();
            let message = if told.input == path {
                format!("this is {what}; an input is never overwritten: give another name")
            } else {
                format!(
                    "this is the same file as {}, {what}; an input is never overwritten: give another name",
                    told.input.display()
                )
            };
            WriteError::refused(path, message)
        })
    }

    /// Whether a file may get this name, as far as it can be known before all inputs are read: not that of
    /// an input, a folder or a device.
    ///
    /// # Errors
    /// Where it may not.
    pub fn may_be_named(&self, path: &Path) -> Result<(), WriteError> {
        self.spare_inputs(path)?;
        is_no_folder(path)
    }

    /// Writes a file's content beside its place under a temporary name and syncs it to the disk.
    ///
    /// # Errors
    /// Where the place is an input, a folder, a link, or cannot be written.
    pub fn add(&mut self, path: &Path, content: impl Into<Content>) -> Result<(), WriteError> {
        self.spare_inputs(path)?;
        self.place(path, content)
    }

    /// The same for a profile that was read in this run and is to be changed where it is: the one input
    /// that is ever overwritten.
    ///
    /// # Errors
    /// Where it is not such a profile ([`Inputs::may_rewrite`]), a link, or cannot be written.
    pub fn rewrite(&mut self, path: &Path, content: impl Into<Content>) -> Result<(), WriteError> {
        self.inputs.may_rewrite(path).map_err(|why| {
            let message = match why {
                NotRewritten::NotRead => "this is not the profile that was read".into(),
                NotRewritten::IsAnother(kind) => {
                    format!("this is {} as well; it is never overwritten", kind.words())
                }
                NotRewritten::Changed => {
                    "this was changed by somebody else since it was read; ask again".into()
                }
            };
            WriteError::refused(path, message)
        })?;
        self.place(path, content)
    }

    /// From now on a signal is waited with until the batch is done or dropped.
    fn begin(&mut self) {
        stopping::listen();
        self.begun.get_or_insert_with(stopping::Begun::now);
    }

    fn place(&mut self, path: &Path, content: impl Into<Content>) -> Result<(), WriteError> {
        self.begin();
        if stopping::is_asked() {
            return Err(WriteError::Stopped);
        }
        if self.files.iter().any(|known| known.path == path) {
            return Err(WriteError::refused(path, "two outputs have the same name"));
        }
        is_no_folder(path)?;
        is_no_link(path)?;
        // A temporary file in the folder where it is to get its name: only there is a rename one step.
        let file = temporary::written(folder(path), |file| content.into().copy_to(file))
            .map_err(|error| WriteError::refused(path, plain(&error)))?;
        self.files.push(PendingFile {
            path: path.to_owned(),
            file,
        });
        Ok(())
    }

    /// Gives every file its name. Each is replaced in one step: whoever looks, or whatever kills
    /// the program, finds the old file or the new one. What killed runs left in their folders goes.
    ///
    /// # Errors
    /// Where a rename fails; files named before it stay. Where somebody ended the run before the first one.
    pub fn commit(mut self) -> Result<(), WriteError> {
        if stopping::is_asked() {
            return Err(WriteError::Stopped);
        }
        stopping::is_written();
        let files = std::mem::take(&mut self.files);
        let mut folders: Vec<PathBuf> =
            files.iter().map(|file| folder(&file.path).into()).collect();
        folders.sort();
        folders.dedup();
        // Held until all have their names: of two runs into one folder the last one's files lie there,
        // not some of each.
        let _turns: Vec<Option<fs::File>> = folders.iter().map(|folder| turn(folder)).collect();
        for PendingFile { path, file } in files {
            file.persist(&path)
                .map_err(|error| WriteError::refused(&path, error.error.to_string()))?;
        }
        for folder in &folders {
            temporary::clear(folder);
            if let Ok(folder) = fs::File::open(folder) {
                // Not every file system can sync a folder; the files themselves are on the disk already.
                let _ = folder.sync_all();
            }
        }
        self.made.clear();
        Ok(())
    }
}

/// What the system says, without the name of a temporary file, which nobody gave.
fn plain(error: &io::Error) -> String {
    let text = error.to_string();
    // As `tempfile` adds it.
    match text.split_once(" at path \"") {
        Some((what, _)) => what.to_owned(),
        None => text,
    }
}

/// Waits until no other run names files in a folder, and keeps others waiting. Where a system has no locks for
/// folders, or somebody holds one for longer than naming takes, the run goes on without.
fn turn(folder: &Path) -> Option<fs::File> {
    let handle = fs::File::open(folder).ok()?;
    for _ in 0..200 {
        match handle.try_lock() {
            Ok(()) => return Some(handle),
            Err(fs::TryLockError::WouldBlock) => sleep(Duration::from_millis(10)),
            Err(fs::TryLockError::Error(_)) => return None,
        }
    }
    None
}

fn is_no_folder(path: &Path) -> Result<(), WriteError> {
    let taken = fs::metadata(path).is_ok_and(|there| !there.is_file());
    if taken || path.file_name().is_none() {
        let message = "this is a folder or a device; give the name of a file";
        return Err(WriteError::refused(path, message));
    }
    Ok(())
}

fn is_no_link(path: &Path) -> Result<(), WriteError> {
    // The new file would take the link's place, and what it leads to would stay the old one.
    if path.is_symlink() {
        let message = "this is a link; give the name of the file itself";
        return Err(WriteError::refused(path, message));
    }
    Ok(())
}

impl Drop for FileBatch<'_> {
    /// Temporary files go by themselves, then the folders made for them, as far as they are empty.
    fn drop(&mut self) {
        self.files.clear();
        for folder in self.made.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
}

/// The text that an earlier run left in a file which is about to be replaced; nothing where there is
/// none. No figure depends on it, so it is no input.
pub fn written_before(path: &Path) -> Option<String> {
    fs::read_to_string(path).ok()
}

fn folder(path: &Path) -> &Path {
    path.parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inputs::InputKind;
    use std::io::Read;

    #[test]
    fn inputs_are_never_overwritten_and_nothing_appears_before_the_end() {
        let folder = tempfile::tempdir().unwrap();
        let input = folder.path().join("job.toml");
        let output = folder.path().join("out.nc");
        fs::write(&input, "x").unwrap();
        let inputs = Inputs::default();
        inputs.read(&input, InputKind::Job, 100).unwrap();
        let mut batch = FileBatch::new(&inputs);
        assert!(
            batch
                .add(&folder.path().join("./job.toml"), b"y".to_vec())
                .is_err()
        );
        batch.add(&output, b"y".to_vec()).unwrap();
        assert!(!output.exists());
        batch.commit().unwrap();
        assert_eq!(fs::read(&output).unwrap(), b"y");
        assert_eq!(fs::read(&input).unwrap(), b"x");
    }

    #[test]
    fn long_text_comes_out_as_it_went_in() {
        let folder = tempfile::tempdir().unwrap();
        for count in [0, 10, MOST_IN_MEMORY] {
            let path = folder.path().join(count.to_string());
            let mut spool =
                Spool::of(|out| (0..count).try_for_each(|at| write!(out, "{}", at % 10))).unwrap();
            assert_eq!(spool.length, count as u64);
            // Whoever reads it first leaves it somewhere in the middle.
            let mut start = [0; 3];
            let read = spool.reader().unwrap().read(&mut start).unwrap();
            assert_eq!(start[..read], b"012"[..read]);
            let inputs = Inputs::default();
            let mut batch = FileBatch::new(&inputs);
            batch.add(&path, spool).unwrap();
            batch.commit().unwrap();
            let wanted: String = (0..count).map(|at| (at % 10).to_string()).collect();
            assert!(fs::read(&path).unwrap() == wanted.as_bytes(), "{count}");
        }
    }

    #[test]
    #[cfg(unix)]
    fn runs_take_turns_at_naming_files_in_a_folder() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a");
        let held = turn(folder.path()).unwrap();
        std::thread::scope(|scope| {
            let other = scope.spawn(|| {
                let inputs = Inputs::default();
                let mut batch = FileBatch::new(&inputs);
                batch.add(&path, b"y".to_vec()).unwrap();
                batch.commit().unwrap();
            });
            sleep(Duration::from_millis(200));
            assert!(!path.exists());
            drop(held);
            other.join().unwrap();
        });
        assert!(path.exists());
    }

    #[test]
    fn a_batch_that_is_dropped_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let inputs = Inputs::default();
        let mut batch = FileBatch::new(&inputs);
        batch.add(&folder.path().join("a"), b"y".to_vec()).unwrap();
        let inner = folder.path().join("b/c");
        batch.folder(&inner).unwrap();
        batch.add(&inner.join("d"), b"y".to_vec()).unwrap();
        drop(batch);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }
}
