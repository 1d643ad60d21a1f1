//! Detached signatures of finished formulas and closed batch records, in the format of
//! minisign: `NAME.minisig` beside the file, checked by this program and by any other that
//! knows the format.
//!
//! A checksum shows that a file was changed; a signature shows besides that whoever holds the
//! secret key has signed these very bytes. It does not show when: the time in it is what the
//! clock of the signer said. It does not show that what the file says is true.
//!
//! Keys are made here and kept by the maker. The secret key is a file that only its owner can
//! read, with or without a password; whoever gets hold of it can sign in the maker's name.

use std::io::Cursor;
use std::path::{Path, PathBuf};

use minisign::{KeyPair, PublicKey, PublicKeyBox, SecretKeyBox, SignatureBox};

use super::store::{self, Expect, Readers, StoreError};
use super::{FileError, disk, finished, record_file};

/// Ending of the secret key.
pub const SECRET: &str = "key";
/// Ending of the public key, which others check with.
pub const PUBLIC: &str = "pub";

/// Why nothing was signed or checked.
#[derive(Debug, thiserror::Error)]
pub enum SignError {
    /// A file could not be read or written.
    #[error(transparent)]
    File(#[from] FileError),
    /// The key cannot be used.
    #[error("the key cannot be used: {cause} ({})", .path.display())]
    Key {
        /// The file of the key.
        path: PathBuf,
        /// What is wrong with it.
        cause: String,
    },
    /// The key has a password, and none or another was given.
    #[error("the key has a password, and none or another was given ({})", .0.display())]
    Password(PathBuf),
    /// Neither a finished formula nor a closed record, or one that is not sound.
    #[error("{why}; nothing was signed ({})", .path.display())]
    NotToBeSigned {
        /// The file.
        path: PathBuf,
        /// What is wrong.
        why: String,
    },
    /// The signature cannot be read.
    #[error("this is no signature of the minisign format: {cause} ({})", .path.display())]
    NoSignature {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        cause: String,
    },
    /// A name that cannot be that of a file in the folder of keys.
    #[error("“{0}” is no name for keys; take letters, digits and dashes")]
    Name(String),
    /// The system gave no random numbers, or the like.
    #[error("the keys could not be made: {0}")]
    Make(String),
}

impl From<StoreError> for SignError {
    fn from(error: StoreError) -> Self {
        Self::File(error.into())
    }
}

/// What a signature says of a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum SignatureCheck {
    /// These bytes were signed with the secret key that belongs to the public one.
    Holds {
        /// Name of the key, as hexadecimal digits.
        key: String,
        /// What was signed along: the time by the signer's clock and the name of the file.
        comment: String,
    },
    /// The signature was made with another key.
    OtherKey,
    /// Made with this key, but not of these bytes.
    Changed,
}

impl SignatureCheck {
    /// Whether it holds.
    pub const fn holds(&self) -> bool {
        matches!(self, Self::Holds { .. })
    }

    /// What it says, in a sentence.
    pub fn words(&self) -> String {
        match self {
            Self::Holds { key, comment } => format!(
                "The signature holds: these very bytes were signed with the key {key} ({}). The time is that of the signer's clock; that the content is true is not shown by it.",
                comment_words(comment)
            ),
            Self::OtherKey => "The signature was made with another key than this one.".to_owned(),
            Self::Changed => "The signature does not hold: the file is not what was signed, or the signature was changed.".to_owned(),
        }
    }
}

/// What was signed along, with the time as one reads it: “2026-03-02 08:00:00 UTC,
/// gel.finished.ron”. What is written otherwise stays as it is.
fn comment_words(comment: &str) -> String {
    let part = |part: &str| {
        let time = part.strip_prefix("timestamp:")?.parse().ok()?;
        let time = jiff::Timestamp::from_second(time).ok()?;
        Some(time.strftime("%Y-%m-%d %H:%M:%S UTC").to_string())
    };
    let parts = comment.split('\t').map(|text| {
        part(text).unwrap_or_else(|| text.strip_prefix("file:").unwrap_or(text).to_owned())
    });
    parts.collect::<Vec<_>>().join(", ")
}

/// Names of the keys of an ending in a folder, in order.
pub fn names_in(folder: &Path, ending: &str) -> Vec<String> {
    let mut names: Vec<String> = disk::list(folder)
        .unwrap_or_default()
        .iter()
        .filter(|path| path.extension().is_some_and(|e| e == ending))
        .filter_map(|path| Some(path.file_stem()?.to_string_lossy().into_owned()))
        .collect();
    names.sort();
    names
}

/// Makes a pair of keys of a name in a folder, which is made if it is not there.
///
/// # Errors
/// That the name will not do, or what [`make_keys`] says.
pub fn make_named(folder: &Path, name: &str, password: &str) -> Result<String, SignError> {
    if name.is_empty() || name.contains(['/', '\\', '.']) {
        return Err(SignError::Name(name.to_owned()));
    }
    disk::make_folders(folder, disk::Access::Private)
        .map_err(|e| SignError::Make(format!("{e} ({})", folder.display())))?;
    make_keys(&folder.join(name), password)
}

/// Where the signature of a file stands: `NAME.minisig`.
pub fn signature_path(path: &Path) -> PathBuf {
    store::with_suffix(path, ".minisig")
}

/// The name of a key as programs that know the format print it.
fn name_of(keynum: &[u8]) -> String {
    use std::fmt::Write as _;
    keynum.iter().rev().fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _ = write!(text, "{byte:02X}");
        text
    })
}

/// Makes a pair of keys, `BASE.key` and `BASE.pub`, and gives the name of the key. Nothing is
/// written over. An empty password means none.
pub fn make_keys(base: &Path, password: &str) -> Result<String, SignError> {
    let made = |e: minisign::PError| SignError::Make(e.to_string());
    let pair = if password.is_empty() {
        KeyPair::generate_unencrypted_keypair()
    } else {
        KeyPair::generate_encrypted_keypair(Some(password.to_owned()))
    }
    .map_err(made)?;
    let name = name_of(pair.pk.keynum());
    let comment = format!("secret key {name}");
    let secret = pair.sk.to_box(Some(&comment)).map_err(made)?;
    write_keys(base, &name, &pair.pk, &secret)
}

fn write_keys(
    base: &Path,
    name: &str,
    public: &PublicKey,
    secret: &SecretKeyBox,
) -> Result<String, SignError> {
    let public = public
        .to_box()
        .map_err(|e| SignError::Make(e.to_string()))?;
    let secret_path = store::with_suffix(base, &format!(".{SECRET}"));
    let public_path = store::with_suffix(base, &format!(".{PUBLIC}"));
    // Both or neither, as far as can be told beforehand.
    if disk::is_there(&public_path) {
        return Err(StoreError::Exists { path: public_path }.into());
    }
    store::save_for(
        &secret_path,
        &secret.to_bytes(),
        Expect::Nothing,
        Readers::Private,
    )?;
    store::save(&public_path, &public.to_bytes(), Expect::Nothing)?;
    Ok(name.to_owned())
}

/// Signs a finished formula or a closed batch record and gives the path of the signature.
/// `time_s` is the time in seconds since 1970, as the clock says. A signature that is there
/// already is replaced only if `replace` says so.
pub fn sign(
    path: &Path,
    secret: &Path,
    password: &str,
    time_s: i64,
    replace: bool,
) -> Result<PathBuf, SignError> {
    let (bytes, _) = store::read_bytes(path)?;
    fit_to_sign(path, &bytes)?;
    let wrong = |cause: String| SignError::Key {
        path: secret.into(),
        cause,
    };
    let (text, _) = store::read_text(secret)?;
    let boxed = SecretKeyBox::from_string(&text).map_err(|e| wrong(e.to_string()))?;
    let key = if password.is_empty() {
        boxed.into_unencrypted_secret_key()
    } else {
        boxed.into_secret_key(Some(password.to_owned()))
    };
    let key = key.map_err(|e| {
        // The format tells only that the checksum of the key does not fit.
        let said = e.to_string().to_lowercase();
        if said.contains("password") || said.contains("encrypted") {
            SignError::Password(secret.into())
        } else {
            wrong(said)
        }
    })?;
    let file_name = path.file_name().unwrap_or_default().to_string_lossy();
    let comment = format!("timestamp:{time_s}\tfile:{file_name}");
    let signature = minisign::sign(
        None,
        &key,
        Cursor::new(&bytes),
        Some(&comment),
        Some("signature from Phasewright"),
    )
    .map_err(|e| wrong(e.to_string()))?;
    let target = signature_path(path);
    let expect = if replace {
        Expect::Anything
    } else {
        Expect::Nothing
    };
    store::save_text(&target, &signature.into_string(), expect)?;
    Ok(target)
}

/// Only what will not change any more, and is sound, is signed.
fn fit_to_sign(path: &Path, bytes: &[u8]) -> Result<(), SignError> {
    let file = path.display().to_string();
    let refuse = |why: &str| SignError::NotToBeSigned {
        path: path.into(),
        why: why.to_owned(),
    };
    let text = String::from_utf8_lossy(bytes);
    if finished::looks_finished(&text) {
        let finished = finished::read(&text, &file).map_err(FileError::from)?;
        return if finished.intact {
            Ok(())
        } else {
            Err(refuse(
                "the finished formula was altered after it was frozen",
            ))
        };
    }
    if file.ends_with(record_file::ENDING) {
        let loaded = record_file::read(path)?;
        if let Some(fault) = loaded.fault_words() {
            return Err(refuse(&fault));
        }
        return if loaded.record.is_closed() {
            Ok(())
        } else {
            Err(refuse("the batch is not closed yet"))
        };
    }
    Err(refuse(
        "only finished formulas and closed batch records are signed; a working file changes with every save",
    ))
}

/// Checks the signature beside a file with a public key.
pub fn verify(path: &Path, public: &Path) -> Result<SignatureCheck, SignError> {
    let (bytes, _) = store::read_bytes(path)?;
    let signature_path = signature_path(path);
    let (text, _) = store::read_text(&signature_path)?;
    let signature = SignatureBox::from_string(&text).map_err(|e| SignError::NoSignature {
        path: signature_path.clone(),
        cause: e.to_string(),
    })?;
    let wrong = |e: minisign::PError| SignError::Key {
        path: public.into(),
        cause: e.to_string(),
    };
    let (text, _) = store::read_text(public)?;
    let key = PublicKeyBox::from_string(&text)
        .and_then(PublicKeyBox::into_public_key)
        .map_err(wrong)?;
    if signature.keynum() != key.keynum() {
        return Ok(SignatureCheck::OtherKey);
    }
    if minisign::verify(&key, &signature, Cursor::new(&bytes), true, false, false).is_err() {
        return Ok(SignatureCheck::Changed);
    }
    Ok(SignatureCheck::Holds {
        key: name_of(key.keynum()),
        comment: signature.trusted_comment().unwrap_or_default(),
    })
}

/// What the signature beside a file says, in words, by the public keys of a folder; `None` if
/// there is no signature.
pub fn words(path: &Path, keys: Option<&Path>) -> Option<String> {
    if !disk::is_there(&signature_path(path)) {
        return None;
    }
    let known = keys.and_then(|folder| disk::list(folder).ok());
    let mut problem = None;
    for key in known.unwrap_or_default() {
        if key.extension().is_none_or(|e| e != PUBLIC) {
            continue;
        }
        let called = key.file_stem().unwrap_or_default().to_string_lossy();
        match verify(path, &key) {
            Ok(SignatureCheck::Holds { comment, .. }) => {
                let comment = comment_words(&comment);
                return Some(format!(
                    "the signature beside it holds: these very bytes were signed with the key “{called}” ({comment}; the time is that of the signer's clock)"
                ));
            }
            Ok(SignatureCheck::Changed) => {
                return Some(format!(
                    "the signature beside it does not hold: it was made with the key “{called}”, but not of this content, which was changed since"
                ));
            }
            Ok(SignatureCheck::OtherKey) => {}
            Err(error) => problem = Some(error.to_string()),
        }
    }
    Some(match problem {
        Some(problem) => format!("the signature beside it was not checked: {problem}"),
        None => "the signature beside it was not checked: it was made with none of the keys that are known here".to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::batch::record::tests::{opening, weigh};
    use crate::evaluation::{Context, evaluate};
    use crate::file::record_file::RecordFile;
    use crate::formula::Date;
    use crate::random_formula;

    fn finished_at(path: &Path) {
        let formula = random_formula::formula(3);
        let day = Date::constant(2026, 3, 2);
        let evaluation = evaluate(&formula, formula.active(), &Context::new(day));
        let text = finished::write(
            &formula,
            formula.active(),
            &evaluation,
            day,
            &finished::Enclosed::default(),
        );
        fs::write(path, text.unwrap()).unwrap();
    }

    #[test]
    fn a_signature_holds_until_a_byte_changes() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("gel.finished.ron");
        finished_at(&path);
        let name = make_keys(&dir.path().join("studio"), "").unwrap();
        make_keys(&dir.path().join("other"), "").unwrap();
        let key = dir.path().join("studio.key");
        let public = dir.path().join("studio.pub");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            assert_eq!(
                fs::metadata(&key).unwrap().permissions().mode() & 0o777,
                0o600
            );
        }
        let signature = sign(&path, &key, "", 1_772_452_800, false).unwrap();
        assert!(signature.ends_with("gel.finished.ron.minisig"));
        let SignatureCheck::Holds {
            key: signer,
            comment,
        } = verify(&path, &public).unwrap()
        else {
            panic!("it holds");
        };
        assert_eq!(signer, name);
        assert_eq!(comment, "timestamp:1772452800\tfile:gel.finished.ron");
        let told = comment_words(&comment);
        assert_eq!(told, "2026-03-02 12:00:00 UTC, gel.finished.ron");
        assert_eq!(comment_words("by hand"), "by hand");
        assert_eq!(
            verify(&path, &dir.path().join("other.pub")).unwrap(),
            SignatureCheck::OtherKey
        );
        assert!(words(&path, Some(dir.path())).unwrap().contains("“studio”"));
        assert!(
            sign(&path, &key, "", 0, false).is_err(),
            "nothing is written over"
        );
        assert!(make_keys(&dir.path().join("studio"), "").is_err());
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&path, text + " ").unwrap();
        assert_eq!(verify(&path, &public).unwrap(), SignatureCheck::Changed);
        assert!(
            words(&path, Some(dir.path()))
                .unwrap()
                .contains("does not hold")
        );
        // What was altered is not signed again.
        assert!(sign(&path, &key, "", 0, true).is_err());
    }

    #[test]
    fn only_what_is_done_is_signed() {
        let dir = tempfile::tempdir().unwrap();
        make_keys(&dir.path().join("studio"), "").unwrap();
        let key = dir.path().join("studio.key");
        let mut file = RecordFile::create(
            dir.path(),
            opening("26-001"),
            "2026-06-01T09:00:00Z",
            "Wren",
        )
        .unwrap();
        file.append("2026-06-01T09:00:00Z", "Wren", weigh(10, "1 g", "W1"))
            .unwrap();
        let said = sign(file.path(), &key, "", 0, false)
            .unwrap_err()
            .to_string();
        assert!(said.contains("not closed"), "{said}");
        let other = dir.path().join("letter.txt");
        fs::write(&other, "dear").unwrap();
        assert!(sign(&other, &key, "", 0, false).is_err());
    }

    #[test]
    fn a_password_keeps_the_key() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("gel.finished.ron");
        finished_at(&path);
        let base = dir.path().join("studio");
        make_keys(&base, "heather").unwrap();
        let key = dir.path().join("studio.key");
        assert!(sign(&path, &key, "", 0, false).is_err());
        assert!(sign(&path, &key, "moor", 0, false).is_err());
        sign(&path, &key, "heather", 0, false).unwrap();
        let verdict = verify(&path, &dir.path().join("studio.pub")).unwrap();
        assert!(matches!(verdict, SignatureCheck::Holds { .. }));
    }
}
