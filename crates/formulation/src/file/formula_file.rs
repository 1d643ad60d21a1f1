//! A formula file: `NAME.formula.ron`.
//!
//! Readable and short enough to write by hand. Percentages are decimal numbers in
//! % w/w, exact to 0.000001; temperatures are in °C, masses in grams. The file
//! carries every material it uses, so that it opens anywhere. Earlier states of
//! a variant are kept as differences from the state that followed, one line each.
//!
//! ```ron
//! (
//!     format: "phasewright formula",
//!     version: 2,
//!     name: "Hand gel",
//!     active: 1,
//!     variants: [
//!         (
//!             id: 1,
//!             name: "First",
//!             product: (kind: LeaveOn, places: [Hands], markets: [Eu]),
//!             filler: 3,
//!             batch_g: 500,
//!             phases: [
//!                 (
//!                     letter: "A",
//!                     kind: Water,
//!                     lines: [
//!                         (id: 3, material: "water", percent: 97),
//!                         (material: "glycerin", percent: 3, why: "keeps skin supple"),
//!                     ],
//!                 ),
//!             ],
//!         ),
//!     ],
//!     materials: [
//!         (name: "Water", pure: (inci: "Aqua", cas: "7732-18-5", class: Water)),
//!         (name: "Glycerin", pure: (inci: "Glycerin", cas: "56-81-5", class: Humectant)),
//!     ],
//! )
//! ```
//!
//! A field that is left out has its usual value; ids that are left out are given
//! on reading. A file of a newer version is refused and not touched.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::FileError;
use super::label_entry::LabelEntry;
use super::material_file::{self, MaterialEntry, ron_options};
use super::mirror::{PhaseKindName, ProductKindName};
use super::number::{self, PercentNumber, PhNumber, Within};
use super::read_error::ReadError;
use super::ron_place::{self, Step as At};
use super::source_table::SourceTable;
use super::store::{self, Expect, Stamp};
use crate::finding::SetAside;
use crate::formula::{
    self, Date, Formula, ItemId, Kept, Line, Measured, Phase, Product, Step, Variant, VariantId,
};
use crate::label_info::LabelInfo;
use crate::material::{Material, MaterialId};
use crate::purpose;
use crate::quantity::{self, Percent};
use crate::specification::{Characteristic, Quality, Specification};

/// What the field `format` says in every formula file.
pub const FORMAT: &str = "phasewright formula";
/// The version this program writes and the newest it reads.
pub const VERSION: u32 = 2;

mirror!(
    /// Where a product is sold.
    MarketName = formula::Market { Eu, Uk, Us }
);
mirror!(
    /// What a line is there for.
    PurposeName = purpose::Purpose {
        Preservative, Fragrance, Solvent, Active, UvFilter, Colorant, PhAdjuster, Emulsifier,
        Surfactant, Thickener, Emollient, Humectant, Chelator, Antioxidant, Conditioner, Opacifier,
        Abrasive, Absorbent, Other,
    }
);
mirror!(
    /// What is measured.
    QualityName = Quality { Ph, Viscosity, Density, Appearance, Odour, FilledMass, Other }
);
mirror!(
    /// Where on the body a product is used.
    PlaceName = formula::Place {
        Body, Hands, Feet, Face, EyeArea, Lips, Scalp, Hair, Nails, Underarm, Mouth, Intimate,
    }
);
mirror!(
    /// Type of product.
    ProductTypeName = formula::ProductType {
        ShowerGel, BarSoap, HandWash, FaceWash, Shampoo, HairConditioner, HairLeaveOn, HairSpray,
        HairDyeOxidative, HairDyeNonOxidative, HairWaving, BodyLotion, HandCream, FootCare,
        FaceCream, LipProduct, Deodorant, SunCare, SelfTan, Powder, FineFragrance, FragranceCream,
        FaceMakeUp, EyeMakeUp, MakeUpRemover, Eyelash, Shaving, Depilatory, CallusRemover,
        IntimateCare, Wipes, Toothpaste, Mouthwash, NailVarnish, NailHardener, ArtificialNails,
        NailCare, Unlisted,
    }
);

/// A formula as written in a file.
#[derive(Clone, PartialEq, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FormulaEntry {
    format: String,
    version: u32,
    name: String,
    #[serde(default)]
    author: String,
    #[serde(default)]
    notes: String,
    #[serde(default)]
    active: Option<u64>,
    #[serde(default)]
    next_id: Option<u64>,
    variants: Vec<VariantEntry<PhaseEntry<LineEntry, StepEntry>>>,
    #[serde(default)]
    sources: SourceTable,
    #[serde(default)]
    materials: Vec<MaterialEntry>,
    #[serde(default)]
    set_aside: Vec<SetAsideEntry>,
    #[serde(default)]
    history: Vec<KeptEntry>,
}

/// A finding that was read and set aside.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SetAsideEntry {
    rule: String,
    message: String,
}

/// One variant; `P` is a phase, written out or as a difference.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct VariantEntry<P> {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    id: Option<u64>,
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    parent: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    created: Option<Date>,
    #[serde(default, skip_serializing_if = "is_false")]
    archived: bool,
    product: ProductEntry,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    filler: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    target_ph: Option<PhNumber>,
    #[serde(default = "usual_batch")]
    batch_g: Within<0, 1_000_000_000>,
    #[serde(default, skip_serializing_if = "MeasuredEntry::is_empty")]
    measured: MeasuredEntry,
    #[serde(default, skip_serializing_if = "LabelEntry::is_empty")]
    label: LabelEntry,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    specification: Vec<CharacteristicEntry>,
    phases: Vec<P>,
}

/// What a product must measure.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CharacteristicEntry {
    quality: QualityName,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    target: Option<Within<0, 1_000_000_000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    low: Option<Within<0, 1_000_000_000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    high: Option<Within<0, 1_000_000_000>>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    accept: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    method: String,
}

#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ProductEntry {
    kind: ProductKindName,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    product_type: Option<ProductTypeName>,
    #[serde(default)]
    places: Vec<PlaceName>,
    #[serde(default)]
    markets: Vec<MarketName>,
    #[serde(default, skip_serializing_if = "is_false")]
    under_three: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    spray: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    professional: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    wet_use: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    market_date: Option<Date>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fragrance_category: Option<String>,
}

#[derive(Clone, PartialEq, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct MeasuredEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ph: Option<PhNumber>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    density_kg_m3: Option<Within<10, 25000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    water_activity: Option<Within<0, 1>>,
    /// The value and the words of its method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    viscosity_mpa_s: Option<(Within<0, 1_000_000_000>, String)>,
}

impl MeasuredEntry {
    fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// A phase; `L` and `S` are its lines and steps, written out or as differences.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PhaseEntry<L, S> {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    id: Option<u64>,
    letter: String,
    kind: PhaseKindName,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    purpose: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    temperature_c: Option<Within<-80, 400>>,
    #[serde(default = "Vec::new")]
    lines: Vec<L>,
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    steps: Vec<S>,
}

#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LineEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    id: Option<u64>,
    /// Id of the material, or its name.
    material: String,
    percent: PercentNumber,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    why: String,
    #[serde(default, skip_serializing_if = "is_false")]
    held: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    min: Option<PercentNumber>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    max: Option<PercentNumber>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    purpose: Option<PurposeName>,
}

#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StepEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    id: Option<u64>,
    text: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    temperature_c: Option<Within<-80, 400>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    minutes: Option<u32>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    tool: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    check: String,
}

/// An earlier state, told by what differs from the state of the same variant that
/// followed it.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KeptEntry {
    at: String,
    what: String,
    variant: VariantEntry<OrSame<PhaseEntry<OrSame<LineEntry>, OrSame<StepEntry>>>>,
}

/// A part of an earlier state.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
enum OrSame<T> {
    /// As in the state that followed, by id.
    Same(u64),
    /// As written.
    Was(T),
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde calls it with a reference"
)]
fn is_false(value: &bool) -> bool {
    !value
}

fn usual_batch() -> Within<0, 1_000_000_000> {
    Within(1000.0)
}

/// What is wrong with the content of a file, and where.
struct Fault {
    path: Vec<At>,
    message: String,
}

impl Fault {
    fn new(path: &[At], message: impl Into<String>) -> Self {
        Self {
            path: path.to_vec(),
            message: message.into(),
        }
    }
}

/// What stands at the head of every file of ours.
#[derive(Deserialize)]
struct Header {
    format: String,
    version: u32,
}

/// Reads the head of a file and checks that it is of the given format and of a
/// version that this program knows. Nothing else of the file is looked at.
pub(super) fn check_header(
    text: &str,
    file: &str,
    format: &str,
    newest: u32,
) -> Result<u32, ReadError> {
    let header: Header = parse(text, file)?;
    check_stated(&header, file, format, newest, |field| {
        ron_place::place_of(text, &[At::Field(field)])
    })?;
    Ok(header.version)
}

/// Checks what a JSON formula says it is.
pub(super) fn check_entry(entry: &FormulaEntry, file: &str) -> Result<(), ReadError> {
    let header = Header {
        format: entry.format.clone(),
        version: entry.version,
    };
    check_stated(&header, file, FORMAT, VERSION, |_| None)
}

fn check_stated(
    header: &Header,
    file: &str,
    format: &str,
    newest: u32,
    at: impl Fn(&'static str) -> Option<super::read_error::Place>,
) -> Result<(), ReadError> {
    if header.format != format {
        return Err(ReadError::at(
            file,
            at("format"),
            format!(
                "the file says it is a “{}”, but a “{format}” is wanted here; choose another file",
                header.format
            ),
        ));
    }
    if header.version > newest {
        return Err(ReadError::at(
            file,
            at("version"),
            format!(
                "the file is of version {}, newer than the version {newest} this program reads; it was left untouched, open it with a newer Phasewright",
                header.version
            ),
        ));
    }
    if header.version == 0 {
        return Err(ReadError::at(
            file,
            at("version"),
            format!("there is no version 0 of this format; the first is 1, the newest {newest}"),
        ));
    }
    Ok(())
}

/// Parses RON; an error names line, column and field.
pub(super) fn parse<T: DeserializeOwned>(text: &str, file: &str) -> Result<T, ReadError> {
    ron_options().from_str(text).map_err(|error| {
        let mut error = ReadError::ron(file, &error);
        if let Some(place) = error.place {
            let field = ron_place::field_at(text, ron_place::offset_of(text, place));
            if !field.is_empty() {
                error.message = format!("field `{field}`: {}", error.message);
            }
        }
        error
    })
}

/// Reads the text of a formula file. `file` is its name for error messages.
///
/// Files of every released version are read; see [`VERSION`].
pub fn read(text: &str, file: &str) -> Result<Formula, ReadError> {
    // A change of the format adds a version here: the entry types of the older one
    // stay, are read, and are turned into those of the next, step by step.
    match check_header(text, file, FORMAT, VERSION)? {
        // Version 2 adds fields that may be left out.
        1 | 2 => {
            let entry: FormulaEntry = parse(text, file)?;
            into_model(entry, text, file)
        }
        other => Err(ReadError::whole(
            file,
            format!("files of version {other} are not known; the newest is {VERSION}"),
        )),
    }
}

/// The comments of a formula file, which a save does not write again. None if nothing is
/// there, or nothing that can be read: a save says so.
pub fn comments_of(path: &Path) -> Vec<String> {
    let Ok((text, _)) = store::read_text(path) else {
        return Vec::new();
    };
    ron_place::comments(&text)
        .into_iter()
        .map(str::to_owned)
        .collect()
}

/// Opens a formula file.
pub fn open(path: &Path) -> Result<(Formula, Stamp), FileError> {
    let (text, stamp) = store::read_text(path)?;
    let formula = read(&text, &path.display().to_string())?;
    Ok((formula, stamp))
}

/// Saves a formula file atomically; see [`store::save`].
///
/// The text is read back before anything is touched on disk, so that a file that
/// could not be opened again is never written.
pub fn save(path: &Path, formula: &Formula, expect: Expect) -> Result<Stamp, FileError> {
    let file = path.display().to_string();
    let text = write(formula)
        .map_err(|e| ReadError::whole(&file, format!("the formula cannot be written: {e}")))?;
    read(&text, &file)?;
    Ok(store::save_text(path, &text, expect)?)
}

/// The text of a formula file.
pub fn write(formula: &Formula) -> ron::Result<String> {
    let mut sources = SourceTable::default();
    let materials: Vec<MaterialEntry> = formula
        .materials
        .values()
        .map(|material| MaterialEntry::from_model(material, &mut sources, None))
        .collect();
    let mut out = Sections::new();
    out.add("format", &FORMAT, 0)?;
    out.add("version", &VERSION, 0)?;
    out.add("name", &*formula.name, 0)?;
    if !formula.author.is_empty() {
        out.add("author", &*formula.author, 0)?;
    }
    if !formula.notes.is_empty() {
        out.add("notes", &*formula.notes, 0)?;
    }
    out.add("active", &formula.active.0, 0)?;
    out.add("next_id", &formula.next_id, 0)?;
    let variants: Vec<_> = formula.variants.iter().map(|v| variant_entry(v)).collect();
    out.add("variants", &variants, 5)?;
    if !sources.is_empty() {
        out.add("sources", &sources, 1)?;
    }
    out.add("materials", &materials, 3)?;
    if !formula.set_aside.is_empty() {
        out.add("set_aside", &set_aside_entries(formula), 1)?;
    }
    if !formula.history.is_empty() {
        out.add("history", &history_entries(formula), 1)?;
    }
    Ok(out.finish())
}

/// Builds a file from its top-level fields, each laid out to a depth of its own.
pub(super) struct Sections {
    text: String,
}

impl Sections {
    pub(super) fn new() -> Self {
        Self { text: "(\n".into() }
    }

    /// Adds a field; brackets up to `depth` are spread over lines.
    pub(super) fn add<T: Serialize + ?Sized>(
        &mut self,
        name: &str,
        value: &T,
        depth: usize,
    ) -> ron::Result<()> {
        let pretty = material_file::pretty(depth);
        let text = ron_options().to_string_pretty(value, pretty)?;
        // Strings are written with escapes, so every line break is one of the layout.
        let text = text.replace('\n', "\n    ");
        writeln!(self.text, "    {name}: {text},").map_err(ron::Error::from)
    }

    pub(super) fn finish(mut self) -> String {
        self.text.push_str(")\n");
        self.text
    }
}

fn text_of(text: &Arc<str>) -> String {
    text.as_ref().to_owned()
}

pub(super) fn variant_entry(variant: &Variant) -> VariantEntry<PhaseEntry<LineEntry, StepEntry>> {
    variant_entry_with(variant, |phase| {
        phase_entry_with(phase, line_entry, step_entry)
    })
}

fn variant_entry_with<P>(
    variant: &Variant,
    phase: impl FnMut(&Arc<Phase>) -> P,
) -> VariantEntry<P> {
    let Variant {
        id,
        name,
        note,
        parent,
        created,
        archived,
        product,
        phases,
        filler,
        target_ph,
        batch,
        measured,
        label,
        specification,
    } = variant;
    VariantEntry {
        id: Some(id.0),
        name: text_of(name),
        note: text_of(note),
        parent: parent.map(|p| p.0),
        created: *created,
        archived: *archived,
        product: product_entry(product),
        // A filler that is no line of the variant says nothing, and would not be read back.
        filler: filler.filter(|&f| variant.line(f).is_some()).map(|f| f.0),
        target_ph: target_ph.map(PhNumber),
        batch_g: Within(
            number::shortest(batch.value, quantity::in_grams(*batch), |g| {
                quantity::grams(g).value
            })
            .unwrap_or_else(|| quantity::in_grams(*batch)),
        ),
        measured: measured_entry(measured),
        label: LabelEntry::from(&**label),
        specification: specification
            .characteristics
            .iter()
            .map(characteristic_entry)
            .collect(),
        phases: phases.iter().map(phase).collect(),
    }
}

fn characteristic_entry(characteristic: &Characteristic) -> CharacteristicEntry {
    let Characteristic {
        quality,
        target,
        low,
        high,
        accept,
        method,
    } = characteristic;
    CharacteristicEntry {
        quality: (*quality).into(),
        target: target.map(Within),
        low: low.map(Within),
        high: high.map(Within),
        accept: text_of(accept),
        method: text_of(method),
    }
}

fn specification_from(entries: Vec<CharacteristicEntry>) -> Specification {
    let characteristics = entries.into_iter().map(|entry| Characteristic {
        quality: entry.quality.into(),
        target: entry.target.map(|v| v.0),
        low: entry.low.map(|v| v.0),
        high: entry.high.map(|v| v.0),
        accept: entry.accept.into(),
        method: entry.method.into(),
    });
    Specification {
        characteristics: characteristics.collect(),
    }
}

fn product_entry(product: &Product) -> ProductEntry {
    let Product {
        kind,
        product_type,
        places,
        markets,
        under_three,
        spray,
        professional,
        wet_use,
        market_date,
        fragrance_category,
    } = product;
    ProductEntry {
        kind: (*kind).into(),
        product_type: product_type.map(Into::into),
        places: places.iter().map(|&p| p.into()).collect(),
        markets: markets.iter().map(|&m| m.into()).collect(),
        under_three: *under_three,
        spray: *spray,
        professional: *professional,
        wet_use: *wet_use,
        market_date: *market_date,
        fragrance_category: fragrance_category.as_ref().map(text_of),
    }
}

fn measured_entry(measured: &Measured) -> MeasuredEntry {
    let Measured {
        ph,
        density,
        water_activity,
        viscosity_mpa_s,
    } = measured;
    MeasuredEntry {
        ph: ph.map(PhNumber),
        density_kg_m3: density.map(|d| Within(quantity::in_kg_per_m3(d))),
        water_activity: water_activity.map(Within),
        viscosity_mpa_s: viscosity_mpa_s
            .as_ref()
            .map(|(value, method)| (Within(*value), text_of(method))),
    }
}

fn phase_entry_with<L, S>(
    phase: &Phase,
    line: impl FnMut(&Line) -> L,
    step: impl FnMut(&Step) -> S,
) -> PhaseEntry<L, S> {
    let Phase {
        id,
        letter,
        kind,
        purpose,
        temperature,
        lines,
        steps,
    } = phase;
    PhaseEntry {
        id: Some(id.0),
        letter: text_of(letter),
        kind: (*kind).into(),
        purpose: text_of(purpose),
        temperature_c: temperature.map(|t| Within(number::celsius_decimal(t))),
        lines: lines.iter().map(line).collect(),
        steps: steps.iter().map(step).collect(),
    }
}

fn line_entry(line: &Line) -> LineEntry {
    let Line {
        id,
        material,
        percent,
        why,
        held,
        min,
        max,
        purpose,
    } = line;
    LineEntry {
        id: Some(id.0),
        material: material.to_string(),
        percent: PercentNumber(*percent),
        why: text_of(why),
        held: *held,
        min: min.map(PercentNumber),
        max: max.map(PercentNumber),
        purpose: purpose.map(PurposeName::from),
    }
}

fn step_entry(step: &Step) -> StepEntry {
    let Step {
        id,
        text,
        temperature,
        minutes,
        tool,
        check,
    } = step;
    StepEntry {
        id: Some(id.0),
        text: text_of(text),
        temperature_c: temperature.map(|t| Within(number::celsius_decimal(t))),
        minutes: *minutes,
        tool: text_of(tool),
        check: text_of(check),
    }
}

/// The state of the same variant that followed each kept state, newest first:
/// pairs of the kept state and its successor.
pub(super) fn set_aside_entries(formula: &Formula) -> Vec<SetAsideEntry> {
    let entry = |a: &SetAside| SetAsideEntry {
        rule: text_of(&a.rule),
        message: text_of(&a.message),
    };
    formula.set_aside.iter().map(entry).collect()
}

pub(super) fn history_entries(formula: &Formula) -> Vec<KeptEntry> {
    let mut later: BTreeMap<VariantId, &Arc<Variant>> =
        formula.variants.iter().map(|v| (v.id, v)).collect();
    let mut entries: Vec<KeptEntry> = formula
        .history
        .iter()
        .rev()
        .map(|kept| {
            let next = later.insert(kept.variant.id, &kept.variant);
            kept_entry(kept, next)
        })
        .collect();
    entries.reverse();
    entries
}

fn kept_entry(kept: &Kept, next: Option<&Arc<Variant>>) -> KeptEntry {
    let parts = next.map(|v| Parts::of(v)).unwrap_or_default();
    let variant = variant_entry_with(&kept.variant, |phase| {
        let same = parts.phases.get(&phase.id.0);
        if same.is_some_and(|&other| Arc::ptr_eq(other, phase) || other == phase) {
            return OrSame::Same(phase.id.0);
        }
        OrSame::Was(phase_entry_with(
            phase,
            |line| match parts.lines.get(&line.id.0) {
                Some(&other) if other == line => OrSame::Same(line.id.0),
                _ => OrSame::Was(line_entry(line)),
            },
            |step| match parts.steps.get(&step.id.0) {
                Some(&other) if other == step => OrSame::Same(step.id.0),
                _ => OrSame::Was(step_entry(step)),
            },
        ))
    });
    KeptEntry {
        at: text_of(&kept.at),
        what: text_of(&kept.what),
        variant,
    }
}

/// The parts of a variant by id.
#[derive(Default)]
struct Parts<'v> {
    phases: BTreeMap<u64, &'v Arc<Phase>>,
    lines: BTreeMap<u64, &'v Line>,
    steps: BTreeMap<u64, &'v Step>,
}

impl<'v> Parts<'v> {
    fn of(variant: &'v Variant) -> Self {
        let phases = &variant.phases;
        Self {
            phases: phases.iter().map(|p| (p.id.0, p)).collect(),
            lines: variant.lines().map(|(_, l)| (l.id.0, l)).collect(),
            steps: phases
                .iter()
                .flat_map(|p| &p.steps)
                .map(|s| (s.id.0, s))
                .collect(),
        }
    }
}

/// Gives ids to what has none and looks that none is given twice in a variant.
struct Ids {
    next: u64,
    seen: BTreeSet<u64>,
}

impl Ids {
    fn give(&mut self, id: Option<u64>, path: &[At]) -> Result<ItemId, Fault> {
        let id = id.unwrap_or_else(|| {
            self.next += 1;
            self.next - 1
        });
        if self.seen.insert(id) {
            Ok(ItemId(id))
        } else {
            Err(Fault::new(
                path,
                format!("the id {id} is given twice in this variant; leave one of them out"),
            ))
        }
    }
}

pub(super) fn into_model(
    entry: FormulaEntry,
    text: &str,
    file: &str,
) -> Result<Formula, ReadError> {
    let fail = |fault: Fault| {
        let place = ron_place::place_of(text, &fault.path);
        let names: Vec<&str> = fault
            .path
            .iter()
            .filter_map(|step| match step {
                At::Field(name) => Some(*name),
                At::Item(_) => None,
            })
            .collect();
        let field = names.join(".");
        ReadError::at(file, place, format!("field `{field}`: {}", fault.message))
    };
    let materials = materials_from(entry.materials, &entry.sources, text, file)?;
    let highest = highest_id(&entry.variants, &entry.history);
    // One beyond the highest id must be free too.
    let Some(free) = highest.checked_add(1).filter(|f| *f < u64::MAX / 2) else {
        return Err(fail(Fault::new(
            &[At::Field("variants")],
            format!("the id {highest} is too large; use small numbers"),
        )));
    };
    let mut next = entry.next_id.unwrap_or(free).max(free);
    if next > u64::MAX / 2 {
        return Err(fail(Fault::new(
            &[At::Field("next_id")],
            "the number is too large; leave the field out",
        )));
    }

    let mut variants: Vec<Arc<Variant>> = Vec::with_capacity(entry.variants.len());
    for (i, written) in entry.variants.into_iter().enumerate() {
        let path = [At::Field("variants"), At::Item(i)];
        let id = written.id.unwrap_or_else(|| {
            next += 1;
            next - 1
        });
        if variants.iter().any(|v| v.id.0 == id) {
            return Err(fail(Fault::new(
                &[path[0], path[1], At::Field("id")],
                format!("two variants have the id {id}; give one another number"),
            )));
        }
        let mut ids = Ids {
            next,
            seen: BTreeSet::new(),
        };
        let variant = variant_from(written, id, &path, |phase, path| {
            phase_from(phase, path, &mut ids, &materials).map(Arc::new)
        })
        .map_err(fail)?;
        next = ids.next;
        check_materials(&variant, &path, &materials).map_err(fail)?;
        variants.push(Arc::new(variant));
    }
    let Some(first) = variants.first() else {
        return Err(fail(Fault::new(
            &[At::Field("variants")],
            "there is no variant; a formula has at least one",
        )));
    };
    let active = entry.active.map_or(first.id, VariantId);
    if variants.iter().all(|v| v.id != active) {
        return Err(fail(Fault::new(
            &[At::Field("active")],
            format!("there is no variant with the id {}", active.0),
        )));
    }
    let history = history_from(entry.history, &variants, &materials).map_err(fail)?;
    Ok(Formula {
        name: entry.name.into(),
        notes: entry.notes.into(),
        author: entry.author.into(),
        variants,
        active,
        materials,
        set_aside: (entry.set_aside.into_iter())
            .map(|a| SetAside {
                rule: a.rule.into(),
                message: a.message.into(),
            })
            .collect(),
        history,
        next_id: next,
    })
}

pub(super) fn materials_from(
    entries: Vec<MaterialEntry>,
    sources: &SourceTable,
    text: &str,
    file: &str,
) -> Result<BTreeMap<MaterialId, Arc<Material>>, ReadError> {
    let mut materials = BTreeMap::new();
    for (i, entry) in entries.into_iter().enumerate() {
        let material = entry
            .into_model(sources, None)
            .map_err(|e| ReadError::at(file, e.place(text), e.message))?;
        let id = material.id.clone();
        if materials.insert(id.clone(), Arc::new(material)).is_some() {
            let place = ron_place::place_of(text, &[At::Field("materials"), At::Item(i)]);
            let message = format!(
                "field `materials`: two materials have the id “{id}”; give one of them another name or `id`"
            );
            return Err(ReadError::at(file, place, message));
        }
    }
    Ok(materials)
}

fn highest_id(
    variants: &[VariantEntry<PhaseEntry<LineEntry, StepEntry>>],
    history: &[KeptEntry],
) -> u64 {
    let current = variants.iter().flat_map(|v| {
        let items = v.phases.iter().flat_map(|p| {
            let lines = p.lines.iter().map(|l| l.id);
            let steps = p.steps.iter().map(|s| s.id);
            [p.id].into_iter().chain(lines).chain(steps)
        });
        [v.id, v.parent, v.filler].into_iter().chain(items)
    });
    let earlier = history.iter().flat_map(|kept| {
        let items = kept.variant.phases.iter().flat_map(|phase| match phase {
            OrSame::Same(id) => vec![Some(*id)],
            OrSame::Was(p) => {
                let lines = p.lines.iter().map(|line| match line {
                    OrSame::Same(id) => Some(*id),
                    OrSame::Was(line) => line.id,
                });
                let steps = p.steps.iter().map(|step| match step {
                    OrSame::Same(id) => Some(*id),
                    OrSame::Was(step) => step.id,
                });
                [p.id].into_iter().chain(lines).chain(steps).collect()
            }
        });
        [kept.variant.id, kept.variant.parent]
            .into_iter()
            .chain(items)
    });
    current.chain(earlier).flatten().max().unwrap_or(0)
}

fn variant_from<P>(
    entry: VariantEntry<P>,
    id: u64,
    path: &[At],
    mut phase: impl FnMut(P, &[At]) -> Result<Arc<Phase>, Fault>,
) -> Result<Variant, Fault> {
    let under = |field| [path, &[At::Field(field)]].concat();
    let mut phases = Vec::with_capacity(entry.phases.len());
    for (i, written) in entry.phases.into_iter().enumerate() {
        let mut path = under("phases");
        path.push(At::Item(i));
        phases.push(phase(written, &path)?);
    }
    let variant = Variant {
        id: VariantId(id),
        name: entry.name.into(),
        note: entry.note.into(),
        parent: entry.parent.map(VariantId),
        created: entry.created,
        archived: entry.archived,
        product: product_from(entry.product),
        phases,
        filler: entry.filler.map(ItemId),
        target_ph: entry.target_ph.map(|p| p.0),
        batch: quantity::grams(entry.batch_g.0),
        measured: measured_from(entry.measured),
        label: Arc::new(LabelInfo::from(entry.label)),
        specification: Arc::new(specification_from(entry.specification)),
    };
    if let Some(filler) = variant.filler
        && variant.line(filler).is_none()
    {
        return Err(Fault::new(
            &under("filler"),
            format!(
                "no line has the id {}; name the id of a line of this variant",
                filler.0
            ),
        ));
    }
    Ok(variant)
}

/// Every line of a variant must have its material in the file. Earlier states are
/// not held to this: they are for looking back.
fn check_materials(
    variant: &Variant,
    path: &[At],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<(), Fault> {
    for (p, phase) in variant.phases.iter().enumerate() {
        for (l, line) in phase.lines.iter().enumerate() {
            if !materials.contains_key(&line.material) {
                let place = [
                    At::Field("phases"),
                    At::Item(p),
                    At::Field("lines"),
                    At::Item(l),
                    At::Field("material"),
                ];
                return Err(Fault::new(
                    &[path, &place].concat(),
                    format!(
                        "the material “{}” is not in the list `materials` of this file; add it there",
                        line.material
                    ),
                ));
            }
        }
    }
    Ok(())
}

fn product_from(entry: ProductEntry) -> Product {
    Product {
        kind: entry.kind.into(),
        product_type: entry.product_type.map(Into::into),
        places: entry.places.into_iter().map(Into::into).collect(),
        markets: entry.markets.into_iter().map(Into::into).collect(),
        under_three: entry.under_three,
        spray: entry.spray,
        professional: entry.professional,
        wet_use: entry.wet_use,
        market_date: entry.market_date,
        fragrance_category: entry.fragrance_category.map(Into::into),
    }
}

fn measured_from(entry: MeasuredEntry) -> Measured {
    Measured {
        ph: entry.ph.map(|p| p.0),
        density: entry.density_kg_m3.map(|d| quantity::kg_per_m3(d.0)),
        water_activity: entry.water_activity.map(|a| a.0),
        viscosity_mpa_s: entry
            .viscosity_mpa_s
            .map(|(v, method)| (v.0, method.into())),
    }
}

fn phase_from(
    entry: PhaseEntry<LineEntry, StepEntry>,
    path: &[At],
    ids: &mut Ids,
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Phase, Fault> {
    let under = |field, i| [path, &[At::Field(field), At::Item(i)]].concat();
    let id = ids.give(entry.id, path)?;
    let mut lines = Vec::with_capacity(entry.lines.len());
    for (i, line) in entry.lines.into_iter().enumerate() {
        let path = under("lines", i);
        let id = ids.give(line.id, &path)?;
        lines.push(line_from(line, id, &path, materials)?);
    }
    let mut steps = Vec::with_capacity(entry.steps.len());
    for (i, step) in entry.steps.into_iter().enumerate() {
        let id = ids.give(step.id, &under("steps", i))?;
        steps.push(step_from(step, id));
    }
    Ok(Phase {
        id,
        letter: entry.letter.into(),
        kind: entry.kind.into(),
        purpose: entry.purpose.into(),
        temperature: entry.temperature_c.map(|t| quantity::celsius(t.0)),
        lines,
        steps,
    })
}

fn line_from(
    entry: LineEntry,
    id: ItemId,
    path: &[At],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Line, Fault> {
    let within = |value: Option<PercentNumber>, field| match value.map(|v| v.0) {
        Some(percent) if percent < Percent::ZERO || percent > Percent::HUNDRED => Err(Fault::new(
            &[path, &[At::Field(field)]].concat(),
            format!("{percent} is not from 0 to 100"),
        )),
        checked => Ok(checked),
    };
    let (min, max) = (within(entry.min, "min")?, within(entry.max, "max")?);
    if let (Some(min), Some(max)) = (min, max)
        && min > max
    {
        return Err(Fault::new(
            &[path, &[At::Field("min")]].concat(),
            format!("the lowest percentage {min} is above the highest {max}; swap them"),
        ));
    }
    let percent = within(Some(entry.percent), "percent")?.unwrap_or_default();
    // A known id keeps sharing its text with the material.
    let written = MaterialId::from_name(&entry.material);
    let material = materials
        .get_key_value(&written)
        .map_or(written, |(id, _)| id.clone());
    Ok(Line {
        id,
        material,
        percent,
        why: entry.why.into(),
        held: entry.held,
        min,
        max,
        purpose: entry.purpose.map(Into::into),
    })
}

fn step_from(entry: StepEntry, id: ItemId) -> Step {
    Step {
        id,
        text: entry.text.into(),
        temperature: entry.temperature_c.map(|t| quantity::celsius(t.0)),
        minutes: entry.minutes,
        tool: entry.tool.into(),
        check: entry.check.into(),
    }
}

fn history_from(
    entries: Vec<KeptEntry>,
    variants: &[Arc<Variant>],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Vec<Arc<Kept>>, Fault> {
    let mut later: BTreeMap<u64, Arc<Variant>> =
        variants.iter().map(|v| (v.id.0, Arc::clone(v))).collect();
    let mut history = Vec::with_capacity(entries.len());
    for (i, entry) in entries.into_iter().enumerate().rev() {
        let path = [At::Field("history"), At::Item(i), At::Field("variant")];
        let Some(id) = entry.variant.id else {
            return Err(Fault::new(
                &path,
                "the id of the variant is missing; add it",
            ));
        };
        let next = later.get(&id).cloned();
        let parts = next.as_deref().map(Parts::of).unwrap_or_default();
        let mut ids = Ids {
            next: u64::MAX / 2,
            seen: BTreeSet::new(),
        };
        let variant = variant_from(entry.variant, id, &path, |phase, path| {
            kept_phase_from(phase, path, &parts, &mut ids, materials)
        })?;
        let variant = Arc::new(variant);
        later.insert(id, Arc::clone(&variant));
        history.push(Arc::new(Kept {
            at: entry.at.into(),
            what: entry.what.into(),
            variant,
        }));
    }
    history.reverse();
    Ok(history)
}

fn kept_phase_from(
    entry: OrSame<PhaseEntry<OrSame<LineEntry>, OrSame<StepEntry>>>,
    path: &[At],
    parts: &Parts<'_>,
    ids: &mut Ids,
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Arc<Phase>, Fault> {
    let missing = |path: &[At], id: u64| {
        Fault::new(
            path,
            format!(
                "the state that followed has nothing with the id {id}; remove this entry of the history"
            ),
        )
    };
    let must = |id: Option<u64>, path: &[At]| {
        id.ok_or_else(|| Fault::new(path, "the id is missing; the history needs it"))
    };
    let entry = match entry {
        OrSame::Same(id) => {
            let phase = *parts.phases.get(&id).ok_or_else(|| missing(path, id))?;
            let lines = phase.lines.iter().map(|l| l.id.0);
            let steps = phase.steps.iter().map(|s| s.id.0);
            for id in [phase.id.0].into_iter().chain(lines).chain(steps) {
                ids.give(Some(id), path)?;
            }
            return Ok(Arc::clone(phase));
        }
        OrSame::Was(entry) => entry,
    };
    let under = |field, i| [path, &[At::Field(field), At::Item(i)]].concat();
    let mut lines = Vec::with_capacity(entry.lines.len());
    for (i, line) in entry.lines.into_iter().enumerate() {
        let path = under("lines", i);
        lines.push(match line {
            OrSame::Same(id) => {
                let line = *parts.lines.get(&id).ok_or_else(|| missing(&path, id))?;
                ids.give(Some(id), &path)?;
                line.clone()
            }
            OrSame::Was(line) => {
                let id = ids.give(Some(must(line.id, &path)?), &path)?;
                line_from(line, id, &path, materials)?
            }
        });
    }
    let mut steps = Vec::with_capacity(entry.steps.len());
    for (i, step) in entry.steps.into_iter().enumerate() {
        let path = under("steps", i);
        steps.push(match step {
            OrSame::Same(id) => {
                let step = *parts.steps.get(&id).ok_or_else(|| missing(&path, id))?;
                ids.give(Some(id), &path)?;
                step.clone()
            }
            OrSame::Was(step) => {
                let id = ids.give(Some(must(step.id, &path)?), &path)?;
                step_from(step, id)
            }
        });
    }
    Ok(Arc::new(Phase {
        id: ids.give(Some(must(entry.id, path)?), path)?,
        letter: entry.letter.into(),
        kind: entry.kind.into(),
        purpose: entry.purpose.into(),
        temperature: entry.temperature_c.map(|t| quantity::celsius(t.0)),
        lines,
        steps,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::read_error::Place;
    use crate::random_formula;
    use proptest::prelude::*;

    /// The example of the module's head, as a maker would write it by hand.
    fn by_hand() -> String {
        let source = include_str!("formula_file.rs");
        let mut inside = false;
        let mut text = String::new();
        for line in source.lines().filter_map(|l| l.strip_prefix("//!")) {
            match line.trim() {
                "```ron" => inside = true,
                "```" => inside = false,
                _ if inside => {
                    text.push_str(line.strip_prefix(' ').unwrap_or(line));
                    text.push('\n');
                }
                _ => {}
            }
        }
        text
    }

    fn message(text: &str) -> String {
        read(text, "gel.formula.ron").unwrap_err().to_string()
    }

    #[test]
    fn the_example_by_hand_is_read_and_written_whole() {
        let formula = read(&by_hand(), "gel.formula.ron").unwrap();
        let variant = formula.active();
        assert_eq!(variant.total(), Percent::HUNDRED);
        assert_eq!(variant.filler, Some(ItemId(3)));
        assert_eq!(variant.lines().count(), 2);
        let written = write(&formula).unwrap();
        assert_eq!(read(&written, "x").unwrap(), formula);
        assert!(
            written.contains("(id: 3, material: \"water\", percent: 97"),
            "{written}"
        );
    }

    #[test]
    fn errors_name_place_field_and_remedy() {
        let good = by_hand();
        let check = |from: &str, to: &str, parts: &[&str]| {
            assert!(good.contains(from), "{from}");
            let said = message(&good.replacen(from, to, 1));
            let line = Place::of_offset(&good, good.find(from).unwrap()).line;
            assert!(
                said.contains(&format!("(line {line}, ")),
                "{line} in: {said}"
            );
            for part in parts {
                assert!(said.contains(part), "{part} in: {said}");
            }
        };
        check(
            "percent: 97",
            "percent: 970",
            &["variants.phases.lines.percent", "from 0 to 100"],
        );
        check("percent: 97", "percent: 9.7.0", &[]);
        check("percent: 97", "percent: \"much\"", &["percent"]);
        check(
            "material: \"water\"",
            "material: \"wader\"",
            &["column 43", "material", "wader", "add it there"],
        );
        check(
            "kind: Water",
            "kind: Wet",
            &["field `variants.phases.kind`", "Slurry"],
        );
        check(
            "filler: 3",
            "filler: 9",
            &["filler", "no line has the id 9"],
        );
        check("active: 1", "active: 2", &["active"]);
        check("version: 2", "version: 99", &["newer", "untouched"]);
        check("version: 2", "version: 0", &["version 0"]);
        check("phasewright formula", "shopping list", &["shopping list"]);
        check("letter:", "lettr:", &["`lettr`"]);
        check(
            "cas: \"7732-18-5\"",
            "cas: \"7732-18-6\"",
            &["materials.pure.cas", "check digit should be 5"],
        );
        check("batch_g: 500", "batch_g: -500", &["batch_g"]);
        check(
            "(material: \"glycerin\"",
            "(id: 3, material: \"glycerin\"",
            &["given twice"],
        );
        check("LeaveOn", "(", &[]);
        let said = message(&good.replacen("letter: \"A\",", "", 1));
        assert!(
            said.starts_with("field `variants.phases`: the field `letter` is missing"),
            "{said}"
        );
    }

    #[test]
    fn a_newer_file_is_not_read_at_all() {
        let said =
            message("(format: \"phasewright formula\", version: 7, what_we_do_not_know: {1: 2})");
        assert!(
            said.contains("version 7") && said.contains("gel.formula.ron"),
            "{said}"
        );
    }

    #[test]
    fn a_save_goes_through_the_disk() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("gel.formula.ron");
        let formula = random_formula::formula(7);
        let stamp = save(&path, &formula, Expect::Nothing).unwrap();
        let (again, seen) = open(&path).unwrap();
        assert_eq!(again, formula);
        assert!(seen.same_content(&stamp));
    }

    #[test]
    fn what_could_not_be_read_back_is_not_written() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("gel.formula.ron");
        let mut formula = random_formula::formula(7);
        let stamp = save(&path, &formula, Expect::Nothing).unwrap();
        formula.variants.clear();
        assert!(save(&path, &formula, Expect::Last(stamp)).is_err());
        assert_eq!(store::since(&path, &stamp).unwrap(), store::Since::Same);
    }

    #[test]
    fn history_is_compact_and_shares_what_did_not_change() {
        let mut formula = random_formula::formula(3);
        formula.history.clear();
        let now = Arc::clone(&formula.variants[0]);
        for i in 0..100_u32 {
            let mut then = (*now).clone();
            let phase = Arc::make_mut(&mut then.phases[0]);
            phase.purpose = format!("purpose {i}").into();
            formula.history.push(Arc::new(Kept {
                at: "2026-05-01T10:00:00Z".into(),
                what: "Rename".into(),
                variant: Arc::new(then),
            }));
        }
        let text = write(&formula).unwrap();
        let lines = text.lines().filter(|l| l.contains("2026-05-01T10:00:00Z"));
        assert_eq!(lines.clone().count(), 100);
        let again = read(&text, "x").unwrap();
        assert_eq!(again, formula);
        for phase in 1..now.phases.len() {
            let (a, b) = (
                &again.variants[0].phases[phase],
                &again.history[0].variant.phases[phase],
            );
            assert!(Arc::ptr_eq(a, b));
        }
        let whole = write(&Formula {
            history: Vec::new(),
            ..formula
        })
        .unwrap()
        .len();
        let each = lines.map(str::len).max().unwrap();
        assert!(
            each * 3 < whole,
            "{each} bytes an entry, {whole} for all variants"
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn a_round_trip_is_identical(seed: u64) {
            let formula = random_formula::formula(seed);
            let text = write(&formula).unwrap();
            let again = read(&text, "x").unwrap();
            prop_assert_eq!(&again, &formula);
            prop_assert_eq!(write(&again).unwrap(), text);
        }

        #[test]
        fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
            let _ = read(&String::from_utf8_lossy(&bytes), "x").map_err(|e| e.to_string());
        }

        #[test]
        fn mutated_files_never_panic(seed in 0_u64..20, cuts in proptest::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), "[-0-9(){}\\[\\]:,.\"a-z]{0,4}"), 1..4)) {
            let mut text = write(&random_formula::formula(seed)).unwrap();
            for (at, length, new) in cuts {
                let start = at.index(text.len());
                let end = (start + length.index(12)).min(text.len());
                if text.is_char_boundary(start) && text.is_char_boundary(end) {
                    text.replace_range(start..end, &new);
                }
            }
            match read(&text, "x") {
                // What is read must also be writable and come back the same.
                Ok(formula) => {
                    let again = write(&formula).unwrap();
                    prop_assert_eq!(read(&again, "x").unwrap(), formula);
                }
                Err(error) => prop_assert!(!error.to_string().is_empty()),
            }
        }
    }
}
