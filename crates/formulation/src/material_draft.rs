//! A material while it is typed: every field as text, checked as it stands.
//!
//! The window shows the fields, their explanations and what is wrong with each; once
//! nothing is, the draft is the material.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::amount::{Measure, typed};
use crate::cas::Cas;
use crate::inventory::Entry;
use crate::material::{
    Alkalinity, Basis, Charge, Class, Constituent, Coverage, FragranceLevel, Hazard, Material,
    MaterialId, NaturalOrigin, PhaseKind, Preservation, ProductKind, Role, Source, Sourced,
    SourcedValue, Titration, UseRange, WettingMedium,
};
use crate::quantity::{
    self, MassFraction, Percent, Ph, PhRange, Spread, celsius, in_celsius, in_kg_per_m3, kg_per_m3,
};

/// A field of the draft, for its label, its explanation and its faults.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "`label` and `explanation` tell what each is")]
pub enum Field {
    Name,
    Synonyms,
    Supplier,
    Constituents,
    Inci(usize),
    Cas(usize),
    Share(usize),
    UseRinseOff,
    UseLeaveOn,
    PhWindow,
    MaxTemperature,
    Density,
    Hlb,
    RequiredHlb,
    NaturalOrigin,
    Preservation,
    Alkalinity,
    Fragrance(usize),
    Source,
}

impl From<SourcedValue> for Field {
    fn from(value: SourcedValue) -> Self {
        match value {
            SourcedValue::PhWindow => Self::PhWindow,
            SourcedValue::MaxTemperature => Self::MaxTemperature,
            SourcedValue::Density => Self::Density,
            SourcedValue::Hlb => Self::Hlb,
            SourcedValue::RequiredHlb => Self::RequiredHlb,
            SourcedValue::NaturalOrigin => Self::NaturalOrigin,
            SourcedValue::Preservation => Self::Preservation,
            SourcedValue::Alkalinity => Self::Alkalinity,
        }
    }
}

impl Field {
    /// The name shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Name => "Name",
            Self::Synonyms => "Other names",
            Self::Supplier => "Supplier",
            Self::Constituents => "Contains",
            Self::Inci(_) => "INCI name",
            Self::Cas(_) => "CAS number",
            Self::Share(_) => "Share",
            Self::UseRinseOff => "Usual level, rinse-off",
            Self::UseLeaveOn => "Usual level, leave-on",
            Self::PhWindow => "pH window",
            Self::MaxTemperature => "Highest temperature",
            Self::Density => "Density",
            Self::Hlb => "HLB",
            Self::RequiredHlb => "Required HLB",
            Self::NaturalOrigin => "Natural origin index",
            Self::Preservation => "Preservation",
            Self::Alkalinity => "Effect on pH",
            Self::Fragrance(_) => "Fragrance level",
            Self::Source => "Source",
        }
    }

    /// What the field means, its unit and its range.
    pub const fn explanation(self) -> &'static str {
        match self {
            Self::Name => {
                "What you call it; it need not be a trade name. It is found by this name first"
            }
            Self::Synonyms => "Other names it is found by, separated by semicolons",
            Self::Supplier => "Who delivers it; may stay empty",
            Self::Constituents => {
                "Each substance in the jar, water and salt included, in percent of the raw material. The shares add up to at most 100 %; what is left is shown as unknown"
            }
            Self::Inci(_) => "The name for the ingredient list, as the public inventory spells it",
            Self::Cas(_) => {
                "Registry number, 2 to 7 digits, 2 digits, 1 check digit; may stay empty"
            }
            Self::Share(_) => {
                "Percent of the raw material: the typical value, or lowest – typical – highest from the data sheet"
            }
            Self::UseRinseOff => {
                "Lowest and highest usual percentage of this raw material in products that are washed off"
            }
            Self::UseLeaveOn => {
                "Lowest and highest usual percentage of this raw material in products that stay on the skin"
            }
            Self::PhWindow => {
                "Lowest and highest pH at which it is stable and works, from -2 to 16"
            }
            Self::MaxTemperature => "Highest process temperature it bears, in °C",
            Self::Density => "At 20 °C in g/ml (water is 0.998); used for volumes and fill weights",
            Self::Hlb => {
                "Hydrophilic-lipophilic balance of an emulsifier or surfactant, Griffin's scale, 0 to 50"
            }
            Self::RequiredHlb => "HLB that an oil requires for an oil-in-water emulsion, 0 to 50",
            Self::NaturalOrigin => {
                "Share of natural origin by ISO 16128, from 0 to 1, formulation water not counted; lowest and highest if it depends on the source"
            }
            Self::Preservation => {
                "What a preservative covers, and between which doses of this raw material and at which pH it works"
            }
            Self::Alkalinity => {
                "Whether the constituents tell all about pH, or it brings acid or base that is not listed, or how much you have titrated"
            }
            Self::Fragrance(_) => {
                "Highest level of this fragrance in the product, per category of the fragrance trade association's standards, from the supplier's certificate"
            }
            Self::Source => {
                "Where the values are from: a data sheet, a certificate, a book. Single values may have a source of their own"
            }
        }
    }
}

/// A constituent while it is typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct ConstituentDraft {
    /// INCI name.
    pub inci: String,
    /// CAS number.
    pub cas: String,
    /// Lowest share, percent; empty is the typical one.
    pub low: String,
    /// Typical share, percent.
    pub typical: String,
    /// Highest share, percent; empty is the typical one.
    pub high: String,
    /// What it is counted as.
    pub class: Option<Class>,
    /// Why it is not listed as an ingredient; empty if it is.
    pub incidental: String,
    /// Its own source.
    pub source: Option<Source>,
}

/// A usual level while it is typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct UseDraft {
    /// Lowest, percent of the formula.
    pub low: String,
    /// Highest.
    pub high: String,
    /// The supplier sets the highest as a maximum.
    pub supplier_maximum: bool,
}

/// Preservative data while they are typed.
#[derive(Clone, PartialEq, Debug)]
pub struct PreservationDraft {
    /// Bacteria, yeast, mould.
    pub covers: [Coverage; 3],
    /// Lowest dose of the raw material, percent.
    pub dose_low: String,
    /// Highest dose.
    pub dose_high: String,
    /// Lowest pH at which it works; may be empty with the highest.
    pub ph_low: String,
    /// Highest pH.
    pub ph_high: String,
    /// Releases formaldehyde.
    pub donor: bool,
}

impl Default for PreservationDraft {
    fn default() -> Self {
        Self {
            covers: [Coverage::None; 3],
            dose_low: String::new(),
            dose_high: String::new(),
            ph_low: String::new(),
            ph_high: String::new(),
            donor: false,
        }
    }
}

/// Effect on pH while it is typed.
#[derive(Clone, PartialEq, Debug)]
pub enum AlkalinityDraft {
    /// The constituents tell all.
    Neutral,
    /// Not known.
    Unknown {
        /// pH as sold, lowest.
        ph_low: String,
        /// pH as sold, highest.
        ph_high: String,
        /// Unlisted base (acid if negative), mmol per gram, lowest.
        base_low: String,
        /// The same, highest.
        base_high: String,
    },
    /// Titrated.
    Titrated {
        /// Strong acid (base if negative) to the end point, mmol per gram.
        mmol_per_gram: String,
        /// End point.
        to_ph: String,
    },
}

impl Default for AlkalinityDraft {
    fn default() -> Self {
        Self::Unknown {
            ph_low: String::new(),
            ph_high: String::new(),
            base_low: String::new(),
            base_high: String::new(),
        }
    }
}

/// A material while it is typed.
#[derive(Clone, PartialEq, Debug, Default)]
#[expect(
    missing_docs,
    reason = "each is the field of the material of the same name, as text"
)]
pub struct MaterialDraft {
    /// The material it is a change of; `None` while a new one is typed.
    pub of: Option<MaterialId>,
    pub name: String,
    pub synonyms: String,
    pub supplier: String,
    pub constituents: Vec<ConstituentDraft>,
    pub roles: Vec<Role>,
    pub charge: Option<Charge>,
    pub phase: Option<PhaseKind>,
    pub rinse_off: UseDraft,
    pub leave_on: UseDraft,
    pub ph_low: String,
    pub ph_high: String,
    /// °C.
    pub max_temperature: String,
    /// g/ml.
    pub density: String,
    pub hlb: String,
    pub required_hlb: String,
    pub natural_low: String,
    pub natural_high: String,
    pub hazards: Vec<Hazard>,
    pub wet_with: Vec<WettingMedium>,
    pub preservation: Option<PreservationDraft>,
    pub alkalinity: AlkalinityDraft,
    /// Category and highest percentage.
    pub fragrance: Vec<(String, String)>,
    pub note: String,
    pub basis: Option<Basis>,
    /// Words of the source.
    pub source: String,
    /// Sources of single values that differ from the material's.
    pub sources: BTreeMap<Field, Source>,
}

/// What a draft comes to.
#[derive(Clone, PartialEq, Debug)]
pub struct Checked {
    /// Faults, by field. Empty if the draft is a material.
    pub faults: Vec<(Field, String)>,
    /// What the maker should know, by field.
    pub notes: Vec<(Field, String)>,
    /// Sum of the typical shares that can be read.
    pub total: MassFraction,
    /// The material, if there is no fault.
    pub material: Option<Arc<Material>>,
}

impl Checked {
    /// What is wrong with a field.
    pub fn fault(&self, field: Field) -> Option<&str> {
        self.faults
            .iter()
            .find(|(f, _)| *f == field)
            .map(|(_, words)| words.as_str())
    }
    /// What is to be known about a field.
    pub fn note(&self, field: Field) -> Option<&str> {
        self.notes
            .iter()
            .find(|(f, _)| *f == field)
            .map(|(_, words)| words.as_str())
    }
}

/// Reads a number as typed: decimal comma or point.
fn number(text: &str) -> Result<f64, String> {
    typed::value(text, &Measure::NUMBER).map_err(|e| e.to_string())
}

fn number_within(text: &str, low: f64, high: f64) -> Result<f64, String> {
    let value = number(text)?;
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(format!("{value} is not from {low} to {high}"))
    }
}

/// A number in its shortest form, without the noise of binary fractions.
fn shown(value: f64) -> String {
    let text = format!("{value:.9}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Collects faults while fields are read.
#[derive(Default)]
struct Faults(Vec<(Field, String)>);

impl Faults {
    fn take<T>(&mut self, field: Field, result: Result<T, String>) -> Option<T> {
        result.map_err(|words| self.0.push((field, words))).ok()
    }

    /// A number that may be left out.
    fn optional(&mut self, field: Field, text: &str, low: f64, high: f64) -> Option<f64> {
        if text.trim().is_empty() {
            return None;
        }
        self.take(field, number_within(text, low, high))
    }

    /// A pair that may be left out as a whole; one end alone stands for both.
    fn pair(&mut self, field: Field, texts: [&str; 2], low: f64, high: f64) -> Option<(f64, f64)> {
        let [a, b] = texts.map(str::trim);
        let (a, b) = match (a.is_empty(), b.is_empty()) {
            (true, true) => return None,
            (true, false) => (b, b),
            (false, true) => (a, a),
            (false, false) => (a, b),
        };
        let a = self.take(field, number_within(a, low, high))?;
        let b = self.take(field, number_within(b, low, high))?;
        if a > b {
            self.0.push((
                field,
                format!(
                    "the lower value {} is above the higher value {}; swap them",
                    shown(a),
                    shown(b)
                ),
            ));
            return None;
        }
        Some((a, b))
    }
}

impl MaterialDraft {
    /// A draft of a new material from an inventory name, taken as the pure substance
    /// until the maker says otherwise.
    pub fn from_inventory(entry: &Entry) -> Self {
        let mut draft = Self {
            name: entry.label_name(),
            ..Self::default()
        };
        draft.complete(0, entry);
        if let Some(only) = draft.constituents.first_mut() {
            "100".clone_into(&mut only.typical);
        }
        draft
    }

    /// Fills a constituent, and the roles if there are none, from an inventory name.
    pub fn complete(&mut self, constituent: usize, entry: &Entry) {
        if self.constituents.len() <= constituent {
            self.constituents
                .resize_with(constituent + 1, ConstituentDraft::default);
        }
        if let Some(one) = self.constituents.get_mut(constituent) {
            one.inci = entry.label_name();
            one.cas = entry.cas.map(|c| c.to_string()).unwrap_or_default();
            one.class = one.class.or_else(|| Some(entry.likely_class()));
        }
        if self.roles.is_empty() {
            self.roles = entry.roles();
        }
        if self.source.is_empty() {
            self.basis = Some(Basis::Practice);
            "name, CAS number and function from the public inventory; the rest as entered"
                .clone_into(&mut self.source);
        }
    }

    /// The draft of a material.
    pub fn of(material: &Material) -> Self {
        let usual = |kind: ProductKind| {
            material
                .use_range(kind)
                .map_or_else(UseDraft::default, |r| UseDraft {
                    low: r.low.to_string(),
                    high: r.high.to_string(),
                    supplier_maximum: r.supplier_maximum,
                })
        };
        let mut sources = BTreeMap::new();
        let mut keep = |field: Field, source: &Source| {
            if *source != material.source {
                sources.insert(field, source.clone());
            }
        };
        for range in &material.use_ranges {
            keep(use_field(range.kind), &range.source);
        }
        let number_of =
            |v: &Option<Sourced<f64>>| v.as_ref().map(|v| shown(v.value)).unwrap_or_default();
        let range_of = |r: &PhRange| (shown(r.low.value()), shown(r.high.value()));
        for (value, source) in material.value_sources() {
            keep(value.into(), source);
        }
        let (ph_low, ph_high) = material
            .ph_window
            .as_ref()
            .map(|v| range_of(&v.value))
            .unwrap_or_default();
        let (natural_low, natural_high) = material
            .natural_origin
            .as_ref()
            .map(|v| (shown(v.value.low), shown(v.value.high)))
            .unwrap_or_default();
        Self {
            of: Some(material.id.clone()),
            name: material.name.to_string(),
            synonyms: material.synonyms.join("; "),
            supplier: material.supplier.as_deref().unwrap_or_default().to_owned(),
            constituents: material
                .constituents
                .iter()
                .map(constituent_draft)
                .collect(),
            roles: material.roles.clone(),
            charge: material.charge,
            phase: material.phase,
            rinse_off: usual(ProductKind::RinseOff),
            leave_on: usual(ProductKind::LeaveOn),
            ph_low,
            ph_high,
            max_temperature: material
                .max_temperature
                .as_ref()
                .map(|t| shown(in_celsius(t.value)))
                .unwrap_or_default(),
            density: material
                .density
                .as_ref()
                .map(|d| shown(in_kg_per_m3(d.value) / 1000.0))
                .unwrap_or_default(),
            hlb: number_of(&material.hlb),
            required_hlb: number_of(&material.required_hlb),
            natural_low,
            natural_high,
            hazards: material.hazards.clone(),
            wet_with: material.wet_with.clone(),
            preservation: material.preservation.as_ref().map(|p| {
                let (ph_low, ph_high) = p.ph.as_ref().map(range_of).unwrap_or_default();
                PreservationDraft {
                    covers: [p.bacteria, p.yeast, p.mould],
                    dose_low: p.dose_low.to_string(),
                    dose_high: p.dose_high.to_string(),
                    ph_low,
                    ph_high,
                    donor: p.formaldehyde_donor,
                }
            }),
            alkalinity: match &material.alkalinity {
                Alkalinity::Neutral => AlkalinityDraft::Neutral,
                Alkalinity::Unknown {
                    ph_as_sold,
                    base_mmol_per_gram,
                    ..
                } => {
                    let (ph_low, ph_high) = ph_as_sold.as_ref().map(range_of).unwrap_or_default();
                    let (base_low, base_high) = base_mmol_per_gram
                        .map(|(a, b)| (shown(a), shown(b)))
                        .unwrap_or_default();
                    AlkalinityDraft::Unknown {
                        ph_low,
                        ph_high,
                        base_low,
                        base_high,
                    }
                }
                Alkalinity::Titrated(t) => AlkalinityDraft::Titrated {
                    mmol_per_gram: shown(t.value.mmol_acid_per_gram),
                    to_ph: shown(t.value.to_ph.value()),
                },
            },
            fragrance: material
                .fragrance_levels
                .iter()
                .map(|l| (l.category.to_string(), l.maximum.to_string()))
                .collect(),
            note: material.note.to_string(),
            basis: Some(material.source.basis),
            source: material.source.text.to_string(),
            sources,
        }
    }

    /// A draft of a new material that begins as this one.
    pub fn copied(mut self) -> Self {
        self.of = None;
        self.name = format!("{} (copy)", self.name);
        self
    }

    /// Reads every field. `taken` tells whether another material has an id already.
    pub fn check(&self, taken: impl Fn(&MaterialId) -> bool) -> Checked {
        let mut faults = Faults::default();
        let mut notes = Vec::new();
        let source = Source::new(self.basis.unwrap_or(Basis::Practice), self.source.trim());
        let needs_words = self
            .basis
            .is_some_and(|b| !matches!(b, Basis::Practice | Basis::Typical));
        if needs_words && self.source.trim().is_empty() {
            faults.0.push((
                Field::Source,
                "say which document, table or measurement the values are from".to_owned(),
            ));
        }
        let id = self.id(&taken, &mut faults);
        let (constituents, total) = self.constituents(&mut faults, &mut notes);
        let of = |field: Field| {
            self.sources
                .get(&field)
                .cloned()
                .unwrap_or_else(|| source.clone())
        };
        let use_ranges = [
            (ProductKind::RinseOff, &self.rinse_off),
            (ProductKind::LeaveOn, &self.leave_on),
        ]
        .into_iter()
        .filter_map(|(kind, draft)| {
            let field = use_field(kind);
            let (low, high) = percent_pair(&mut faults, field, &draft.low, &draft.high)?;
            Some(UseRange {
                kind,
                low,
                high,
                supplier_maximum: draft.supplier_maximum,
                source: of(field),
            })
        })
        .collect();
        let ph_window = faults
            .pair(Field::PhWindow, [&self.ph_low, &self.ph_high], -2.0, 16.0)
            .and_then(|(a, b)| PhRange::new(a, b))
            .map(|r| Sourced::new(r, of(Field::PhWindow)));
        let max_temperature = faults
            .optional(Field::MaxTemperature, &self.max_temperature, -80.0, 400.0)
            .map(|t| Sourced::new(celsius(t), of(Field::MaxTemperature)));
        let density = faults
            .optional(Field::Density, &self.density, 0.01, 25.0)
            .map(|d| Sourced::new(kg_per_m3(rounded(d * 1000.0)), of(Field::Density)));
        let hlb = faults
            .optional(Field::Hlb, &self.hlb, 0.0, 50.0)
            .map(|v| Sourced::new(v, of(Field::Hlb)));
        let required_hlb = faults
            .optional(Field::RequiredHlb, &self.required_hlb, 0.0, 50.0)
            .map(|v| Sourced::new(v, of(Field::RequiredHlb)));
        let natural_origin = faults
            .pair(
                Field::NaturalOrigin,
                [&self.natural_low, &self.natural_high],
                0.0,
                1.0,
            )
            .map(|(low, high)| Sourced::new(NaturalOrigin { low, high }, of(Field::NaturalOrigin)));
        let preservation = self
            .preservation
            .as_ref()
            .and_then(|p| p.read(&mut faults, of(Field::Preservation)));
        let alkalinity = self.alkalinity.read(&mut faults, of(Field::Alkalinity));
        let fragrance_levels = self.fragrance_levels(&mut faults);
        let material = faults.0.is_empty().then(|| {
            Arc::new(Material {
                id,
                name: self.name.trim().into(),
                synonyms: self
                    .synonyms
                    .split(';')
                    .map(str::trim)
                    .filter(|s| !s.is_empty())
                    .map(Into::into)
                    .collect(),
                supplier: Some(self.supplier.trim())
                    .filter(|s| !s.is_empty())
                    .map(Into::into),
                constituents,
                roles: self.roles.clone(),
                charge: self.charge,
                phase: self.phase,
                use_ranges,
                ph_window,
                max_temperature,
                density,
                hlb,
                required_hlb,
                natural_origin,
                hazards: self.hazards.clone(),
                wet_with: self.wet_with.clone(),
                preservation,
                alkalinity,
                fragrance_levels,
                note: self.note.as_str().into(),
                source: source.clone(),
            })
        });
        Checked {
            faults: faults.0,
            notes,
            total,
            material,
        }
    }

    fn id(&self, taken: &impl Fn(&MaterialId) -> bool, faults: &mut Faults) -> MaterialId {
        let by_name = MaterialId::from_name(&self.name);
        if by_name.as_str().is_empty() {
            faults.0.push((
                Field::Name,
                "give it a name with at least one letter or digit".to_owned(),
            ));
        }
        if let Some(id) = &self.of {
            return id.clone();
        }
        if taken(&by_name) {
            faults.0.push((
                Field::Name,
                "there is a material of this name already; choose another name, or edit that one"
                    .to_owned(),
            ));
        }
        by_name
    }

    fn constituents(
        &self,
        faults: &mut Faults,
        notes: &mut Vec<(Field, String)>,
    ) -> (Vec<Constituent>, MassFraction) {
        let mut total = MassFraction::ZERO;
        let mut constituents = Vec::with_capacity(self.constituents.len());
        for (n, draft) in self.constituents.iter().enumerate() {
            let inci = draft.inci.trim();
            if inci.is_empty() {
                faults.0.push((
                    Field::Inci(n),
                    "write the INCI name, or take the row away".to_owned(),
                ));
            }
            let cas = draft.cas.trim();
            let cas = if cas.is_empty() {
                None
            } else {
                faults.take(Field::Cas(n), cas.parse::<Cas>().map_err(|e| e.to_string()))
            };
            let share = draft.share(n, faults);
            if let Some(share) = share {
                total += share.typical;
            }
            if let Some(entry) = crate::inventory::inventory().by_name(inci) {
                if let (Some(typed), Some(listed)) = (cas, entry.cas)
                    && typed != listed
                {
                    notes.push((
                        Field::Cas(n),
                        format!("the public inventory gives {listed} first; several numbers may be right"),
                    ));
                }
            } else if !inci.is_empty() {
                let near: Vec<String> = crate::inventory::inventory()
                    .nearest(inci, 2)
                    .iter()
                    .map(|e| e.label_name())
                    .collect();
                notes.push((
                    Field::Inci(n),
                    if near.is_empty() {
                        "not in the public inventory".to_owned()
                    } else {
                        format!(
                            "not in the public inventory; did you mean {}?",
                            near.join(" or ")
                        )
                    },
                ));
            }
            constituents.push(Constituent {
                inci: inci.into(),
                cas,
                share: share.unwrap_or_default(),
                class: draft.class.unwrap_or(Class::Other),
                incidental: Some(draft.incidental.trim())
                    .filter(|w| !w.is_empty())
                    .map(Into::into),
                source: draft.source.clone(),
            });
        }
        let percent = total.as_percent();
        // Percentages as typed add up to 100 only to within their rounding.
        if percent > 100.0 + 1e-6 {
            faults.0.push((
                Field::Constituents,
                format!(
                    "the typical shares add up to {} %; lower them to 100 % or less",
                    shown(percent)
                ),
            ));
        } else if percent < 100.0 - 1e-6 && !self.constituents.is_empty() {
            notes.push((
                Field::Constituents,
                format!(
                    "{} % are not listed and count as unknown",
                    shown(100.0 - percent)
                ),
            ));
        }
        (constituents, total)
    }

    fn fragrance_levels(&self, faults: &mut Faults) -> Vec<FragranceLevel> {
        let mut levels = Vec::new();
        for (n, (category, percent)) in self.fragrance.iter().enumerate() {
            let field = Field::Fragrance(n);
            let category = category.trim().to_uppercase();
            let digits = category.trim_end_matches(|c: char| c.is_ascii_uppercase());
            let known = digits.parse::<u8>().is_ok_and(|d| (1..=12).contains(&d))
                && category.len() - digits.len() <= 1;
            if !known {
                faults.0.push((
                    field,
                    format!("“{category}” is not a category; write 1 to 12, with a letter where divided, such as 5A"),
                ));
            }
            if let Some(maximum) = faults.take(field, percent_of(percent)) {
                levels.push(FragranceLevel {
                    category: category.into(),
                    maximum,
                });
            }
        }
        levels
    }
}

const fn use_field(kind: ProductKind) -> Field {
    match kind {
        ProductKind::RinseOff => Field::UseRinseOff,
        ProductKind::LeaveOn => Field::UseLeaveOn,
    }
}

/// To the ninth decimal, so that a unit of 1000 brings no binary noise.
fn rounded(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}

fn percent_of(text: &str) -> Result<Percent, String> {
    let percent: Percent = text
        .parse()
        .map_err(|e: quantity::PercentError| e.to_string())?;
    if (Percent::ZERO..=Percent::HUNDRED).contains(&percent) {
        Ok(percent)
    } else {
        Err(format!("{percent} is not from 0 to 100"))
    }
}

fn percent_pair(
    faults: &mut Faults,
    field: Field,
    low: &str,
    high: &str,
) -> Option<(Percent, Percent)> {
    let (low, high) = match (low.trim(), high.trim()) {
        ("", "") => return None,
        ("", high) => ("0", high),
        (low, "") => (low, low),
        both => both,
    };
    let low = faults.take(field, percent_of(low))?;
    let high = faults.take(field, percent_of(high))?;
    if low > high {
        faults.0.push((
            field,
            format!("the lower value {low} is above the higher value {high}; swap them"),
        ));
        return None;
    }
    Some((low, high))
}

fn constituent_draft(c: &Constituent) -> ConstituentDraft {
    let percent = |share: MassFraction| shown(share.as_percent());
    let exact = c.share.low == c.share.high;
    let end = |share| if exact { String::new() } else { percent(share) };
    ConstituentDraft {
        inci: c.inci.to_string(),
        cas: c.cas.map(|cas| cas.to_string()).unwrap_or_default(),
        low: end(c.share.low),
        typical: percent(c.share.typical),
        high: end(c.share.high),
        class: Some(c.class),
        incidental: c.incidental.as_deref().unwrap_or_default().to_owned(),
        source: c.source.clone(),
    }
}

impl ConstituentDraft {
    fn share(&self, n: usize, faults: &mut Faults) -> Option<Spread> {
        let field = Field::Share(n);
        let percent = |faults: &mut Faults, text: &str| {
            faults
                .take(field, number_within(text, 0.0, 100.0))
                .map(MassFraction::from_percent)
        };
        if self.typical.trim().is_empty() {
            faults
                .0
                .push((field, "write the typical share in percent".to_owned()));
            return None;
        }
        let typical = percent(faults, &self.typical)?;
        let mut end = |text: &str| {
            if text.trim().is_empty() {
                Some(typical)
            } else {
                percent(faults, text)
            }
        };
        let (low, high) = (end(&self.low)?, end(&self.high)?);
        if !(low <= typical && typical <= high) {
            faults.0.push((
                field,
                "the values are not in order; write lowest, typical, highest".to_owned(),
            ));
            return None;
        }
        Some(Spread { low, typical, high })
    }
}

impl PreservationDraft {
    fn read(&self, faults: &mut Faults, source: Source) -> Option<Preservation> {
        let field = Field::Preservation;
        let Some((dose_low, dose_high)) =
            percent_pair(faults, field, &self.dose_low, &self.dose_high)
        else {
            if self.dose_low.trim().is_empty() && self.dose_high.trim().is_empty() {
                faults.0.push((
                    field,
                    "write the lowest and highest dose of this raw material in percent".to_owned(),
                ));
            }
            return None;
        };
        let ph = faults
            .pair(field, [&self.ph_low, &self.ph_high], -2.0, 16.0)
            .and_then(|(a, b)| PhRange::new(a, b));
        let [bacteria, yeast, mould] = self.covers;
        Some(Preservation {
            bacteria,
            yeast,
            mould,
            dose_low,
            dose_high,
            ph,
            formaldehyde_donor: self.donor,
            source,
        })
    }
}

impl AlkalinityDraft {
    fn read(&self, faults: &mut Faults, source: Source) -> Alkalinity {
        let field = Field::Alkalinity;
        match self {
            Self::Neutral => Alkalinity::Neutral,
            Self::Unknown {
                ph_low,
                ph_high,
                base_low,
                base_high,
            } => Alkalinity::Unknown {
                ph_as_sold: faults
                    .pair(field, [ph_low, ph_high], -2.0, 16.0)
                    .and_then(|(a, b)| PhRange::new(a, b)),
                base_mmol_per_gram: faults.pair(field, [base_low, base_high], -50.0, 50.0),
                source,
            },
            Self::Titrated {
                mmol_per_gram,
                to_ph,
            } => {
                let mmol = faults.take(field, number_within(mmol_per_gram, -50.0, 50.0));
                let to_ph = faults.take(field, number_within(to_ph, -2.0, 16.0));
                match (mmol, to_ph.and_then(Ph::new)) {
                    (Some(mmol_acid_per_gram), Some(to_ph)) => Alkalinity::Titrated(Sourced::new(
                        Titration {
                            mmol_acid_per_gram,
                            to_ph,
                        },
                        source,
                    )),
                    // A fault is noted, so this value is never used.
                    _ => Alkalinity::Neutral,
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inventory::inventory;

    fn check(draft: &MaterialDraft) -> Checked {
        draft.check(|_| false)
    }

    /// Equal but for the last digits of binary fractions.
    fn alike(a: &Material, b: &Material) -> bool {
        let plain = |m: &Material| {
            let mut m = m.clone();
            for c in &mut m.constituents {
                let round = |s: MassFraction| MassFraction::new((s.value() * 1e9).round() / 1e9);
                c.share = Spread {
                    low: round(c.share.low),
                    typical: round(c.share.typical),
                    high: round(c.share.high),
                };
            }
            m.max_temperature = None;
            m.density = None;
            // The order of the two kinds does not matter.
            m.use_ranges.sort_by_key(|r| r.kind);
            m
        };
        let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
        let density = |m: &Material| m.density.as_ref().map_or(0.0, |d| in_kg_per_m3(d.value));
        let heat = |m: &Material| {
            m.max_temperature
                .as_ref()
                .map_or(0.0, |t| in_celsius(t.value))
        };
        plain(a) == plain(b) && close(density(a), density(b)) && close(heat(a), heat(b))
    }

    #[test]
    fn every_built_in_material_survives_being_edited_without_a_change() {
        for material in crate::built_in::shelf().iter() {
            let checked = check(&MaterialDraft::of(material));
            let read = checked
                .material
                .unwrap_or_else(|| panic!("{}: {:?}", material.name, checked.faults));
            assert!(alike(&read, material), "{read:#?}\n{material:#?}");
        }
    }

    #[test]
    fn faults_stand_at_their_fields() {
        let mut draft = MaterialDraft {
            name: "Betaine".into(),
            ..MaterialDraft::default()
        };
        draft.constituents = vec![
            ConstituentDraft {
                inci: "Aqua".into(),
                cas: "7732-18-4".into(),
                typical: "70".into(),
                ..ConstituentDraft::default()
            },
            ConstituentDraft {
                inci: "Cocamidopropyl Betain".into(),
                low: "35".into(),
                typical: "30".into(),
                ..ConstituentDraft::default()
            },
            ConstituentDraft {
                inci: "Sodium Chloride".into(),
                typical: "40,5".into(),
                ..ConstituentDraft::default()
            },
        ];
        draft.ph_low = "7".into();
        draft.ph_high = "4".into();
        draft.density = "heavy".into();
        draft.basis = Some(Basis::Supplier);
        draft.fragrance = vec![("13".into(), "1".into()), ("5a".into(), "0.5".into())];
        let checked = check(&draft);
        assert!(checked.material.is_none());
        // The check digit rule of the registry: the right digit is 5.
        assert!(
            checked
                .fault(Field::Cas(0))
                .unwrap()
                .contains("should be 5")
        );
        assert!(
            checked
                .fault(Field::Share(1))
                .unwrap()
                .contains("not in order")
        );
        assert!(
            checked
                .fault(Field::Constituents)
                .unwrap()
                .contains("110.5 %")
        );
        assert!(checked.fault(Field::PhWindow).unwrap().contains("swap"));
        assert!(checked.fault(Field::Density).is_some());
        assert!(checked.fault(Field::Source).is_some());
        assert!(checked.fault(Field::Fragrance(0)).is_some());
        assert!(checked.fault(Field::Fragrance(1)).is_none());
        assert!(
            checked
                .note(Field::Inci(1))
                .unwrap()
                .contains("Cocamidopropyl Betaine")
        );
    }

    #[test]
    fn what_is_not_listed_is_unknown() {
        let mut draft = MaterialDraft::from_inventory(inventory().by_name("glycerin").unwrap());
        assert_eq!(
            check(&draft).material.unwrap().unknown_share(),
            MassFraction::ZERO
        );
        draft.constituents[0].typical = "86,5".into();
        let checked = check(&draft);
        assert!(
            checked
                .note(Field::Constituents)
                .unwrap()
                .contains("13.5 %")
        );
        let material = checked.material.unwrap();
        assert!((material.unknown_share().as_percent() - 13.5).abs() < 1e-9);
        assert_eq!(material.constituents[0].cas, "56-81-5".parse().ok());
    }

    #[test]
    fn a_new_material_needs_a_free_name() {
        let draft = MaterialDraft::of(crate::built_in::shelf().iter().next().unwrap()).copied();
        assert!(draft.check(|_| false).material.is_some());
        assert!(draft.check(|_| true).fault(Field::Name).is_some());
        let nameless = MaterialDraft::default();
        assert!(check(&nameless).fault(Field::Name).is_some());
    }
}
