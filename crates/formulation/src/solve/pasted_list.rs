//! Reading a pasted ingredient list: headings and footnotes, separators, what it only
//! may contain, stated percentages, and recognising the names.

use std::collections::HashMap;
use std::sync::Arc;

use crate::amount::{Measure, typed};
use crate::inci::{Inci, InciKey, equal_as_spelt};
use crate::inventory::inventory;
use crate::material::Class;
use crate::naming::fold;
use crate::shelf::Shelf;

use super::target::Relation;

/// One name of a list.
#[derive(Clone, Debug)]
pub struct ListedName {
    /// As it stands in the list.
    pub text: Arc<str>,
    /// The INCI name recognised, else the text.
    pub inci: Inci,
    /// Whether the name was recognised.
    pub known: bool,
    /// What it is counted as.
    pub class: Class,
    /// Percentages stated in the list itself.
    pub stated: Option<Relation>,
}

equal_as_spelt!(ListedName: names inci; rest text, known, class, stated);

/// A list that has been read.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct PastedList {
    /// The names in the order declared.
    pub names: Vec<ListedName>,
    /// Names after “may contain”, which need not be in the product.
    pub may_contain: Vec<Arc<str>>,
    /// Names that stand in the list again; the first place counts.
    pub repeated: Vec<Arc<str>>,
}

/// Words that head a list, in small letters.
const HEADINGS: [&str; 12] = [
    "ingredients",
    "ingredient list",
    "ingrédients",
    "ingredienti",
    "ingredientes",
    "ingrediënten",
    "ingredienser",
    "inhaltsstoffe",
    "bestandteile",
    "zutaten",
    "składniki",
    "inci",
];

/// What stands before colours that a product only may contain, in small letters.
const MAY_CONTAIN: [&str; 12] = [
    "may contain",
    "can contain",
    "peut contenir",
    "kann enthalten",
    "può contenere",
    "puede contener",
    "pode conter",
    "kan bevatten",
    "kan indeholde",
    "kan innehålla",
    "+/-",
    "±",
];

/// Signs that refer to a footnote.
const FOOTNOTE: [char; 8] = ['*', '†', '‡', '°', '¹', '²', '³', '⁴'];

/// Reads a pasted list. Names are separated by commas, semicolons, bullets or, where
/// there are none of these, by line ends; a comma between digits or within brackets
/// belongs to the name. Lines that begin with `#` are left out, and so are footnotes.
pub fn read(text: &str, shelf: &Shelf) -> PastedList {
    let known = KnownNames::of(shelf);
    let mut list = PastedList::default();
    let text = without_heading(text);
    let (certain, optional) = at_may_contain(&text);
    for part in split(certain) {
        let (name, stated) = tidy(&part.text);
        if name.is_empty() {
            continue;
        }
        let found = known.recognise(&name);
        if part.remark && found.is_none() {
            // A footnote goes on to the end.
            break;
        }
        let several = || pieces(&name).map(|piece| Some((piece, known.recognise(piece)?)));
        let found = match found {
            Some(found) => vec![(name.as_str(), Some(found))],
            None => match several().collect::<Option<Vec<_>>>() {
                Some(all) => all.into_iter().map(|(n, f)| (n, Some(f))).collect(),
                None => vec![(name.as_str(), None)],
            },
        };
        for (name, found) in found {
            list.add(name, found, stated);
        }
    }
    for part in split(optional) {
        let (name, _) = tidy(&part.text);
        if part.remark {
            break;
        }
        if !name.is_empty() {
            list.may_contain.push(name.into());
        }
    }
    list
}

impl PastedList {
    fn add(&mut self, text: &str, found: Option<(Inci, Class)>, stated: Option<Relation>) {
        let known = found.is_some();
        let (inci, class) = found.unwrap_or_else(|| (text.into(), Class::Other));
        let same = |l: &ListedName| l.inci.same_as(&inci);
        if self.names.iter().any(same) {
            self.repeated.push(text.into());
            return;
        }
        self.names.push(ListedName {
            text: text.into(),
            inci,
            known,
            class,
            stated,
        });
    }
}

/// The text without remark lines and the heading; square brackets made round.
fn without_heading(text: &str) -> String {
    let text: String = text
        .trim_start_matches('\u{feff}')
        .lines()
        .filter(|line| !line.trim_start().starts_with('#'))
        .collect::<Vec<_>>()
        .join("\n")
        .replace(['[', '{'], "(")
        .replace([']', '}'], ")");
    let body = text.trim();
    // A heading ends at the first colon before any separator, or is one of the usual words.
    if let Some(colon) = body.find(':')
        && colon <= body.find([',', ';']).unwrap_or(body.len())
        && body[..colon].split_whitespace().count() <= 3
        && at_may_contain(&body[..colon]).1.is_empty()
        && !body[..colon].contains('%')
    {
        return body[colon + 1..].to_owned();
    }
    let headed = |word: &&str| starts_with(body, word).filter(|rest| rest.starts_with([' ', '\n']));
    HEADINGS.iter().find_map(headed).unwrap_or(body).to_owned()
}

/// The rest after a word, whatever its letters' size; `None` if the text begins otherwise.
fn starts_with<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let end = text
        .char_indices()
        .nth(word.chars().count())
        .map_or(text.len(), |(at, _)| at);
    (text[..end].to_lowercase() == word).then(|| &text[end..])
}

/// The list and what it only may contain.
fn at_may_contain(text: &str) -> (&str, &str) {
    let places = text.char_indices().map(|(at, _)| at);
    let mark = |at: usize| {
        let inside = text[..at]
            .chars()
            .next_back()
            .is_some_and(char::is_alphabetic);
        let rest = MAY_CONTAIN.iter().find_map(|m| starts_with(&text[at..], m));
        rest.filter(|_| !inside).map(|rest| (&text[..at], rest))
    };
    let Some((before, mut after)) = places.into_iter().find_map(mark) else {
        return (text, "");
    };
    // “may contain (+/-):”
    after = after.trim_start_matches([' ', ':', '(', ')', '\n']);
    for sign in ["+/-", "±"] {
        after = after.strip_prefix(sign).unwrap_or(after);
    }
    let open = |c: char| c.is_whitespace() || c == '(';
    let bare = |c: char| c.is_whitespace() || matches!(c, ':' | ')' | '.');
    (before.trim_end_matches(open), after.trim_matches(bare))
}

/// A part of a list.
struct Part {
    text: String,
    /// It begins with the sign of a footnote where no name would.
    remark: bool,
}

/// The parts of a list.
fn split(body: &str) -> Vec<Part> {
    let chars: Vec<char> = body.chars().collect();
    let inside = inside_brackets(&chars);
    let separates = |i: usize, c: char| {
        !inside[i] && (matches!(c, ';' | '•' | '·' | '|') || (c == ',' && !in_number(&chars, i)))
    };
    let separated = chars.iter().enumerate().any(|(i, &c)| separates(i, c));
    let mut parts = vec![Part {
        text: String::new(),
        remark: false,
    }];
    for (i, &c) in chars.iter().enumerate() {
        let text = parts.last().map_or("", |p| p.text.as_str());
        let begun = !text.trim().is_empty();
        // A line end inside a name is a wrapped line, unless each name has its own.
        let new_line = c == '\n' && !separated && !inside[i];
        let starts_word = i
            .checked_sub(1)
            .and_then(|k| chars.get(k))
            .is_none_or(|c| c.is_whitespace());
        let footnote = FOOTNOTE.contains(&c) && starts_word && begun;
        if separates(i, c) || new_line || footnote {
            parts.push(Part {
                text: String::new(),
                remark: footnote,
            });
        } else if FOOTNOTE.contains(&c) && starts_word && !separated {
            // At the beginning of a line: a footnote, unless it is a name.
            if let Some(part) = parts.last_mut() {
                part.remark = true;
            }
        } else if let Some(part) = parts.last_mut() {
            part.text.push(if c.is_whitespace() { ' ' } else { c });
        }
    }
    parts
}

/// Which characters stand between brackets that are closed again.
fn inside_brackets(chars: &[char]) -> Vec<bool> {
    let mut inside = vec![false; chars.len()];
    let mut open = Vec::new();
    for (i, c) in chars.iter().enumerate() {
        match c {
            '(' => open.push(i),
            ')' => {
                if let Some(from) = open.pop() {
                    inside[from..=i].fill(true);
                }
            }
            _ => {}
        }
    }
    inside
}

/// Whether a comma belongs to a number: 1,2-Hexanediol and 2,5 % keep theirs;
/// Polyquaternium-7,1,2-Hexanediol and CI 77491,CI 77492 do not.
fn in_number(chars: &[char], comma: usize) -> bool {
    let digit = |c: Option<&char>| c.is_some_and(char::is_ascii_digit);
    if !digit(chars.get(comma + 1)) {
        return false;
    }
    let digits = chars[..comma]
        .iter()
        .rev()
        .take_while(|c| c.is_ascii_digit())
        .count();
    let ahead = chars[..comma - digits].last();
    let joined = ahead.is_some_and(|c| c.is_alphabetic() || *c == '-');
    (1..=3).contains(&digits) && !joined
}

/// Names joined by “and”, if there are several.
fn pieces(name: &str) -> impl Iterator<Item = &str> {
    name.split(" and ")
        .flat_map(|piece| piece.split("(and)"))
        .flat_map(|piece| piece.split(" & "))
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
}

/// A name without marks and numbering, and the percentages stated before or behind it.
fn tidy(part: &str) -> (String, Option<Relation>) {
    let marks = |c: &char| !FOOTNOTE.contains(c) && !matches!(c, '®' | '™');
    let plain: String = part.chars().filter(marks).collect();
    let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut name = plain.trim_matches(['.', ' ']);
    name = name.trim_start_matches(['-', '–', '—', ' ']);
    // “1. Aqua”, “2) Glycerin”
    if let Some((number, rest)) = name.split_once(['.', ')'])
        && !number.is_empty()
        && number.bytes().all(|b| b.is_ascii_digit())
        && rest.starts_with(' ')
    {
        name = rest.trim_start();
    }
    // “Niacinamide 5 %”, “Niacinamide (5%)”, “5 % Niacinamide”.
    let bare = name.trim_end_matches([')', ' ']);
    if let Some(before) = bare.strip_suffix('%')
        && let Some((kept, stated)) = figures_behind(before.trim_end())
        && !kept.is_empty()
    {
        return (kept.to_owned(), Some(stated));
    }
    if let Some((figures, rest)) = name.split_once('%')
        && let Some(("", stated)) = figures_behind(figures.trim_end())
        && !rest.trim().is_empty()
    {
        return (rest.trim().to_owned(), Some(stated));
    }
    // A bracket that is not closed, or was not opened.
    let (open, closed) = (name.matches('(').count(), name.matches(')').count());
    let name = match open.cmp(&closed) {
        std::cmp::Ordering::Equal => name,
        std::cmp::Ordering::Greater => name.trim_start_matches('('),
        std::cmp::Ordering::Less => name.trim_end_matches(')'),
    };
    (name.trim().to_owned(), None)
}

/// Splits “Name 5”, “Name (5 - 10”, “Name <1” into the name and what is stated.
fn figures_behind(text: &str) -> Option<(&str, Relation)> {
    let (rest, high) = figure_behind(text)?;
    let joined = rest.trim_end_matches(' ');
    if let Some(before) = joined.strip_suffix(['-', '–'])
        && let Some((rest, low)) = figure_behind(before.trim_end().trim_end_matches('%').trim_end())
        && low <= high
        && ends_name(rest)
    {
        return Some((kept(rest), Relation::Between(low, high)));
    }
    for (signs, relation) in [
        (["<=", "≤", "<"], Relation::AtMost(high)),
        ([">=", "≥", ">"], Relation::AtLeast(high)),
    ] {
        if let Some(rest) = signs.iter().find_map(|sign| joined.strip_suffix(sign)) {
            return Some((kept(rest), relation));
        }
    }
    ends_name(rest).then(|| (kept(rest), Relation::Equal(high)))
}

/// Whether a name may end here, so that the figure behind does not belong to it.
fn ends_name(text: &str) -> bool {
    text.is_empty() || text.ends_with([' ', '(', ':', '='])
}

/// A name without what leads over to its figure.
fn kept(text: &str) -> &str {
    text.trim_end_matches([' ', '(', ':', '=', '-', '–'])
}

/// The figure at the end of a text and the text before it.
fn figure_behind(text: &str) -> Option<(&str, f64)> {
    let rest = text.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.' || c == ',');
    let value = typed::value(&text[rest.len()..], &Measure::PERCENT.within(0.0, 999.0)).ok()?;
    Some((rest, value))
}

/// Names of the shelf and of the public inventory.
struct KnownNames<'a> {
    shelf: HashMap<InciKey, (&'a Inci, Class)>,
}

impl<'a> KnownNames<'a> {
    fn of(shelf: &'a Shelf) -> Self {
        let names = shelf
            .iter()
            .flat_map(|m| &m.constituents)
            .map(|c| (c.inci.key(), (&c.inci, c.class)));
        Self {
            shelf: names.collect(),
        }
    }

    /// The INCI name and class of a name; `None` if it is not known.
    fn recognise(&self, text: &str) -> Option<(Inci, Class)> {
        let mut trials = vec![text.to_owned()];
        // Without what stands in brackets, what stands there, and each part of a
        // name given in several languages.
        if let Some((before, rest)) = text.split_once('(') {
            let (inside, after) = rest.split_once(')').unwrap_or((rest, ""));
            let without = format!("{} {}", before.trim(), after.trim());
            trials.push(without.trim().to_owned());
            trials.push(inside.trim().to_owned());
        }
        let slashed: Vec<String> = trials
            .iter()
            .flat_map(|t| t.split('/').map(|p| p.trim().to_owned()))
            .collect();
        trials.extend(slashed);
        trials.iter().find_map(|trial| self.find(trial))
    }

    fn find(&self, name: &str) -> Option<(Inci, Class)> {
        let lower = name.to_lowercase();
        let lower = fold::in_other_words(&lower).unwrap_or(&lower);
        if let Some((inci, class)) = self.shelf.get(&Inci::from(lower).key()) {
            return Some(((*inci).clone(), *class));
        }
        let entry = inventory().by_name(lower)?;
        Some((entry.label_name().into(), entry.likely_class()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::built_in;

    /// The INCI names, a stroke, and the names that are not known.
    fn check(text: &str, expected: &[&str]) -> PastedList {
        let list = read(text, built_in());
        let names: Vec<&str> = list.names.iter().map(|n| n.inci.spelling()).collect();
        assert_eq!(names, expected, "{text}");
        list
    }

    #[test]
    fn lists_as_they_stand_on_packs_are_read() {
        check(
            "Ingredients: Aqua (Water), Glycerin*, Caprylic/Capric Triglyceride, 1,2-Hexanediol, Parfum/Fragrance, CI 77891.",
            &[
                "Aqua",
                "Glycerin",
                "Caprylic/Capric Triglyceride",
                "1,2-Hexanediol",
                "Parfum",
                "CI 77891",
            ],
        );
        check(
            "AQUA\nGLYCERIN\n# a remark\nXANTHAN GUM",
            &["Aqua", "Glycerin", "Xanthan Gum"],
        );
        check("\u{feff}INGREDIENTS AQUA, GLYCERIN", &["Aqua", "Glycerin"]);
        check(
            "1. Aqua\n2. Glycerin\n3. 1,2-Hexanediol",
            &["Aqua", "Glycerin", "1,2-Hexanediol"],
        );
        check("- Aqua\n- Glycerin", &["Aqua", "Glycerin"]);
        check(
            "Aqua,Polyquaternium-7,1,2-Hexanediol,CI 77491,CI 77492",
            &[
                "Aqua",
                "Polyquaternium-7",
                "1,2-Hexanediol",
                "CI 77491",
                "CI 77492",
            ],
        );
        check("Aqua, Glycerin and Parfum", &["Aqua", "Glycerin", "Parfum"]);
        check(
            "Aqua, Sodium\nLaureth Sulfate,\r\nGlycerin",
            &["Aqua", "Sodium Laureth Sulfate", "Glycerin"],
        );
    }

    #[test]
    fn water_is_known_in_many_languages() {
        for word in [
            "Water",
            "EAU",
            "Wasser",
            "Acqua",
            "Agua",
            "Água",
            "Vand",
            "Woda",
            "Víz",
            "Вода",
            "Aqua/Water/Eau",
            "Aqua [Water]",
            "Water (Aqua)",
            "水",
        ] {
            check(&format!("{word}, Glycerin"), &["Aqua", "Glycerin"]);
        }
    }

    #[test]
    fn brackets_need_not_be_closed() {
        check(
            "Aqua (Water, Glycerin, Parfum",
            &["Aqua", "Glycerin", "Parfum"],
        );
        check("Aqua Water), Glycerin", &["Aqua", "Glycerin"]);
        let nano = check("Aqua, Zinc Oxide [nano]", &["Aqua", "Zinc Oxide (nano)"]);
        assert!(nano.names[1].known);
    }

    #[test]
    fn footnotes_are_left_out() {
        check(
            "Aqua, *Glycerin, Parfum, Linalool**, Limonene**. *from organic farming, fair trade **of natural essential oils",
            &["Aqua", "Glycerin", "Parfum", "Linalool", "Limonene"],
        );
        check(
            "Aqua\n*Glycerin\nParfum\n* from controlled growing",
            &["Aqua", "Glycerin", "Parfum"],
        );
    }

    #[test]
    fn what_a_list_may_contain_stands_apart() {
        for text in [
            "Aqua, Mica, may contain: CI 77491, CI 77492",
            "Aqua, Mica [+/- CI 77491, CI 77492]",
            "Aqua, Mica (+/-): CI 77491, CI 77492.",
            "Aqua, Mica. Kann enthalten (+/-): CI 77491, CI 77492",
            "Aqua, Mica, ± CI 77491, CI 77492",
        ] {
            let list = check(text, &["Aqua", "Mica"]);
            let colours: Vec<&str> = list.may_contain.iter().map(|n| &**n).collect();
            assert_eq!(colours, ["CI 77491", "CI 77492"], "{text}");
        }
    }

    #[test]
    fn stated_percentages_are_taken() {
        use Relation::{AtLeast, AtMost, Between, Equal};
        for (text, stated) in [
            ("Niacinamide 5%", Equal(5.0)),
            ("Niacinamide (2,5 %)", Equal(2.5)),
            ("Niacinamide: 5 %", Equal(5.0)),
            ("5 % Niacinamide", Equal(5.0)),
            ("Niacinamide <1 %", AtMost(1.0)),
            ("Niacinamide (≥ 2%)", AtLeast(2.0)),
            ("Niacinamide 5-10 %", Between(5.0, 10.0)),
        ] {
            let list = check(
                &format!("Aqua, {text}, Glycerin"),
                &["Aqua", "Niacinamide", "Glycerin"],
            );
            assert_eq!(list.names[1].stated, Some(stated), "{text}");
        }
        // The figure of a name is none.
        let list = check(
            "Aqua, PEG-40 Stearate, Polyquaternium-7",
            &["Aqua", "PEG-40 Stearate", "Polyquaternium-7"],
        );
        assert!(list.names.iter().all(|n| n.stated.is_none()));
    }

    #[test]
    fn a_name_counts_once_and_an_unknown_one_is_told() {
        let list = check(
            "Water; Glycerin • Aqua, Moonwort Dust",
            &["Aqua", "Glycerin", "Moonwort Dust"],
        );
        assert_eq!(list.repeated, vec!["Aqua".into()]);
        assert!(!list.names[2].known);
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read(text in "(?s).{0,200}", marks in "[*(),.;%0-9 a-z\n+/<>-]{0,120}") {
            for text in [&text, &marks] {
                read(text, built_in());
            }
        }
    }
}
