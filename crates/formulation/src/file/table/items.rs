//! Recipes in running text: "- 70 % water", "Glycerin: 5 g", "Phase A: 70 % water, 5 %
//! glycerin".

use super::amounts::{self, AmountReading, WrittenAmount};
use super::columns::{ColumnKind, spelt_heading};
use super::phase_words::{phase_heading, says_phase};
use super::words::{behind_circle, lettered, words};
use crate::amount::number::{DecimalMark, Unit};
use crate::naming::{is_known_name, words_of};

/// A material and how much of it.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Item {
    pub(super) name: String,
    pub(super) reading: AmountReading,
}

/// What a line of text says.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Items {
    /// The phase it begins, in its words.
    pub(super) phase: Option<String>,
    /// Materials with amounts.
    pub(super) lines: Vec<Item>,
    /// Pieces of a list in which no amount stands.
    pub(super) rest: Vec<String>,
}

/// The parts of a text that each begin with a phase: "Phase A: 70 % water. Phase B: …".
pub(super) fn by_phase(text: &str) -> Vec<&str> {
    let mut starts = vec![0];
    for (colon, _) in text.match_indices(':') {
        let before = text.get(..colon).unwrap_or_default();
        // Back to the mark that ends what stands before the phase.
        let Some((mark, sign)) = before
            .char_indices()
            .rev()
            .find(|(_, c)| matches!(c, '.' | ';' | ',' | '\n'))
        else {
            continue;
        };
        let start = mark + sign.len_utf8();
        let heading = before.get(start..).unwrap_or_default();
        if says_phase(heading) && phase_heading(heading).is_some() {
            starts.push(start);
        }
    }
    starts
        .iter()
        .enumerate()
        .filter_map(|(n, &start)| text.get(start..starts.get(n + 1).copied().unwrap_or(text.len())))
        .map(|part| part.trim().trim_end_matches(['.', ';', ',']))
        .filter(|part| !part.is_empty())
        .collect()
}

/// Reads a line of text; a number without a unit is an amount if `bare`. Letters of phases in
/// front of names, "(A) Water 70 %", are no part of them.
pub(super) fn items(text: &str, mark: Option<DecimalMark>, bare: bool) -> Items {
    let mut found = with_letters(text, mark, bare);
    for line in &mut found.lines {
        if let Some((_, name)) = lettered(&line.name).filter(|_| line.name.starts_with('(')) {
            line.name = name.to_owned();
        }
    }
    found
}

fn with_letters(text: &str, mark: Option<DecimalMark>, bare: bool) -> Items {
    let read = Reader { mark, bare };
    // "-- not above 75 degrees" is said beside the list.
    if text.trim_start().starts_with("-- ") {
        return Items::default();
    }
    let text = without_bullet(text);
    let mut found = Items::default();
    let mut body = text;
    // "(A) Water 70 %".
    if let Some((letter, after)) = text.strip_prefix('(').and_then(|t| t.split_once(')'))
        && letter.chars().count() <= 2
        && letter.starts_with(|c: char| c.is_ascii_uppercase())
    {
        found.phase = Some(letter.to_owned());
        body = after.trim();
    }
    if let Some((before, after)) = text.split_once(':')
        && !after.trim().is_empty()
        && phase_heading(before).is_some()
    {
        found.phase = Some(before.trim().to_owned());
        body = after.trim();
    }
    // "INCI: Aqua 71 %; Glycerin 5 %", "Ingredients: 70 % water, 5 % glycerin".
    if let Some((before, after)) = body.split_once(": ")
        && spelt_heading(before)
            .is_some_and(|column| matches!(column.kind, ColumnKind::Name | ColumnKind::Inci))
        && !before.contains(|c: char| c.is_ascii_digit() || c == ',')
    {
        body = after.trim();
    }
    // "Lye: 139 g sodium hydroxide in 311 g water": words before several that are measured.
    if found.phase.is_none()
        && let Some((before, after)) = body.split_once(": ")
        && read.announces(before, after)
    {
        found.phase = Some(before.trim().to_owned());
        body = after.trim();
    }
    // One material, even with a comma in its name.
    let whole = read.read_item(body);
    let pieces = read.whole_names(&pieces(body, read));
    let pieces: Vec<&str> = pieces.iter().map(String::as_str).collect();
    let amounts_in_pieces = pieces
        .iter()
        .filter(|p| read.read_item(p).is_some())
        .count();
    if amounts_in_pieces < 2 {
        // "Behentrimonium methosulfate 25 % in cetearyl alcohol 3 %" is one.
        let known = whole.as_ref().is_some_and(|item| is_known_name(&item.name));
        let run_on = if known { Vec::new() } else { read.run_on(body) };
        if run_on.len() > 1 {
            found.lines = run_on;
            return found;
        }
        match whole.or_else(|| read.joined(&pieces)) {
            Some(item) => found.lines.push(item),
            None => found.phase = None,
        }
        return found;
    }
    // Of pieces without an amount, "demineralised" belongs to the water before or after
    // it, depending on which side the amounts stand.
    let amount_first = pieces.first().is_some_and(|p| read.leading(p).is_some());
    let mut open: Vec<&str> = Vec::new();
    for piece in &pieces {
        match read.read_item(piece) {
            Some(mut one) => {
                if !open.is_empty() && !amount_first {
                    one.name = format!("{}, {}", open.join(", "), one.name);
                }
                open.clear();
                found.lines.push(one);
            }
            None if amount_first => match found.lines.last_mut() {
                Some(last) => last.name = format!("{}, {piece}", last.name),
                None => found.rest.push((*piece).to_owned()),
            },
            None => open.push(piece),
        }
    }
    found.rest.extend(open.into_iter().map(str::to_owned));
    found
}

/// A line without its bullet or number: "- ", "• ", "3. ", "b) ".
fn without_bullet(text: &str) -> &str {
    let text = text.trim();
    let bare = text.trim_start_matches(['•', '·', '‣', '▪', '◦', '●', '○']);
    if bare.len() < text.len() {
        return bare.trim();
    }
    // "① Water".
    if let Some((_, rest)) = behind_circle(text) {
        return rest;
    }
    // Ticks, arrows and pictures.
    let mut letters = text.chars();
    if let Some(sign) = letters.next()
        && !sign.is_alphanumeric()
        && !sign.is_ascii()
        && !matches!(
            sign,
            '~' | '≈'
                | '±'
                | '½'
                | '¼'
                | '¾'
                | '⅓'
                | '⅔'
                | '⅛'
                | '⅕'
                | '€'
                | '£'
                | '–'
                | '—'
                | '“'
                | '„'
                | '«'
        )
        && letters.as_str().starts_with([' ', '\u{FE0F}'])
    {
        return without_bullet(letters.as_str().trim_start_matches('\u{FE0F}'));
    }
    for bullet in ["- ", "* ", "– ", "— ", "+ ", "[ ] ", "[x] "] {
        if let Some(rest) = text.strip_prefix(bullet) {
            return without_bullet(rest);
        }
    }
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=2).contains(&digits)
        && let Some(rest) = text.get(digits..)
        && let Some(rest) = rest.strip_prefix(". ").or_else(|| rest.strip_prefix(") "))
    {
        return rest.trim();
    }
    text
}

/// The pieces of a list: parted by semicolons, by commas that are no decimal marks, and
/// by "and" before an amount.
fn pieces(text: &str, read: Reader) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut depth = 0_usize;
    let letters: Vec<(usize, char)> = text.char_indices().collect();
    for (n, &(place, letter)) in letters.iter().enumerate() {
        let digit = |at: Option<usize>| {
            at.and_then(|at| letters.get(at))
                .is_some_and(|(_, c)| c.is_ascii_digit())
        };
        depth = match letter {
            '(' => depth + 1,
            ')' => depth.saturating_sub(1),
            _ => depth,
        };
        let decimal = letter == ',' && digit(n.checked_sub(1)) && digit(Some(n + 1));
        if depth == 0 && matches!(letter, ',' | ';' | '|') && !decimal {
            pieces.push(text.get(start..place).unwrap_or_default());
            start = place + letter.len_utf8();
        }
    }
    pieces.push(text.get(start..).unwrap_or_default());
    let and = &words().between_items;
    pieces
        .into_iter()
        .flat_map(|piece| {
            // "139 g lye in 311 g water".
            let mut joints = words().into_items.iter();
            let parted = joints.find_map(|joint| {
                let (a, b) = piece.split_once(joint.as_str())?;
                let both = read.leading(a.trim()).is_some() && read.leading(b.trim()).is_some();
                both.then(|| vec![a, b])
            });
            if let Some(parted) = parted {
                return parted;
            }
            // "5 % glycerin and 3 % betaine".
            let parted = and.iter().find_map(|and| piece.split_once(and.as_str()));
            match parted {
                Some((a, b)) if read.read_item(a).is_some() && read.read_item(b).is_some() => {
                    vec![a, b]
                }
                _ => vec![piece],
            }
        })
        .map(|p| p.trim().trim_end_matches('.').trim())
        .map(|p| {
            let mut joints = and
                .iter()
                .filter_map(|and| p.strip_prefix(and.trim_start()));
            joints.next().unwrap_or(p)
        })
        .filter(|p| !p.is_empty())
        .collect()
}

/// How amounts are told in a text.
#[derive(Clone, Copy)]
struct Reader {
    mark: Option<DecimalMark>,
    /// A number without a unit is one.
    bare: bool,
}

impl Reader {
    /// Whether a few words stand in front of several materials, each with its amount before it.
    fn announces(self, before: &str, after: &str) -> bool {
        /// More words say something.
        const MOST_WORDS: usize = 4;
        let said = words_of(before);
        let in_words = !before.contains(|c: char| c.is_ascii_digit())
            && (1..=MOST_WORDS).contains(&said.len())
            && !is_known_name(before);
        let measured =
            |piece: &str| self.leading(piece).is_some() && self.read_item(piece).is_some();
        in_words
            && self.leading(after.trim()).is_some()
            && pieces(after, self)
                .into_iter()
                .filter(|p| measured(p))
                .count()
                > 1
    }

    /// Pieces with those joined again that are the name of one material: "Ethanol 96 %,
    /// denatured 0.15 %".
    fn whole_names(self, pieces: &[&str]) -> Vec<String> {
        let is_name = |text: &str| {
            let item = self.read_item(text);
            item.is_some_and(|item| is_known_name(&item.name))
        };
        let mut whole: Vec<String> = Vec::new();
        for piece in pieces {
            match whole.last_mut() {
                Some(last)
                    if last.contains(|c: char| c.is_ascii_digit())
                        && piece.contains(|c: char| c.is_ascii_digit())
                        && !is_name(piece)
                        && is_name(&format!("{last}, {piece}")) =>
                {
                    *last = format!("{last}, {piece}");
                }
                _ => whole.push((*piece).to_owned()),
            }
        }
        whole
    }

    /// All pieces as one material, whose name has commas.
    fn joined(self, pieces: &[&str]) -> Option<Item> {
        let (place, mut one) = pieces
            .iter()
            .enumerate()
            .find_map(|(n, p)| Some((n, self.read_item(p)?)))?;
        let names: Vec<&str> = pieces
            .iter()
            .enumerate()
            .map(|(n, p)| if n == place { one.name.as_str() } else { *p })
            .collect();
        one.name = names.join(", ");
        Some(one)
    }

    /// Materials that follow each other without a mark between: "Water 70 % Glycerin 5 %".
    fn run_on(self, text: &str) -> Vec<Item> {
        let starts: Vec<usize> = std::iter::once(0).chain(split_points(text)).collect();
        let at = |n: usize| starts.get(n).copied().unwrap_or(text.len());
        // Where amounts stand, each as long as it can be.
        let mut amounts: Vec<(usize, usize, AmountReading)> = Vec::new();
        let mut n = 0;
        while n < starts.len() {
            let found = (1..=3).rev().find_map(|words| {
                let part = text.get(at(n)..at(n + words))?;
                let begins = part.starts_with(|c: char| c.is_ascii_digit());
                let reading = self.amount(part).filter(|_| begins)?;
                Some((words, reading))
            });
            match found {
                Some((words, reading)) => {
                    amounts.push((at(n), at(n + words), reading));
                    n += words;
                }
                None => n += 1,
            }
        }
        let first = amounts.first().map_or(text.len(), |(from, ..)| *from);
        let last = amounts.last().map_or(0, |(_, to, _)| *to);
        let (leads, trails) = (first == 0, last == text.len());
        if leads == trails {
            return Vec::new();
        }
        let items: Vec<Item> = amounts
            .iter()
            .enumerate()
            .filter_map(|(n, (from, to, reading))| {
                let name = if leads {
                    let end = amounts.get(n + 1).map_or(text.len(), |(next, ..)| *next);
                    text.get(*to..end)?
                } else {
                    let start = n
                        .checked_sub(1)
                        .and_then(|m| amounts.get(m))
                        .map_or(0, |(_, end, _)| *end);
                    text.get(start..*from)?
                };
                let name = strip_marks(name);
                name.contains(char::is_alphabetic).then(|| Item {
                    name,
                    reading: reading.clone(),
                })
            })
            .collect();
        if items.len() == amounts.len() {
            items
        } else {
            Vec::new()
        }
    }

    /// Whether an amount with a unit stands in a text that is nothing else.
    fn amount(self, part: &str) -> Option<AmountReading> {
        let part = part.trim().trim_matches([':', '=']).trim();
        // A dash with a blank behind it stands between a name and its amount.
        let part = ["- ", "– ", "— "]
            .into_iter()
            .find_map(|dash| part.strip_prefix(dash))
            .unwrap_or(part)
            .trim();
        // "80 % 1 %" is no amount, though what is behind its first sign is one.
        if part.starts_with('%') {
            return None;
        }
        let reading = amounts::read(part, None, self.mark).ok()?;
        // A bare number may be part of a name: "Polysorbate 20".
        (self.bare || !matches!(reading.written, WrittenAmount::Bare(_))).then_some(reading)
    }

    /// The longest run of words at the start that is an amount, and the rest.
    fn leading(self, text: &str) -> Option<(AmountReading, &str)> {
        split_points(text)
            .into_iter()
            .rev()
            // Counted no further, or a long text takes as long as its square.
            .filter(|&at| {
                text.get(..at)
                    .is_some_and(|t| t.split_whitespace().nth(5).is_none())
            })
            .find_map(|at| {
                let rest = text.get(at..)?;
                // "Auf 40 °C abkühlen" tells how warm, not how much.
                let named = !rest.trim().is_empty() && !rest.trim_start().starts_with('°');
                Some((self.amount(text.get(..at)?)?, rest)).filter(|_| named)
            })
    }

    /// The longest run of words at the end that is an amount, and what stands before it.
    fn trailing(self, text: &str) -> Option<(AmountReading, &str)> {
        split_points(text).into_iter().find_map(|at| {
            let (name, end) = (text.get(..at)?, text.get(at..)?);
            if end.split_whitespace().nth(6).is_some() || name.trim().is_empty() {
                return None;
            }
            // In "350 g 70 %" the unit belongs to the number before it.
            let unit = end.split_whitespace().next().and_then(Unit::named);
            if unit.is_some() && name.trim_end().ends_with(|c: char| c.is_ascii_digit()) {
                return None;
            }
            let reading = self.amount(end)?;
            // "Solution 1 % – 1 %", "Polysorbate 20 – 3 %": the first number is that in the name of
            // a material.
            let dashed = || {
                let (low, _) = end.rsplit_once(['–', '—', '-'])?;
                let whole = text.get(..at + low.len())?.trim();
                is_known_name(whole).then_some(())
            };
            (!reading.is_range || dashed().is_none()).then_some((reading, name))
        })
    }

    fn read_item(self, text: &str) -> Option<Item> {
        let text = without_bullet(text);
        // "Citric acid solution 50 %: 0.9 %".
        if let Some((name, said)) = text.rsplit_once(": ")
            && name.contains(char::is_alphabetic)
            && !name.contains(':')
            && !said.contains('(')
            && let Some(reading) = self.amount(said)
        {
            return Some(Item {
                name: strip_marks(name),
                reading,
            });
        }
        // "12 tbsp sugar (180 g)": what so many of a measure weigh is stated.
        if let Some((name, inner)) = text.strip_suffix(')').and_then(|t| t.rsplit_once('('))
            && let Some((counted, _)) = self.leading(name.trim())
            && counted.measure.is_some()
            && let Some(weighed) = self.amount(inner)
            && matches!(weighed.written, WrittenAmount::Grams(_))
            && weighed.doubts.is_empty()
        {
            let item = self.at_an_end(name.trim())?;
            return Some(Item {
                reading: weighed,
                ..item
            });
        }
        // "Water (70 %)".
        if let Some((name, inner)) = text.strip_suffix(')').and_then(|t| t.rsplit_once('('))
            && !name.trim().is_empty()
            && let Some(mut reading) = self.amount(inner)
            && self.leading(name.trim()).is_none()
        {
            let is_mass = |written: &WrittenAmount| {
                matches!(
                    written,
                    WrittenAmount::Grams(_) | WrittenAmount::Millilitres(_)
                )
            };
            match self.trailing(name.trim()) {
                None => {}
                // "Glycerin 86 % (2 %)": of two percentages the first is the strength.
                Some((
                    AmountReading {
                        written: WrittenAmount::Percent(strength),
                        ..
                    },
                    _,
                )) if matches!(reading.written, WrittenAmount::Percent(_)) => {
                    reading.doubts.push(format!(
                        "{} % in its name was taken for the strength",
                        strength.normalize()
                    ));
                }
                // "Glycerin 4 % (8 g)": the percentage is the recipe, unless it is the strength
                // in the name of a material.
                Some((more, rest))
                    if matches!(more.written, WrittenAmount::Percent(_))
                        && is_mass(&reading.written)
                        && is_known_name(&strip_marks(rest)) =>
                {
                    return Some(Item {
                        name: strip_marks(rest),
                        reading: AmountReading {
                            doubts: vec![format!(
                                "the percentage was taken for the amount; if it is the strength, the amount is {inner}"
                            )],
                            ..more
                        },
                    });
                }
                Some(_) => return self.at_an_end(text),
            }
            return Some(Item {
                name: strip_marks(name),
                reading,
            });
        }
        self.at_an_end(text)
    }

    /// A material with its amount before or behind it.
    fn at_an_end(self, text: &str) -> Option<Item> {
        let (mut reading, mut rest) = self.leading(text).or_else(|| self.trailing(text))?;
        // "117 g | 58.5 % water", "58.5 % / 117 g water": the percentage is the recipe.
        let behind = rest.trim_start();
        if let Some(more) = behind.strip_prefix(['|', '/', '=', '·'])
            && let Some((other, name)) = self.leading(more.trim_start())
        {
            rest = name;
            if matches!(other.written, WrittenAmount::Percent(_)) {
                reading = other;
            }
        }
        let mut name = strip_marks(rest);
        // "Water 350 g 70 %": the percentage is the recipe. The other way round it may be the
        // strength: "Lactic acid 80 % 5 g".
        if matches!(reading.written, WrittenAmount::Percent(_))
            && let Some((more, rest)) = self.trailing(&name)
            && matches!(
                more.written,
                WrittenAmount::Grams(_) | WrittenAmount::Millilitres(_)
            )
        {
            name = strip_marks(rest);
        }
        let mut articles = words().before_names.iter();
        let name = articles
            .find_map(|w| name.strip_prefix(w.as_str()))
            .map_or(name.clone(), str::to_owned);
        // "x 300 g", "for 500 g" state the size of the whole.
        let folded = words_of(&name);
        let named =
            !matches!(folded.as_slice(), [only] if only == "x" || words().per.contains(only));
        (name.contains(char::is_alphabetic) && named).then_some(Item { name, reading })
    }
}

/// Where words begin, besides the first. A colon parts a name from its amount, "Water:70 %", but
/// within a ratio, "Aloe powder 200:1", it parts nothing.
fn split_points(text: &str) -> Vec<usize> {
    let mut points = Vec::new();
    let mut blank = false;
    let mut letters = text.char_indices().peekable();
    let mut after_digit = false;
    while let Some((place, letter)) = letters.next() {
        if blank && !letter.is_whitespace() && place > 0 {
            points.push(place);
        }
        let before_digit = letters.peek().is_some_and(|(_, c)| c.is_ascii_digit());
        let in_ratio = letter == ':' && after_digit && before_digit;
        blank = letter.is_whitespace() || matches!(letter, ':' | '=' | '\t') && !in_ratio;
        after_digit = letter.is_ascii_digit();
    }
    points
}

fn strip_marks(name: &str) -> String {
    name.trim_matches(|c: char| {
        c.is_whitespace() || matches!(c, ':' | '-' | '–' | '—' | ',' | '•' | '.' | '=' | '…')
    })
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, phase: Option<&str>, expected: &[&str]) {
        let found = items(text, None, false);
        assert_eq!(found.phase.as_deref(), phase, "{text}");
        let names: Vec<&str> = found.lines.iter().map(|l| l.name.as_str()).collect();
        assert_eq!(names, expected, "{text}");
    }

    #[test]
    fn lines_of_text_are_divided() {
        check("- 70 % water", None, &["water"]);
        check("• Glycerin: 5 g", None, &["Glycerin"]);
        check("3. Olive oil – 25,0 %", None, &["Olive oil"]);
        check("③ Olive oil 25,0 %", None, &["Olive oil"]);
        check("Water, demineralised 70 %", None, &["Water, demineralised"]);
        check("Water (70 %)", None, &["Water"]);
        check("Water 350 g 70 %", None, &["Water"]);
        check("Lactic acid 80 % 5 g", None, &["Lactic acid 80 %"]);
        check("Polysorbate 20", None, &[]);
        check("Polysorbate 20 3 %", None, &["Polysorbate 20"]);
        check("Polysorbate 20 – 3 %", None, &["Polysorbate 20"]);
        check("Nettle powder 20:1 – 1.5 %", None, &["Nettle powder 20:1"]);
        check("Nettle powder 20:1: 1.5 %", None, &["Nettle powder 20:1"]);
        check("1.5 % nettle powder 20:1", None, &["nettle powder 20:1"]);
        check(
            "Phase A: 70 % water, 5 % glycerin",
            Some("Phase A"),
            &["water", "glycerin"],
        );
        check("Phase B: 20 % olive oil", Some("Phase B"), &["olive oil"]);
        check(
            "INCI (descending): Aqua 71.2 %; Glycerin 5 %",
            None,
            &["Aqua", "Glycerin"],
        );
        check(
            "70,5 % water, demineralised, 5 % glycerin and 3 % betaine",
            None,
            &["water, demineralised", "glycerin", "betaine"],
        );
        check("Water q.s. to 100", None, &["Water"]);
        check(
            "Ethanol 96 %, denatured 0.15 %, Glycerin 5 %",
            None,
            &["Ethanol 96 %, denatured", "Glycerin"],
        );
        check("20 drops of lavender oil", None, &["lavender oil"]);
        check("12 tbsp sugar (180 g)", None, &["sugar"]);
        check("40 drops of lavender oil (2 g)", None, &["lavender oil"]);
        let parts = by_phase("Phase A: 70 % water, 5 % glycerin. Phase B (oils): 25 % olive oil.");
        assert_eq!(
            parts,
            [
                "Phase A: 70 % water, 5 % glycerin",
                "Phase B (oils): 25 % olive oil"
            ]
        );
        check(
            "Water 70% Glycerin 5 % Olive oil 25%",
            None,
            &["Water", "Glycerin", "Olive oil"],
        );
        check("(B) Olive oil 25 %", Some("B"), &["Olive oil"]);
        let bare = items("Olive oil 25", None, true);
        assert_eq!(bare.lines[0].name, "Olive oil");
        check("Heat to 75 °C and stir", None, &[]);
        check("x 300 g", None, &[]);
    }
}
