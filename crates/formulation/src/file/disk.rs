//! The one door to the disk: every call that reads or changes files goes through here.
//!
//! The functions are those of the standard library, each preceded by a question to a
//! [`Watch`] if the thread has one. The program has none; tests set one with [`watched`] to
//! let any call fail, to cut a write short, and to note the order of calls, so that what a
//! crash or a full disk leaves at every moment can be tried out. `clippy.toml` keeps all
//! other modules from calling the file system past this door.
#![expect(
    clippy::disallowed_methods,
    reason = "this is the door that the lint leads everybody to"
)]

use std::cell::RefCell;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Read as _, Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::time::{Duration, Instant, SystemTime};

/// A call to the disk.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the fields are paths and what is done there")]
pub enum Op<'a> {
    /// Asks about a file.
    Look(&'a Path),
    /// Reads a file.
    Read(&'a Path),
    /// Lists a folder.
    List(&'a Path),
    /// Opens a file that is there, for reading and writing.
    Open(&'a Path),
    /// Makes an empty file that must not be there.
    Create(&'a Path),
    /// Writes bytes from an offset.
    Write {
        path: &'a Path,
        offset: u64,
        bytes: &'a [u8],
    },
    /// Cuts or extends a file.
    SetLength { path: &'a Path, length: u64 },
    /// Waits until the content of a file is on the medium.
    Sync(&'a Path),
    /// Waits until the names in a folder are on the medium.
    SyncFolder(&'a Path),
    /// Takes a lock.
    Lock(&'a Path),
    /// Sets permissions or owner.
    Permissions(&'a Path),
    /// Gives a file another name, replacing what has it.
    Rename { from: &'a Path, to: &'a Path },
    /// Gives a file a second name.
    Link { from: &'a Path, to: &'a Path },
    /// Takes a name away.
    Remove(&'a Path),
    /// Makes a folder.
    MakeFolder(&'a Path),
}

/// What becomes of a call.
#[derive(Debug)]
pub enum CallOutcome {
    /// It is made.
    Go,
    /// It fails and does nothing.
    Fail(io::Error),
    /// Of a write, so many bytes are written before it fails; any other call fails.
    Short(usize, io::Error),
}

/// Somebody who is asked before every call to the disk: for tests.
pub trait Watch {
    /// What is to become of the call.
    fn before(&self, op: &Op<'_>) -> CallOutcome;
    /// The call was made and succeeded.
    fn done(&self, op: &Op<'_>);
}

thread_local! {
    static WATCH: RefCell<Option<Rc<dyn Watch>>> = const { RefCell::new(None) };
}

/// Runs something with a watch over the calls that this thread makes meanwhile.
pub fn watched<R>(watch: Rc<dyn Watch>, run: impl FnOnce() -> R) -> R {
    struct Reset(Option<Rc<dyn Watch>>);
    impl Drop for Reset {
        fn drop(&mut self) {
            WATCH.set(self.0.take());
        }
    }
    let _reset = Reset(WATCH.replace(Some(watch)));
    run()
}

fn asked<T>(op: &Op<'_>, call: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
    let Some(watch) = WATCH.with_borrow(Clone::clone) else {
        return call();
    };
    match watch.before(op) {
        CallOutcome::Go => {}
        CallOutcome::Fail(error) | CallOutcome::Short(_, error) => return Err(error),
    }
    let result = call()?;
    watch.done(op);
    Ok(result)
}

/// What kind of thing has a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FileKind {
    /// An ordinary file.
    File,
    /// A folder.
    Folder,
    /// Something that is no file to be kept: what it is, in words.
    Other(&'static str),
}

/// What the disk says about a file.
#[derive(Clone, Debug)]
pub struct FileFacts(Metadata);

impl FileFacts {
    /// What kind of thing it is.
    pub fn kind(&self) -> FileKind {
        let kind = self.0.file_type();
        if kind.is_file() {
            return FileKind::File;
        }
        if kind.is_dir() {
            return FileKind::Folder;
        }
        #[cfg(unix)]
        {
            use std::os::unix::fs::FileTypeExt as _;
            if kind.is_fifo() {
                return FileKind::Other("a pipe");
            }
            if kind.is_socket() {
                return FileKind::Other("a socket");
            }
            if kind.is_char_device() || kind.is_block_device() {
                return FileKind::Other("a device");
            }
        }
        FileKind::Other("no ordinary file")
    }
    /// Its length in bytes.
    pub fn length(&self) -> u64 {
        self.0.len()
    }
    /// When it was last changed, if the system tells.
    pub fn modified(&self) -> Option<SystemTime> {
        self.0.modified().ok()
    }
    /// Whether it is protected from writing by everybody.
    pub fn read_only(&self) -> bool {
        self.0.permissions().readonly()
    }
    /// How many names it has; 1 where the system does not tell.
    pub fn names(&self) -> u64 {
        #[cfg(unix)]
        {
            use std::os::unix::fs::MetadataExt as _;
            self.0.nlink()
        }
        #[cfg(not(unix))]
        1
    }
    /// Whether both speak of the very same file, as far as the system tells.
    pub fn same_file(&self, other: &Self) -> bool {
        #[cfg(unix)]
        {
            use std::os::unix::fs::MetadataExt as _;
            self.0.dev() == other.0.dev() && self.0.ino() == other.0.ino()
        }
        #[cfg(not(unix))]
        {
            let _ = other;
            false
        }
    }
}

/// Whether something of this name is a folder.
pub fn is_folder(path: &Path) -> bool {
    look(path).is_ok_and(|about| about.kind() == FileKind::Folder)
}

/// What the disk says about a file; a link is followed.
pub fn look(path: &Path) -> io::Result<FileFacts> {
    asked(&Op::Look(path), || fs::metadata(path).map(FileFacts))
}

/// Whether something has this name; unknown counts as no.
pub fn is_there(path: &Path) -> bool {
    look(path).is_ok()
}

/// The path with every link followed; as it is if nothing is there.
pub fn followed(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf())
}

/// The entries of a folder, in the order of their names.
pub fn list(folder: &Path) -> io::Result<Vec<PathBuf>> {
    asked(&Op::List(folder), || {
        let mut found = fs::read_dir(folder)?
            .map(|entry| entry.map(|e| e.path()))
            .collect::<io::Result<Vec<_>>>()?;
        found.sort();
        Ok(found)
    })
}

/// Who may read a new file.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Access {
    /// Whoever may by the habits of the machine.
    Usual,
    /// Its owner alone.
    Private,
}

/// Longest time that reading one file may take. A disk far away that answers slower is
/// given up, so that the program does not hang.
const PATIENCE: Duration = Duration::from_mins(1);

/// An open file.
#[derive(Debug)]
pub struct Handle {
    file: File,
    path: PathBuf,
}

impl Handle {
    /// Opens a file for reading.
    pub fn read(path: &Path) -> io::Result<Self> {
        asked(&Op::Read(path), || File::open(path)).map(|file| Self {
            file,
            path: path.into(),
        })
    }

    /// Opens a file that is there for reading and writing; its content stays.
    pub fn open(path: &Path) -> io::Result<Self> {
        asked(&Op::Open(path), || {
            OpenOptions::new().read(true).write(true).open(path)
        })
        .map(|file| Self {
            file,
            path: path.into(),
        })
    }

    /// Makes a file that must not be there.
    pub fn create(path: &Path, access: Access) -> io::Result<Self> {
        let mut options = OpenOptions::new();
        options.read(true).write(true).create_new(true);
        #[cfg(unix)]
        if access == Access::Private {
            use std::os::unix::fs::OpenOptionsExt as _;
            options.mode(0o600);
        }
        #[cfg(not(unix))]
        let _ = access;
        asked(&Op::Create(path), || options.open(path)).map(|file| Self {
            file,
            path: path.into(),
        })
    }

    /// Opens a file whose lock stands for something else, and makes it if it is not there.
    /// What it holds stays, and a link in its place is not followed.
    pub fn lock_file(path: &Path, access: Access) -> io::Result<Self> {
        loop {
            match Self::create(path, access) {
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                made => return made,
            }
            let named = asked(&Op::Look(path), || {
                fs::symlink_metadata(path).map(FileFacts)
            });
            let file = match named {
                Ok(named) if named.kind() == FileKind::File => (Self::open(path), named),
                Ok(_) => {
                    return Err(io::Error::new(
                        io::ErrorKind::InvalidInput,
                        "a link or another thing stands where the lock should be; remove it",
                    ));
                }
                // Taken away meanwhile.
                Err(error) if error.kind() == io::ErrorKind::NotFound => continue,
                Err(error) => return Err(error),
            };
            match file {
                (Ok(file), named) if !cfg!(unix) || file.about()?.same_file(&named) => {
                    return Ok(file);
                }
                (Err(error), _) if error.kind() != io::ErrorKind::NotFound => return Err(error),
                // Another file took its place between looking and opening.
                _ => {}
            }
        }
    }

    /// Whether a lock was given up by whoever had it. A file system that has no locks tells
    /// nothing, so the answer is no there.
    pub fn is_given_up(&self) -> io::Result<bool> {
        asked(&Op::Lock(&self.path), || Ok(self.file.try_lock().is_ok()))
    }

    /// What the disk says about it.
    pub fn about(&self) -> io::Result<FileFacts> {
        asked(&Op::Look(&self.path), || {
            self.file.metadata().map(FileFacts)
        })
    }

    /// Reads from the start, at most `most` bytes.
    pub fn bytes(&mut self, most: u64) -> io::Result<Vec<u8>> {
        let path = self.path.clone();
        asked(&Op::Read(&path), || {
            let until = Instant::now() + PATIENCE;
            self.file.seek(SeekFrom::Start(0))?;
            let mut bytes = Vec::new();
            while (bytes.len() as u64) < most {
                let room = (most - bytes.len() as u64).min(1 << 20);
                if (&mut self.file).take(room).read_to_end(&mut bytes)? == 0 {
                    break;
                }
                if Instant::now() > until {
                    return Err(io::ErrorKind::TimedOut.into());
                }
            }
            Ok(bytes)
        })
    }

    /// Writes bytes from an offset.
    pub fn write(&mut self, offset: u64, bytes: &[u8]) -> io::Result<()> {
        let op = Op::Write {
            path: &self.path,
            offset,
            bytes,
        };
        self.file.seek(SeekFrom::Start(offset))?;
        let Some(watch) = WATCH.with_borrow(Clone::clone) else {
            return self.file.write_all(bytes);
        };
        match watch.before(&op) {
            CallOutcome::Go => {}
            CallOutcome::Fail(error) => return Err(error),
            CallOutcome::Short(most, error) => {
                self.file.write_all(bytes.get(..most).unwrap_or(bytes))?;
                return Err(error);
            }
        }
        self.file.write_all(bytes)?;
        watch.done(&op);
        Ok(())
    }

    /// Cuts or extends it.
    pub fn set_length(&self, length: u64) -> io::Result<()> {
        let op = Op::SetLength {
            path: &self.path,
            length,
        };
        asked(&op, || self.file.set_len(length))
    }

    /// Waits until its content is on the medium.
    pub fn sync(&self) -> io::Result<()> {
        asked(&Op::Sync(&self.path), || self.file.sync_all())
    }

    /// Takes the lock if nobody has it: `false` if somebody has. A file system without locks
    /// counts as free.
    pub fn lock_now(&self) -> io::Result<bool> {
        asked(&Op::Lock(&self.path), || match self.file.try_lock() {
            Ok(()) => Ok(true),
            Err(fs::TryLockError::WouldBlock) => Ok(false),
            Err(fs::TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => {
                Ok(true)
            }
            Err(fs::TryLockError::Error(error)) => Err(error),
        })
    }

    /// Takes the lock, waiting for whoever has it, but no longer than given.
    pub fn lock_within(&self, patience: Duration) -> io::Result<bool> {
        let until = Instant::now() + patience;
        loop {
            if self.lock_now()? {
                return Ok(true);
            }
            if Instant::now() >= until {
                return Ok(false);
            }
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Gives the lock back.
    pub fn unlock(&self) {
        // The end of the program gives it back at the latest.
        let _ = self.file.unlock();
    }

    /// Gives it the permissions and, where the system lets us, owner and group of another
    /// file.
    pub fn resemble(&self, other: &FileFacts) -> io::Result<()> {
        asked(&Op::Permissions(&self.path), || {
            #[cfg(unix)]
            {
                use std::os::unix::fs::{MetadataExt as _, fchown};
                let own = self.file.metadata()?;
                let (user, group) = (other.0.uid(), other.0.gid());
                if (own.uid(), own.gid()) != (user, group)
                    && fchown(&self.file, Some(user), Some(group)).is_err()
                {
                    // Only an administrator gives files away; a group one is in can be kept.
                    let _ = fchown(&self.file, None, Some(group));
                }
            }
            match self.file.set_permissions(other.0.permissions()) {
                // A file system without such permissions loses none.
                Err(e)
                    if matches!(
                        e.kind(),
                        io::ErrorKind::PermissionDenied | io::ErrorKind::Unsupported
                    ) =>
                {
                    Ok(())
                }
                result => result,
            }
        })
    }
}

/// Gives a file another name, replacing what has it.
pub fn rename(from: &Path, to: &Path) -> io::Result<()> {
    asked(&Op::Rename { from, to }, || fs::rename(from, to))
}

/// Gives a file a second name, which must be free.
pub fn link(from: &Path, to: &Path) -> io::Result<()> {
    asked(&Op::Link { from, to }, || fs::hard_link(from, to))
}

/// Takes a file's name away.
pub fn remove(path: &Path) -> io::Result<()> {
    asked(&Op::Remove(path), || fs::remove_file(path))
}

/// Takes a folder away with all in it.
pub fn remove_folder(path: &Path) -> io::Result<()> {
    asked(&Op::Remove(path), || fs::remove_dir_all(path))
}

/// Makes a folder and those above it, as far as they are not there.
pub fn make_folders(path: &Path, access: Access) -> io::Result<()> {
    asked(&Op::MakeFolder(path), || {
        let mut builder = fs::DirBuilder::new();
        builder.recursive(true);
        private_folder(&mut builder, access);
        builder.create(path)
    })
}

/// Makes one folder that must not be there.
pub fn make_folder(path: &Path, access: Access) -> io::Result<()> {
    asked(&Op::MakeFolder(path), || {
        let mut builder = fs::DirBuilder::new();
        private_folder(&mut builder, access);
        builder.create(path)
    })
}

fn private_folder(builder: &mut fs::DirBuilder, access: Access) {
    #[cfg(unix)]
    if access == Access::Private {
        use std::os::unix::fs::DirBuilderExt as _;
        builder.mode(0o700);
    }
    #[cfg(not(unix))]
    let _ = (builder, access);
}

/// Makes new names in a folder last through a power cut, where the system knows how.
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    if !cfg!(unix) {
        return Ok(());
    }
    asked(&Op::SyncFolder(folder), || {
        match File::open(folder).and_then(|f| f.sync_all()) {
            // Some network file systems do not sync folders.
            Err(e)
                if matches!(
                    e.kind(),
                    io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported
                ) =>
            {
                Ok(())
            }
            result => result,
        }
    })
}
