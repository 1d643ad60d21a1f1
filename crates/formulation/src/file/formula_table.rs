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
//! Comment lines `# key: value` at the head describe the product; see
//! [`super::product_head::KEYS`]. Such a line may stand in quotation marks, as one cell.

use std::borrow::Cow;
use std::sync::Arc;

use super::product_head::{self, PhaseWords};
use super::read_error::{ReadError, TextPosition};
use crate::amount::typed;
use crate::cas::Cas;
use crate::formula::{Formula, ItemId, Line, Phase, Variant};
use crate::harmless::as_meant;
use crate::material::{Material, PhaseKind};
use crate::naming::qs::is_qs;
use crate::naming::{Exact, kinds_in};
use crate::purpose::Purpose;
use crate::quantity::Percent;
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

/// Whether a text looks like a table of ours rather than RON or a table of somebody else: its
/// first line that is no comment has the columns `phase` and `material`, and no other than
/// those known here.
pub fn looks_like_table(text: &str) -> bool {
    let head = text
        .lines()
        .map(str::trim)
        .find(|l| !l.is_empty() && comment(l).is_none());
    head.is_some_and(|line| {
        let words: Vec<String> = line
            .split([',', ';', '\t'])
            .map(|w| plain(w.trim_matches('"')))
            .collect();
        let has = |name: &str| words.iter().any(|w| w == name);
        let known = |word: &String| word.is_empty() || COLUMNS.contains(&word.as_str());
        has("phase") && has("material") && words.iter().all(known)
    })
}

/// A formula read from a table.
#[derive(Clone, PartialEq, Debug)]
pub struct FormulaTable {
    /// The formula.
    pub formula: Formula,
    /// What had to be assumed, one sentence each, with the line it concerns.
    pub assumed: Vec<String>,
}

/// Reads a formula from a table. `file` is its name for error messages, `name`
/// that of the formula unless a comment gives one.
///
/// Where an INCI name fits several materials, the first by id is taken, and what was
/// taken is told in [`FormulaTable::assumed`] and in the line's own words.
pub fn read(text: &str, file: &str, name: &str, shelf: &Shelf) -> Result<FormulaTable, ReadError> {
    let mut formula = Formula::new(name);
    let mut variant = Variant::clone(formula.active());
    variant.phases.clear();
    let mut phases = PhaseWords::default();
    let mut assumed = Vec::new();
    let body = comments(
        text,
        file,
        (&mut formula, &mut variant),
        &mut phases,
        &mut assumed,
    )?;
    assumed.extend(
        kinds_by_name(&formula, &mut variant, &phases).map(|told| format!("{file}: {told}")),
    );
    let skipped = text.len() - body.len();
    let offset = text.get(..skipped).unwrap_or("").matches('\n').count();

    let delimiter = delimiter_of(body);
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
            line.map(|line| TextPosition { line, column: 1 }),
            format!("the table cannot be read here: {error}; look for an unclosed quotation mark"),
        )
    };
    let header = reader.headers().map_err(broken)?.clone();
    if header.iter().all(str::is_empty) {
        let message = format!("the table is empty; {HEADER}");
        return Err(ReadError::whole(file, message));
    }
    let mut rows = Rows {
        file,
        columns: Columns::of(&header, file, offset + 1)?,
        width: header.len(),
        delimiter: char::from(delimiter),
        exact: Exact::new(shelf),
        letter: String::from("A"),
        formula,
        variant,
        assumed,
    };
    for record in reader.records() {
        let record = record.map_err(broken)?;
        if record.iter().all(str::is_empty) {
            continue;
        }
        let line = record.position().map_or(0, |p| p.line() as usize) + offset;
        let written = text.lines().nth(line - 1).unwrap_or("");
        rows.read(&record, line).map_err(|(column, message)| {
            let column = column_start(written, column, char::from(delimiter));
            ReadError::at(file, Some(TextPosition { line, column }), message)
        })?;
    }
    let Rows {
        mut formula,
        mut variant,
        assumed,
        ..
    } = rows;
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
    Ok(FormulaTable { formula, assumed })
}

/// What divides the columns: the first with which the head has a column `material`.
fn delimiter_of(body: &str) -> u8 {
    let head = body.lines().next().unwrap_or("");
    let divides = |d: &u8| {
        let mut words = head
            .split(char::from(*d))
            .map(|w| plain(w.trim_matches('"')));
        words.any(|w| w == "material")
    };
    [b',', b';', b'\t']
        .into_iter()
        .find(divides)
        .unwrap_or(b',')
}

/// What is wrong with a row, with the column in which it stands.
type RowFault = (usize, String);

/// The rows of a table, read one after the other into a formula.
struct Rows<'t> {
    file: &'t str,
    columns: Columns,
    width: usize,
    delimiter: char,
    exact: Exact<'t>,
    /// The letter of the phase, which a row without one takes from the row above.
    letter: String,
    formula: Formula,
    variant: Variant,
    assumed: Vec<String>,
}

impl Rows<'_> {
    fn read(&mut self, record: &csv::StringRecord, row: usize) -> Result<(), RowFault> {
        if record.len() > self.width {
            let message = format!(
                "this row has {} cells, the header {}; put text with a “{}” in quotation marks",
                record.len(),
                self.width,
                self.delimiter
            );
            return Err((self.width, message));
        }
        let columns = self.columns;
        let cell =
            |column: Option<usize>| as_meant(column.and_then(|c| record.get(c)).unwrap_or(""));
        let own_letter = cell(Some(columns.phase));
        if !own_letter.is_empty() {
            own_letter.clone_into(&mut self.letter);
        }
        let written = cell(Some(columns.material));
        let material = self.material(written, cell(columns.composition), cell(columns.cas))?;
        if let Some(remark) = self.exact.remark.take() {
            self.assume(row, &remark);
        }
        let id = ItemId(self.formula.take_id());
        let percent = self.percent(id, cell(Some(columns.percent)))?;
        let purpose = purpose(cell(columns.purpose))
            .map_err(|message| (columns.purpose.unwrap_or(0), message))?;
        let mut why = cell(columns.why).to_owned();
        if let Some(others) = self.exact.others.take() {
            let taken = format!("taken as “{}”; {others} would fit too", material.name);
            self.assume(row, &format!("“{written}” is {taken}"));
            if !why.is_empty() {
                why.push_str("; ");
            }
            why.push_str(&taken);
        }
        let bound = |column: Option<usize>| {
            bound(cell(column)).map_err(|message| (column.unwrap_or(0), message))
        };
        let line = Line {
            id,
            material: material.id.clone(),
            percent,
            why: why.into(),
            held: matches!(plain(cell(columns.held)).as_str(), "yes" | "held"),
            min: bound(columns.lowest)?,
            max: bound(columns.highest)?,
            purpose,
        };
        self.formula.materials.insert(material.id.clone(), material);
        add_line(&mut self.formula, &mut self.variant, &self.letter, line);
        Ok(())
    }

    fn assume(&mut self, row: usize, what: &str) {
        self.assumed
            .push(format!("{}, line {row}: {what}", self.file));
    }

    fn material(
        &mut self,
        written: &str,
        composition: &str,
        cas: &str,
    ) -> Result<Arc<Material>, RowFault> {
        let column = self.columns.material;
        if written.is_empty() {
            let message = "field `material`: the name is missing; write the name on the shelf or the INCI name";
            return Err((column, message.to_owned()));
        }
        let found = match plain(composition).as_str() {
            "" | "shelf" => self.exact.on_shelf(written),
            "pure" => cas_in(cas).and_then(|cas| self.exact.pure(written, cas)),
            _ => {
                let message = format!(
                    "field `composition`: “{composition}” is not known; leave it empty for the material on the shelf, or write `pure`"
                );
                return Err((self.columns.composition.unwrap_or(0), message));
            }
        };
        found.map_err(|message| (column, format!("field `material`: {message}")))
    }

    /// The percentage of a line, which becomes the filler where that is what is written.
    fn percent(&mut self, id: ItemId, written: &str) -> Result<Percent, RowFault> {
        let column = self.columns.percent;
        if !is_qs(written) {
            return typed::percent(written)
                .map_err(|message| (column, format!("field `percent`: {message}")));
        }
        if self.variant.filler.is_some() {
            let message = "field `percent`: there is a filler already; only one line can be q.s.";
            return Err((column, message.to_owned()));
        }
        self.variant.filler = Some(id);
        Ok(Percent::ZERO)
    }
}

/// What a line is there for, as written; none if nothing is.
fn purpose(written: &str) -> Result<Option<Purpose>, String> {
    if written.is_empty() {
        return Ok(None);
    }
    Purpose::named(written).map(Some).ok_or_else(|| {
        let known: Vec<&str> = Purpose::ALL.iter().map(|p| p.label()).collect();
        format!(
            "field `purpose`: “{written}” is not known; leave it empty or write one of {}",
            known.join(", ")
        )
    })
}

/// What a table begins with.
const HEADER: &str = "the first line must be `phase,material,percent`, with `composition`, `cas`, `purpose` and `why` if wanted";

/// Where each column stands.
#[derive(Clone, Copy)]
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
        let at =
            |message: String| ReadError::at(file, Some(TextPosition { line, column: 1 }), message);
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

/// What a line says that begins with the sign of a comment, alone or as a cell in quotation
/// marks, behind which a spreadsheet may have put empty cells; none if it is no comment.
fn comment(line: &str) -> Option<Cow<'_, str>> {
    if let Some(said) = line.strip_prefix('#') {
        return Some(said.trim_start_matches('#').into());
    }
    let mut letters = line.strip_prefix("\"#")?.chars().peekable();
    let mut said = String::new();
    while let Some(letter) = letters.next() {
        if letter == '"' && letters.next_if_eq(&'"').is_none() {
            break;
        }
        said.push(letter);
    }
    Some(said.into())
}

/// Reads the comment lines at the head and returns the text below them.
fn comments<'t>(
    text: &'t str,
    file: &str,
    (formula, variant): (&mut Formula, &mut Variant),
    phases: &mut PhaseWords,
    assumed: &mut Vec<String>,
) -> Result<&'t str, ReadError> {
    let mut rest = text;
    let mut number = 0;
    loop {
        let line = rest.lines().next().unwrap_or("");
        let said = comment(line.trim());
        if rest.is_empty() || said.is_none() && !line.trim().is_empty() {
            return Ok(rest);
        }
        number += 1;
        if let Some((key, value)) = said.as_deref().unwrap_or_default().split_once(':') {
            let place = TextPosition {
                line: number,
                column: line.find(':').unwrap_or(0) + 2,
            };
            // Any other comment is for people.
            product_head::read_key(key, value, formula, variant, phases)
                .map_err(|message| ReadError::at(file, Some(place), message))?;
            let misspelt = product_head::misspelt(key);
            assumed.extend(misspelt.map(|told| format!("{file}, line {number}: {told}")));
        }
        rest = rest.split_once('\n').map_or("", |(_, rest)| rest);
    }
}

/// Whether the product is washed off or left on where no key says so: by its type, else by its
/// name, else rinse-off as every new formula; and what is assumed by that, in words.
fn kinds_by_name(formula: &Formula, variant: &mut Variant, phases: &PhaseWords) -> Option<String> {
    if phases.states_kinds {
        return None;
    }
    let kind = variant.product.product_type.map(|t| t.label().to_owned());
    let mut names = kind.into_iter().chain([formula.name.to_string()]);
    let told = names.find_map(|name| Some((kinds_in(&name)?.0, name)));
    let by = match told {
        Some((kinds, name)) => {
            variant.product.kinds = kinds;
            format!("by “{name}”")
        }
        None => "as nothing says whether it is washed off or left on".to_owned(),
    };
    Some(format!(
        "{by}, the product was taken as {}; write `# kind: rinse-off` or `# kind: leave-on` above the table",
        variant.product.kinds.label()
    ))
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

#[cfg(test)]
#[path = "formula_table_tests.rs"]
mod tests;
