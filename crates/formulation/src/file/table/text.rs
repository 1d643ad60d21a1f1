//! Tables in text: the encoding, the separator and the cells.

use encoding_rs::{ISO_8859_2, UTF_16BE, UTF_16LE, WINDOWS_1250, WINDOWS_1252};

use super::items::items;
use super::weighing::divided::{self, Reading as Divided};
use super::words::{is_aside, words};
use super::{ASIDE, Cell, Collector, MAIL_HEAD, QUOTED, TOOLS, Table, TableError, talk};
use crate::naming::words_of;

/// The text of a file.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Decoded {
    /// What it says.
    pub text: String,
    /// The encoding that its letters were taken for, where others would make other letters of
    /// them.
    pub guessed: Option<&'static str>,
}

/// Text of a file in UTF-8, UTF-16 (with or without a byte order mark) or, failing
/// these, Windows-1252, in which every sequence of bytes is text.
pub fn decode(bytes: &[u8]) -> Result<Decoded, TableError> {
    let certain = |text: String| {
        Ok(Decoded {
            text,
            guessed: None,
        })
    };
    if let Some(rest) = bytes.strip_prefix(&[0xEF, 0xBB, 0xBF]) {
        return certain(String::from_utf8_lossy(rest).into_owned());
    }
    let utf16 = match bytes {
        [0xFF, 0xFE, ..] => Some(UTF_16LE),
        [0xFE, 0xFF, ..] => Some(UTF_16BE),
        _ => utf16_without_mark(bytes),
    };
    if let Some(encoding) = utf16 {
        return certain(encoding.decode_with_bom_removal(bytes).0.into_owned());
    }
    if bytes.contains(&0) {
        return Err(TableError::Kind {
            what: "this is neither text nor a spreadsheet",
            remedy: "save the table as XLSX, ODS or CSV",
        });
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => certain(text.to_owned()),
        Err(_) => Ok(of_eight_bits(bytes)),
    }
}

/// Text of one byte a letter, in the encoding by which the fewest signs stand where letters do:
/// in Windows-1252 a Polish word has some, such as "sk³adnik" for "składnik", and so has one of
/// an old machine, "Milchs„ure".
fn of_eight_bits(bytes: &[u8]) -> Decoded {
    let decoded = |encoding: &'static encoding_rs::Encoding| {
        let text = encoding.decode_without_bom_handling(bytes).0;
        text.into_owned()
    };
    // The first is what is usual, and not told.
    let ways: [(Option<&'static str>, &dyn Fn() -> String); 4] = [
        (None, &|| decoded(WINDOWS_1252)),
        (Some("Windows-1250"), &|| decoded(WINDOWS_1250)),
        (Some("ISO 8859-2"), &|| decoded(ISO_8859_2)),
        (Some("code page 850"), &|| {
            bytes.iter().map(|byte| of_old_machine(*byte)).collect()
        }),
    ];
    let mut best: Option<(usize, Decoded)> = None;
    for (guessed, way) in ways {
        let text = way();
        let signs = signs_for_letters(&text);
        if best.as_ref().is_none_or(|(fewest, _)| signs < *fewest) {
            best = Some((signs, Decoded { text, guessed }));
        }
        if signs == 0 {
            break;
        }
    }
    best.map(|(_, decoded)| decoded).unwrap_or_default()
}

/// How many signs stand where words have letters: within them, or at their head where nobody puts
/// them.
fn signs_for_letters(text: &str) -> usize {
    let within = |c: char| {
        let usual = matches!(
            c,
            '\u{A0}' | '\u{AD}' | '’' | '‘' | '´' | '–' | '—' | '·' | '•' | '…' | '®' | '™'
        );
        let sign = !c.is_ascii() && !c.is_alphanumeric() && !usual;
        // Numbers set high or low, and a letter that no word of those languages has.
        sign || matches!(c, '³' | '¹' | '¼' | '¾' | 'Ÿ')
    };
    // The Polish ś as it looks in Windows-1252: in French no œ stands behind a vowel, or before
    // these.
    let no_oe = |before: char, c: char, after: char| {
        let vowel = matches!(
            before.to_ascii_lowercase(),
            'a' | 'e' | 'i' | 'o' | 'u' | 'y'
        );
        let next = matches!(after, 'w' | 'r' | 'l' | 'm' | 'p' | 'k' | 'æ');
        matches!(c, 'œ' | 'Œ') && (vowel || next)
    };
    let ahead = |c: char| matches!(c, '¦' | '¶' | '±' | '¬') || c.is_control();
    let mut letters = text.chars();
    // The money of the Czechs as it looks in Windows-1252.
    let crowns = text
        .split(|c: char| !c.is_alphabetic())
        .filter(|word| *word == "Kè");
    let (mut before, mut count) = (' ', crowns.count());
    let Some(mut sign) = letters.next() else {
        return 0;
    };
    for after in letters {
        let in_word = before.is_alphabetic() && within(sign);
        let at_head = !before.is_alphanumeric() && !sign.is_ascii() && ahead(sign);
        let wrong = in_word || at_head || no_oe(before, sign, after);
        count += usize::from(after.is_alphabetic() && wrong);
        (before, sign) = (sign, after);
    }
    count
}

/// The letter of a byte in code page 850, that of the machines of western Europe before Windows.
fn of_old_machine(byte: u8) -> char {
    const UPPER: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒáíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u{AD}±‗¾¶§÷¸°¨·¹³²■\u{A0}";
    let upper = byte.checked_sub(128).map(usize::from);
    upper.map_or(char::from(byte), |place| {
        UPPER
            .chars()
            .nth(place)
            .unwrap_or(char::REPLACEMENT_CHARACTER)
    })
}

/// Western text in UTF-16 has a zero in nearly every other byte.
fn utf16_without_mark(bytes: &[u8]) -> Option<&'static encoding_rs::Encoding> {
    let sample = bytes.get(..bytes.len().min(4096) & !1)?;
    if sample.is_empty() {
        return None;
    }
    let zeros = |odd: usize| {
        sample
            .iter()
            .skip(odd)
            .step_by(2)
            .filter(|&&b| b == 0)
            .count()
    };
    let (even, odd, pairs) = (zeros(0), zeros(1), sample.len() / 2);
    if odd * 10 > pairs * 7 && even * 10 < pairs {
        Some(UTF_16LE)
    } else if even * 10 > pairs * 7 && odd * 10 < pairs {
        Some(UTF_16BE)
    } else {
        None
    }
}

/// Separators tried, in the order in which a tie is decided. The comma comes last,
/// because it is the decimal mark of half the world.
const SEPARATORS: [u8; 4] = [b'\t', b';', b'|', b','];

/// Most letters of a text that is looked at for a recipe told in sentences; longer ones are
/// tables.
const LONGEST_TOLD: usize = 20_000;

/// Rows looked at to find the separator.
const SAMPLE: usize = 60;
/// So well a separator scores that divides all rows alike.
const ALL: f64 = 0.99;

/// Reads a table of text. The separator is the one that divides most rows into the
/// same number of cells; without any, every line is one cell.
pub fn read(text: &str) -> Result<Table, TableError> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    // A first line `sep=;` names the separator, a habit of spreadsheet programs.
    if let Some((first, rest)) = text.split_once('\n')
        && let Some(named) = first.trim_end().strip_prefix("sep=")
        && let [separator] = named.as_bytes()
    {
        return cells(rest, *separator, 1);
    }
    if let Some(bare) = without_quote_marks(text) {
        let mut table = read(&bare)?;
        leave_out_quoted(&mut table, text);
        return Ok(table);
    }
    let bare = talk::without_stamps(text).or_else(|| talk::with_units_spelt_out(text));
    if let Some(bare) = bare {
        return read(&bare);
    }
    if is_markdown(text) {
        return markdown(text);
    }
    let whole = with_broken_names_joined(text);
    let text = whole.as_deref().unwrap_or(text);
    if let Some(whole) = without_page_marks(text) {
        let mut table = read(&whole)?;
        table
            .done
            .push("the numbers of sheets of paper were left out".to_owned());
        return Ok(table);
    }
    // Cells pasted below each other are rows of a table.
    let paired = super::below_names::joined(text)
        .filter(|_| text.len() > LONGEST_TOLD || super::records::read(text).is_none());
    let text = paired.as_deref().unwrap_or(text);
    if let Some(led) = without_leaders(text)
        && (led.in_columns || is_aligned(text))
    {
        return aligned(&led.text);
    }
    // The commas of a sentence divide nothing.
    if text.len() <= LONGEST_TOLD && super::prose::is_told(text.lines(), None) {
        return lines(text);
    }
    if text.len() <= LONGEST_TOLD
        && let Some(table) = super::records::read(text)
    {
        return Ok(table);
    }
    let marks = best_separator(text);
    let seen = divided::Seen {
        marks: marks.is_some(),
        marks_in_all: marks.is_some_and(|(_, score)| score > ALL),
        marked_numbers: marks.is_some_and(|(separator, _)| has_a_column(text, separator)),
        blanks: is_aligned(text),
        numbers_between_blanks: has_a_column_between_blanks(text),
    };
    match (divided::of(seen), marks) {
        (Divided::Marks, Some((separator, _))) => cells(text, separator, 0),
        (Divided::Blanks, _) => aligned(text),
        _ => lines(text),
    }
}

/// A text of a mail without the marks of quotation in front of its lines, if all have them or
/// several do; its lines stay where they are.
fn without_quote_marks(text: &str) -> Option<String> {
    /// Fewer lines may begin so for another reason.
    const ENOUGH: usize = 3;
    let filled = || text.lines().filter(|l| !l.trim().is_empty());
    let quoted = filled().filter(|l| is_quoted(l)).count();
    let is_mail = quoted >= ENOUGH || quoted > 1 && quoted == filled().count();
    is_mail.then(|| {
        let bare = |line: &str| {
            if !is_quoted(line) {
                return line.to_owned();
            }
            line.trim_start().trim_start_matches(['>', ' ']).to_owned()
        };
        text.lines().map(bare).collect::<Vec<_>>().join("\n")
    })
}

fn is_quoted(line: &str) -> bool {
    line.trim_start().starts_with('>')
}

/// Leaves out what an answer quotes of an earlier letter, where the answer itself names several
/// materials: the one is not to be mixed with the other.
fn leave_out_quoted(table: &mut Table, text: &str) {
    /// An answer with fewer only speaks of what it quotes.
    const ENOUGH: usize = 3;
    let names_one = |line: &str| items(line, None, false).lines.len() == 1;
    let own = text
        .lines()
        .filter(|l| !is_quoted(l) && names_one(l))
        .count();
    let bare = |line: &'_ str| line.trim_start().trim_start_matches(['>', ' ']).to_owned();
    let quoted = || text.lines().enumerate().filter(|(_, line)| is_quoted(line));
    let told = quoted().filter(|(_, line)| names_one(&bare(line))).count();
    if own < ENOUGH || told == 0 {
        return;
    }
    let rows = quoted().map(|(row, _)| row);
    let filled: Vec<usize> = rows
        .filter(|row| !table.row_text(*row).is_empty())
        .collect();
    table
        .left_out
        .extend(filled.into_iter().map(|row| (row, QUOTED)));
}

/// A text with blanks in place of the marks that lead from names to amounts.
#[derive(PartialEq, Debug)]
struct Led {
    text: String,
    /// Most lines with a number had such marks, and something stands behind an amount.
    in_columns: bool,
}

/// A text with blanks in place of the dots, strokes or dashes that lead from a name to its amount:
/// "Stearic acid ........  40 %"; `None` if hardly a line has them.
fn without_leaders(text: &str) -> Option<Led> {
    /// Fewer lines have dots for another reason.
    const ENOUGH: usize = 2;
    /// So many of them divide a text into columns.
    const COLUMNS: usize = 3;
    let (mut found, mut numbered, mut worded) = (0, 0, 0);
    let lines: Vec<String> = text
        .lines()
        .map(|line| {
            let led = without_leader(line).map(|led| {
                worded += usize::from(led.to_words);
                led.line
            });
            found += usize::from(led.is_some());
            numbered += usize::from(line.contains(|c: char| c.is_ascii_digit()));
            led.unwrap_or_else(|| line.to_owned())
        })
        .collect();
    (found >= ENOUGH).then(|| Led {
        text: lines.join("\n"),
        in_columns: found >= COLUMNS
            && found * 2 > numbered
            && (worded * 2 > found || lines.iter().any(|line| has_remark(line))),
    })
}

/// Whether a remark in brackets stands apart behind the amount of a line: "6 g   (made up from 20 g
/// crystals)".
fn has_remark(line: &str) -> bool {
    let cells = divided_by_blanks(line);
    matches!(cells.as_slice(), [_, _, .., (_, last)] if cells.len() > 2 && last.starts_with('('))
}

/// How long a run of marks is that leads from a name to its amount: of the same mark, ".....", or
/// of points between blanks, ". . . .".
fn leader_at(letters: &[char]) -> Option<usize> {
    /// Fewer marks of the same kind are those of a sentence.
    const SHORTEST: usize = 3;
    let is_mark = |c: char| matches!(c, '.' | '·' | '_' | '…' | '‥' | '-' | '–' | '—');
    let mark = letters.first().copied().filter(|c| is_mark(*c))?;
    let run = letters.iter().take_while(|c| **c == mark).count();
    if run >= SHORTEST || mark == '…' {
        return Some(run);
    }
    let pairs = letters.chunks(2).take_while(|pair| {
        let [first, rest @ ..] = pair else {
            return false;
        };
        *first == mark && matches!(rest, [] | [' '])
    });
    let apart = pairs.count();
    let spaced = matches!(mark, '.' | '·') && apart >= SHORTEST;
    // Without the blank behind the last.
    spaced.then(|| (apart * 2 - 1).min(letters.len()))
}

/// A line with blanks in place of its leader.
struct LedLine {
    line: String,
    /// It leads to words, such as an INCI name, and to no amount.
    to_words: bool,
}

/// A line without its leader, whose amount keeps its place.
fn without_leader(line: &str) -> Option<LedLine> {
    /// A shorter one before words is a pause in a sentence.
    const LONG: usize = 6;
    let letters: Vec<char> = line.chars().collect();
    let (mut start, mut run) = (0, None);
    while let Some(rest) = letters.get(start..).filter(|rest| !rest.is_empty()) {
        let leader = leader_at(rest);
        if let Some(length) = leader {
            run = Some(start..start + length);
        }
        start += leader.unwrap_or_else(|| {
            let first = rest.first();
            rest.iter().take_while(|c| Some(*c) == first).count()
        });
    }
    let run = run?;
    let before: String = letters.get(..run.start)?.iter().collect();
    let after: String = letters.get(run.end..)?.iter().collect();
    let named = before.contains(char::is_alphabetic) && !before.contains(['|', '\t']);
    let amount = after.trim();
    let counted = amount.starts_with(|c: char| c.is_numeric() || matches!(c, '~' | '<' | '≈'))
        || crate::naming::qs::is_qs(amount);
    let to_words = !counted && run.len() >= LONG && amount.starts_with(|c: char| c.is_uppercase());
    // Two blanks at least, so that they part it from the name.
    (named && (counted || to_words)).then(|| LedLine {
        line: format!("{before}{}{after}", " ".repeat(run.len().max(2))),
        to_words,
    })
}

/// A text whose names are whole that were broken at the end of a line: "Glycerinstearat-" above
/// "citrat    25,0"; `None` if none is. The first of the two lines stays empty.
fn with_broken_names_joined(text: &str) -> Option<String> {
    let begins_so = |line: &str| {
        let number = line.contains(|c: char| c.is_ascii_digit());
        let mut letters = line.trim_end().chars().rev();
        !number && letters.next() == Some('-') && letters.next().is_some_and(char::is_alphabetic)
    };
    let goes_on = |line: &str| {
        let line = line.trim_start();
        let first = words_of(line.split_whitespace().next().unwrap_or_default());
        // "Sucrose- and lauryl glucoside".
        let joins = first.iter().any(|word| words().joints.contains(word));
        line.starts_with(char::is_lowercase)
            && line.contains(|c: char| c.is_ascii_digit())
            && !joins
    };
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let mut found = false;
    for row in 1..lines.len() {
        let [above, below] = lines.get(row - 1..=row).unwrap_or_default() else {
            continue;
        };
        if !begins_so(above) || !goes_on(below) {
            continue;
        }
        let indented = above.len() - above.trim_start().len();
        let begun = above.trim_end().trim_end_matches('-');
        let joined = format!("{begun}{}", below.trim_start());
        let grown = joined.chars().count().saturating_sub(below.chars().count());
        let joined = with_shorter_gap(&joined, indented + begun.trim_start().len(), grown);
        if let Some(line) = lines.get_mut(row) {
            *line = joined;
        }
        if let Some(line) = lines.get_mut(row - 1) {
            line.clear();
        }
        found = true;
    }
    found.then(|| lines.join("\n"))
}

/// A line that takes up so many letters less in front of its amount, as far as blanks and points
/// stand there behind `from`, so that the amount keeps its place.
fn with_shorter_gap(line: &str, from: usize, less: usize) -> String {
    let is_gap = |c: char| matches!(c, ' ' | '.' | '·' | '_');
    let Some((name, rest)) = line.split_at_checked(from) else {
        return line.to_owned();
    };
    let Some(gap) = rest.find("  ").or_else(|| rest.find(" .")) else {
        return line.to_owned();
    };
    let (word, behind) = rest.split_at(gap);
    let length = behind.chars().take_while(|c| is_gap(*c)).count();
    // Two blanks still part it.
    let cut = less.min(length.saturating_sub(2));
    let behind: String = behind.chars().skip(cut).collect();
    format!("{name}{word}{behind}")
}

/// A text without the lines that only number its sheets of paper, which stay empty; `None` if it
/// has none within.
fn without_page_marks(text: &str) -> Option<String> {
    let mut found = false;
    let lines: Vec<&str> = text
        .lines()
        .map(|line| {
            let mark = super::words::is_page_mark(line);
            found |= mark;
            if mark { "" } else { line }
        })
        .collect();
    found.then(|| lines.join("\n"))
}

/// Every line as one cell.
fn lines(text: &str) -> Result<Table, TableError> {
    let mut collector = Collector::default();
    for (row, line) in text.lines().enumerate() {
        let (kept, struck) = without_struck(line);
        if struck.is_empty() {
            collector.put(row, 0, Cell::Text(line.trim().to_owned()))?;
            continue;
        }
        if names_nothing(&kept) {
            collector.table.struck.insert((row, 0));
            collector.put(row, 0, Cell::Text(line.replace("~~", "").trim().to_owned()))?;
            continue;
        }
        collector.table.struck_words.insert((row, 0), struck);
        collector.put(row, 0, Cell::Text(kept.trim().to_owned()))?;
    }
    leave_out_asides(&mut collector.table);
    leave_out_mail_heads(&mut collector.table);
    Ok(collector.table)
}

/// Leaves out who wrote to whom and when, in lines below each other at the head of a letter; what
/// it is about stays.
fn leave_out_mail_heads(table: &mut Table) {
    /// Fewer such lines may say something of a product.
    const ENOUGH: usize = 2;
    let is_head = |row: usize| {
        let said = table.row_text(row);
        let key = said.split_once(':').map(|(key, _)| words_of(key).join(" "));
        key.is_some_and(|key| words().mail_head.contains(&key))
    };
    // Between the others stands what it is about, and what programs add.
    let is_between = |row: usize| {
        let said = table.row_text(row);
        let key = said.split_once(": ").map_or("", |(key, _)| key);
        !key.is_empty() && !key.contains(|c: char| c.is_ascii_digit()) && words_of(key).len() <= 3
    };
    let mut heads: Vec<usize> = Vec::new();
    let mut row = 0;
    while row < table.rows.len() {
        if !is_head(row) {
            row += 1;
            continue;
        }
        let end = (row..table.rows.len())
            .find(|&at| !is_head(at) && !is_between(at))
            .unwrap_or(table.rows.len());
        let block: Vec<usize> = (row..end).filter(|&at| is_head(at)).collect();
        if block.len() >= ENOUGH {
            heads.extend(block);
        }
        row = end.max(row + 1);
    }
    table
        .left_out
        .extend(heads.into_iter().map(|row| (row, MAIL_HEAD)));
}

/// Whether what is left of a line says no more than why the rest was struck: "(gone hard)".
fn names_nothing(kept: &str) -> bool {
    let mut depth = 0_i32;
    let outside = kept.chars().filter(|c| {
        depth += i32::from(*c == '(') - i32::from(*c == ')');
        depth == 0
    });
    let outside: String = outside.collect();
    // The box of a list that is ticked off.
    let bare = outside.replace("[x]", "").replace("[X]", "");
    !bare.contains(char::is_alphanumeric)
}

/// Leaves out what stands below a heading of tools or of what others say: down to the next
/// heading of the same rank where headings are marked, else to the next blank line. What others
/// say is left out below a marked heading only: nobody knows where it ends otherwise.
fn leave_out_asides(table: &mut Table) {
    let text = |row: usize| table.row_text(row);
    let rank = |row: usize| text(row).bytes().take_while(|b| *b == b'#').count();
    let mut aside: Vec<(usize, &'static str)> = Vec::new();
    for row in 0..table.rows.len() {
        let said = text(row);
        let bare = said.trim_matches(['#', '*', ':', ' ']);
        let own = rank(row);
        let why = if words().tools.contains(&words_of(bare).join(" ")) {
            TOOLS
        } else if own > 0 && is_aside(bare) {
            ASIDE
        } else {
            continue;
        };
        let ends = |row: &usize| {
            if own > 0 {
                (1..=own).contains(&rank(*row))
            } else {
                text(*row).is_empty()
            }
        };
        let below = (row + 1..table.rows.len()).take_while(|row| !ends(row));
        let all = std::iter::once(row).chain(below.filter(|row| !text(*row).is_empty()));
        aside.extend(all.map(|row| (row, why)));
    }
    table.left_out.extend(aside);
}

/// Whether a line is the rule below the headings of a Markdown table: `|---|:--:|`.
fn is_rule(line: &str) -> bool {
    let line = line.trim();
    line.contains("--")
        && line.contains(['|', '+'])
        && line
            .chars()
            .all(|c| matches!(c, '|' | '-' | ':' | '+' | '=' | ' '))
}

/// A text without what stands between two tildes each, which Markdown strikes through,
/// and that.
fn without_struck(text: &str) -> (String, String) {
    let (mut left, mut struck) = (String::new(), Vec::new());
    let mut parts = text.split("~~");
    left.push_str(parts.next().unwrap_or_default());
    while let Some(inner) = parts.next() {
        if let Some(after) = parts.next() {
            struck.push(inner.trim());
            left.push_str(after);
        } else {
            // Tildes that nothing closes.
            left.push_str("~~");
            left.push_str(inner);
        }
    }
    (left, struck.join(" "))
}

fn is_markdown(text: &str) -> bool {
    text.lines().any(is_rule)
}

/// The cells of Markdown tables; lines between them are one cell each.
fn markdown(text: &str) -> Result<Table, TableError> {
    let mut collector = Collector::default();
    for (row, line) in text.lines().enumerate() {
        let line = line.trim();
        if is_rule(line) {
            continue;
        }
        let plain = |cell: &str| {
            cell.trim()
                .trim_matches('*')
                .trim_matches('`')
                .replace("\\|", "|")
        };
        if line.contains('|') {
            let inner = line.strip_prefix('|').unwrap_or(line);
            let inner = inner.strip_suffix('|').unwrap_or(inner);
            for (column, cell) in inner.split('|').enumerate() {
                let (cell, struck) = without_struck(cell);
                if !struck.is_empty() && cell.trim().is_empty() {
                    collector.table.struck.insert((row, column));
                    collector.put(row, column, Cell::Text(struck))?;
                    continue;
                }
                if !struck.is_empty() {
                    collector.table.struck_words.insert((row, column), struck);
                }
                collector.put(row, column, Cell::Text(plain(&cell)))?;
            }
        } else {
            let text = plain(line.trim_start_matches('#'));
            collector.put(row, 0, Cell::Text(text))?;
        }
    }
    leave_out_asides(&mut collector.table);
    Ok(collector.table)
}

/// A cell of a line that blanks divide.
#[derive(Clone)]
struct Piece {
    /// Its place in letters.
    column: usize,
    /// Its place in bytes.
    range: std::ops::Range<usize>,
}

/// The cells of a line in which two blanks or more divide, each with its place in letters.
fn divided_by_blanks(line: &str) -> Vec<(usize, &str)> {
    let mut pieces: Vec<Piece> = Vec::new();
    let mut blanks = 2;
    for (column, (place, letter)) in line.char_indices().enumerate() {
        if letter == ' ' || letter == '\u{A0}' {
            blanks += 1;
            continue;
        }
        let end = place + letter.len_utf8();
        match pieces.last_mut().filter(|_| blanks < 2) {
            Some(piece) => piece.range.end = end,
            None => pieces.push(Piece {
                column,
                range: place..end,
            }),
        }
        blanks = 0;
    }
    let text = |range: &std::ops::Range<usize>| line.get(range.clone()).unwrap_or_default();
    let mut cells: Vec<(usize, &str)> = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.iter().enumerate().peekable();
    while let Some((place, piece)) = pieces.next() {
        // "ad  100,0" is one.
        let fills = place > 0
            && words()
                .fill_to
                .contains(&words_of(text(&piece.range)).join(" "));
        let number = |(_, next): &(usize, &Piece)| {
            text(&next.range).starts_with(|c: char| c.is_ascii_digit())
        };
        let whole = pieces.next_if(|next| fills && number(next));
        let end = whole.map_or(piece.range.end, |(_, next)| next.range.end);
        cells.push((piece.column, text(&(piece.range.start..end))));
    }
    cells
}

/// How many letters a cell takes up.
fn letters(cell: &str) -> usize {
    cell.chars().count()
}

/// The cells between columns of blanks that go through all lines, if these divide the first
/// line into single words: a table printed with one blank between its columns, with a column
/// of numbers of rows in front or without.
fn divided_by_gaps(text: &str) -> Option<Vec<Vec<(usize, &str)>>> {
    /// Fewer lines may have blanks below each other by chance.
    const ENOUGH: usize = 4;
    let lines: Vec<&str> = text.lines().collect();
    let filled = || lines.iter().filter(|l| !l.trim().is_empty());
    // Places are those of bytes, so letters of several would shift them.
    if filled().count() < ENOUGH || !text.is_ascii() || text.contains('\t') {
        return None;
    }
    let width = lines.iter().map(|l| l.len()).max().unwrap_or(0);
    let is_gap = |place: usize| {
        lines
            .iter()
            .all(|l| l.as_bytes().get(place).is_none_or(|b| *b == b' '))
    };
    let mut columns: Vec<std::ops::Range<usize>> = Vec::new();
    let mut start = None;
    for place in 0..=width {
        match (place == width || is_gap(place), start) {
            (true, Some(from)) => {
                columns.push(from..place);
                start = None;
            }
            (false, None) => start = Some(place),
            _ => {}
        }
    }
    let first = filled().next()?;
    let words = first.split_whitespace().count();
    let fits = columns.len() == words || columns.len() == words + 1;
    // Only where runs of blanks divide the rows so, but not the headings.
    let usual = most_frequent(filled().skip(1).map(|l| divided_by_blanks(l).len()))?;
    if words < 2 || !fits || usual != columns.len() || divided_by_blanks(first).len() >= words {
        return None;
    }
    let cells = |line: &'_ &str| {
        let line: &str = line;
        columns
            .iter()
            .filter_map(|range| {
                let end = range.end.min(line.len());
                let cell = line.get(range.start.min(end)..end)?;
                let trimmed = cell.trim_start();
                let from = range.start + (cell.len() - trimmed.len());
                (!trimmed.trim_end().is_empty()).then(|| (from, trimmed.trim_end().len()))
            })
            .collect::<Vec<(usize, usize)>>()
    };
    Some(
        lines
            .iter()
            .map(|line| {
                cells(line)
                    .into_iter()
                    .filter_map(|(from, length)| Some((from, line.get(from..from + length)?)))
                    .collect()
            })
            .collect(),
    )
}

/// Whether most lines, or most of those with a number, are divided by runs of blanks.
fn is_aligned(text: &str) -> bool {
    /// Nobody indents a line so far.
    const FAR: usize = 12;
    let lines: Vec<(usize, bool)> = text
        .lines()
        .filter(|l| !l.trim().is_empty())
        .take(SAMPLE)
        .map(|l| {
            let numbered = l.contains(|c: char| c.is_ascii_digit());
            let cells = divided_by_blanks(l);
            // A sum far to the right stands below others.
            let right = matches!(cells.as_slice(), [(start, _)] if *start >= FAR);
            (cells.len() + usize::from(right), numbered)
        })
        .collect();
    let most = |of: &dyn Fn(bool) -> bool| {
        let of_them = lines.iter().filter(|(_, numbered)| of(*numbered));
        let divided = of_them.clone().filter(|(cells, _)| *cells > 1).count();
        divided >= 2 && divided * 2 > of_them.count()
    };
    // A list of several columns above much text.
    let wide = |run: &[(usize, bool)]| run.iter().all(|(cells, _)| *cells > 2);
    most(&|_| true) || most(&|numbered| numbered) || lines.windows(3).any(wide)
}

/// A name so long that only one blank parts it from its amount at the right edge of the table.
fn part_long_name(cells: &mut Vec<(usize, &str)>, width: usize, right: usize) {
    let [(start, cell)] = cells.as_slice() else {
        return;
    };
    let (start, end) = (*start, start + letters(cell));
    if width != 2 || end.abs_diff(right) > 1 {
        return;
    }
    // The number with its unit, or alone.
    let blanks = cell.rmatch_indices(' ').take(2).map(|(place, _)| place);
    let parted = blanks.filter_map(|place| {
        let (name, amount) = (cell.get(..place)?, cell.get(place + 1..)?);
        let begins = amount.starts_with(|c: char| c.is_ascii_digit());
        // "Batch: 500 g" says what it is of.
        let named = begins && !name.ends_with(':');
        (named && crate::amount::number::amount(amount, None).is_ok()).then_some((name, amount))
    });
    if let Some((name, amount)) = parted.last() {
        *cells = vec![(start, name), (end - letters(amount), amount)];
    }
}

/// The extents of columns where no cell of one reaches into another: whatever rows lack, such as
/// a strength that not all materials have, these are the columns.
fn parted_columns<'l>(
    lines: impl Iterator<Item = &'l Vec<(usize, &'l str)>>,
) -> Vec<(usize, usize)> {
    let mut cells: Vec<(usize, usize)> = lines
        // A title alone reaches over all of them.
        .filter(|line| line.len() > 1)
        .flatten()
        .map(|(start, cell)| (*start, start + letters(cell)))
        .collect();
    cells.sort_unstable();
    let mut columns: Vec<(usize, usize)> = Vec::new();
    for (start, end) in cells {
        match columns.last_mut() {
            Some((_, last)) if start < *last => *last = (*last).max(end),
            _ => columns.push((start, end)),
        }
    }
    columns
}

/// Text aligned with blanks: cells belong to the column in which they begin, or, for
/// numbers set flush right, end.
fn aligned(text: &str) -> Result<Table, TableError> {
    let lines: Vec<Vec<(usize, &str)>> =
        divided_by_gaps(text).unwrap_or_else(|| text.lines().map(divided_by_blanks).collect());
    // The columns are those of the widest row that occurs most.
    let usual = most_frequent(lines.iter().map(Vec::len).filter(|&n| n > 1)).unwrap_or(2);
    let most = lines.iter().map(Vec::len).max().unwrap_or(usual);
    // Facts of two cells and the method below a list need not keep to its columns.
    let of_list = |line: &&Vec<(usize, &str)>| line.len() >= usual;
    let parted = [
        parted_columns(lines.iter()),
        parted_columns(lines.iter().filter(of_list)),
    ];
    let model = if let Some(parted) = parted.into_iter().find(|p| p.len() == most) {
        parted
    } else {
        // The extent of each column over all rows that have the most cells.
        let width = if lines.iter().filter(|l| l.len() == most).count() >= 2 {
            most
        } else {
            usual
        };
        (0..width)
            .map(|column| {
                let cells = lines
                    .iter()
                    .filter(|l| l.len() == width)
                    .filter_map(|l| l.get(column));
                let start = cells.clone().map(|(s, _)| *s).min().unwrap_or(0);
                let end = cells.map(|(s, t)| s + letters(t)).max().unwrap_or(start);
                (start, end)
            })
            .collect()
    };
    let mut collector = Collector::default();
    // Where most rows end; a title may reach farther.
    let ends = lines.iter().filter(|l| l.len() == model.len());
    let ends = ends.filter_map(|l| l.last().map(|(start, cell)| start + letters(cell)));
    let right = most_frequent(ends).unwrap_or(0);
    for (row, mut cells) in lines.into_iter().enumerate() {
        part_long_name(&mut cells, model.len(), right);
        let full = cells.len() == model.len();
        let count = cells.len();
        let mut next = 0;
        for (place, (start, cell)) in cells.iter().enumerate() {
            let end = start + letters(cell);
            // How much it shares with a column, or how far it is from it.
            let fit = |&(from, to): &(usize, usize)| {
                let shared = end.min(to).saturating_sub(*start.max(&from));
                let apart = from.saturating_sub(end) + start.saturating_sub(to);
                (shared, std::cmp::Reverse(apart))
            };
            // Each cell has a column of its own, right of that of the cell before.
            let last = (model.len() + place + 1)
                .saturating_sub(count)
                .max(next + 1);
            let column = if full || count == 1 && *start == 0 {
                place
            } else {
                (next..last)
                    .max_by_key(|&c| (model.get(c).map(fit), std::cmp::Reverse(c)))
                    .unwrap_or(next)
            };
            next = column + 1;
            collector.put(row, column, Cell::Text((*cell).to_owned()))?;
        }
    }
    Ok(collector.table)
}

fn reader(text: &str, separator: u8) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::None)
        .from_reader(text.as_bytes())
}

/// The separator that divides most rows into the same number of cells, and how well it does.
fn best_separator(text: &str) -> Option<(u8, f64)> {
    let mut best: Option<(f64, u8)> = None;
    for separator in SEPARATORS {
        let widths: Vec<usize> = reader(text, separator)
            .records()
            .take(SAMPLE)
            .filter_map(Result::ok)
            // What stands at the head for people divides nothing.
            .filter(|row| {
                !row.get(0)
                    .is_some_and(|cell| is_remark(cell) && !cell.starts_with("##"))
            })
            .filter(|row| row.iter().any(|cell| !cell.trim().is_empty()))
            .map(|row| row.len())
            .collect();
        let divided = widths.iter().filter(|&&w| w > 1).count();
        if separator == b',' && is_prose(text) {
            continue;
        }
        let Some(usual) = most_frequent(widths.iter().copied().filter(|&w| w > 1)) else {
            continue;
        };
        let same = widths.iter().filter(|&&w| w == usual).count();
        // Headings and remarks of one cell count against a separator, but less than
        // rows it cuts into odd pieces.
        let odd = divided - same;
        let score = same as f64 / (widths.len() as f64 + 2.0 * odd as f64);
        if score > 0.4 && best.is_none_or(|(most, _)| score > most * 1.25) {
            best = Some((score, separator));
        }
    }
    best.map(|(score, separator)| (separator, score))
}

/// Whether the commas of a text are those of decimals and of lists within lines, as in
/// "Water 70,5 %" and "Phase A: 70 % water, 5 % glycerin".
fn is_prose(text: &str) -> bool {
    let (mut decimal, mut prose, mut plain) = (0_usize, 0_usize, 0_usize);
    for line in text.lines().take(SAMPLE).filter(|l| l.contains(',')) {
        if line.contains('"') {
            return false;
        }
        let letters: Vec<char> = line.chars().collect();
        for (place, _) in letters.iter().enumerate().filter(|(_, c)| **c == ',') {
            let before = place.checked_sub(1).and_then(|p| letters.get(p));
            let after = letters.get(place + 1);
            let digit = |c: Option<&char>| c.is_some_and(char::is_ascii_digit);
            if digit(before) && digit(after) {
                decimal += 1;
            } else if after.is_some_and(|c| *c == ' ') {
                prose += 1;
            // At the end of a line of words it parts nothing: "Dear Ann,".
            } else if after.is_some() || letters.iter().any(char::is_ascii_digit) {
                plain += 1;
            }
        }
    }
    decimal > 0 && plain == 0 || prose > plain * 2 && has_units(text) && !has_a_column(text, b',')
}

/// Whether some amount in a text has its unit: "5 %", "20 g".
fn has_units(text: &str) -> bool {
    let words: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '(' | ')'))
        .filter(|w| !w.is_empty())
        .take(2_000)
        .collect();
    text.contains('%')
        || words.windows(2).any(|pair| {
            matches!(pair, [number, unit] if number.ends_with(|c: char| c.is_ascii_digit())
                && crate::amount::number::Unit::named(unit).is_some())
        })
}

/// Whether a separator, with or without blanks around it, leaves a column of numbers: rows
/// such as "Water , 70" below "Ingredient , %".
fn has_a_column(text: &str, separator: u8) -> bool {
    let rows: Vec<csv::StringRecord> = reader(text, separator)
        .records()
        .take(SAMPLE)
        .filter_map(Result::ok)
        .collect();
    let width = rows.iter().map(csv::StringRecord::len).max().unwrap_or(0);
    (0..width).any(|column| {
        let numbers = rows
            .iter()
            .filter_map(|row| row.get(column))
            .filter(|cell| {
                crate::amount::number::amount(cell.trim(), None).is_ok_and(|a| a.unit.is_none())
            })
            .count();
        numbers * 2 >= rows.len() && numbers > 0 && rows.len() > 1
    })
}

/// Whether runs of blanks leave numbers at the end or at the beginning of most lines that they
/// divide.
fn has_a_column_between_blanks(text: &str) -> bool {
    let is_number = |cell: Option<&(usize, &str)>| {
        cell.is_some_and(|(_, cell)| crate::amount::number::amount(cell, None).is_ok())
    };
    let rows: Vec<Vec<(usize, &str)>> = text
        .lines()
        .take(SAMPLE)
        .map(divided_by_blanks)
        .filter(|cells| cells.len() > 1)
        .collect();
    type Cells<'a> = Vec<(usize, &'a str)>;
    let count = |of: &dyn Fn(&Cells<'_>) -> bool| rows.iter().filter(|r| of(r)).count();
    let most = count(&|row| is_number(row.last())).max(count(&|row| is_number(row.first())));
    most > 1 && most * 2 >= rows.len()
}

/// Whether a first cell begins a remark for people; "#" alone heads a column of numbers.
fn is_remark(cell: &str) -> bool {
    let cell = cell.trim();
    cell.starts_with('#') && cell.len() > 1
}

fn most_frequent(numbers: impl Iterator<Item = usize>) -> Option<usize> {
    let mut counts = std::collections::BTreeMap::new();
    for number in numbers {
        *counts.entry(number).or_insert(0_usize) += 1;
    }
    counts
        .into_iter()
        .max_by_key(|&(number, count)| (count, number))
        .map(|(number, _)| number)
}

fn cells(text: &str, separator: u8, first_row: usize) -> Result<Table, TableError> {
    let mut collector = Collector::default();
    let mut reader = reader(text, separator);
    let mut record = csv::StringRecord::new();
    // Rows are numbered as a spreadsheet numbers them. The reader passes over blank
    // lines, so a record that took more lines than its cells have was preceded by some.
    let mut row = first_row;
    loop {
        let first_line = reader.position().line();
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => return Err(TableError::Damaged(error.to_string())),
        }
        let lines = reader.position().line() - first_line;
        let within: usize = record.iter().map(|cell| cell.matches('\n').count()).sum();
        row += usize::try_from(lines)
            .unwrap_or(0)
            .saturating_sub(1 + within);
        if record.get(0).is_some_and(is_remark) {
            // A remark for people: its commas divide nothing.
            let whole: Vec<&str> = record.iter().collect();
            let text = whole.join(&char::from(separator).to_string());
            collector.put(row, 0, Cell::Text(text))?;
            row += 1;
            continue;
        }
        for (column, cell) in record.iter().enumerate() {
            let cell = crate::harmless::as_meant(cell);
            collector.put(row, column, Cell::Text(cell.to_owned()))?;
        }
        row += 1;
    }
    Ok(collector.table)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(text: &str) -> Vec<Vec<String>> {
        read(text)
            .unwrap()
            .rows
            .iter()
            .map(|r| r.iter().map(Cell::words).collect())
            .collect()
    }

    #[test]
    fn leaders_part_names_from_inci_names() {
        let list = "Walnut oil . . . . . . Juglans Regia Seed Oil\nTalc . . . . . . . . . Talc\n page 2\nUrea . . . . . . . . . Urea\n";
        let found = rows(list);
        assert_eq!(found[0], ["Walnut oil", "Juglans Regia Seed Oil"]);
        assert!(found[2].is_empty(), "{found:?}");
        // A pause in a sentence leads to nothing.
        assert_eq!(
            without_leaders("Stir... and wait\nPour... Then cool\n"),
            None
        );
    }

    #[test]
    fn crowns_of_the_czechs_tell_the_encoding() {
        let bytes = "Surovina;Cena (Kč)\nKaolin;89,50\n"
            .chars()
            .map(|c| match c {
                'č' => 0xE8,
                c => u8::try_from(c).unwrap(),
            });
        let decoded = decode(&bytes.collect::<Vec<u8>>()).unwrap();
        assert!(decoded.text.contains("(Kč)"), "{}", decoded.text);
        assert_eq!(decoded.guessed, Some("Windows-1250"));
    }

    #[test]
    fn encodings_are_told_apart() {
        let text = "Jojobaöl – 2,5 %\n";
        let decoded = |bytes: &[u8]| decode(bytes).unwrap();
        assert_eq!(decoded(text.as_bytes()).text, text);
        let marked: Vec<u8> = [&[0xEF, 0xBB, 0xBF], text.as_bytes()].concat();
        assert_eq!(decoded(&marked).text, text);
        for marked in [true, false] {
            let units = text.encode_utf16();
            let little: Vec<u8> = marked
                .then_some(0xFEFF)
                .into_iter()
                .chain(units.clone())
                .flat_map(u16::to_le_bytes)
                .collect();
            assert_eq!(decoded(&little).text, text);
            let big: Vec<u8> = marked
                .then_some(0xFEFF)
                .into_iter()
                .chain(units)
                .flat_map(u16::to_be_bytes)
                .collect();
            assert_eq!(decoded(&big).text, text);
        }
        // Windows-1252 as in the WHATWG encoding standard: F6 is ö, 96 is an en dash.
        assert_eq!(decoded(b"Jojoba\xF6l \x96 2,5 %\n").text, text);
        assert_eq!(decoded(text.as_bytes()).guessed, None);
        assert_eq!(decoded(b"Jojoba\xF6l").guessed, None);
        // B3 is a letter in Latin-2, and a number set high in Windows-1252; so is 84 an accent on
        // an old machine.
        let polish = decoded(b"sk\xB3adnik\n");
        assert_eq!(
            (polish.text.as_str(), polish.guessed),
            ("składnik\n", Some("Windows-1250"))
        );
        // So is 9C, which looks like a letter of French in Windows-1252.
        for (bytes, text) in [
            (&b"Zawarto\x9C\xE6\n"[..], "Zawartość\n"),
            (b"gliceryna ro\x9Clinna\n", "gliceryna roślinna\n"),
            (b"olej ze \x9Cliwek\n", "olej ze śliwek\n"),
        ] {
            let polish = decoded(bytes);
            assert_eq!(polish.text, text);
            assert_eq!(polish.guessed, Some("Windows-1250"), "{text}");
        }
        let french = decoded(b"\x9Cillet, jaune d'\x9Cuf, c\x9Cur\n");
        assert_eq!(french.text, "œillet, jaune d'œuf, cœur\n");
        assert_eq!(french.guessed, None);
        let old = decoded(b"Milchs\x84ure\n");
        assert_eq!(
            (old.text.as_str(), old.guessed),
            ("Milchsäure\n", Some("code page 850"))
        );
        assert!(decode(&[0, 1, 2, 3, 250, 251]).is_err());
    }

    #[test]
    fn leaders_part_names_from_amounts() {
        let parted = |text: &str| rows(text);
        let text = "Water ............ 851 g\nBTMS-50 ........... 40 g\nAcid 20 % ......... 6 g   (of 20 g crystals + 80 g water)\n";
        assert_eq!(parted(text)[0], ["Water", "851 g"]);
        assert_eq!(
            parted(text)[2],
            ["Acid 20 %", "6 g", "(of 20 g crystals + 80 g water)"]
        );
        // Points between blanks lead as well.
        let text = "\
Wasser . . . . . . . . . .    305,0      g
Harnstoff  . . . . . . . .     50,0      g
Natriumlactat 60 %  . . .      15,0      g
";
        assert_eq!(parted(text)[0], ["Wasser", "305,0", "g"]);
        assert_eq!(parted(text)[1], ["Harnstoff", "50,0", "g"]);
        assert!(without_leader("Stir well. Then ... wait").is_none());
        assert!(without_leader("e. g. 5 g").is_none());
    }

    #[test]
    fn names_broken_at_the_end_of_a_line_are_whole() {
        let text = "Wasser          305,0\nGlycerinstearat-\ncitrat           25,0\nOlivenöl         45,0\n";
        let joined = with_broken_names_joined(text).unwrap();
        let lines: Vec<&str> = joined.lines().collect();
        assert_eq!(lines[1..3], ["", "Glycerinstearatcitrat  25,0"]);
        assert_eq!(rows(text)[2], ["Glycerinstearatcitrat", "25,0"]);
        for none in [
            "Sucrose-\nand lauryl glucoside 5 %",
            "Ceteareth-\n20 5 %",
            "5 %-\nwater 2",
        ] {
            assert_eq!(with_broken_names_joined(none), None, "{none}");
        }
    }

    #[test]
    fn what_fills_up_stays_with_its_whole() {
        let text = "Vaselinum album                       25,5\nAlcohol cetylicus et emulsificans      9,0\nAqua purificata                  ad  100,0\n";
        let rows = rows(text);
        assert_eq!(rows[1], ["Alcohol cetylicus et emulsificans", "9,0"]);
        assert_eq!(rows[2], ["Aqua purificata", "ad 100,0"]);
    }

    #[test]
    fn lines_struck_by_tildes_are_left_out() {
        let table = read(
            "- [x] 1100 g water\n- [x] ~~100 g glucoside~~ (gone hard)\n- 5 g ~~salt~~ soda\n",
        )
        .unwrap();
        assert!(table.struck.contains(&(1, 0)));
        assert_eq!(table.row_text(1), "- [x] 100 g glucoside (gone hard)");
        assert_eq!(
            table.struck_words.get(&(2, 0)).map(String::as_str),
            Some("salt")
        );
        assert_eq!(table.row_text(2), "- 5 g soda");
    }

    /// A strength that few materials have leaves its column empty in the other rows.
    #[test]
    fn cells_below_sparse_columns_of_aligned_text_stay_in_them() {
        let text = "\
Phase  Ingredient              Active %       %
A      Water                                 70
       SLES                          70      14
       Cocamidopropyl betaine        30      10
B      Salt                                   6
";
        let rows = rows(text);
        let column = |at: usize| -> Vec<&str> {
            let cells = rows
                .iter()
                .map(|row| row.get(at).map_or("", String::as_str));
            cells.collect()
        };
        assert_eq!(column(0), ["Phase", "A", "", "", "B"]);
        assert_eq!(column(2), ["Active %", "", "70", "30", ""]);
        assert_eq!(column(3), ["%", "70", "14", "10", "6"]);
    }

    /// Facts and the method below a list do not keep to its columns, of which one is empty.
    #[test]
    fn an_empty_column_of_aligned_text_is_one() {
        let text = "\
Parts   Unit   Ph.   Material               Vendor
77.5           A     Water, demineralised   Fenn & Co
12.5           A     PEG-8                  Larkmoor Supply
10             B     Palm kernel oil        Heathfield

Viscosity  4500 mPas
Shelf life  12 months
";
        let rows = rows(text);
        assert_eq!(
            rows[1],
            ["77.5", "", "A", "Water, demineralised", "Fenn & Co"]
        );
        assert_eq!(rows[3][3..], ["Palm kernel oil", "Heathfield"]);
    }

    #[test]
    fn dots_lead_from_names_to_amounts() {
        let text = "\
Shaving soap
====
Stearic acid ........  40,0 %
KOH 90 % ............   9,5 %
Water _______________  50.5 %
";
        let rows = rows(text);
        assert_eq!(rows[2], ["Stearic acid", "40,0 %"]);
        assert_eq!(rows[3], ["KOH 90 %", "9,5 %"]);
        assert_eq!(rows[4], ["Water", "50.5 %"]);
        assert_eq!(
            without_leaders("Heat ... then 5 minutes\nWater - 5 %\n"),
            None
        );
    }

    /// The commas are those of names.
    #[test]
    fn columns_of_blanks_divide_rather_than_commas_of_names() {
        let text = "\
Ph.   Ingredients                         Percent
A     Water, demineralised                72.5
A     Betaine                             12.5
B     Zinc oxide, non-nano                10
C     Water, demineralised                5
";
        assert_eq!(rows(text)[1], ["A", "Water, demineralised", "72.5"]);
        let commas = "Ingredient     , %\nWater          , 70\nOlive oil      , 30\n";
        assert_eq!(rows(commas)[1].len(), 2);
    }

    #[test]
    fn separators_are_found() {
        let expected = [
            vec!["Name", "%"],
            vec!["Water, purified", "70,5"],
            vec!["Oil", "29,5"],
        ];
        assert_eq!(rows("Name;%\nWater, purified;70,5\nOil;29,5\n"), expected);
        assert_eq!(
            rows("Name\t%\nWater, purified\t70,5\nOil\t29,5\n"),
            expected
        );
        assert_eq!(rows("Name|%\r\nWater, purified|70,5\r\nOil|29,5"), expected);
        assert_eq!(
            rows("Name,%\n\"Water, purified\",\"70,5\"\nOil,\"29,5\"\n"),
            expected
        );
        assert_eq!(
            rows("sep=;\nName;%\nWater, purified;70,5\nOil;29,5\n")[1..],
            expected
        );
        assert_eq!(
            rows("Water 70 %\nOil 30 %"),
            [vec!["Water 70 %"], vec!["Oil 30 %"]]
        );
    }

    #[test]
    fn titles_and_blank_lines_keep_their_rows() {
        let table = read("Moss conditioner\n\nName;%\nWater;70,5\nOil;29,5\n").unwrap();
        assert_eq!(table.cell(0, 0).words(), "Moss conditioner");
        assert_eq!(table.cell(3, 1).words(), "70,5");
        let quoted = read("a;b\n\"two\nlines\";2\nc;3\n").unwrap();
        assert_eq!(quoted.cell(1, 0).words(), "two lines");
        assert_eq!(quoted.cell(2, 1).words(), "3");
    }

    #[test]
    fn limits_hold() {
        let wide = "x;".repeat(1_000_000);
        assert!(matches!(
            read(&wide),
            Err(TableError::TooManyColumns { .. })
        ));
        let long = format!("a;b\n{};c\n", "x".repeat(100_000));
        assert!(matches!(read(&long), Err(TableError::LongCell { .. })));
        let tall = "a;b\n".repeat(super::super::MOST_ROWS + 1);
        assert!(matches!(read(&tall), Err(TableError::TooManyRows { .. })));
    }
}
