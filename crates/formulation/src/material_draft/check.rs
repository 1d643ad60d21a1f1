//! Reading a draft: every field, what is wrong with it, and the material once nothing is.

use std::borrow::Cow;
use std::sync::Arc;

use super::{
    AlkalinityDraft, CheckedDraft, ConstituentDraft, DraftField, MaterialDraft, PreservationDraft,
    TypedFigures, shown, use_field,
};
use crate::amount::measure::tidy;
use crate::amount::{Measure, typed};
use crate::cas::Cas;
use crate::material::{
    Alkalinity, Basis, Class, Constituent, Counted, Figures, FragranceLevel, MaterialId,
    MaterialValue, Preservation, ProductKind, Source, Sourced, Titration, UseRange,
    without_figures,
};
use crate::quantity::{MassFraction, Percent, Ph, PhRange, Spread};

impl MaterialDraft {
    /// Reads every field. `taken` tells whether another material has an id already.
    pub fn check(&self, taken: impl Fn(&MaterialId) -> bool) -> CheckedDraft {
        let mut faults = Faults::default();
        let mut notes = Vec::new();
        let source = Source::new(self.basis.unwrap_or(Basis::Practice), self.source.trim());
        let needs_words = self
            .basis
            .is_some_and(|b| !matches!(b, Basis::Practice | Basis::Typical));
        if needs_words && self.source.trim().is_empty() {
            faults.0.push((
                DraftField::Source,
                "say which document, table or measurement the values are from".to_owned(),
            ));
        }
        let id = self.id(&taken, &mut faults);
        let (constituents, total) = self.constituents(&mut faults, &mut notes);
        notes.extend(
            self.of_loose_parts()
                .map(|words| (DraftField::Components, words)),
        );
        notes.extend(
            self.of_roles_taken_over()
                .map(|words| (DraftField::Roles, words)),
        );
        let of = |field: DraftField| {
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
        let figures: Vec<(MaterialValue, Figures)> = MaterialValue::counted()
            .filter_map(|(value, counted)| {
                Some((value, self.values[value].read(&mut faults, value, counted)?))
            })
            .collect();
        let preservation = self.preservation.as_ref().and_then(|p| {
            p.read(
                &mut faults,
                of(DraftField::Value(MaterialValue::Preservation)),
            )
        });
        let alkalinity = self.alkalinity.read(
            &mut faults,
            of(DraftField::Value(MaterialValue::Alkalinity)),
        );
        let fragrance_levels = self.fragrance_levels(&mut faults);
        let material = faults.0.is_empty().then(|| {
            let mut material = without_figures!({
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
                hazards: self.hazards.clone(),
                wet_with: self.wet_with.clone(),
                preservation,
                alkalinity,
                fragrance_levels,
                note: self.note.as_str().into(),
                source: source.clone(),
            });
            for (value, figures) in figures {
                material.set_figures(value, figures, of(DraftField::Value(value)));
            }
            Arc::new(material)
        });
        CheckedDraft {
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
                DraftField::Name,
                "give it a name with at least one letter or digit".to_owned(),
            ));
        }
        if let Some(id) = &self.of {
            return id.clone();
        }
        if taken(&by_name) {
            faults.0.push((
                DraftField::Name,
                "there is a material of this name already; choose another name, or edit that one"
                    .to_owned(),
            ));
        }
        by_name
    }

    fn constituents(
        &self,
        faults: &mut Faults,
        notes: &mut Vec<(DraftField, String)>,
    ) -> (Vec<Constituent>, MassFraction) {
        let mut total = MassFraction::ZERO;
        let mut constituents = Vec::with_capacity(self.constituents.len());
        for (n, draft) in self.constituents.iter().enumerate() {
            let inci = draft.inci.trim();
            if inci.is_empty() {
                faults.0.push((
                    DraftField::Inci(n),
                    "write the INCI name, or take the row away".to_owned(),
                ));
            }
            let cas = draft.cas.trim();
            let cas = if cas.is_empty() {
                None
            } else {
                faults.ok_or_note(
                    DraftField::Cas(n),
                    cas.parse::<Cas>().map_err(|e| e.to_string()),
                )
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
                        DraftField::Cas(n),
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
                    DraftField::Inci(n),
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
                DraftField::Constituents,
                format!(
                    "the typical shares add up to {} %; lower them to 100 % or less",
                    shown(percent)
                ),
            ));
        } else if percent < 100.0 - 1e-6 && !self.constituents.is_empty() {
            notes.push((
                DraftField::Constituents,
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
            let field = DraftField::Fragrance(n);
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
            if let Some(maximum) = faults.ok_or_note(field, typed::percent(percent)) {
                levels.push(FragranceLevel {
                    category: category.into(),
                    maximum,
                });
            }
        }
        levels
    }
}

impl TypedFigures {
    /// The figures, in the unit of the material file; none if nothing is typed or it is wrong.
    fn read(&self, faults: &mut Faults, value: MaterialValue, counted: Counted) -> Option<Figures> {
        let field = DraftField::Value(value);
        let (least, most) = (counted.least, counted.most);
        let [low, high] = [&self.low, &self.high].map(|typed| as_share(typed, counted));
        let (low, high) = if counted.has_two_ends() {
            faults.pair(field, [&*low, &*high], least, most)?
        } else {
            let one = faults.optional(field, &low, least, most)?;
            (one, one)
        };
        Some(Figures {
            low: counted.in_file(low),
            high: counted.in_file(high),
        })
    }
}

/// A share of one that was typed in percent, as a share; else as typed.
fn as_share(typed: &str, counted: Counted) -> Cow<'_, str> {
    let percent = counted.of_one && typed.trim_end().ends_with('%');
    match typed::percent(typed) {
        Ok(read) if percent => tidy(read.as_percent() / 100.0, 9).to_string().into(),
        _ => typed.into(),
    }
}

impl ConstituentDraft {
    fn share(&self, n: usize, faults: &mut Faults) -> Option<Spread> {
        let field = DraftField::Share(n);
        let percent = |faults: &mut Faults, text: &str| {
            faults
                .ok_or_note(field, number_within(text, 0.0, 100.0))
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
        let field = DraftField::Value(MaterialValue::Preservation);
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
        let field = DraftField::Value(MaterialValue::Alkalinity);
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
                let mmol = faults.ok_or_note(field, number_within(mmol_per_gram, -50.0, 50.0));
                let to_ph = faults.ok_or_note(field, number_within(to_ph, -2.0, 16.0));
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

/// Collects faults while fields are read.
#[derive(Default)]
struct Faults(Vec<(DraftField, String)>);

impl Faults {
    fn ok_or_note<T, E: ToString>(&mut self, field: DraftField, result: Result<T, E>) -> Option<T> {
        result
            .map_err(|why| self.0.push((field, why.to_string())))
            .ok()
    }

    /// A number that may be left out.
    fn optional(&mut self, field: DraftField, text: &str, low: f64, high: f64) -> Option<f64> {
        if text.trim().is_empty() {
            return None;
        }
        self.ok_or_note(field, number_within(text, low, high))
    }

    /// A pair that may be left out as a whole; one end alone stands for both.
    fn pair(
        &mut self,
        field: DraftField,
        texts: [&str; 2],
        low: f64,
        high: f64,
    ) -> Option<(f64, f64)> {
        let [a, b] = texts.map(str::trim);
        let (a, b) = match (a.is_empty(), b.is_empty()) {
            (true, true) => return None,
            (true, false) => (b, b),
            (false, true) => (a, a),
            (false, false) => (a, b),
        };
        let a = self.ok_or_note(field, number_within(a, low, high))?;
        let b = self.ok_or_note(field, number_within(b, low, high))?;
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

fn percent_pair(
    faults: &mut Faults,
    field: DraftField,
    low: &str,
    high: &str,
) -> Option<(Percent, Percent)> {
    let (low, high) = match (low.trim(), high.trim()) {
        ("", "") => return None,
        ("", high) => ("0", high),
        (low, "") => (low, low),
        both => both,
    };
    let low = faults.ok_or_note(field, typed::percent(low))?;
    let high = faults.ok_or_note(field, typed::percent(high))?;
    if low > high {
        faults.0.push((
            field,
            format!("the lower value {low} is above the higher value {high}; swap them"),
        ));
        return None;
    }
    Some((low, high))
}
