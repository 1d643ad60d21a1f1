//! Lists in running lines: "Shea butter - 5 kg bag - £38.00", "- Cacaoboter, 500 g: € 8,25",
//! and materials with their INCI names, "1. Hemp oil (Cannabis Sativa Seed Oil)".

use std::collections::BTreeMap;

use super::columns::per_unit;
use crate::amount::number;
use crate::cas::Cas;
use crate::file::table::amounts::masses_in;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::items;
use crate::file::table::money::currency_in;
use crate::file::table::names::are_inci_names;
use crate::file::table::packs::within;
use crate::file::table::words::{without_words_of_price, words};
use crate::file::table::{Cell, Table};
use crate::naming::blend::parts;
use crate::naming::is_known_name;

/// Lines that must be alike for a text to be a list.
const ENOUGH: usize = 2;

/// What a line says.
#[derive(Default)]
struct Line {
    name: String,
    /// The size of the pack as written.
    pack: String,
    /// The price as written.
    price: String,
    /// INCI names in brackets behind the name.
    inci: String,
    /// A CAS number beside them.
    cas: String,
    /// The number of packs as written.
    count: String,
    /// Further packs with their prices.
    more: Vec<PackOfLine>,
    /// What stands behind the price.
    rest: String,
}

/// A further pack that a line names: its size and its price as written.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct PackOfLine {
    pub(super) pack: String,
    pub(super) price: String,
}

/// A list in running lines, put into columns.
pub(super) struct Lines {
    pub(super) table: Table,
    pub(super) layout: Layout,
    /// Further packs by row, counted from 0.
    pub(super) more: BTreeMap<usize, Vec<PackOfLine>>,
}

const DIVIDERS: [char; 9] = [' ', ',', ':', ';', '-', '–', '—', '|', '•'];

/// A line of a chat without the time and the name in front of it: "[12/10/26, 9:42] Nuria: ",
/// "12.10.26, 09:42 - Nuria: ".
fn without_stamp(line: &str) -> &str {
    let line = line.trim();
    let is_time = |text: &str| {
        text.contains(':')
            && text.bytes().filter(u8::is_ascii_digit).count() >= 3
            && text.chars().filter(|c| c.is_alphabetic()).count() <= 2
    };
    let inside = |line: &'_ str| {
        line.strip_prefix('[')
            .and_then(|l| l.split_once(']'))
            .is_some()
    };
    let parted = if inside(line) {
        line.strip_prefix('[').and_then(|l| l.split_once(']'))
    } else {
        line.split_once(" - ")
    };
    let Some((_, said)) = parted.filter(|(time, _)| is_time(time)) else {
        return line;
    };
    let is_name = |name: &str| {
        name.split_whitespace().count() <= 4 && !name.contains(|c: char| c.is_ascii_digit())
    };
    match said.split_once(": ") {
        Some((name, said)) if is_name(name) => said.trim(),
        _ => said.trim(),
    }
}

/// A line without the mark or number in front of it: "- ", "• ", "1. ", "2) ".
fn without_mark(line: &str) -> &str {
    let line = without_stamp(line);
    let bare = line.trim_start_matches(['-', '–', '—', '•', '*', '·', '+']);
    let digits = bare
        .trim_start()
        .trim_start_matches(|c: char| c.is_ascii_digit());
    let numbered = digits.len() < bare.trim_start().len();
    match digits.strip_prefix(['.', ')']) {
        Some(rest) if numbered && rest.starts_with(' ') => rest.trim(),
        _ => bare.trim(),
    }
}

/// Where an amount of money stands in a line, as a range of it.
fn money(line: &str) -> Option<std::ops::Range<usize>> {
    let tokens: Vec<(usize, &str)> = line
        .split(' ')
        .scan(0, |at, token| {
            let start = *at;
            *at += token.len() + 1;
            Some((start, token))
        })
        .filter(|(_, token)| !token.is_empty())
        .collect();
    let clean = |t: &str| {
        t.trim_matches([',', ';', '.', ':', '(', ')', '-', '–'])
            .to_owned()
    };
    let is_number = |t: &str| {
        let bare = clean(t);
        bare.starts_with(|c: char| c.is_ascii_digit()) && number::amount(&bare, None).is_ok()
    };
    tokens.iter().enumerate().find_map(|(n, &(start, token))| {
        let is_money = |text: &str| {
            number::amount(text, None).is_ok_and(|a| a.currency.is_some() && a.unit.is_none())
        };
        if is_money(&clean(token)) {
            return Some(start..start + token.len());
        }
        // "€ 11,90", "11,90 EUR", "11.90 €/kg".
        let &(next_start, next) = tokens.get(n + 1)?;
        let next = next.split('/').next().unwrap_or(next);
        let sign = |t: &str| {
            let bare = clean(t);
            number::currency_of(&bare).is_some() && currency_in(&bare).is_some()
        };
        (sign(token) && is_number(next) || is_number(token) && sign(next))
            .then(|| start..next_start + next.len())
    })
}

/// The number of packs in front of a line, and the rest: "2 x Shea butter 1 kg".
fn counted(line: &str) -> Option<(&str, &str)> {
    let end = line
        .find(|c: char| !c.is_ascii_digit())
        .filter(|end| (1..=4).contains(end))?;
    let (count, rest) = (line.get(..end)?, line.get(end..)?.trim_start());
    let rest = ["x ", "× ", "X "]
        .iter()
        .find_map(|sign| rest.strip_prefix(sign))?;
    rest.starts_with(|c: char| c.is_alphabetic())
        .then(|| (count, rest.trim_start()))
}

/// What a line says, if it is one of a list of prices.
fn priced(line: &str) -> Option<Line> {
    let bare = without_mark(line);
    let (count, bare) = counted(bare).unwrap_or(("", bare));
    let place = money(bare)?;
    let before = bare.get(..place.start)?;
    let behind = bare.get(place.end..)?;
    let price = bare.get(place)?;
    // "12.50 € per kg", "12.50 €/kg": the price says itself what it is for.
    let per = per_unit(behind).is_some();
    let pack = within(before, None);
    if let Some(turned) = price_in_front(price, before, behind) {
        return Some(turned);
    }
    let (name, size) = match &pack {
        Some((pack, rest)) => {
            // The name ends where the size begins, or stands behind it: "1 kg of shea butter".
            let end = size_at(before)?;
            let name = before.get(..end)?;
            if name.contains(char::is_alphabetic) {
                (name, pack.to_string())
            } else {
                (behind_size(before, rest), pack.to_string())
            }
        }
        None => (before, String::new()),
    };
    let name = without_joint(name);
    let sayable = name.contains(char::is_alphabetic) && name.split_whitespace().count() <= 8;
    let (more, behind) = if per {
        (Vec::new(), behind)
    } else {
        further_packs(behind)
    };
    (sayable && (per || pack.is_some())).then(|| Line {
        name: name.to_owned(),
        pack: size,
        price: if per {
            format!("{}{}", price.trim(), behind)
        } else {
            price.trim_matches([',', ';', ':']).trim().to_owned()
        },
        count: count.to_owned(),
        rest: if per {
            String::new()
        } else {
            behind.trim_matches(DIVIDERS).trim_matches('.').to_owned()
        },
        more,
        ..Line::default()
    })
}

/// A name without what joins it to its price: "burro di karité a", "beurre de karité à".
fn without_joint(name: &str) -> &str {
    let bare = |name: &'_ str| {
        let name = name.trim_end_matches(DIVIDERS);
        name.trim_end_matches(['(', '[']).trim().len()
    };
    let name = name.get(..bare(name)).unwrap_or(name);
    let name = without_words_of_price(name.trim_end_matches(DIVIDERS));
    // In capitals it is that of a vitamin.
    let joints = [
        " a", " à", " at", " zu", " für", " for", " po", " za", " voor",
    ];
    let cut = joints.iter().find_map(|joint| name.strip_suffix(joint));
    cut.map_or(name, |name| name.trim_end_matches(DIVIDERS))
}

/// What stands behind the size of a pack at the head of a line.
fn behind_size<'l>(before: &'l str, rest: &str) -> &'l str {
    let name = rest.trim_matches(DIVIDERS);
    let name = before
        .find(name)
        .and_then(|at| before.get(at..))
        .unwrap_or("");
    let mut articles = words().before_names.iter();
    let cut = articles.find_map(|article| name.strip_prefix(article.as_str()));
    cut.unwrap_or(name)
}

/// What a line says that has the price in front of a pack of a known material: "10,90 € – 1 kg
/// Sheabutter".
fn price_in_front(price: &str, before: &str, behind: &str) -> Option<Line> {
    if before.contains(char::is_alphanumeric) {
        return None;
    }
    let (pack, rest) = within(behind, None)?;
    let name = rest.trim_matches(DIVIDERS);
    let name = without_joint(name.trim_matches(['(', ')']));
    let mut articles = words().before_names.iter();
    let cut = articles.find_map(|article| name.strip_prefix(article.as_str()));
    let name = cut.unwrap_or(name);
    is_known_name(name).then(|| Line {
        name: name.to_owned(),
        pack: pack.to_string(),
        price: price.trim_matches([',', ';', ':']).trim().to_owned(),
        ..Line::default()
    })
}

/// The packs with prices that follow the first in a line, "5 kg 38,50 €", and what is left.
pub(super) fn further_packs(behind: &str) -> (Vec<PackOfLine>, &str) {
    let (mut packs, mut rest) = (Vec::new(), behind);
    while let Some(place) = money(rest) {
        let (Some(before), Some(price), Some(after)) = (
            rest.get(..place.start),
            rest.get(place.clone()),
            rest.get(place.end..),
        ) else {
            break;
        };
        // Nothing else stands between the two.
        let pack = within(before, None).filter(|(_, words)| !words.contains(char::is_alphanumeric));
        let Some((pack, _)) = pack else {
            break;
        };
        packs.push(PackOfLine {
            pack: pack.to_string(),
            price: price.trim_matches([',', ';', ':']).trim().to_owned(),
        });
        rest = after;
    }
    (packs, rest)
}

/// Where the last size of a pack begins in a text.
fn size_at(text: &str) -> Option<usize> {
    let mut starts = text
        .char_indices()
        .filter(|(_, c)| c.is_ascii_digit())
        .map(|(at, _)| at);
    // The last run of digits from which the rest still holds a size.
    starts.rfind(|&at| {
        let fresh = text
            .get(..at)
            .and_then(|t| t.chars().next_back())
            .is_none_or(|c| !c.is_alphanumeric() && !matches!(c, '.' | ','));
        fresh
            && text
                .get(at..)
                .is_some_and(|rest| within(rest, None).is_some())
    })
}

/// What a line says, if it is a material with its INCI names in brackets, perhaps with a CAS
/// number and with a remark behind them: "Ácido sórbico (Sorbic Acid; CAS 110-44-1), en polvo".
fn with_brackets(line: &str, is_inci: impl Fn(&str) -> bool) -> Option<Line> {
    let bare = without_mark(line);
    let (name, rest) = bare.split_once('(')?;
    let (inner, behind) = rest.split_once(')')?;
    let name = name.trim();
    // What is said behind them is parted from them.
    let parted =
        behind.trim().is_empty() || behind.trim_start().starts_with([',', ';', '.', '-', '–']);
    let cas = inner
        .split([';', ',', ' '])
        .find(|word| word.parse::<Cas>().is_ok());
    let inci: Vec<&str> = inner
        .split(';')
        .map(str::trim)
        .filter(|part| cas.is_none_or(|cas| !part.contains(cas)))
        .collect();
    let inci = inci.join(", ");
    let told = name.contains(char::is_alphabetic)
        && name.split_whitespace().count() <= 6
        && parted
        && !behind.contains('(')
        && is_inci(&inci);
    told.then(|| Line {
        name: name.to_owned(),
        inci,
        cas: cas.unwrap_or_default().to_owned(),
        rest: behind.trim_matches(DIVIDERS).trim_matches('.').to_owned(),
        ..Line::default()
    })
}

/// Whether words are written as INCI names are, several and each with a capital, whatever lists
/// know of them.
fn is_written_as_inci(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    let capital = |word: &&str| word.starts_with(char::is_uppercase);
    words.len() > 1 && words.iter().all(capital) && !text.contains(|c: char| c.is_ascii_digit())
}

/// What a line says, if it is a material with its INCI names behind the word for them: "Birkensaft
/// – INCI: Betula Alba Juice".
fn with_word_for_inci(line: &str) -> Option<Line> {
    const WORD: &str = "inci:";
    let bare = without_mark(line);
    let at = bare.to_ascii_lowercase().find(WORD)?;
    let (name, inci) = (bare.get(..at)?, bare.get(at + WORD.len()..)?);
    let name = name.trim_end_matches(DIVIDERS).trim_end_matches(['(', '[']);
    let inci = inci.trim().trim_end_matches([')', ']', '.', ';', ',']);
    let told = name.contains(char::is_alphabetic)
        && name.split_whitespace().count() <= 6
        && inci.contains(char::is_alphabetic);
    told.then(|| Line {
        name: name.trim().to_owned(),
        inci: inci.trim().to_owned(),
        ..Line::default()
    })
}

/// What a line says, if it is a material with its INCI names in brackets or behind a sign:
/// "Burro di mango = Mangifera Indica Seed Butter".
fn with_inci(line: &str) -> Option<Line> {
    if let Some(found) = with_word_for_inci(line) {
        return Some(found);
    }
    if let Some(found) = with_brackets(line, are_inci_names) {
        return Some(found);
    }
    let bare = without_mark(line).trim_end_matches(['.', ';', ',']);
    let signs = [" = ", " – ", " — ", " - "];
    let parted = signs.into_iter().find_map(|sign| bare.split_once(sign));
    // Behind a colon several names are the label of a product.
    let (name, inci) = parted.or_else(|| {
        bare.split_once(": ")
            .filter(|(_, inci)| parts(inci).len() == 1)
    })?;
    let name = name.trim();
    // "Stearinezuur – Stearic Acid – 57-11-4", and a word where there is no number.
    let third = signs.into_iter().find_map(|sign| inci.rsplit_once(sign));
    let third = third.filter(|(inci, last)| are_inci_names(inci) && !last.trim().contains(' '));
    let (inci, last) = third.unwrap_or((inci, ""));
    let cas = last.trim().parse::<Cas>().map_or("", |_| last.trim());
    let told = name.contains(char::is_alphabetic)
        && name.split_whitespace().count() <= 6
        && !inci.contains('(')
        && are_inci_names(inci);
    told.then(|| Line {
        name: name.to_owned(),
        inci: inci.trim().to_owned(),
        cas: cas.to_owned(),
        ..Line::default()
    })
}

/// What a line says that puts a name equal to another, whatever lists know of it; behind a dash
/// only what begins with a capital, as INCI names do.
fn equated(line: &str) -> Option<Line> {
    let bare = without_mark(line);
    let dashed = || {
        let mut signs = [" – ", " — ", " - "].into_iter();
        let parted = signs.find_map(|sign| bare.split_once(sign));
        parted.filter(|(_, inci)| inci.trim_start().starts_with(char::is_uppercase))
    };
    let (name, inci) = bare.split_once(" = ").or_else(dashed)?;
    let plain = |text: &str| {
        text.contains(char::is_alphabetic)
            && !text.contains(|c: char| c.is_ascii_digit() || matches!(c, '=' | '(' | ')'))
            && text.split_whitespace().count() <= 6
    };
    (plain(name) && plain(inci)).then(|| Line {
        name: name.trim().to_owned(),
        inci: inci.trim().to_owned(),
        ..Line::default()
    })
}

/// Whether most of some lines state how much there is of a material, as those of a recipe do.
fn are_of_a_recipe(table: &Table, lines: &[(usize, Line)]) -> bool {
    let measured = |(row, _): &&(usize, Line)| {
        let items = items::items(&table.row_text(*row), None, false);
        !items.lines.is_empty()
    };
    lines.iter().filter(measured).count() * 2 > lines.len()
}

/// The lines that name a material with its price, or else with its INCI names, each with its row;
/// `None` if they are those of a recipe.
fn lines_in(table: &Table) -> Option<Vec<(usize, Line)>> {
    let read = |of: fn(&str) -> Option<Line>| -> Vec<(usize, Line)> {
        (0..table.rows.len())
            .filter_map(|row| match table.cell(row, 0) {
                Cell::Text(text) => Some((row, of(text)?)),
                _ => None,
            })
            .collect()
    };
    let prices = read(priced);
    if prices.len() >= ENOUGH {
        return Some(prices);
    }
    let known = read(with_inci);
    if known.len() < ENOUGH {
        return Some(known);
    }
    // Where several lines are so, one whose INCI name is in no list is so as well.
    let all = read(|line| {
        let written = || with_brackets(line, is_written_as_inci);
        with_inci(line).or_else(|| equated(line)).or_else(written)
    });
    (!are_of_a_recipe(table, &all)).then_some(all)
}

/// What stands behind prices and names and was left out: further packs, and amounts.
fn left_out_behind(lines: &[(usize, Line)]) -> Vec<String> {
    let of_packs = lines
        .iter()
        .filter(|(_, line)| money(&line.rest).is_some())
        .map(|(row, line)| {
            format!(
                "row {}: “{}” behind the first price of “{}” tells of more packs, which were left out",
                row + 1,
                line.rest,
                line.name
            )
        });
    let of_names = lines
        .iter()
        .filter(|(_, line)| line.price.is_empty() && !masses_in(&line.rest).is_empty())
        .map(|(row, line)| {
            format!(
                "row {}: “{}” behind “{}” was left out",
                row + 1,
                line.rest,
                line.name
            )
        });
    of_packs.chain(of_names).collect()
}

/// Whether prices with their packs stand below each other in a text that is no recipe besides.
fn stand_together(table: &Table, lines: &[(usize, Line)]) -> bool {
    /// Fewer may be said in passing.
    const LIST: usize = 3;
    let rows: Vec<usize> = lines.iter().map(|(row, _)| *row).collect();
    let priced = lines.iter().all(|(_, line)| !line.price.is_empty());
    let is_line = |row: usize| rows.contains(&row);
    let between = |(a, b): (&usize, &usize)| {
        let others = (a + 1..*b).filter(|row| !table.cell(*row, 0).is_empty());
        others.count() == 0
    };
    let together = rows.iter().zip(rows.iter().skip(1)).filter(|p| between(*p));
    let measured = |row: &usize| {
        let items = items::items(&table.row_text(*row), None, false);
        !is_line(*row)
            && items
                .lines
                .first()
                .is_some_and(|item| is_known_name(&item.name))
    };
    let of_recipe = (0..table.rows.len()).filter(measured).count();
    priced && rows.len() >= LIST && together.count() + 1 >= LIST && of_recipe < ENOUGH
}

/// What the columns mean into which lines were put.
fn layout_of(lines: &[(usize, Line)]) -> Layout {
    let any = |of: fn(&Line) -> &str| lines.iter().any(|(_, line)| !of(line).is_empty());
    let priced = any(|line| &line.price);
    let kinds = [
        (1, ColumnKind::Name, true),
        (2, ColumnKind::Inci, !priced),
        (3, ColumnKind::Pack, priced),
        (4, ColumnKind::Price, priced),
        (5, ColumnKind::Note, priced || any(|line| &line.rest)),
        (6, ColumnKind::Packs, priced && any(|line| &line.count)),
        (7, ColumnKind::Cas, any(|line| &line.cas)),
    ];
    let mut layout = Layout::default();
    layout.columns.resize(8, None);
    for (column, kind, _) in kinds.into_iter().filter(|(.., there)| *there) {
        layout.assign(column, Some(kind));
    }
    layout
}

/// A list in running lines with columns of name, INCI names, pack and price more, and what its
/// columns mean; `None` if it is none.
pub(super) fn spread(table: &Table) -> Option<Lines> {
    if table.width() != 1 {
        return None;
    }
    let lines = lines_in(table)?;
    let filled = (0..table.rows.len())
        .filter(|&row| !table.cell(row, 0).is_empty() && !table.is_left_out(row));
    // Some lines of greeting and a remark are no more than the list itself; of a longer letter
    // the prices stand together.
    let most = lines.len() * 3 >= filled.count();
    if lines.len() < ENOUGH || !most && !stand_together(table, &lines) {
        return None;
    }
    let mut spread = table.clone();
    let text = |words: &str| {
        if words.is_empty() {
            Cell::Empty
        } else {
            Cell::Text(words.to_owned())
        }
    };
    for (row, line) in &lines {
        if let Some(cells) = spread.rows.get_mut(*row) {
            cells.truncate(1);
            let more = [
                &line.name,
                &line.inci,
                &line.pack,
                &line.price,
                &line.rest,
                &line.count,
                &line.cas,
            ];
            cells.extend(more.map(|words| text(words)));
        }
    }
    spread.said.extend(left_out_behind(&lines));
    let layout = layout_of(&lines);
    let more = lines.into_iter();
    let more = more.filter(|(_, line)| !line.more.is_empty());
    Some(Lines {
        table: spread,
        layout,
        more: more.map(|(row, line)| (row, line.more)).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_prices_are_parted() {
        let check = |line: &str, expected: [&str; 4]| {
            let read = priced(line).unwrap_or_else(|| panic!("{line}"));
            assert_eq!([&*read.name, &read.pack, &read.price, &read.rest], expected);
        };
        check(
            "Shea butter - 5 kg bag - £38.00 - Fenn & Co",
            ["Shea butter", "5000 g", "£38.00", "Fenn & Co"],
        );
        check(
            "- Cacaoboter, 500 g: € 8,25",
            ["Cacaoboter", "500 g", "€ 8,25", ""],
        );
        let two = priced("- Sheabutter: 1 kg 9,20 €, 5 kg 38,50 €, 10 % ab 80 €").unwrap();
        let more: Vec<(&str, &str)> = two.more.iter().map(|m| (&*m.pack, &*m.price)).collect();
        assert_eq!(
            (two.price.as_str(), &more[..]),
            ("9,20 €", &[("5000 g", "38,50 €")][..])
        );
        check("2. Glycerin: 7.80 €/kg", ["Glycerin", "", "7.80 €/kg", ""]);
        for line in [
            "Shipping € 6,95, free above € 75.",
            "Dear Lotte,",
            "Water 70 %",
        ] {
            assert!(priced(line).is_none(), "{line}");
        }
        let read = with_inci("1. Hemp oil (Cannabis Sativa Seed Oil)").unwrap();
        assert_eq!(
            (&*read.name, &*read.inci),
            ("Hemp oil", "Cannabis Sativa Seed Oil")
        );
        assert!(with_inci("Stir well (5 minutes)").is_none());
        let read = with_inci("Birkensaft – INCI: Betula Alba Juice").unwrap();
        assert_eq!(
            (&*read.name, &*read.inci),
            ("Birkensaft", "Betula Alba Juice")
        );
        let read = with_inci("Heilkreide (INCI: Calcium Carbonate)").unwrap();
        assert_eq!(
            (&*read.name, &*read.inci),
            ("Heilkreide", "Calcium Carbonate")
        );
        assert!(with_inci("INCI: Aqua, Glycerin").is_none());
        check(
            "Rizinusöl unverändert 9,40 € je kg",
            ["Rizinusöl", "", "9,40 € je kg", ""],
        );
        let read = with_inci("- Betaína (Betaine; CAS 107-43-7), en polvo").unwrap();
        assert_eq!(
            [&*read.name, &read.inci, &read.cas, &read.rest],
            ["Betaína", "Betaine", "107-43-7", "en polvo"]
        );
        let read = with_inci("- Burro di mango = Mangifera Indica Seed Butter").unwrap();
        assert_eq!(
            (&*read.name, &*read.inci),
            ("Burro di mango", "Mangifera Indica Seed Butter")
        );
        for line in [
            "[12/10/26, 9:42] Nuria: cera de abejas 13,50 €/kg",
            "12.10.26, 09:42 - Nuria: cera de abejas 13,50 €/kg",
        ] {
            assert_eq!(priced(line).unwrap().name, "cera de abejas", "{line}");
        }
    }

    #[test]
    fn name_pack_and_price_stand_in_any_order() {
        let check = |line: &str, expected: [&str; 4]| {
            let read = priced(line).unwrap_or_else(|| panic!("{line}"));
            assert_eq!([&*read.name, &read.pack, &read.price, &read.rest], expected);
        };
        for line in [
            "Sheabutter 1 kg 10,90 €",
            "Sheabutter (1 kg) 10,90 €",
            "1 kg Sheabutter: 10,90 €",
            "1 kg Sheabutter für 10,90 €",
            "- Sheabutter | 1 kg | 10,90 €",
            "Sheabutter, 1 kg à 10,90 €",
            "10,90 € – 1 kg Sheabutter",
            "10,90 € Sheabutter, 1 kg",
            "Sheabutter 1 kg nur 10,90 EUR",
            "Sheabutter 1 kg = 10,90 €",
        ] {
            check(
                line,
                ["Sheabutter", "1000 g", "10,90 €", ""].map(|w| {
                    if w == "10,90 €" && line.contains("EUR") {
                        "10,90 EUR"
                    } else {
                        w
                    }
                }),
            );
        }
        for (line, name) in [
            ("Burro di karité a 10,90 € al kg", "Burro di karité"),
            ("Beurre de karité à 10,90 € le kg", "Beurre de karité"),
            ("Beurre de karité : 10,90 €/kg", "Beurre de karité"),
            ("Manteca de karité a 10,90 € por kg", "Manteca de karité"),
            ("Sheaboter € 10,90 per kg", "Sheaboter"),
            ("Masło shea po 44,90 zł za kg", "Masło shea"),
            ("Shea butter at £9.50 per kg", "Shea butter"),
            ("Vitamin A 12 €/kg", "Vitamin A"),
            ("1 kg di burro di karité: 10,90 €", "burro di karité"),
            ("1 kg de manteca de cacao 10,90 €", "manteca de cacao"),
        ] {
            assert_eq!(priced(line).unwrap_or_else(|| panic!("{line}")).name, name);
        }
    }
}
