//! The estimates of chemistry as they stand in a report.

use std::fmt::Write as _;

use serde::Serialize;

use crate::chemistry::acidity::{Acidity, NoPh};
use crate::chemistry::electrolyte::Electrolyte;
use crate::chemistry::emulsion::{Emulsion, NoEmulsion};
use crate::chemistry::natural_origin::NaturalOriginEstimate;
use crate::chemistry::preservation::{AcidState, PreservativeSystem, Whereabouts};
use crate::chemistry::soap::{Making, Soap};
use crate::chemistry::{Estimates, Figure, preservation, work_out};
use crate::composition::Composition;
use crate::material::{Charge, Coverage};

/// `estimates` of the JSON report. A figure that is not known is null.
#[derive(Debug, Clone, Serialize)]
pub struct EstimatesReport {
    ph: PhRow,
    preservation: Vec<AcidRow>,
    preservative_system: SystemRow,
    /// Measured if there is one, else the estimate, 0 to 1.
    water_activity: Option<f64>,
    /// Measured if there is one, else the estimate.
    density_kg_m3: Option<f64>,
    hlb: HlbRow,
    nacl_percent: Option<f64>,
    electrolyte: ElectrolyteRow,
    /// Index from 0 to 1.
    natural_origin: NaturalRow,
    /// Soap that forms; null if none does.
    soap: Option<SoapRow>,
    /// Fats that lye meets and whose saponification value is not known.
    fats_without_saponification_value: Vec<String>,
    /// What follows from the estimates by arithmetic.
    worked_out: Vec<WorkedRow>,
    details: Details,
}

#[derive(Debug, Clone, Serialize)]
struct WorkedRow {
    key: &'static str,
    label: &'static str,
    value: Option<f64>,
    unit: &'static str,
    method: &'static str,
    validity: &'static str,
    source: &'static str,
    #[serde(skip)]
    digits: usize,
}

#[derive(Debug, Clone, Serialize)]
struct SoapRow {
    saponified: bool,
    alkali_of_need_percent: FigureRow,
    need_percent: f64,
    superfat_percent: f64,
    glycerin_formed_percent: f64,
    from_memory: Vec<String>,
    after_reaction: Vec<AfterRow>,
}

#[derive(Debug, Clone, Serialize)]
struct AfterRow {
    inci: String,
    percent: f64,
    product: &'static str,
    from: Option<String>,
}

#[derive(Debug, Clone, Serialize)]
struct PhRow {
    value: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    measured: Option<f64>,
    ionic_strength: Option<f64>,
    /// Why there is none.
    absent: Option<String>,
    /// In equilibrium with the carbon dioxide of the air.
    in_air: Option<f64>,
    /// The material whose titration would narrow the range most.
    titrate: Option<String>,
    in_range: bool,
    unknown: Vec<String>,
    remarks: Vec<String>,
    method: &'static str,
    validity: &'static str,
    source: &'static str,
}

#[derive(Debug, Clone, Serialize)]
struct AcidRow {
    inci: &'static str,
    from: Vec<String>,
    ph: f64,
    ph_basis: &'static str,
    total_percent: f64,
    undissociated_fraction: f64,
    undissociated_fraction_ideal: f64,
    effective_percent: f64,
    least_percent: f64,
    in_oil_fraction: Option<f64>,
    water_phase_percent: Option<f64>,
    ph_window: (f64, f64),
    pka_source: &'static str,
    /// Undissociated, % of the formula, over the pH that may be.
    effective_percent_low: f64,
    effective_percent_high: f64,
    /// In micelles and free in the water, 0 to 1, where it is parted.
    in_micelles_fraction: Option<f64>,
    free_fraction: Option<f64>,
    free_fraction_low: Option<f64>,
    free_fraction_high: Option<f64>,
    method: &'static str,
    source: &'static str,
    #[serde(skip)]
    effective: String,
    #[serde(skip)]
    whereabouts: Option<String>,
}

#[derive(Debug, Clone, Serialize)]
struct SystemRow {
    coverage: Vec<CoverageRow>,
    chelators: Vec<String>,
    weakeners: Vec<String>,
    in_oil: Vec<NeutralRow>,
    uptake_unknown: Vec<String>,
    unknown: Vec<String>,
    notice: &'static str,
}

#[derive(Debug, Clone, Serialize)]
struct CoverageRow {
    group: &'static str,
    coverage: &'static str,
    by: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
struct NeutralRow {
    inci: String,
    total_percent: f64,
    in_oil_fraction: f64,
    water_phase_percent: f64,
    in_micelles_fraction: f64,
    free_fraction: f64,
    free_fraction_low: f64,
    free_fraction_high: f64,
    #[serde(skip)]
    whereabouts: String,
}

#[derive(Debug, Clone, Serialize)]
struct HlbRow {
    /// Why there is no emulsion and thus no HLB.
    absent: Option<&'static str>,
    judged_as: &'static str,
    required: Option<f64>,
    provided: Option<f64>,
    required_low: Option<f64>,
    required_high: Option<f64>,
    provided_low: Option<f64>,
    provided_high: Option<f64>,
    oil_percent: f64,
    water_percent: f64,
    emulsifier_percent: f64,
    split: Option<SplitRow>,
    outside: Vec<String>,
    unknown: Vec<String>,
    cautions: Vec<String>,
    in_range: bool,
    remarks: Vec<String>,
    required_method: &'static str,
    required_validity: &'static str,
    required_source: &'static str,
    provided_method: &'static str,
    provided_validity: &'static str,
    provided_source: &'static str,
}

#[derive(Debug, Clone, Serialize)]
struct SplitRow {
    low_line: u64,
    low_percent: f64,
    high_line: u64,
    high_percent: f64,
}

#[derive(Debug, Clone, Serialize)]
struct ElectrolyteRow {
    nacl_percent_low: Option<f64>,
    nacl_percent_high: Option<f64>,
    from_materials_percent: f64,
    organic_salts_as_nacl_percent: f64,
    ionic_strength: Option<f64>,
    anionic_percent: f64,
    amphoteric_percent: f64,
    non_ionic_percent: f64,
    cationic_percent: f64,
    cationic_per_anionic_mol: Option<f64>,
    unknown: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
struct NaturalRow {
    with_water: Option<f64>,
    without_water: Option<f64>,
    with_water_low: Option<f64>,
    with_water_high: Option<f64>,
    without_water_low: Option<f64>,
    without_water_high: Option<f64>,
    unknown: Vec<String>,
    in_range: bool,
    remarks: Vec<String>,
    method: &'static str,
    validity: &'static str,
    source: &'static str,
}

#[derive(Debug, Clone, Serialize)]
struct Details {
    water_activity: FigureRow,
    density_kg_m3: FigureRow,
    nacl_percent: FigureRow,
}

#[derive(Debug, Clone, Serialize)]
struct FigureRow {
    value: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    measured: Option<f64>,
    in_range: bool,
    unknown: Vec<String>,
    remarks: Vec<String>,
    method: &'static str,
    validity: &'static str,
    source: &'static str,
}

/// Seven significant digits are more than any estimate holds. What is not finite is not known,
/// and written as null.
fn seven_digits(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let scale = 10.0_f64.powf(7.0 - value.abs().log10().ceil());
    (value * scale).round() / scale
}

fn names(list: &[std::sync::Arc<str>]) -> Vec<String> {
    list.iter().map(ToString::to_string).collect()
}

impl FigureRow {
    /// The same in another unit.
    fn scaled(&self, factor: f64) -> Self {
        let times = |v: Option<f64>| v.map(|v| v * factor);
        Self {
            value: times(self.value),
            low: times(self.low),
            high: times(self.high),
            measured: times(self.measured),
            ..self.clone()
        }
    }
    fn of(figure: &Figure) -> Self {
        Self {
            value: figure.value.map(seven_digits),
            low: figure.low.map(seven_digits),
            high: figure.high.map(seven_digits),
            measured: figure.measured,
            in_range: figure.in_range,
            unknown: names(&figure.unknown),
            remarks: figure.remarks.clone(),
            method: figure.method,
            validity: figure.validity,
            source: figure.source,
        }
    }
}

/// The word for a coverage.
const fn coverage_word(coverage: Coverage) -> &'static str {
    match coverage {
        Coverage::None => "none",
        Coverage::Weak => "weak",
        Coverage::Good => "good",
    }
}

impl PhRow {
    /// The pH.
    fn of(ph: &Acidity) -> Self {
        Self {
            value: ph.figure.value.map(seven_digits),
            low: ph.figure.low.map(seven_digits),
            high: ph.figure.high.map(seven_digits),
            measured: ph.figure.measured,
            ionic_strength: ph.ionic_strength.map(seven_digits),
            absent: ph.absent.as_ref().map(NoPh::words),
            in_air: ph.in_air().map(seven_digits),
            titrate: ph.widest.as_ref().map(ToString::to_string),
            in_range: ph.figure.in_range,
            unknown: names(&ph.figure.unknown),
            remarks: ph.figure.remarks.clone(),
            method: ph.figure.method,
            validity: ph.figure.validity,
            source: ph.figure.source,
        }
    }
}

impl SystemRow {
    /// What the preservatives cover.
    fn of(system: &PreservativeSystem) -> Self {
        Self {
            coverage: system
                .coverage
                .iter()
                .map(|c| CoverageRow {
                    group: c.group,
                    coverage: coverage_word(c.coverage),
                    by: names(&c.by),
                })
                .collect(),
            chelators: names(&system.chelators),
            weakeners: system.weakeners.clone(),
            in_oil: system
                .neutrals
                .iter()
                .map(|n| NeutralRow {
                    inci: n.inci.to_string(),
                    total_percent: seven_digits(n.total_percent),
                    in_oil_fraction: seven_digits(n.oil.share),
                    water_phase_percent: seven_digits(n.oil.in_water_percent),
                    in_micelles_fraction: seven_digits(n.oil.in_micelles),
                    free_fraction: seven_digits(n.oil.free),
                    free_fraction_low: seven_digits(n.oil.free_low),
                    free_fraction_high: seven_digits(n.oil.free_high),
                    whereabouts: n.oil.words(),
                })
                .collect(),
            uptake_unknown: names(&system.unplaced),
            unknown: names(&system.unknown),
            notice: preservation::CAUTION,
        }
    }
}

impl HlbRow {
    /// What the oils need and the emulsifiers give.
    fn of(emulsion: &Emulsion) -> Self {
        let (required, provided) = (&emulsion.required, &emulsion.provided);
        Self {
            absent: emulsion.absent.map(NoEmulsion::words),
            judged_as: emulsion.kind(),
            required: emulsion.required.shown().map(seven_digits),
            provided: emulsion.provided.shown().map(seven_digits),
            required_low: emulsion.required.low.map(seven_digits),
            required_high: emulsion.required.high.map(seven_digits),
            provided_low: emulsion.provided.low.map(seven_digits),
            provided_high: emulsion.provided.high.map(seven_digits),
            oil_percent: seven_digits(emulsion.oil_percent),
            water_percent: seven_digits(emulsion.water_percent),
            emulsifier_percent: seven_digits(emulsion.emulsifier_percent),
            split: emulsion.split.map(|s| SplitRow {
                low_line: s.low.0,
                low_percent: seven_digits(100.0 * s.low_share),
                high_line: s.high.0,
                high_percent: seven_digits(100.0 * s.high_share),
            }),
            outside: emulsion.outside.clone(),
            unknown: names(&emulsion.required.unknown)
                .into_iter()
                .chain(names(&emulsion.provided.unknown))
                .collect(),
            cautions: emulsion.doubts.clone(),
            in_range: required.in_range && provided.in_range,
            remarks: required
                .remarks
                .iter()
                .chain(&provided.remarks)
                .cloned()
                .collect(),
            required_method: required.method,
            required_validity: required.validity,
            required_source: required.source,
            provided_method: provided.method,
            provided_validity: provided.validity,
            provided_source: provided.source,
        }
    }
}

impl ElectrolyteRow {
    /// Salts and actives.
    fn of(electrolyte: &Electrolyte) -> Self {
        let active = |charge: Charge| {
            Charge::ALL
                .iter()
                .zip(electrolyte.active_percent)
                .find(|(c, _)| **c == charge)
                .map_or(0.0, |(_, percent)| seven_digits(percent))
        };
        Self {
            nacl_percent_low: electrolyte.nacl_percent.low.map(seven_digits),
            nacl_percent_high: electrolyte.nacl_percent.high.map(seven_digits),
            from_materials_percent: seven_digits(electrolyte.from_materials_percent),
            organic_salts_as_nacl_percent: seven_digits(electrolyte.organic_percent),
            ionic_strength: electrolyte.ionic_strength.map(seven_digits),
            anionic_percent: active(Charge::Anionic),
            amphoteric_percent: active(Charge::Amphoteric),
            non_ionic_percent: active(Charge::NonIonic),
            cationic_percent: active(Charge::Cationic),
            cationic_per_anionic_mol: electrolyte.cationic_per_anionic.map(seven_digits),
            unknown: names(&electrolyte.unknown_molar_mass),
        }
    }
}

impl NaturalRow {
    /// The natural origin.
    fn of(natural: &NaturalOriginEstimate) -> Self {
        Self {
            with_water: natural.with_water.shown().map(seven_digits),
            without_water: natural.without_water.shown().map(seven_digits),
            with_water_low: natural.with_water.low.map(seven_digits),
            with_water_high: natural.with_water.high.map(seven_digits),
            without_water_low: natural.without_water.low.map(seven_digits),
            without_water_high: natural.without_water.high.map(seven_digits),
            unknown: names(&natural.with_water.unknown),
            in_range: natural.with_water.in_range,
            remarks: natural.with_water.remarks.clone(),
            method: natural.with_water.method,
            validity: natural.with_water.validity,
            source: natural.with_water.source,
        }
    }
}

impl SoapRow {
    /// What lye makes of fats.
    fn of(soap: &Soap) -> Self {
        Self {
            saponified: soap.making == Making::Saponified,
            alkali_of_need_percent: FigureRow::of(&soap.degree_percent),
            need_percent: seven_digits(soap.need_percent),
            superfat_percent: seven_digits(soap.superfat_percent),
            glycerin_formed_percent: seven_digits(soap.glycerin_percent),
            from_memory: soap.from_memory().map(|f| f.inci.to_string()).collect(),
            after_reaction: soap
                .after
                .iter()
                .map(|part| AfterRow {
                    inci: part.inci.to_string(),
                    percent: seven_digits(part.percent),
                    product: part.product.label(),
                    from: part.from.as_ref().map(ToString::to_string),
                })
                .collect(),
        }
    }
}

impl AcidRow {
    /// A preservative acid at the pH.
    fn of(state: &AcidState) -> Self {
        let parted = |of: fn(&Whereabouts) -> f64| state.oil.as_ref().map(|o| seven_digits(of(o)));
        Self {
            inci: state.acid.inci,
            from: names(&state.from),
            ph: seven_digits(state.at.ph),
            ph_basis: state.at.basis.label(),
            total_percent: seven_digits(state.total_percent),
            undissociated_fraction: seven_digits(state.undissociated),
            undissociated_fraction_ideal: seven_digits(state.undissociated_ideal),
            effective_percent: seven_digits(state.effective_percent),
            least_percent: state.acid.least_percent,
            in_oil_fraction: parted(|o| o.share),
            water_phase_percent: parted(|o| o.in_water_percent),
            ph_window: state.acid.window,
            pka_source: state.acid.family.protolyte().source,
            effective_percent_low: seven_digits(state.effective_range.0),
            effective_percent_high: seven_digits(state.effective_range.1),
            in_micelles_fraction: parted(|o| o.in_micelles),
            free_fraction: parted(|o| o.free),
            free_fraction_low: parted(|o| o.free_low),
            free_fraction_high: parted(|o| o.free_high),
            method: preservation::METHOD,
            source: preservation::SOURCE,
            effective: state.effective_words(),
            whereabouts: state.oil.map(|o| o.words()),
        }
    }
}

impl EstimatesReport {
    /// From the estimates of an evaluation and what they were made of.
    pub fn of(estimates: &Estimates, composition: &Composition) -> Self {
        // Taken apart in full, so that a new estimate does not compile until it stands here.
        let Estimates {
            ph,
            preservation: system,
            water_activity,
            density,
            emulsion,
            electrolyte,
            natural_origin: natural,
            soap,
            unvalued_fats,
        } = estimates;
        Self {
            ph: PhRow::of(ph),
            preservation: system.acids.iter().map(AcidRow::of).collect(),
            preservative_system: SystemRow::of(system),
            water_activity: water_activity.shown().map(seven_digits),
            density_kg_m3: density.shown().map(seven_digits),
            hlb: HlbRow::of(emulsion),
            nacl_percent: electrolyte.nacl_percent.shown().map(seven_digits),
            electrolyte: ElectrolyteRow::of(electrolyte),
            natural_origin: NaturalRow::of(natural),
            soap: soap.as_ref().map(SoapRow::of),
            fats_without_saponification_value: unvalued_fats
                .as_ref()
                .map_or_else(Vec::new, |f| names(&f.fats)),
            worked_out: work_out::derived(estimates, composition)
                .figures()
                .into_iter()
                .map(|f| WorkedRow {
                    key: f.key,
                    label: f.label,
                    value: f.value.map(seven_digits),
                    unit: f.unit,
                    method: f.ground.method,
                    validity: f.ground.validity,
                    source: f.ground.source,
                    digits: f.digits,
                })
                .collect(),
            details: Details {
                water_activity: FigureRow::of(water_activity),
                density_kg_m3: FigureRow::of(density),
                nacl_percent: FigureRow::of(&electrolyte.nacl_percent),
            },
        }
    }

    /// Appends the estimates as plain text.
    pub fn write_text(&self, t: &mut String) -> std::fmt::Result {
        writeln!(t, "Estimates (not measurements unless it says so)")?;
        self.write_ph(t)?;
        self.write_preservation(t)?;
        write_figure(t, "Water activity", &self.details.water_activity, 3)?;
        for remark in &self.details.water_activity.remarks {
            writeln!(t, "    {remark}")?;
        }
        let density = self.details.density_kg_m3.scaled(0.001);
        write_figure(t, "Density, g/ml", &density, 3)?;
        self.write_soap(t)?;
        self.write_hlb(t)?;
        let salt = &self.details.nacl_percent;
        write_figure(t, "Salt as sodium chloride, %", salt, 2)?;
        self.write_natural_origin(t)?;
        for row in self
            .worked_out
            .iter()
            .filter(|r| r.value.is_some_and(|v| v != 0.0))
        {
            let value = row.value.unwrap_or_default();
            writeln!(t, "  {:<36}{value:.*} {}", row.label, row.digits, row.unit)?;
        }
        Ok(())
    }

    /// The pH with what is not known of it.
    fn write_ph(&self, t: &mut String) -> std::fmt::Result {
        let ph = &self.ph;
        line(
            t,
            "pH",
            &spoken(ph.measured, ph.value, ph.low, ph.high, 2),
            ph.ionic_strength
                .map(|i| format!("ionic strength {i:.3} mol/kg"))
                .as_deref(),
        )?;
        if !ph.unknown.is_empty() {
            writeln!(t, "    not known: {}", ph.unknown.join(", "))?;
        }
        for remark in &ph.remarks {
            writeln!(t, "    {remark}")?;
        }
        Ok(())
    }

    /// The preservatives at the pH, and what they cover.
    fn write_preservation(&self, t: &mut String) -> std::fmt::Result {
        for acid in &self.preservation {
            writeln!(
                t,
                "    {}: {:.1} % undissociated at pH {:.1} ({}), {} of the formula{}",
                acid.inci,
                100.0 * acid.undissociated_fraction,
                acid.ph,
                acid.ph_basis,
                acid.effective,
                acid.whereabouts
                    .as_ref()
                    .map_or_else(String::new, |words| format!("; {words}"))
            )?;
        }
        for neutral in &self.preservative_system.in_oil {
            writeln!(
                t,
                "    {}: {:.3} % of the formula; {}",
                neutral.inci, neutral.total_percent, neutral.whereabouts
            )?;
        }
        for c in &self.preservative_system.coverage {
            writeln!(t, "    {}: {} {}", c.group, c.coverage, c.by.join(", "))?;
        }
        for weakener in &self.preservative_system.weakeners {
            writeln!(t, "    {weakener}")?;
        }
        if !self.preservative_system.uptake_unknown.is_empty() {
            writeln!(
                t,
                "    {}: {}",
                preservation::UNPLACED,
                self.preservative_system.uptake_unknown.join(", ")
            )?;
        }
        if !self.preservative_system.unknown.is_empty() {
            let names = self.preservative_system.unknown.join(", ");
            writeln!(t, "    not known: {names}")?;
        }
        if !self.preservation.is_empty() || !self.preservative_system.coverage.is_empty() {
            writeln!(t, "    {}", self.preservative_system.notice)?;
        }
        Ok(())
    }

    /// What lye makes of fats.
    fn write_soap(&self, t: &mut String) -> std::fmt::Result {
        if !self.fats_without_saponification_value.is_empty() {
            let fats = self.fats_without_saponification_value.join(", ");
            line(
                t,
                "Lye needed",
                "not known",
                Some(&format!("no saponification value of {fats}")),
            )?;
        }
        let Some(soap) = &self.soap else {
            return Ok(());
        };
        line(
            t,
            "Alkali, % of what fats need",
            &spoken(
                None,
                soap.alkali_of_need_percent.value,
                soap.alkali_of_need_percent.low,
                soap.alkali_of_need_percent.high,
                1,
            ),
            Some(&if soap.saponified {
                format!("superfat {:.1} %", soap.superfat_percent)
            } else {
                "fatty acids only".to_owned()
            }),
        )?;
        for part in &soap.after_reaction {
            writeln!(t, "    {:<36}{:.2} %", part.inci, part.percent)?;
        }
        Ok(())
    }

    /// What the oils need and the emulsifiers give.
    fn write_hlb(&self, t: &mut String) -> std::fmt::Result {
        if self.hlb.oil_percent <= 0.0 {
            return Ok(());
        }
        line(
            t,
            &format!("HLB required for {}", self.hlb.judged_as),
            &spoken(
                None,
                self.hlb.required,
                self.hlb.required_low,
                self.hlb.required_high,
                1,
            ),
            None,
        )?;
        line(
            t,
            "HLB provided",
            &spoken(
                None,
                self.hlb.provided,
                self.hlb.provided_low,
                self.hlb.provided_high,
                1,
            ),
            None,
        )?;
        for outside in &self.hlb.outside {
            writeln!(t, "    {outside}")?;
        }
        if !self.hlb.unknown.is_empty() {
            writeln!(t, "    not known: {}", self.hlb.unknown.join(", "))?;
        }
        Ok(())
    }

    /// The natural origin with and without water.
    fn write_natural_origin(&self, t: &mut String) -> std::fmt::Result {
        let natural = &self.natural_origin;
        line(
            t,
            "Natural origin with water",
            &spoken(
                None,
                natural.with_water,
                natural.with_water_low,
                natural.with_water_high,
                3,
            ),
            None,
        )?;
        line(
            t,
            "Natural origin without water",
            &spoken(
                None,
                natural.without_water,
                natural.without_water_low,
                natural.without_water_high,
                3,
            ),
            None,
        )?;
        if !natural.unknown.is_empty() {
            writeln!(t, "    not known: {}", natural.unknown.join(", "))?;
        }
        Ok(())
    }
}

fn write_figure(t: &mut String, name: &str, f: &FigureRow, digits: usize) -> std::fmt::Result {
    let value = spoken(f.measured, f.value, f.low, f.high, digits);
    line(t, name, &value, None)?;
    if f.unknown.is_empty() {
        Ok(())
    } else {
        writeln!(t, "    not known: {}", f.unknown.join(", "))
    }
}

fn line(t: &mut String, name: &str, value: &str, more: Option<&str>) -> std::fmt::Result {
    let more = more.map_or_else(String::new, |m| format!("; {m}"));
    writeln!(t, "  {name:<30}{value}{more}")
}

/// A figure in words: measured, one value with its range, a range, or not known.
fn spoken(
    measured: Option<f64>,
    value: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    digits: usize,
) -> String {
    match (measured, value, low, high) {
        (Some(m), _, _, _) => format!("{m:.digits$} (measured)"),
        (None, Some(v), Some(l), Some(h)) if h > l => {
            format!("{v:.digits$} ({l:.digits$} to {h:.digits$})")
        }
        (None, Some(v), _, _) => format!("{v:.digits$}"),
        (None, None, Some(l), Some(h)) => format!("{l:.digits$} to {h:.digits$}"),
        _ => "not known".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chemistry::estimate;
    use crate::fixture::{formula, line, material};
    use crate::material::Class;

    /// What oil takes of a preservative is not known: the report says so by its name.
    #[test]
    fn preservatives_of_unknown_uptake_stand_in_the_report() {
        let pure = |name: &str, class| material(name, &[(name, 100.0, class)]);
        let report = |preservative: &str| {
            let f = formula(vec![
                line(&pure("Aqua", Class::Water), "84.7"),
                line(&pure(preservative, Class::Preservative), "0.3"),
                line(&pure("Helianthus Annuus Seed Oil", Class::Oil), "15"),
            ]);
            let mixture = crate::mixture::Mixture::of(&f, f.active());
            let composition = Composition::of(&mixture);
            let report = EstimatesReport::of(&estimate(&f, f.active()), &composition);
            let mut text = String::new();
            report.write_text(&mut text).unwrap();
            (text, report.preservative_system.uptake_unknown)
        };
        let (text, names) = report("Chlorphenesin");
        let words = format!("{}: Chlorphenesin", preservation::UNPLACED);
        assert!(text.contains(&words), "{text}");
        assert_eq!(names, ["Chlorphenesin"]);
        let (text, names) = report("Phenoxyethanol");
        assert!(
            !text.contains(preservation::UNPLACED) && names.is_empty(),
            "{text}"
        );
    }

    /// The report says of a preservative what the window says, in the same words.
    #[test]
    fn where_a_preservative_is_stands_in_the_report_as_in_the_window() {
        let pure = |name: &str, class| material(name, &[(name, 100.0, class)]);
        let f = formula(vec![
            line(&pure("Aqua", Class::Water), "83.5"),
            line(&pure("Sorbic Acid", Class::Preservative), "0.5"),
            line(&pure("Phenoxyethanol", Class::Preservative), "1"),
            line(&pure("Helianthus Annuus Seed Oil", Class::Oil), "15"),
        ]);
        let mixture = crate::mixture::Mixture::of(&f, f.active());
        let composition = Composition::of(&mixture);
        let estimates = estimate(&f, f.active());
        let report = EstimatesReport::of(&estimates, &composition);
        let mut text = String::new();
        report.write_text(&mut text).unwrap();
        let acid = &estimates.preservation.acids[0];
        let neutral = &estimates.preservation.neutrals[0];
        for words in [
            acid.effective_words(),
            acid.oil.unwrap().words(),
            neutral.oil.words(),
        ] {
            assert!(text.contains(&words), "{words}: {text}");
        }
        let json = serde_json::to_value(&report).unwrap();
        let row = &json["preservation"][0];
        for key in [
            "in_micelles_fraction",
            "free_fraction_low",
            "effective_percent_high",
        ] {
            assert!(row[key].is_number(), "{key}: {row}");
        }
        for (of, key) in [
            ("hlb", "required_method"),
            ("hlb", "provided_source"),
            ("natural_origin", "method"),
            ("natural_origin", "validity"),
            ("natural_origin", "source"),
        ] {
            assert!(
                json[of][key].as_str().is_some_and(|t| !t.is_empty()),
                "{of} {key}"
            );
        }
    }
}
