use proptest::prelude::*;

use super::*;

/// A ledger of plain words.
struct Words;

impl LedgerKind for Words {
    type Entry = String;
    const NAME: &'static str = "list of words";
    const VERSIONS: RangeInclusive<u32> = 1..=2;
    const HEAD_SINCE: u32 = 2;
    fn write(entry: &String) -> Result<String, String> {
        serde_json::to_string(entry).map_err(|e| e.to_string())
    }
    fn read(text: &str, _: u32) -> Result<String, String> {
        serde_json::from_str(text).map_err(|e| e.to_string())
    }
}

/// A ledger of words and the head after each number of entries.
fn ledger(words: &[String]) -> (Vec<String>, Vec<Head>) {
    let (first, mut tip) = begin::<Words>().unwrap();
    let mut lines = vec![first];
    let mut heads = vec![Head::of(&tip)];
    for word in words {
        let (line, next) = next_line::<Words>(&tip, word).unwrap();
        lines.push(line);
        tip = next;
        heads.push(Head::of(&tip));
    }
    (lines, heads)
}

fn read_lines(lines: &[String], head: Option<&Head>) -> LedgerRead<String> {
    read::<Words>(lines.concat().as_bytes(), head).unwrap()
}

fn words(of: &[&str]) -> Vec<String> {
    of.iter().map(ToString::to_string).collect()
}

/// Hashes computed with another implementation of SHA-256 (`hashlib` of Python):
/// `h = sha256(("" + "\n" + header).encode()).hexdigest()`, and so on line by line.
#[test]
fn the_chain_is_that_of_another_implementation() {
    let (lines, heads) = ledger(&words(&["oat", "juniper"]));
    assert_eq!(
        lines[0],
        "{\"format\":\"phasewright list of words\",\"version\":2}\n"
    );
    assert_eq!(
        heads[0].hash,
        "58b593772c7ad70efef1a10d22354bc69c727105dc92efd3fd08e0bf4dc4fea1"
    );
    assert_eq!(
        lines[1],
        "0c2764e9be39c105afe7d2f5bc82046cd7c6ab0c57c9327460c51f637dc3c5ed \"oat\"\n"
    );
    assert_eq!(
        lines[2],
        "3271fbff9f50d36a42082c20b9aec1d457e0e680d751b2d43f4b601383d3dfcb \"juniper\"\n"
    );
    assert_eq!(
        heads[2].hash,
        "3271fbff9f50d36a42082c20b9aec1d457e0e680d751b2d43f4b601383d3dfcb"
    );
}

#[test]
fn the_hash_takes_in_what_went_before() {
    let (one, _) = ledger(&words(&["a", "same"]));
    let (two, _) = ledger(&words(&["b", "same"]));
    assert_ne!(one[2], two[2]);
}

#[test]
fn a_missing_last_line_break_loses_nothing() {
    let (lines, heads) = ledger(&words(&["a", "b", "c"]));
    let text = lines.concat();
    let cut = text.strip_suffix('\n').unwrap();
    for head in [None, heads.get(3), heads.get(2)] {
        let reading = read::<Words>(cut.as_bytes(), head).unwrap();
        assert!(reading.is_sound() && reading.torn.is_none());
        assert_eq!(reading.entries().count(), 3);
        // The next entry begins on a line of its own.
        let (line, _) = next_line::<Words>(&reading.tip, &"d".to_owned()).unwrap();
        let longer = read::<Words>(format!("{cut}{line}").as_bytes(), head).unwrap();
        assert!(longer.is_sound());
        assert_eq!(longer.entries().count(), 4);
    }
}

#[test]
fn damage_inside_is_named_and_what_follows_stays() {
    let (lines, heads) = ledger(&words(&["a", "b", "c", "d"]));
    let text = lines.concat();
    // A zero byte in every place of every entry but the last line break.
    for place in lines[0].len()..text.len() - 1 {
        let mut bytes = text.clone().into_bytes();
        bytes[place] = 0;
        for head in [None, heads.get(4)] {
            let reading = read::<Words>(&bytes, head).unwrap();
            assert!(!reading.is_sound(), "{place}");
            assert_eq!(reading.torn, None, "{place}");
            let line_break = text.as_bytes()[place] == b'\n';
            let readable = reading.entries().count();
            assert!(
                readable >= if line_break { 2 } else { 3 },
                "{place}: {readable}"
            );
            let damaged = text[..place].matches('\n').count() as u64;
            assert_eq!(reading.faults[0].entry, Some(damaged), "{place}");
        }
    }
}

#[test]
fn a_damaged_first_line_is_a_fault_and_another_format_is_refused() {
    let (lines, heads) = ledger(&words(&["a", "b"]));
    let text = lines.concat();
    let damaged = text.replacen("format", "f\0rmat", 1);
    let reading = read::<Words>(damaged.as_bytes(), heads.get(2)).unwrap();
    assert_eq!(reading.faults[0].entry, None);
    assert_eq!(reading.entries().count(), 2);
    let other = text.replacen("list of words", "book of sums", 1);
    let error = read::<Words>(other.as_bytes(), None).unwrap_err();
    assert!(error.to_string().contains("book of sums"), "{error}");
    let newer = text.replacen("\"version\":2", "\"version\":3", 1);
    assert!(matches!(
        read::<Words>(newer.as_bytes(), None),
        Err(LedgerError::Version { found: 3, .. })
    ));
    for nothing in ["", "hello\n", "\0\0\0"] {
        assert!(matches!(
            read::<Words>(nothing.as_bytes(), None),
            Err(LedgerError::Other { .. })
        ));
    }
    assert!(matches!(
        read::<Words>(lines[0].as_bytes(), None),
        Err(LedgerError::Empty(_))
    ));
}

/// What a disk may leave of a line that was being written when the power went: a part of
/// it, zeros in its place, its end without its beginning.
#[test]
fn an_entry_that_was_not_confirmed_is_torn_whatever_is_left_of_it() {
    let (lines, heads) = ledger(&words(&["a", "b", "cc"]));
    let sound: String = lines[..3].concat();
    let last = lines[3].as_bytes();
    for cut in 1..last.len() - 1 {
        let zeros = vec![0; last.len()];
        let mut end_only = zeros.clone();
        end_only[cut..].copy_from_slice(&last[cut..]);
        for left in [&last[..cut], &zeros[..cut], &end_only] {
            let bytes = [sound.as_bytes(), left].concat();
            let reading = read::<Words>(&bytes, heads.get(2)).unwrap();
            assert_eq!(reading.torn.as_deref(), Some(left), "{cut}");
            assert!(reading.is_sound(), "{cut}");
            assert_eq!(reading.entries().count(), 2);
        }
        // Had it been confirmed, it is damage.
        let bytes = [sound.as_bytes(), &last[..cut]].concat();
        let reading = read::<Words>(&bytes, heads.get(3)).unwrap();
        assert!(!reading.is_sound(), "{cut}");
    }
}

#[test]
fn a_missing_head_is_remarked() {
    let (lines, heads) = ledger(&words(&["a"]));
    assert_eq!(read_lines(&lines, None).remarks.len(), 1);
    assert!(read_lines(&lines, heads.get(1)).remarks.is_empty());
    let head = &heads[1];
    assert_eq!(&Head::read(&head.write().unwrap()).unwrap(), head);
    assert!(Head::read("{}").is_err());
}

proptest! {
    /// Whatever is put in, taken out, exchanged, moved or cut off is noticed.
    #[test]
    fn the_chain_notices(
        content in proptest::collection::vec("[a-z]{0,6}", 2..12),
        at in any::<prop::sample::Index>(),
        other in any::<prop::sample::Index>(),
        how in 0..5,
    ) {
        let (lines, heads) = ledger(&content);
        let head = heads.last();
        prop_assert!(read_lines(&lines, head).is_sound());
        let mut changed = lines.clone();
        let at = 1 + at.index(content.len());
        let other = 1 + other.index(content.len());
        match how {
            0 => { changed.remove(at); }
            1 => { let line = changed[at].clone(); changed.insert(other, line); }
            2 => changed.swap(at, other),
            3 => { let hash = changed[at].split_once(' ').unwrap().0.to_owned(); changed[at] = format!("{hash} \"Z\"\n"); }
            _ => changed.truncate(at),
        }
        prop_assume!(changed != lines);
        let emptied = changed.len() == 1;
        match read::<Words>(changed.concat().as_bytes(), head) {
            Ok(reading) => prop_assert!(!reading.is_sound() || reading.torn.is_some()),
            Err(error) => prop_assert!(emptied, "{error}"),
        }
        // Without the head everything is noticed but a cut at the end.
        let is_cut = lines.starts_with(&changed);
        if let Ok(reading) = read::<Words>(changed.concat().as_bytes(), None) {
            prop_assert_eq!(reading.is_sound(), is_cut);
        }
    }

    /// Any bytes are read or refused, never more.
    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..300), keep in 0_usize..400) {
        let (lines, heads) = ledger(&words(&["a", "b", "c"]));
        let text = lines.concat();
        let mut all = text.as_bytes()[..keep.min(text.len())].to_vec();
        all.extend(bytes);
        let _ = read::<Words>(&all, heads.last());
    }
}
