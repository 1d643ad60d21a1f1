//! A formula as a plain table (CSV): `phase,material,percent`.
//!
//! ```csv
//! # name: Hand gel
//! # kind: leave-on
//! # market: EU, UK
//! phase,material,percent,composition
//! A,Water,q.s.,
//! A,Glycerin,5,
//! B,Sodium Benzoate,0.5,pure
//! ```
//!
//! A material is found on the shelf by name, synonym, INCI name or CAS number;
//! with `pure` in the column `composition` it is the pure substance of that INCI
//! name, of that name in a list of rules, or of that CAS number. A column `cas` gives
//! the CAS number of a pure substance that goes by another name, a column `purpose` what
//! a line is there for in the sense of the law (see [`Purpose`]). `q.s.` marks the
//! filler. Comma, semicolon or tab divide the columns; a decimal comma is understood
//! where it does not divide.
//!
//! Comment lines `# key: value` at the head describe the product; see [`KEYS`].

use std::sync::Arc;

pub use super::product_head::KEYS;
use super::product_head::{self, PhaseWords};
use super::read_error::{Place, ReadError};
use crate::amount::typed;
use crate::cas::Cas;
use crate::formula::{Formula, ItemId, Line, Phase, Variant};
use crate::harmless::as_meant;
use crate::inventory::{Entry, inventory};
use crate::material::{
    Alkalinity, Basis, Charge, Class, Constituent, Material, MaterialId, PhaseKind, Role, Source,
};
use crate::naming::qs::is_qs;
use crate::purpose::Purpose;
use crate::quantity::{MassFraction, Percent};
use crate::rules::RuleBook;
use crate::rules::entry::List;
use crate::search::MaterialIndex;
use crate::shelf::Shelf;

/// The columns, in the order in which they are listed in messages.
const COLUMNS: [&str; 10] = [
    "phase",
    "material",
    "percent",
    "composition",
    "cas",
    "purpose",
    "why",
    "held",
    "lowest",
    "highest",
];
/// A material this pure is taken for the substance itself, share of 1.
const NEARLY_PURE: f64 = 0.9;

/// Whether a text looks like a table of ours rather than RON: its first line that
/// is no comment has the columns `phase` and `material`.
pub fn looks_like_table(text: &str) -> bool {
    let head = text
        .lines()
        .map(str::trim)
        .find(|l| !l.is_empty() && !l.starts_with('#'));
    head.is_some_and(|line| {
        let words: Vec<String> = line
            .split([',', ';', '\t'])
            .map(|w| plain(w.trim_matches('"')))
            .collect();
        let has = |name: &str| words.iter().any(|w| w == name);
        has("phase") && has("material")
    })
}

/// A formula read from a table.
#[derive(Clone, PartialEq, Debug)]
pub struct Table {
    /// The formula.
    pub formula: Formula,
    /// What had to be assumed, one sentence each, with the line it concerns.
    pub assumed: Vec<String>,
}

/// Reads a formula from a table. `file` is its name for error messages, `name`
/// that of the formula unless a comment gives one.
///
/// Where an INCI name fits several materials, the first by id is taken, and what was
/// taken is told in [`Table::assumed`] and in the line's own words.
pub fn read(text: &str, file: &str, name: &str, shelf: &Shelf) -> Result<Table, ReadError> {
    let mut formula = Formula::new(name);
    let mut variant = Variant::clone(formula.active());
    variant.phases.clear();
    let mut phases = PhaseWords::default();
    let body = comments(text, file, &mut formula, &mut variant, &mut phases)?;
    let skipped = text.len() - body.len();
    let offset = text.get(..skipped).unwrap_or("").matches('\n').count();

    let delimiter = [b',', b';', b'\t']
        .into_iter()
        .find(|&d| {
            let head = body.lines().next().unwrap_or("");
            let mut words = head
                .split(char::from(d))
                .map(|w| plain(w.trim_matches('"')));
            words.any(|w| w == "material")
        })
        .unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .comment(Some(b'#'))
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(body.as_bytes());
    let broken = |error: csv::Error| {
        let line = error.position().map(|p| p.line() as usize + offset);
        ReadError::at(
            file,
            line.map(|line| Place { line, column: 1 }),
            format!("the table cannot be read here: {error}; look for an unclosed quotation mark"),
        )
    };
    let header = reader.headers().map_err(broken)?.clone();
    if header.iter().all(str::is_empty) {
        let message = format!("the table is empty; {HEADER}");
        return Err(ReadError::whole(file, message));
    }
    let columns = Columns::of(&header, file, offset + 1)?;

    let mut finder = Finder::new(shelf);
    let mut letter = String::from("A");
    let mut assumed = Vec::new();
    for record in reader.records() {
        let record = record.map_err(broken)?;
        if record.iter().all(str::is_empty) {
            continue;
        }
        let line = record.position().map_or(0, |p| p.line() as usize) + offset;
        let row = text.lines().nth(line - 1).unwrap_or("");
        let at = |column: usize, message: String| {
            let column = column_start(row, column, char::from(delimiter));
            ReadError::at(file, Some(Place { line, column }), message)
        };
        if record.len() > header.len() {
            return Err(at(
                header.len(),
                format!(
                    "this row has {} cells, the header {}; put text with a “{}” in quotation marks",
                    record.len(),
                    header.len(),
                    char::from(delimiter)
                ),
            ));
        }
        let cell =
            |column: Option<usize>| as_meant(column.and_then(|c| record.get(c)).unwrap_or(""));
        let own_letter = cell(Some(columns.phase));
        if !own_letter.is_empty() {
            own_letter.clone_into(&mut letter);
        }

        let written = cell(Some(columns.material));
        if written.is_empty() {
            let message = "field `material`: the name is missing; write the name on the shelf or the INCI name";
            return Err(at(columns.material, message.to_owned()));
        }
        let composition = cell(columns.composition);
        let material = match plain(composition).as_str() {
            "" | "shelf" => finder.on_shelf(written),
            "pure" => cas_in(cell(columns.cas)).and_then(|cas| finder.pure(written, cas)),
            _ => {
                let column = columns.composition.unwrap_or(0);
                let message = format!(
                    "field `composition`: “{composition}” is not known; leave it empty for the material on the shelf, or write `pure`"
                );
                return Err(at(column, message));
            }
        }
        .map_err(|message| at(columns.material, format!("field `material`: {message}")))?;
        if let Some(remark) = finder.remark.take() {
            assumed.push(format!("{file}, line {line}: {remark}"));
        }

        let written = cell(Some(columns.percent));
        let id = ItemId(formula.take_id());
        let percent = if is_qs(written) {
            if variant.filler.is_some() {
                let message =
                    "field `percent`: there is a filler already; only one line can be q.s.";
                return Err(at(columns.percent, message.to_owned()));
            }
            variant.filler = Some(id);
            Percent::ZERO
        } else {
            typed::percent(written)
                .map_err(|message| at(columns.percent, format!("field `percent`: {message}")))?
        };
        let written = cell(columns.purpose);
        let purpose = if written.is_empty() {
            None
        } else {
            let known = Purpose::named(written).ok_or_else(|| {
                let known: Vec<&str> = Purpose::ALL.iter().map(|p| p.label()).collect();
                let message = format!(
                    "field `purpose`: “{written}” is not known; leave it empty or write one of {}",
                    known.join(", ")
                );
                at(columns.purpose.unwrap_or(0), message)
            })?;
            Some(known)
        };
        let mut why = cell(columns.why).to_owned();
        if let Some(others) = finder.others.take() {
            let taken = format!("taken as “{}”; {others} would fit too", material.name);
            assumed.push(format!(
                "{file}, line {line}: “{}” is {taken}",
                cell(Some(columns.material))
            ));
            if !why.is_empty() {
                why.push_str("; ");
            }
            why.push_str(&taken);
        }
        let line = Line {
            id,
            material: material.id.clone(),
            percent,
            why: why.into(),
            held: matches!(plain(cell(columns.held)).as_str(), "yes" | "held"),
            min: bound(cell(columns.lowest))
                .map_err(|message| at(columns.lowest.unwrap_or(0), message))?,
            max: bound(cell(columns.highest))
                .map_err(|message| at(columns.highest.unwrap_or(0), message))?,
            purpose,
        };
        formula.materials.insert(material.id.clone(), material);
        add_line(&mut formula, &mut variant, &letter, line);
    }
    if variant.phases.is_empty() {
        let message = "the table has no row below its header; add one row for each material";
        return Err(ReadError::whole(file, message));
    }
    fill_up(&mut variant);
    guess_kinds(&formula, &mut variant);
    phases
        .apply(&mut formula, &mut variant)
        .map_err(|message| ReadError::whole(file, message))?;
    formula.variants = vec![Arc::new(variant)];
    Ok(Table { formula, assumed })
}

/// What a table begins with.
const HEADER: &str = "the first line must be `phase,material,percent`, with `composition`, `cas`, `purpose` and `why` if wanted";

/// Where each column stands.
struct Columns {
    phase: usize,
    material: usize,
    percent: usize,
    composition: Option<usize>,
    cas: Option<usize>,
    purpose: Option<usize>,
    why: Option<usize>,
    held: Option<usize>,
    lowest: Option<usize>,
    highest: Option<usize>,
}

impl Columns {
    fn of(header: &csv::StringRecord, file: &str, line: usize) -> Result<Self, ReadError> {
        let at = |message: String| ReadError::at(file, Some(Place { line, column: 1 }), message);
        let known = |name: &str| COLUMNS.contains(&name) || name.is_empty();
        if let Some(name) = header.iter().map(plain).find(|n| !known(n)) {
            return Err(at(format!(
                "the column “{name}” is not known; the columns are {}",
                COLUMNS.join(", ")
            )));
        }
        let find = |name: &str| header.iter().position(|h| plain(h) == name);
        let must = |name: &str| {
            find(name).ok_or_else(|| at(format!("the column “{name}” is missing; {HEADER}")))
        };
        Ok(Self {
            phase: must("phase")?,
            material: must("material")?,
            percent: must("percent")?,
            composition: find("composition"),
            cas: find("cas"),
            purpose: find("purpose"),
            why: find("why"),
            held: find("held"),
            lowest: find("lowest"),
            highest: find("highest"),
        })
    }
}

/// Reads the comment lines at the head and returns the text below them.
fn comments<'t>(
    text: &'t str,
    file: &str,
    formula: &mut Formula,
    variant: &mut Variant,
    phases: &mut PhaseWords,
) -> Result<&'t str, ReadError> {
    let mut rest = text;
    let mut number = 0;
    loop {
        let line = rest.lines().next().unwrap_or("");
        let trimmed = line.trim();
        if rest.is_empty() || !(trimmed.is_empty() || trimmed.starts_with('#')) {
            return Ok(rest);
        }
        number += 1;
        if let Some((key, value)) = trimmed.trim_start_matches('#').split_once(':') {
            let place = Place {
                line: number,
                column: line.find(':').unwrap_or(0) + 2,
            };
            // Any other comment is for people.
            product_head::take(key, value, formula, variant, phases)
                .map_err(|message| ReadError::at(file, Some(place), message))?;
        }
        rest = rest.split_once('\n').map_or("", |(_, rest)| rest);
    }
}

pub(super) fn cas_in(cell: &str) -> Result<Option<Cas>, String> {
    if cell.is_empty() {
        return Ok(None);
    }
    cell.parse()
        .map(Some)
        .map_err(|e: crate::cas::CasError| e.to_string())
}

/// A bound of the maker's own; none if nothing is written.
fn bound(cell: &str) -> Result<Option<Percent>, String> {
    if cell.is_empty() {
        return Ok(None);
    }
    cell.parse::<Percent>()
        .map(Some)
        .map_err(|e| format!("a bound of a line: {e}"))
}

/// Whether headings are those of this table and no others.
pub(super) fn are_headings<'h>(headings: impl Iterator<Item = &'h str>) -> bool {
    let words: Vec<String> = headings.map(plain).filter(|w| !w.is_empty()).collect();
    words.iter().all(|w| COLUMNS.contains(&w.as_str()))
        && ["phase", "material", "percent"]
            .iter()
            .all(|must| words.iter().any(|w| w == must))
}

/// Lower case, single blanks.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(&word.to_lowercase());
    }
    out
}

/// The column, in characters from 1, at which a cell of a row starts.
fn column_start(row: &str, cell: usize, delimiter: char) -> usize {
    let mut quoted = false;
    let mut cells = 0;
    if cell == 0 {
        return 1;
    }
    for (i, c) in row.chars().enumerate() {
        if c == '"' {
            quoted = !quoted;
        } else if c == delimiter && !quoted {
            cells += 1;
            if cells == cell {
                return i + 2;
            }
        }
    }
    1
}

fn add_line(formula: &mut Formula, variant: &mut Variant, letter: &str, line: Line) {
    if let Some(phase) = variant.phases.iter_mut().find(|p| &*p.letter == letter) {
        Arc::make_mut(phase).lines.push(line);
        return;
    }
    variant.phases.push(Arc::new(Phase {
        id: ItemId(formula.take_id()),
        letter: letter.into(),
        kind: PhaseKind::Other,
        purpose: "".into(),
        temperature: None,
        lines: vec![line],
        steps: Vec::new(),
    }));
}

/// Gives the filler what the others leave, at least nothing.
fn fill_up(variant: &mut Variant) {
    let rest = (Percent::HUNDRED - variant.total()).clamp_to(Percent::ZERO, Percent::HUNDRED);
    let Some(filler) = variant.filler else { return };
    for phase in &mut variant.phases {
        if phase.lines.iter().any(|l| l.id == filler) {
            for line in &mut Arc::make_mut(phase).lines {
                if line.id == filler {
                    line.percent = rest;
                }
            }
        }
    }
}

/// A phase is of the kind to which its heaviest material usually belongs.
fn guess_kinds(formula: &Formula, variant: &mut Variant) {
    for phase in &mut variant.phases {
        let kind = phase
            .lines
            .iter()
            .filter_map(|l| Some((l.percent, formula.material(&l.material)?.phase?)))
            .max_by_key(|(percent, _)| *percent)
            .map(|(_, kind)| kind);
        if let Some(kind) = kind {
            Arc::make_mut(phase).kind = kind;
        }
    }
}

/// Finds the materials that a table names.
pub(super) struct Finder<'s> {
    shelf: &'s Shelf,
    index: Option<MaterialIndex>,
    /// The materials that fitted the last name as well as the one taken.
    pub(super) others: Option<String>,
    /// What had to be assumed about the last substance.
    pub(super) remark: Option<String>,
}

impl<'s> Finder<'s> {
    pub(super) fn new(shelf: &'s Shelf) -> Self {
        Self {
            shelf,
            index: None,
            others: None,
            remark: None,
        }
    }

    /// The material on the shelf of a name, synonym, INCI name or CAS number.
    pub(super) fn on_shelf(&mut self, written: &str) -> Result<Arc<Material>, String> {
        let name = plain(written);
        if let Some(material) = self.shelf.get(&MaterialId::from_name(written)) {
            return Ok(Arc::clone(material));
        }
        let is = |text: &Arc<str>| plain(text) == name;
        for found in [
            self.all(|m| is(&m.name)),
            self.all(|m| m.synonyms.iter().any(is)),
        ] {
            if !found.is_empty() {
                return one_of(written, &found);
            }
        }
        let cas = written.parse::<Cas>().ok();
        let names: Vec<String> = std::iter::once(name.clone()).chain(twin(&name)).collect();
        let is_it =
            |c: &Constituent| names.contains(&plain(&c.inci)) || (cas.is_some() && c.cas == cas);
        let pure: Vec<_> = self.all(|m| {
            m.constituents
                .iter()
                .any(|c| is_it(c) && c.share.typical.value() >= NEARLY_PURE)
        });
        if !pure.is_empty() {
            return self.first_of(purest(pure, is_it));
        }
        let listed: Vec<_> = self.all(|m| plain(&m.inci_line()) == name);
        if !listed.is_empty() {
            return self.first_of(listed);
        }
        // A solution is called by what it is a solution of.
        let main: Vec<_> = self.all(|m| m.main_constituent().is_some_and(is_it));
        if !main.is_empty() {
            return self.first_of(main);
        }
        Err(self.not_found(written))
    }

    /// The pure substance of an INCI name, of another name that a list of rules uses, or
    /// of a CAS number, which the name may be itself.
    ///
    /// A name that ends in `(nano)` and is not listed as such is the nanomaterial of the
    /// substance of that name.
    pub(super) fn pure(
        &mut self,
        written: &str,
        stated: Option<Cas>,
    ) -> Result<Arc<Material>, String> {
        let found = self.substance(written, stated);
        let (Err(_), Some(base)) = (
            &found,
            plain(written).strip_suffix("(nano)").map(str::to_owned),
        ) else {
            return found;
        };
        let mut material = Material::clone(&*self.substance(base.trim(), stated)?);
        for constituent in &mut material.constituents {
            constituent.inci = format!("{} (nano)", constituent.inci).into();
        }
        material.name = format!("{} (nano)", material.name).into();
        material.id = MaterialId::from_name(&material.name);
        Ok(Arc::new(material))
    }

    fn substance(&mut self, written: &str, stated: Option<Cas>) -> Result<Arc<Material>, String> {
        let number = stated.or_else(|| written.parse().ok());
        let name = plain(written);
        let names: Vec<String> = std::iter::once(name.clone()).chain(twin(&name)).collect();
        let constituents = || self.shelf.iter().flat_map(|m| &m.constituents);
        let known = constituents()
            .find(|c| names.contains(&plain(&c.inci)))
            .or_else(|| {
                let number = number.filter(|_| stated.is_none())?;
                constituents().find(|c| c.cas == Some(number))
            })
            .or_else(|| self.nearly_pure(&name));
        let listed = names
            .iter()
            .find_map(|n| inventory().by_name(n))
            .or_else(|| inventory().by_cas(number?).next());
        let book = RuleBook::shared();
        let ruled = book.substance(number, written);
        let (inci, cas): (Arc<str>, _) = match (known, listed, ruled) {
            (Some(c), entry, _) => (c.inci.clone(), c.cas.or_else(|| entry.and_then(|e| e.cas))),
            (None, Some(entry), _) if stated.is_none() => (entry.label_name().into(), entry.cas),
            (None, _, Some(member)) if stated.is_none() => {
                // Called as it was written where the list knows it so, else by its first name.
                let listed = member.named(written);
                // The names of a member that stands for salts are not those of the salt.
                let first = member.names.first().filter(|_| !member.salts);
                let name = listed.or_else(|| first.cloned());
                let name = name.unwrap_or_else(|| written.into());
                (bare_name(&name).into(), member.cas.first().copied())
            }
            _ if number.is_some() || is_colour_index(written) => (written.into(), None),
            _ => return Err(self.not_found(written)),
        };
        let cas = number.or(cas);
        if known.is_none() && listed.is_none() && ruled.is_none() {
            self.remark = Some(format!(
                "no list here knows “{written}”; it is taken as named, with nothing known about it"
            ));
        }
        let serves = |list| book.lists(cas, &inci, list);
        let class = match known.map_or_else(|| listed.map_or(Class::Other, class_of), |c| c.class) {
            // What the functions do not tell, the lists of the law may.
            Class::Other if serves(List::Preservatives) => Class::Preservative,
            Class::Other if serves(List::Colorants) || is_colour_index(&inci) => Class::Colour,
            class => class,
        };
        let mut roles = listed.map(Entry::roles).unwrap_or_default();
        // Many a solvent is reported as perfuming too.
        roles.retain(|r| *r != Role::Fragrance || class == Class::Fragrance);
        for (list, role) in [
            (List::Preservatives, Role::Preservative),
            (List::UvFilters, Role::UvFilter),
        ] {
            if known.is_none() && serves(list) && !roles.contains(&role) {
                roles.push(role);
            }
        }
        let is_it = |c: &Constituent| c.inci.eq_ignore_ascii_case(&inci);
        // Use data of a nearly pure material on the shelf hold for the substance too.
        let like = self
            .all(|m| {
                m.constituents
                    .iter()
                    .any(|c| is_it(c) && c.share.typical.value() >= NEARLY_PURE)
            })
            .into_iter()
            .next();
        let id = MaterialId::from_name(&format!("{inci} pure"));
        let label = format!("{inci}, pure");
        let mut material = Material::pure(id.clone(), label.as_str(), inci.clone(), cas, class);
        if let Some(like) = like {
            let constituents = std::mem::take(&mut material.constituents);
            material = Material::clone(&like);
            material.id = id;
            material.name = label.into();
            material.synonyms.clear();
            material.supplier = None;
            material.constituents = constituents;
        } else {
            material.roles = roles;
        }
        material.alkalinity = Alkalinity::Neutral;
        material.source = Source::new(
            Basis::Practice,
            "taken as the pure substance, as the table says",
        );
        material.charge = material.charge.or(match class {
            Class::Surfactant(charge) => Some(charge),
            _ => charge_of(&name),
        });
        Ok(Arc::new(material))
    }

    /// The substance a nearly pure material of that name on the shelf consists of.
    fn nearly_pure(&self, name: &str) -> Option<&'s Constituent> {
        let is = |text: &Arc<str>| plain(text) == name;
        self.shelf
            .iter()
            .filter(|m| is(&m.name) || m.synonyms.iter().any(is))
            .flat_map(|m| &m.constituents)
            .find(|c| c.share.typical.value() >= NEARLY_PURE)
    }

    /// The plainest of several materials, the first by id among equals; the others are
    /// remembered.
    fn first_of(&mut self, mut found: Vec<Arc<Material>>) -> Result<Arc<Material>, String> {
        let carrier = |c: &&Constituent| matches!(c.class, Class::Water | Class::Electrolyte);
        found.sort_by_key(|m| m.constituents.iter().filter(|c| !carrier(c)).count());
        let mut found = found.into_iter();
        let first = found.next().ok_or_else(|| "no material fits".to_owned())?;
        let others: Vec<String> = found.map(|m| format!("“{}”", m.name)).collect();
        self.others = (!others.is_empty()).then(|| others.join(", "));
        Ok(first)
    }

    fn all(&self, fits: impl Fn(&Material) -> bool) -> Vec<Arc<Material>> {
        self.shelf.iter().filter(|m| fits(m)).cloned().collect()
    }

    fn not_found(&mut self, written: &str) -> String {
        let index = self
            .index
            .get_or_insert_with(|| MaterialIndex::new(self.shelf.iter()));
        let mut near: Vec<String> = index
            .nearest_names(written, 2)
            .into_iter()
            .filter_map(|(id, _)| Some(self.shelf.get(&id)?.name.to_string()))
            .collect();
        for constituent in self.shelf.iter().flat_map(|m| &m.constituents) {
            let inci = constituent.inci.to_string();
            if strsim::normalized_damerau_levenshtein(&plain(&inci), &plain(written)) > 0.7
                && !near.contains(&inci)
            {
                near.push(inci);
            }
        }
        if near.is_empty() {
            let listed = inventory().nearest(written, 2);
            near.extend(listed.iter().map(|e| e.label_name()));
        }
        near.truncate(4);
        let exact = inventory().by_name(written).is_some();
        let ruled = RuleBook::shared()
            .substance(written.parse().ok(), written)
            .is_some();
        let remedy = if exact || ruled {
            let known = if exact {
                "it is an INCI name"
            } else {
                "a list of the law names it"
            };
            format!(
                "{known}, so add it to the shelf with its composition, or write `pure` in the column `composition` if it is the pure substance"
            )
        } else if near.is_empty() {
            "write the name on the shelf or the INCI name, or add it to the shelf".to_owned()
        } else {
            format!("did you mean “{}”?", near.join("”, “"))
        };
        format!("nothing on the shelf is called “{written}”; {remedy}")
    }
}

/// Whether a name is a number of the Colour Index, `CI` and five digits.
fn is_colour_index(name: &str) -> bool {
    name.split_once(' ').is_some_and(|(ci, number)| {
        let number = number.trim();
        ci.eq_ignore_ascii_case("ci")
            && number.len() == 5
            && number.bytes().all(|b| b.is_ascii_digit())
    })
}

/// The substance that a list of rules speaks of, without the use and the exceptions
/// that its text adds.
fn bare_name(text: &str) -> &str {
    [
        ", when used",
        ", with the exception",
        " with the exception",
        ", except",
    ]
    .into_iter()
    .filter_map(|tail| text.split_once(tail))
    .map(|(name, _)| name)
    .min_by_key(|name| name.len())
    .unwrap_or(text)
}

/// INCI names that differ between markets for the same thing.
fn twin(name: &str) -> Option<String> {
    let twin = match name {
        "water" => "aqua",
        "aqua" => "water",
        "fragrance" => "parfum",
        "parfum" => "fragrance",
        _ => return None,
    };
    Some(twin.to_owned())
}

/// Keeps the materials that hold most of a substance.
fn purest(found: Vec<Arc<Material>>, is_it: impl Fn(&Constituent) -> bool) -> Vec<Arc<Material>> {
    let share = |m: &Material| -> MassFraction {
        let parts = m.constituents.iter().filter(|c| is_it(c));
        parts.map(|c| c.share.typical).sum()
    };
    let most = found.iter().map(|m| share(m).value()).fold(0.0, f64::max);
    found
        .into_iter()
        .filter(|m| share(m).value() >= most)
        .collect()
}

/// The only one of several materials, or a sentence that lists them.
fn one_of(written: &str, found: &[Arc<Material>]) -> Result<Arc<Material>, String> {
    match found {
        [only] => Ok(Arc::clone(only)),
        several => {
            let names: Vec<&str> = several.iter().map(|m| m.name.as_ref()).collect();
            Err(format!(
                "“{written}” fits {} materials on the shelf; write one of their names: “{}”",
                several.len(),
                names.join("”, “")
            ))
        }
    }
}

/// What a substance of the inventory is counted as: what cleanses and has a name
/// that tells its charge is a surfactant, else what its functions say.
fn class_of(entry: &Entry) -> Class {
    let cleanses = entry
        .functions()
        .any(|f| f.contains("Cleansing") || f == "Foaming");
    match charge_of(&plain(entry.name)) {
        Some(charge) if cleanses => Class::Surfactant(charge),
        _ => entry.likely_class(),
    }
}

/// The charge class that an INCI name speaks of by the conventions of INCI
/// nomenclature: endings that name the head group.
fn charge_of(name: &str) -> Option<Charge> {
    const HEADS: [(&str, Charge); 22] = [
        ("betaine", Charge::Amphoteric),
        ("sultaine", Charge::Amphoteric),
        ("amphoacetate", Charge::Amphoteric),
        ("amphodiacetate", Charge::Amphoteric),
        ("amphopropionate", Charge::Amphoteric),
        ("amine oxide", Charge::Amphoteric),
        ("trimonium", Charge::Cationic),
        ("dimonium", Charge::Cationic),
        ("quaternium", Charge::Cationic),
        ("alkonium chloride", Charge::Cationic),
        ("sulfosuccinate", Charge::Anionic),
        ("sulfoacetate", Charge::Anionic),
        ("sulfonate", Charge::Anionic),
        ("isethionate", Charge::Anionic),
        ("sarcosinate", Charge::Anionic),
        ("glutamate", Charge::Anionic),
        ("taurate", Charge::Anionic),
        ("lauryl sulfate", Charge::Anionic),
        ("eth sulfate", Charge::Anionic),
        ("coco-sulfate", Charge::Anionic),
        ("coco sulfate", Charge::Anionic),
        ("glucoside", Charge::NonIonic),
    ];
    // Soaps are left to the maker: a stearate of a metal is a soap or a coating of a pigment.
    HEADS
        .iter()
        .find(|(head, _)| name.contains(head))
        .map(|(_, charge)| *charge)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::formula::{Market, ProductType};
    use crate::material::ProductKind;
    use crate::quantity::Ph;
    use proptest::prelude::*;

    fn shelf() -> Shelf {
        let mut water = Material::clone(&fixture::material(
            "Water",
            &[("Aqua", 100.0, Class::Water)],
        ));
        water.synonyms = vec!["Demineralised water".into()];
        let betaine = Class::Surfactant(Charge::Amphoteric);
        let sulfate = Class::Surfactant(Charge::Anionic);
        [
            Arc::new(water),
            fixture::material(
                "Glycerin (99.5 %)",
                &[
                    ("Glycerin", 99.5, Class::Humectant),
                    ("Aqua", 0.5, Class::Water),
                ],
            ),
            fixture::material(
                "Glycerin (86.5 %)",
                &[
                    ("Glycerin", 86.5, Class::Humectant),
                    ("Aqua", 13.5, Class::Water),
                ],
            ),
            fixture::material(
                "Betaine solution",
                &[
                    ("Aqua", 64.0, Class::Water),
                    ("Cocamidopropyl Betaine", 30.0, betaine),
                    ("Sodium Chloride", 6.0, Class::Electrolyte),
                ],
            ),
            fixture::material(
                "Sulfate 28",
                &[
                    ("Aqua", 72.0, Class::Water),
                    ("Sodium Laureth Sulfate", 28.0, sulfate),
                ],
            ),
            fixture::material(
                "Sulfate 70",
                &[
                    ("Aqua", 30.0, Class::Water),
                    ("Sodium Laureth Sulfate", 70.0, sulfate),
                ],
            ),
        ]
        .into_iter()
        .collect()
    }

    #[test]
    fn an_empty_table_says_so() {
        for text in ["", "\n\n", "# kind: rinse-off\n", "\u{feff}"] {
            let error = open(text).unwrap_err();
            assert!(error.contains("the table is empty"), "{text:?}: {error}");
        }
    }

    fn open(text: &str) -> Result<Formula, String> {
        let table = read(text, "gel.csv", "gel", &shelf());
        table.map(|t| t.formula).map_err(|e| e.to_string())
    }

    #[test]
    fn a_table_becomes_a_formula() {
        let text = "# name: Test gel\n# kind: leave-on\n# market: EU, US\n\nphase,material,percent,composition\nA,aqua,q.s.,\nA,Glycerin,5,\nB,betaine SOLUTION,\"12,5\",\nB,Cocamidopropyl Betaine,1,\n,Sodium Chloride,1,pure\nB,Sodium Benzoate,0.5,pure\n";
        assert!(looks_like_table(text));
        let formula = open(text).unwrap();
        let variant = formula.active();
        assert_eq!(&*formula.name, "Test gel");
        assert_eq!(variant.product.kind, ProductKind::LeaveOn);
        assert_eq!(variant.product.markets, [Market::Eu, Market::Us]);
        assert_eq!(variant.total(), Percent::HUNDRED);
        let lines: Vec<(String, String, String)> = variant
            .lines()
            .map(|(p, l)| {
                (
                    p.letter.to_string(),
                    l.material.to_string(),
                    l.percent.to_string(),
                )
            })
            .collect();
        let expected = [
            ("A", "water", "80"),
            ("A", "glycerin-99-5", "5"),
            ("B", "betaine-solution", "12.5"),
            ("B", "betaine-solution", "1"),
            ("B", "sodium-chloride-pure", "1"),
            ("B", "sodium-benzoate-pure", "0.5"),
        ];
        assert_eq!(lines.len(), expected.len());
        for (line, expected) in lines.iter().zip(expected) {
            assert_eq!(
                (line.0.as_str(), line.1.as_str(), line.2.as_str()),
                expected
            );
        }
        let salt = &formula.materials[&MaterialId::from_name("sodium chloride pure")];
        assert_eq!(salt.constituents[0].class, Class::Electrolyte);
        assert_eq!(salt.constituents[0].share.typical, MassFraction::ONE);
        // Name and CAS number as in the European Commission's CosIng inventory.
        let benzoate = &formula.materials[&MaterialId::from_name("sodium benzoate pure")];
        assert_eq!(
            benzoate.constituents[0].cas.unwrap().to_string(),
            "532-32-1"
        );
        assert_eq!(benzoate.constituents[0].class, Class::Preservative);
    }

    #[test]
    fn semicolons_tabs_and_blanks_are_understood() {
        for text in [
            "phase;material;percent\nA;Water;q.s.\nA;Glycerin;2,5\n",
            "Phase\tMaterial\tPercent\r\nA\tWater\tq.s.\r\nA\tGlycerin\t2.5 %\r\n",
            " phase , percent , material \nA, qs ,Water\n# in between\nA,2.50,  glycerin \n\n",
        ] {
            let formula = open(text).unwrap();
            let percents: Vec<String> = formula
                .active()
                .lines()
                .map(|(_, l)| l.percent.to_string())
                .collect();
            assert_eq!(percents, ["97.5", "2.5"], "{text}");
        }
    }

    #[test]
    fn a_name_that_fits_several_materials_says_what_was_taken() {
        let text = "phase,material,percent\nA,Water,q.s.\nA,Sodium Laureth Sulfate,5\n";
        let table = read(text, "t.csv", "T", &shelf()).unwrap();
        assert_eq!(table.assumed.len(), 1, "{:?}", table.assumed);
        for part in ["line 3", "Sulfate 28", "Sulfate 70"] {
            assert!(table.assumed[0].contains(part), "{part}");
        }
        let (_, line) = table.formula.active().lines().nth(1).unwrap();
        assert!(line.why.contains("Sulfate 70"));
    }

    #[test]
    fn errors_name_line_field_and_remedy() {
        let check = |rows: &str, parts: &[&str]| {
            let said = open(&format!(
                "# a comment\nphase,material,percent,composition\n{rows}"
            ))
            .unwrap_err();
            for part in parts {
                assert!(said.contains(part), "{part} in: {said}");
            }
        };
        check(
            "A,Glicerin,5,\n",
            &["line 3, column 3", "Glicerin", "did you mean", "Glycerin"],
        );
        check("A,Niacinamide,5,\n", &["line 3", "`pure`"]);
        check(
            "A,Water,five,\n",
            &["line 3, column 9", "`percent`", "five"],
        );
        check("A,Water,,\n", &["line 3", "`percent`", "missing"]);
        check("A,Water,120,\n", &["from 0 % to 100 %"]);
        check("A,Water,-1,\n", &["from 0 % to 100 %"]);
        check("A,,5,\n", &["`material`", "missing"]);
        check(
            "A,Water,q.s.,\nA,Glycerin,q.s.,\n",
            &["line 4", "only one line"],
        );
        check(
            "A,Water,5,dry\n",
            &["line 3, column 11", "`composition`", "dry"],
        );
        check("A,Water,1,,5\n", &["line 3", "5 cells"]);
        check("A,Nosuchthing,5,pure\n", &["Nosuchthing"]);
        check("", &["no row"]);
        let said = open("phase,material\nA,Water\n").unwrap_err();
        assert!(
            said.contains("“percent” is missing") && said.contains("line 1"),
            "{said}"
        );
        let said = open("phase,material,percent,colour\nA,Water,1,red\n").unwrap_err();
        assert!(said.contains("“colour”"), "{said}");
        let said = open("# kind: soapy\nphase,material,percent\nA,Water,1\n").unwrap_err();
        assert!(said.contains("soapy") && said.contains("line 1"), "{said}");
        assert!(open("").is_err());
    }

    #[test]
    fn a_pure_surfactant_has_the_charge_its_name_tells() {
        let text = "phase,material,percent,composition\nA,Disodium Laureth Sulfosuccinate,10,pure\nA,Behentrimonium Chloride,1,pure\n";
        let formula = open(text).unwrap();
        let charges: Vec<_> = formula.materials.values().map(|m| m.charge).collect();
        assert_eq!(charges, [Some(Charge::Cationic), Some(Charge::Anionic)]);
        let class = |m: &Arc<Material>| m.constituents[0].class;
        let classes: Vec<_> = formula.materials.values().map(class).collect();
        assert_ne!(classes[0], Class::Other);
        assert_eq!(classes[1], Class::Surfactant(Charge::Anionic));
    }

    #[test]
    fn more_than_a_hundred_leaves_nothing_for_the_filler() {
        let formula =
            open("phase,material,percent\nA,Water,q.s.\nA,Glycerin,60\nA,Betaine solution,60\n")
                .unwrap();
        assert_eq!(formula.active().total().to_string(), "120");
    }

    proptest! {
        #[test]
        fn random_text_never_panics(text in "\\PC{0,200}") {
            let _ = open(&text);
            let _ = open(&format!("phase,material,percent\n{text}"));
        }
    }

    fn table(head: &str, rows: &str) -> Table {
        let text = format!("{head}phase,material,percent,composition,cas\n{rows}");
        read(&text, "test.csv", "Test", &shelf()).unwrap()
    }

    fn only(table: &Table) -> &Constituent {
        let line = table.formula.active().lines().next().unwrap().1;
        &table.formula.material(&line.material).unwrap().constituents[0]
    }

    /// CAS numbers as printed in Regulation (EC) No 1223/2009: phenoxyethanol 122-99-6 and
    /// o-phenylphenate 132-27-4 in Annex V, chloroform 67-66-3 in Annex II.
    #[test]
    fn a_pure_substance_is_found_by_its_number_and_by_the_names_of_the_law() {
        let found = table("", "A,122-99-6,1,pure,\n");
        assert_eq!(&*only(&found).inci, "Phenoxyethanol");
        assert_eq!(only(&found).class, Class::Preservative);
        let found = table("", "A,Sodium o-Phenylphenate,1,pure,\n");
        assert_eq!(only(&found).class, Class::Preservative);
        let found = table("", "A,67-66-3,1,pure,\n");
        assert_eq!(only(&found).cas, "67-66-3".parse().ok());
        assert!(found.assumed.is_empty());
        // A name of the maker's own beside a number the lists know.
        let found = table("", "A,House white,1,pure,13463-67-7\n");
        assert_eq!(&*only(&found).inci, "House white");
        assert_eq!(only(&found).cas, "13463-67-7".parse().ok());
        assert_eq!(only(&found).class, Class::Colour);
        let dye = table("", "A,CI 13065,1,pure,\n");
        assert_eq!(only(&dye).class, Class::Colour);
        let nano = table("", "A,Glycerin (nano),1,pure,\n");
        assert_eq!(&*only(&nano).inci, "Glycerin (nano)");
        let unknown = table("", "A,House secret,1,pure,9999-99-9\n");
        assert!(unknown.assumed[0].contains("no list here knows"));
    }

    #[test]
    fn the_head_describes_the_product() {
        let head = "# under-three: yes\n# Spray: no\n# professional: yes\n# placed: 2027-01-15\n# measured pH: 5,2\n# target ph: 5\n# type: body-lotion\n# fragrance category: 5A\n";
        let found = table(head, "A,aqua,100,,\n");
        let variant = found.formula.active();
        let product = &variant.product;
        assert!(product.under_three && !product.spray && product.professional);
        assert_eq!(product.market_date, Some(jiff::civil::date(2027, 1, 15)));
        assert_eq!(product.product_type, Some(ProductType::BodyLotion));
        assert_eq!(product.fragrance_category.as_deref(), Some("5A"));
        assert_eq!(variant.measured.ph, Ph::new(5.2));
        assert_eq!(variant.target_ph, Ph::new(5.0));
        for (wrong, word) in [
            ("# spray: perhaps\n", "yes or no"),
            ("# placed: soon\n", "year-month-day"),
            ("# measured ph: sour\n", "not a pH"),
        ] {
            let text = format!("{wrong}phase,material,percent\nA,aqua,100\n");
            let error = read(&text, "test.csv", "Test", &shelf()).unwrap_err();
            assert!(error.to_string().contains(word), "{error}");
        }
    }
}
