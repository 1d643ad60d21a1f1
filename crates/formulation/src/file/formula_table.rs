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
    Ok(Table { formula, assumed })
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
mod tests {
    use super::*;
    use crate::fixture;
    use crate::formula::{Market, ProductType};
    use crate::material::{Charge, Class, Constituent, Material, MaterialId, ProductKind};
    use crate::quantity::MassFraction;
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
    fn a_head_line_may_be_a_cell_in_quotation_marks() {
        assert_eq!(comment("# name: Gel").as_deref(), Some(" name: Gel"));
        assert_eq!(
            comment("\"# name: \"\"Gel\"\", =1+1; 2\",,").as_deref(),
            Some(" name: \"Gel\", =1+1; 2")
        );
        assert_eq!(comment("phase,material"), None);
        assert_eq!(comment("\"phase\",\"#\""), None);
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
        assert_eq!(variant.product.kinds, ProductKind::LeaveOn.into());
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
        let text =
            "# kind: rinse-off\nphase,material,percent\nA,Water,q.s.\nA,Sodium Laureth Sulfate,5\n";
        let table = read(text, "t.csv", "T", &shelf()).unwrap();
        assert_eq!(table.assumed.len(), 1, "{:?}", table.assumed);
        for part in ["line 4", "Sulfate 28", "Sulfate 70"] {
            assert!(table.assumed[0].contains(part), "{part}");
        }
        let (_, line) = table.formula.active().lines().nth(1).unwrap();
        assert!(line.why.contains("Sulfate 70"));
    }

    /// What is not said of the kind of product is taken by its type, and told, as is a key that
    /// may be misspelt and a name that leaves a strength open.
    #[test]
    fn what_is_assumed_of_the_product_is_told() {
        let read = |head: &str, rows: &str| {
            let text = format!("{head}phase,material,percent\n{rows}");
            read(&text, "t.csv", "T", crate::shelf::built_in()).unwrap()
        };
        let lotion = read("# type: body-lotion\n", "A,Water,q.s.\n");
        let product = &lotion.formula.active().product;
        assert_eq!(product.kinds, ProductKind::LeaveOn.into());
        assert!(
            lotion.assumed[0].contains("leave-on"),
            "{:?}",
            lotion.assumed
        );
        let head = "# kind: leave-on\n# undr three: yes\n# for the stall: yes\n";
        let told = read(head, "A,Water,q.s.\nA,Glycolic acid,5\n").assumed;
        assert_eq!(told.len(), 2, "{told:?}");
        assert!(
            told[0].contains("line 2") && told[0].contains("under three"),
            "{told:?}"
        );
        assert!(told[1].contains("leaves its strength open"), "{told:?}");
        let stated = read(
            "# kind: leave-on\n",
            "A,Water,q.s.\nA,Glycolic acid 70 %,5\n",
        );
        assert!(stated.assumed.is_empty(), "{:?}", stated.assumed);
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
        let found = table("# kind: rinse-off\n", "A,67-66-3,1,pure,\n");
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
        let unknown = table("# kind: rinse-off\n", "A,House secret,1,pure,9999-99-9\n");
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
