//! The words of `assets/names/headings.ron`: what headings and rows of tables mean.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::OnceLock;

use packed::{Packed, packed};
use serde::Deserialize;

use super::Table;
use super::kind::ColumnKind;
use crate::file::product_head;
use crate::naming::words_of;
use crate::plain_words::circled;

const TEXT: Packed = packed!("names/headings.ron");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    headings: BTreeMap<String, Vec<String>>,
    alone: Vec<String>,
    yes_or_no: Vec<String>,
    totals: Vec<String>,
    subtotals: Vec<String>,
    of_part: Vec<String>,
    of_what: Vec<String>,
    of_which: Vec<String>,
    the_same: Vec<String>,
    method: Vec<String>,
    verbs: Vec<String>,
    joints: Vec<String>,
    articles: Vec<String>,
    before_names: Vec<String>,
    between_items: Vec<String>,
    pieces: Vec<String>,
    of_each: Vec<String>,
    apiece: Vec<String>,
    counts: Vec<Vec<String>>,
    running: Vec<String>,
    mail_head: Vec<String>,
    properties: Vec<String>,
    batch: Vec<String>,
    name_keys: Vec<String>,
    per: Vec<String>,
    from: Vec<String>,
    up_to: Vec<String>,
    each: Vec<String>,
    money: Vec<String>,
    with_tax: Vec<String>,
    without_tax: Vec<String>,
    tax: Vec<String>,
    list_price: Vec<String>,
    discount: Vec<String>,
    charges: Vec<String>,
    paid: Vec<String>,
    contained: Vec<String>,
    withdrawn: Vec<String>,
    discontinued: Vec<String>,
    of_price: Vec<String>,
    when_added: Vec<String>,
    changes: Vec<String>,
    in_use: Vec<String>,
    spans: Vec<String>,
    on_request: Vec<String>,
    tools: Vec<String>,
    asides: Vec<String>,
    fill_to: Vec<String>,
    number_endings: Vec<String>,
    minor_money: BTreeMap<String, String>,
    of_choice: Vec<String>,
    of_fats: Vec<String>,
    into_items: Vec<String>,
    instead_of: Vec<String>,
    of_content: Vec<String>,
    pages: Vec<String>,
    shared_money: Vec<String>,
    tongues_of_money: BTreeMap<String, Vec<String>>,
    currencies: BTreeMap<String, String>,
    currency_codes: Vec<String>,
    months: Vec<Vec<String>>,
}

/// The lists, ready to be asked.
#[derive(Debug, Default)]
pub(super) struct Words {
    /// Phrase, as words, and what it means; longest first.
    pub(super) headings: Vec<(Vec<String>, ColumnKind)>,
    /// Where in them phrases that begin with a word stand.
    by_first: HashMap<String, Vec<usize>>,
    /// Headings that mean something only by themselves.
    pub(super) alone: HashSet<String>,
    pub(super) yes_or_no: HashSet<String>,
    pub(super) totals: HashSet<String>,
    pub(super) subtotals: HashSet<String>,
    pub(super) of_part: HashSet<String>,
    pub(super) of_what: HashSet<String>,
    of_which: HashSet<String>,
    the_same: HashSet<String>,
    pub(super) method: HashSet<String>,
    /// How words begin that say what is done.
    pub(super) verbs: Vec<String>,
    pub(super) joints: HashSet<String>,
    pub(super) articles: HashSet<String>,
    /// Between an amount and a name, as they are written.
    pub(super) before_names: Vec<String>,
    /// "And" between two materials with amounts, with its blanks.
    pub(super) between_items: Vec<String>,
    /// What is made one by one: "jar", "bar".
    pub(super) pieces: HashSet<String>,
    /// Words between pieces and the size of each.
    pub(super) of_each: HashSet<String>,
    /// Words by which a size is that of each piece.
    pub(super) apiece: HashSet<String>,
    /// Words for one, for two and so on.
    pub(super) counts: Vec<Vec<String>>,
    /// What is said of running totals.
    pub(super) running: HashSet<String>,
    /// Keys at the head of a letter.
    pub(super) mail_head: HashSet<String>,
    pub(super) properties: HashSet<String>,
    pub(super) batch: HashSet<String>,
    pub(super) name_keys: HashSet<String>,
    pub(super) per: HashSet<String>,
    pub(super) from: HashSet<String>,
    /// Between the ends of a range: "5 to 9".
    pub(super) up_to: HashSet<String>,
    pub(super) each: HashSet<String>,
    pub(super) money: HashSet<String>,
    pub(super) with_tax: HashSet<String>,
    pub(super) without_tax: HashSet<String>,
    pub(super) tax: HashSet<String>,
    pub(super) list_price: HashSet<String>,
    pub(super) discount: HashSet<String>,
    pub(super) charges: HashSet<String>,
    pub(super) paid: HashSet<String>,
    pub(super) contained: HashSet<String>,
    withdrawn: HashSet<String>,
    discontinued: HashSet<String>,
    /// What is said of a price in front of it: "unchanged".
    of_price: HashSet<String>,
    /// When something is added: "at the end".
    when_added: HashSet<String>,
    /// What changes an amount that stands elsewhere: "double".
    changes: HashSet<String>,
    in_use: HashSet<String>,
    spans: HashSet<String>,
    pub(super) on_request: Vec<String>,
    /// Headings of what a recipe is made with.
    pub(super) tools: HashSet<String>,
    /// Headings of what others say on a page: comments, other recipes.
    asides: HashSet<String>,
    /// Words before what a line fills up to: "ad 200 g".
    pub(super) fill_to: HashSet<String>,
    /// Endings of words of one for a number of something: "Lotnr.".
    pub(super) number_endings: Vec<String>,
    /// Hundredths of money behind a number, and of which; empty of that of the list.
    pub(super) minor_money: BTreeMap<String, String>,
    /// What leaves open which material is meant.
    of_choice: HashSet<String>,
    /// Words that say that something is of the fats of a soap alone.
    pub(super) of_fats: HashSet<String>,
    /// "In" and "with" between two materials, each with its amount in front, with their blanks.
    pub(super) into_items: Vec<String>,
    /// Words before an amount that another one replaces.
    pub(super) instead_of: HashSet<String>,
    /// Headings of how much of a substance a material holds.
    of_content: HashSet<String>,
    /// What a sheet of paper is called: "page 2".
    pages: HashSet<String>,
    /// Words for the money of several countries.
    pub(super) shared_money: HashSet<String>,
    /// Words by which the tongue of a list tells which of them it is, by currency.
    pub(super) tongues_of_money: Vec<(String, HashSet<String>)>,
    pub(super) currencies: Vec<(String, String)>,
    pub(super) currency_codes: HashSet<String>,
    /// The names of each month, January first.
    pub(super) months: Vec<Vec<String>>,
}

impl Words {
    /// Whether a heading says how much of a substance a material holds: "Gehalte".
    pub(super) fn is_of_content(&self, heading: &str) -> bool {
        words_of(heading)
            .iter()
            .any(|word| self.of_content.contains(word))
    }

    /// The phrases of headings that stand in some words at a place, the longest first.
    pub(super) fn headings_at<'w>(
        &'w self,
        folded: &'w [String],
        at: usize,
    ) -> impl Iterator<Item = (&'w [String], ColumnKind)> {
        let places = folded.get(at).and_then(|first| self.by_first.get(first));
        places.into_iter().flatten().filter_map(move |&place| {
            let (phrase, kind) = self.headings.get(place)?;
            folded
                .get(at..)?
                .starts_with(phrase)
                .then_some((phrase.as_slice(), *kind))
        })
    }
}

/// Read on first use. A list that cannot be read is empty, which the test below
/// does not let pass.
pub(super) fn words() -> &'static Words {
    static WORDS: OnceLock<Words> = OnceLock::new();
    WORDS.get_or_init(|| {
        let Ok(lists) = ron::from_str::<Lists>(&TEXT.text()) else {
            return Words::default();
        };
        let mut headings: Vec<(Vec<String>, ColumnKind)> = ColumnKind::ALL
            .into_iter()
            .flat_map(|kind| {
                let phrases = lists.headings.get(kind.label()).into_iter().flatten();
                phrases.map(move |phrase| (words_of(phrase), kind))
            })
            .collect();
        headings.sort_by_key(|(phrase, _)| std::cmp::Reverse(phrase.len()));
        let mut by_first: HashMap<String, Vec<usize>> = HashMap::new();
        for (place, (phrase, _)) in headings.iter().enumerate() {
            if let Some(first) = phrase.first() {
                by_first.entry(first.clone()).or_default().push(place);
            }
        }
        let set = |list: Vec<String>| list.into_iter().collect();
        Words {
            headings,
            by_first,
            alone: set(lists.alone),
            yes_or_no: set(lists.yes_or_no),
            totals: set(lists.totals),
            subtotals: set(lists.subtotals),
            of_part: set(lists.of_part),
            of_what: set(lists.of_what),
            of_which: set(lists.of_which),
            the_same: set(lists.the_same),
            method: set(lists.method),
            verbs: lists.verbs,
            joints: set(lists.joints),
            articles: set(lists.articles),
            before_names: lists.before_names,
            between_items: (lists.between_items.iter())
                .map(|word| format!(" {word} "))
                .collect(),
            pieces: set(lists.pieces),
            of_each: set(lists.of_each),
            apiece: set(lists.apiece),
            counts: lists.counts,
            running: set(lists.running),
            mail_head: set(lists.mail_head),
            properties: set(lists.properties),
            batch: set(lists.batch),
            name_keys: set(lists.name_keys),
            per: set(lists.per),
            from: set(lists.from),
            up_to: set(lists.up_to),
            each: set(lists.each),
            money: set(lists.money),
            with_tax: set(lists.with_tax),
            without_tax: set(lists.without_tax),
            tax: set(lists.tax),
            list_price: set(lists.list_price),
            discount: set(lists.discount),
            charges: set(lists.charges),
            paid: set(lists.paid),
            contained: set(lists.contained),
            withdrawn: set(lists.withdrawn),
            discontinued: set(lists.discontinued),
            of_price: set(lists.of_price),
            when_added: set(lists.when_added),
            changes: set(lists.changes),
            in_use: set(lists.in_use),
            spans: set(lists.spans),
            on_request: lists.on_request,
            tools: set(lists.tools),
            asides: set(lists.asides),
            fill_to: set(lists.fill_to),
            number_endings: lists.number_endings,
            minor_money: lists.minor_money,
            of_choice: set(lists.of_choice),
            of_fats: set(lists.of_fats),
            into_items: (lists.into_items.iter())
                .map(|word| format!(" {word} "))
                .collect(),
            instead_of: set(lists.instead_of),
            of_content: set(lists.of_content),
            pages: set(lists.pages),
            shared_money: set(lists.shared_money),
            tongues_of_money: (lists.tongues_of_money.into_iter())
                .map(|(code, words)| (code, set(words)))
                .collect(),
            currencies: lists.currencies.into_iter().collect(),
            currency_codes: set(lists.currency_codes),
            months: lists.months,
        }
    })
}

/// Whether a line is nothing but the number of a sheet of paper: "page 2", "Seite 2 von 3".
pub(super) fn is_page_mark(text: &str) -> bool {
    let text = text.trim().trim_matches(['-', '–', '—', '.']);
    let folded = words_of(text);
    let count = |word: &String| word.len() < 4 && word.bytes().all(|b| b.is_ascii_digit());
    match folded.as_slice() {
        [page, number] => words().pages.contains(page) && count(number),
        [page, number, of, all] => {
            let joins = of.bytes().all(|b| b.is_ascii_lowercase()) && of.len() < 4;
            words().pages.contains(page) && count(number) && joins && count(all)
        }
        _ => false,
    }
}

/// Whether a cell says that a material is sold no more.
pub(super) fn is_discontinued(text: &str) -> bool {
    words().discontinued.contains(&words_of(text).join(" "))
}

/// Whether a word of a remark changes an amount that stands elsewhere.
pub(super) fn is_change(word: &str) -> bool {
    words().changes.contains(word)
}

/// A name without what is said of its price behind it: "Castor oil, unchanged".
pub(super) fn without_words_of_price(name: &str) -> &str {
    without_phrase(name, &words().of_price).0
}

/// A name without when it is added, and the words for that: "lavender oil at the end".
pub(super) fn without_when_added(name: &str) -> (&str, Option<&str>) {
    without_phrase(name, &words().when_added)
}

/// A text without a phrase of a list at its end, and that; a text of nothing else stays.
fn without_phrase<'t>(text: &'t str, list: &HashSet<String>) -> (&'t str, Option<&'t str>) {
    /// No phrase has more words.
    const MOST_WORDS: usize = 4;
    let trimmed = text.trim_end();
    let blanks = trimmed.rmatch_indices(char::is_whitespace).take(MOST_WORDS);
    let parted = blanks.filter_map(|(place, blank)| {
        Some((trimmed.get(..place)?, trimmed.get(place + blank.len()..)?))
    });
    let fits = |(name, phrase): &(&str, &str)| {
        name.contains(char::is_alphabetic) && list.contains(&words_of(phrase).join(" "))
    };
    match parted.filter(fits).last() {
        Some((name, phrase)) => (name.trim_end_matches([' ', ',', '-', '–']), Some(phrase)),
        None => (text, None),
    }
}

/// Whether a word ticks a row off: "ok", "x".
pub(super) fn is_tick(text: &str) -> bool {
    let word = words_of(text).concat();
    word.chars().count() > 1 && words().yes_or_no.contains(&word) || word == "x"
}

/// Whether a cell is nothing but a sign such as a tick or an empty box.
pub(super) fn is_box(text: &str) -> bool {
    let text = text.trim();
    let sign = |c: char| {
        matches!(
            c,
            '✓' | '✔' | '✗' | '✘' | '×' | '☐' | '☑' | '☒' | '□' | '■' | '√' | '●' | '○'
        )
    };
    matches!(text, "[ ]" | "[x]" | "[X]" | "( )" | "(x)")
        || !text.is_empty() && text.chars().all(|c| sign(c) || c == '\u{FE0F}')
}

/// A number or letter in a circle in front of words, and the words: "① Shea butter".
pub(super) fn behind_circle(text: &str) -> Option<(String, &str)> {
    let mut letters = text.chars();
    let label = circled(letters.next()?)?;
    let rest = letters.as_str().trim_start_matches(|c: char| {
        c.is_whitespace() || matches!(c, '.' | ')' | ':' | '-' | '–')
    });
    rest.contains(char::is_alphanumeric)
        .then(|| (label, rest.trim_end()))
}

/// The number that a cell holds in a circle and nothing beside it.
pub(super) fn number_in_circle(text: &str) -> Option<u32> {
    let mut letters = text.trim().chars();
    let label = circled(letters.next()?)?;
    letters.next().is_none().then(|| label.parse().ok())?
}

/// The number in front of a name, and the name: "3. Shea butter", "③ Shea butter".
pub(super) fn numbered(name: &str) -> Option<(u32, &str)> {
    if let Some((label, rest)) = behind_circle(name) {
        return Some((label.parse().ok()?, rest));
    }
    let digits = name.bytes().take_while(u8::is_ascii_digit).count();
    let rest = name.get(digits..)?;
    let rest = rest
        .strip_prefix(". ")
        .or_else(|| rest.strip_prefix(") "))?;
    Some((name.get(..digits)?.parse().ok()?, rest.trim()))
}

/// The letter of the phase in front of a name, and the name: "B) Shea butter", "(B) Shea butter".
pub(super) fn lettered(name: &str) -> Option<(char, &str)> {
    if let Some((label, rest)) = behind_circle(name) {
        let letter = label.chars().next();
        return Some((letter.filter(|c| ('A'..='H').contains(c))?, rest));
    }
    let inner = name.strip_prefix('(').unwrap_or(name);
    let letter = inner.chars().next().filter(|c| ('A'..='H').contains(c))?;
    let rest = inner.get(1..)?;
    let rest = [") ", ". ", ": ", " - ", " – "]
        .iter()
        .find_map(|mark| rest.strip_prefix(mark))?;
    Some((letter, rest.trim())).filter(|(_, rest)| !rest.is_empty())
}

/// Whether a name says that it is a part of what stands above: "of which olive oil".
pub(super) fn is_part(name: &str) -> bool {
    let folded = words_of(name);
    (1..folded.len().min(4)).any(|n| {
        let first = folded.get(..n).unwrap_or_default();
        words().of_which.contains(&first.join(" "))
    })
}

/// Whether a cell says that it is as the one above: a sign for it, a dash, "ditto".
pub(super) fn is_as_above(text: &str) -> bool {
    let text = text.trim();
    let sign = |c: char| {
        matches!(
            c,
            '"' | '„' | '“' | '”' | '″' | '〃' | '\'' | '-' | '–' | '—' | '|' | '↑' | '.'
        )
    };
    !text.is_empty()
        && (text.chars().all(sign) || words().the_same.contains(&words_of(text).join(" ")))
}

/// Whether a cell says nothing but "the same again": a word for it, or the sign of it; a dash
/// may mean "none".
pub(super) fn is_said_again(text: &str) -> bool {
    let text = text.trim();
    let sign = |c: char| matches!(c, '"' | '„' | '“' | '”' | '″' | '〃');
    !text.is_empty()
        && (text.chars().all(sign) || words().the_same.contains(&words_of(text).join(" ")))
}

/// Whether a text says of itself that it is not in the recipe: "leave out".
pub(super) fn is_withdrawn(text: &str) -> bool {
    let folded = words_of(text);
    (1..=3).any(|length| {
        let mut phrases = folded.windows(length);
        phrases.any(|phrase| words().withdrawn.contains(&phrase.join(" ")))
    })
}

/// Whether a text says how long something keeps, and not until when: "24 months".
pub(super) fn is_span(text: &str) -> bool {
    let folded = words_of(text);
    let (numbers, others): (Vec<&String>, Vec<&String>) = folded
        .iter()
        .partition(|word| word.bytes().all(|b| b.is_ascii_digit()));
    numbers.len() == 1 && matches!(others.as_slice(), [unit] if words().spans.contains(*unit))
}

/// Whether the heading of a version says that it is the one that is made now: "v3 (in use)".
pub(super) fn is_in_use(text: &str) -> bool {
    let folded = words_of(text);
    (1..=2).any(|length| {
        let mut phrases = folded.windows(length);
        phrases.any(|phrase| words().in_use.contains(&phrase.join(" ")))
    })
}

/// Whether a name leaves open which material it is: "essential oil of your choice".
pub(super) fn is_of_choice(name: &str) -> bool {
    let folded = words_of(name);
    (2..=3).any(|length| {
        let mut phrases = folded.windows(length);
        phrases.any(|phrase| words().of_choice.contains(&phrase.join(" ")))
    })
}

/// Whether a heading of a page is one of what others say: "Comments (2)", "You may also like".
pub(super) fn is_aside(heading: &str) -> bool {
    /// Longer headings say something else as well.
    const MOST_WORDS: usize = 6;
    let folded = words_of(heading);
    folded.len() <= MOST_WORDS
        && (1..=4).any(|length| {
            let mut phrases = folded.windows(length);
            phrases.any(|phrase| words().asides.contains(&phrase.join(" ")))
        })
}

/// Whether a text says for how many pieces the amounts below it are, and nothing else: "for 10
/// jars", "makes 6 bars".
pub(super) fn is_for_pieces(text: &str) -> bool {
    let folded = words_of(text);
    let lists = words();
    let is_number = |word: &String| word.bytes().all(|b| b.is_ascii_digit());
    let said = |word: &String| {
        is_number(word)
            || lists.pieces.contains(word)
            || lists.per.contains(word)
            || lists.batch.contains(word)
    };
    folded.iter().any(is_number)
        && folded.iter().any(|word| lists.pieces.contains(word))
        && folded.iter().all(said)
}

/// Whether a row begins the method.
pub(super) fn begins_method(text: &str) -> bool {
    let folded = words_of(text);
    let method = &words().method;
    folded.len() <= 4
        && (method.contains(&folded.join(" "))
            || folded.first().is_some_and(|w| method.contains(w)))
}

/// Whether a name is a property of the finished product.
pub(super) fn is_property(name: &str) -> bool {
    let folded = words_of(name);
    let lists = words();
    lists.properties.contains(&folded.join(" "))
        // "Jar", "30 ml": what it is filled into.
        || matches!(folded.as_slice(), [only] if lists.pieces.contains(only))
        || folded.len() <= 5
            && folded
                .first()
                .is_some_and(|w| w == "ph" || w.chars().count() > 5 && lists.properties.contains(w))
            && !folded
                .iter()
                .any(|w| w.ends_with("er") || w == "agent" || w == "regulator")
}

/// Whether a row says in two cells what the product is or how much is made: "Makes", "1 kg".
pub(super) fn is_fact(table: &Table, row: usize) -> bool {
    let cells = table.rows.get(row).into_iter().flatten();
    let mut filled = cells.filter(|c| !c.is_empty());
    let (Some(first), Some(_), None) = (filled.next(), filled.next(), filled.next()) else {
        return false;
    };
    is_fact_key(&first.words())
}

/// Whether words say what a fact is of: the product, or how much is made: "Makes", "pH".
pub(super) fn is_fact_key(key: &str) -> bool {
    let folded = words_of(key).join(" ");
    is_property(key) || product_head::is_key(key) || words().batch.contains(&folded)
}

/// Whether a word says what is done: "stirring", "erwärmen".
pub(super) fn is_verb(folded: &str) -> bool {
    words().verbs.iter().any(|stem| folded.starts_with(stem))
}

/// Whether a text says what is done, or ends as a sentence does.
pub(super) fn is_sentence(text: &str) -> bool {
    let text = text.trim();
    text.ends_with(['.', '!', '?']) && text.contains(' ')
        || words_of(text).iter().any(|word| is_verb(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lists_are_read_and_folded() {
        let lists: Lists = ron::from_str(&TEXT.text()).unwrap();
        for (kind, phrases) in &lists.headings {
            assert!(ColumnKind::ALL.iter().any(|k| k.label() == kind), "{kind}");
            for phrase in phrases {
                assert_eq!(words_of(phrase).join(" "), *phrase);
            }
        }
        for kind in ColumnKind::ALL {
            assert!(
                lists.headings.contains_key(kind.label()),
                "{}",
                kind.label()
            );
        }
        for word in [
            &lists.alone,
            &lists.yes_or_no,
            &lists.totals,
            &lists.subtotals,
            &lists.of_part,
            &lists.of_what,
            &lists.of_which,
            &lists.the_same,
            &lists.method,
            &lists.pieces,
            &lists.of_each,
            &lists.apiece,
            &lists.running,
            &lists.mail_head,
            &lists.properties,
            &lists.batch,
            &lists.name_keys,
            &lists.per,
            &lists.from,
            &lists.up_to,
            &lists.each,
            &lists.money,
            &lists.with_tax,
            &lists.without_tax,
            &lists.tax,
            &lists.list_price,
            &lists.discount,
            &lists.charges,
            &lists.paid,
            &lists.contained,
            &lists.discontinued,
            &lists.of_price,
            &lists.when_added,
            &lists.changes,
            &lists.on_request,
            &lists.tools,
            &lists.asides,
            &lists.fill_to,
            &lists.number_endings,
            &lists.of_choice,
            &lists.of_fats,
            &lists.into_items,
            &lists.instead_of,
        ]
        .into_iter()
        .flatten()
        {
            assert_eq!(words_of(word).join(" "), *word);
        }
        assert_eq!(lists.months.len(), 12);
        assert_eq!(
            without_words_of_price("Castor oil, unchanged"),
            "Castor oil"
        );
        assert_eq!(without_words_of_price("unchanged"), "unchanged");
        let when = without_when_added("lavender oil at the very end");
        assert_eq!(when, ("lavender oil", Some("at the very end")));
        assert_eq!(without_when_added("lavender oil"), ("lavender oil", None));
        assert!(is_discontinued("Descatalogado") && !is_discontinued("descatalogado hoy no"));
        assert!(is_page_mark("  - page 2 -") && is_page_mark("Seite 2 von 3"));
        assert!(!is_page_mark("Laureth 2") && !is_page_mark("page 2 oil"));
        assert!(is_span("24 Monate") && !is_span("24") && !is_span("3 May 2027"));
        assert!(is_in_use("v3 (in use)") && !is_in_use("v3 (June)"));
        assert!(is_part("- davon Olivenöl") && is_part("of which water") && !is_part("Davon"));
        assert!(is_as_above("„") && is_as_above("''") && is_as_above("Ditto") && !is_as_above("A"));
        assert!(begins_method("Herstellung:") && begins_method("Mode opératoire"));
        assert!(
            is_property("pH (25 °C)") && is_property("Viskosität") && !is_property("pH adjuster")
        );
    }
}
