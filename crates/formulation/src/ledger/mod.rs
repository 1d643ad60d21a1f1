//! A ledger: a list of entries that only grows, each chained to what stands before it.
//!
//! Batch records are ledgers, and so is everything else that must show what was noted when.
//! What an entry is and how it is written is told by a [`LedgerKind`]; this module knows only
//! lines. The first line names format and version. Every further line is the SHA-256 of the
//! hash before it, a line break and the entry, in hexadecimal, then a blank, then the entry.
//! So no entry can be changed, taken out, put in or moved without a fault at that place.
//! What is cut off the end is told by a [`Head`], the number of entries and the last hash,
//! which is kept apart.
//!
//! Hashes show changes made by mistake or with another program. They are no signature:
//! whoever writes all of them anew, and the head as well, leaves no trace.
//!
//! Reading gives everything that can be read. Only the last line can be torn, by a crash
//! while it was written: it was not confirmed then. Any other line that is damaged is a
//! [`Fault`]; what stands after it is read all the same.

use std::fmt;
use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

/// What a ledger is of, and how its entries are written.
pub trait LedgerKind {
    /// An entry.
    type Entry;
    /// What one calls such a ledger, for example `batch record`; part of the first line.
    const NAME: &'static str;
    /// Versions that can be read; the last is written.
    const VERSIONS: RangeInclusive<u32>;
    /// The first version beside which a head is always kept.
    const HEAD_SINCE: u32;
    /// The entry as one line of text.
    fn write(entry: &Self::Entry) -> Result<String, String>;
    /// The entry of a line written by a version.
    fn read(text: &str, version: u32) -> Result<Self::Entry, String>;
}

/// Why a ledger cannot be read at all.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum LedgerError {
    /// Another format.
    #[error("this is not a {wanted}{found}; choose another file")]
    Other {
        /// What is wanted.
        wanted: &'static str,
        /// What it says it is, in words; empty if it does not say.
        found: String,
    },
    /// A newer or unknown version.
    #[error(
        "the {name} is of version {found}, this program reads versions up to {newest}; it was left untouched, open it with a newer Phasewright"
    )]
    Version {
        /// What a ledger of this kind is called.
        name: &'static str,
        /// Its version.
        found: u32,
        /// The newest known.
        newest: u32,
    },
    /// No entry at all.
    #[error("the {0} holds no entry; it was never begun, delete it")]
    Empty(&'static str),
}

/// Something that is wrong with a ledger, at one place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fault {
    /// Line of the file, from 1.
    pub line: usize,
    /// Number of the entry, from 1; `None` for the first line of the file.
    pub entry: Option<u64>,
    /// What is wrong, in words.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.entry {
            Some(entry) => write!(f, "entry {entry} (line {}): {}", self.line, self.message),
            None => write!(f, "line {}: {}", self.line, self.message),
        }
    }
}

/// An entry as found.
#[derive(Clone, PartialEq, Debug)]
pub struct FoundEntry<E> {
    /// Line of the file, from 1.
    pub line: usize,
    /// Number of the entry, from 1, as counted.
    pub number: u64,
    /// The entry, or why it cannot be read.
    pub entry: Result<E, String>,
    /// The text of the entry as it stands in the file, what is no text replaced.
    pub text: String,
}

/// A ledger as read.
#[derive(Clone, PartialEq, Debug)]
pub struct LedgerRead<E> {
    /// Its version.
    pub version: u32,
    /// Every entry, readable or not, in order.
    pub found: Vec<FoundEntry<E>>,
    /// What is wrong, in order; nothing may be added to a ledger with faults.
    pub faults: Vec<Fault>,
    /// What is left of an entry that was being written when the program or the machine
    /// stopped; it was not confirmed.
    pub torn: Option<Vec<u8>>,
    /// Something to know that is no fault.
    pub remarks: Vec<String>,
    /// Where the chain stands.
    pub tip: Tip,
}

/// Where a chain stands: what the next entry is joined to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tip {
    /// Bytes up to the end of the last whole entry.
    pub length: u64,
    /// Whole entries.
    pub entries: u64,
    /// Hash of the last whole entry, or of the first line.
    pub hash: String,
    /// Whether the last whole entry lacks its line break.
    pub unfinished: bool,
}

#[derive(Serialize, Deserialize)]
struct Header {
    format: String,
    version: u32,
}

fn format_of(name: &str) -> String {
    format!("phasewright {name}")
}

fn hex(bytes: &[u8]) -> String {
    use fmt::Write as _;
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// The hash of an entry: SHA-256 of the hash before it, a line break and the entry's text,
/// in hexadecimal.
pub fn chained(previous: &str, text: &str) -> String {
    let mut hash = Sha256::new();
    hash.update(previous.as_bytes());
    hash.update(b"\n");
    hash.update(text.as_bytes());
    hex(&hash.finalize())
}

/// The first line of a new ledger and where the chain stands after it.
pub fn begin<K: LedgerKind>() -> Result<(String, Tip), String> {
    let header = Header {
        format: format_of(K::NAME),
        version: *K::VERSIONS.end(),
    };
    let text = serde_json::to_string(&header).map_err(|e| e.to_string())?;
    let tip = Tip {
        length: text.len() as u64 + 1,
        entries: 0,
        hash: chained("", &text),
        unfinished: false,
    };
    Ok((format!("{text}\n"), tip))
}

/// What is to be written after a tip to add an entry, and where the chain stands then.
pub fn next_line<K: LedgerKind>(tip: &Tip, entry: &K::Entry) -> Result<(String, Tip), String> {
    let text = K::write(entry)?;
    if text.contains(['\n', '\r', '\0']) {
        return Err("the entry is not one line of text".to_owned());
    }
    let hash = chained(&tip.hash, &text);
    let finish = if tip.unfinished { "\n" } else { "" };
    let line = format!("{finish}{hash} {text}\n");
    let tip = Tip {
        length: tip.length + line.len() as u64,
        entries: tip.entries + 1,
        hash,
        unfinished: false,
    };
    Ok((line, tip))
}

/// What is known of the first line.
enum First {
    Sound(u32),
    Damaged(String),
}

fn first_line<K: LedgerKind>(text: &str, rest_is_chained: bool) -> Result<First, LedgerError> {
    let newest = *K::VERSIONS.end();
    match serde_json::from_str::<Header>(text) {
        Ok(header) if header.format == format_of(K::NAME) => {
            if K::VERSIONS.contains(&header.version) {
                Ok(First::Sound(header.version))
            } else {
                Err(LedgerError::Version {
                    name: K::NAME,
                    found: header.version,
                    newest,
                })
            }
        }
        Ok(header) if !rest_is_chained || header.format.starts_with("phasewright ") => {
            Err(LedgerError::Other {
                wanted: K::NAME,
                found: format!("; it says it is a “{}”", header.format),
            })
        }
        Err(_) if !rest_is_chained => Err(LedgerError::Other {
            wanted: K::NAME,
            found: String::new(),
        }),
        Ok(_) => Ok(First::Damaged("it names another format".to_owned())),
        Err(error) => Ok(First::Damaged(format!("it cannot be read ({error})"))),
    }
}

fn is_hash(text: &str) -> bool {
    text.len() == 64 && text.bytes().all(|b| b.is_ascii_hexdigit())
}

/// Reads the bytes of a ledger. `head` is what was kept apart when the last entry was
/// confirmed, if it is at hand.
pub fn read<K: LedgerKind>(
    bytes: &[u8],
    head: Option<&Head>,
) -> Result<LedgerRead<K::Entry>, LedgerError> {
    let mut lines = bytes.split_inclusive(|&b| b == b'\n').peekable();
    let first = lines.next().unwrap_or_default();
    let chained_after = lines.peek().is_some_and(|line| {
        let text = String::from_utf8_lossy(line);
        text.split_once(' ').is_some_and(|(hash, _)| is_hash(hash))
    });
    let text = String::from_utf8_lossy(first);
    let text = text.trim_end_matches(['\n', '\r']);
    let mut faults = Vec::new();
    let version = match first_line::<K>(text, chained_after)? {
        First::Sound(version) => version,
        First::Damaged(message) => {
            faults.push(Fault {
                line: 1,
                entry: None,
                message,
            });
            *K::VERSIONS.end()
        }
    };
    let mut reading = LedgerRead {
        version,
        found: Vec::new(),
        faults,
        torn: None,
        remarks: Vec::new(),
        tip: Tip {
            length: first.len() as u64,
            entries: 0,
            hash: chained("", text),
            unfinished: !first.ends_with(b"\n"),
        },
    };
    while let Some(raw) = lines.next() {
        reading.read_line::<K>(raw, lines.peek().is_none(), head);
    }
    if reading.tip.entries == 0 && reading.torn.is_none() {
        return Err(LedgerError::Empty(K::NAME));
    }
    reading.hold_against::<K>(head);
    Ok(reading)
}

impl<E> LedgerRead<E> {
    fn read_line<K: LedgerKind<Entry = E>>(&mut self, raw: &[u8], last: bool, head: Option<&Head>) {
        let number = self.tip.entries + 1;
        let line = self.found.len() + 2;
        let ended = raw.ends_with(b"\n");
        let text = String::from_utf8_lossy(raw);
        let whole = text.trim_end_matches(['\n', '\r']);
        let (hash, body) = whole.split_once(' ').unwrap_or(("", whole));
        let fits = chained(&self.tip.hash, body) == hash;
        // Only the end of the file can be torn: a line without its break that is not whole,
        // or one that the head does not count yet, whatever the disk made of it.
        let unconfirmed =
            head.is_some_and(|h| h.entries == self.tip.entries && h.hash == self.tip.hash);
        if last && !fits && (!ended || unconfirmed) {
            self.torn = Some(raw.to_vec());
            return;
        }
        let entry = K::read(body, self.version);
        let message = match (&entry, fits) {
            (Ok(_), true) => None,
            (Ok(_), false) => Some(
                "its hash does not fit; it, or what stands before it, was changed outside the program or damaged"
                    .to_owned(),
            ),
            (Err(why), true) => Some(format!("it cannot be read: {why}")),
            (Err(why), false) => Some(format!("it is damaged and cannot be read: {why}")),
        };
        if let Some(message) = message {
            self.faults.push(Fault {
                line,
                entry: Some(number),
                message,
            });
        }
        self.found.push(FoundEntry {
            line,
            number,
            entry,
            text: body.to_owned(),
        });
        self.tip = Tip {
            length: self.tip.length + raw.len() as u64,
            entries: number,
            // A damaged hash is taken as it stands, so that the next line is held against
            // what it was joined to.
            hash: hash.to_owned(),
            unfinished: !ended,
        };
    }

    /// Compares what was read with what was confirmed.
    fn hold_against<K: LedgerKind>(&mut self, head: Option<&Head>) {
        let Some(head) = head else {
            if self.version >= K::HEAD_SINCE {
                self.remarks.push(format!(
                    "the count kept beside the {} is missing, so it cannot be told whether entries were cut off its end; it is written anew with the next entry",
                    K::NAME
                ));
            }
            return;
        };
        let entries = self.tip.entries;
        if head.entries > entries {
            self.faults.push(Fault {
                line: self.found.len() + 1,
                entry: Some(entries + 1),
                message: format!(
                    "{} entries were confirmed, but the file ends after {entries}; its end was cut off or damaged",
                    head.entries
                ),
            });
        } else if head.entries == entries && head.hash != self.tip.hash && self.faults.is_empty() {
            self.faults.push(Fault {
                line: self.found.len() + 1,
                entry: Some(entries),
                message: "it is not the entry that was confirmed; the file was written anew outside the program".to_owned(),
            });
        }
    }

    /// Whether nothing is wrong.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }

    /// The entries that can be read, in order.
    pub fn entries(&self) -> impl Iterator<Item = &E> {
        self.found.iter().filter_map(|f| f.entry.as_ref().ok())
    }

    /// What is to be kept apart now.
    pub fn head(&self) -> Head {
        Head::of(&self.tip)
    }
}

/// What is kept apart from a ledger, so that a shortened one is noticed: how many entries
/// were confirmed and the hash of the last.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Head {
    /// Entries confirmed.
    pub entries: u64,
    /// Hash of the last.
    pub hash: String,
}

#[derive(Serialize, Deserialize)]
struct HeadText {
    format: String,
    version: u32,
    entries: u64,
    hash: String,
}

const HEAD_FORMAT: &str = "phasewright ledger head";

impl Head {
    /// The head of a chain.
    pub fn of(tip: &Tip) -> Self {
        Self {
            entries: tip.entries,
            hash: tip.hash.clone(),
        }
    }

    /// The head as text.
    pub fn write(&self) -> Result<String, String> {
        let text = HeadText {
            format: HEAD_FORMAT.to_owned(),
            version: 1,
            entries: self.entries,
            hash: self.hash.clone(),
        };
        serde_json::to_string(&text)
            .map(|t| t + "\n")
            .map_err(|e| e.to_string())
    }

    /// Reads a head.
    pub fn read(text: &str) -> Result<Self, String> {
        let head: HeadText = serde_json::from_str(text).map_err(|e| e.to_string())?;
        if head.format != HEAD_FORMAT || head.version != 1 {
            return Err("it is of another kind or version".to_owned());
        }
        Ok(Self {
            entries: head.entries,
            hash: head.hash,
        })
    }
}

#[cfg(test)]
mod tests;
