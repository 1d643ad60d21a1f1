//! What a product is, as `key: value` lines at the head of a table say it: the one
//! place that knows the keys, for CSV, XLSX and every table brought in, both ways.

use std::sync::Arc;

use rust_decimal::prelude::ToPrimitive as _;

use crate::amount::measure::{Measure, tidy};
use crate::amount::{number, typed};
use crate::formula::{BodySite, Formula, ItemId, Kinds, Market, Phase, ProductType, Step, Variant};
use crate::material::{PhaseKind, ProductKind};
use crate::quantity::{self, Ph, celsius, grams, in_celsius, in_grams, in_kg_per_m3};
use crate::specification::{Characteristic, Quality};

/// The keys that are understood, with what they take; any other is for people.
pub const KEYS: [(&str, &str); 24] = [
    ("name", "name of the formula"),
    ("author", "who wrote it"),
    ("variant", "name of the variant"),
    ("kind", "rinse-off or leave-on, or both parted by a comma"),
    ("market", "EU, UK, US, several parted by commas, or none"),
    ("place", "where it is used, several parted by commas"),
    ("type", "type of product"),
    (
        "placed",
        "day of placing on the market, for example 2027-01-15",
    ),
    ("under three", "yes for children under three years"),
    ("spray", "yes if sprayed"),
    ("professional", "yes if for professional use only"),
    ("wet use", "yes if wet hands or water reach it in use"),
    ("fragrance category", "1 to 12, for example 5A"),
    ("measured ph", "pH measured on the product"),
    ("target ph", "pH it shall have"),
    ("measured density", "density measured on the product, g/ml"),
    ("measured water activity", "water activity measured, 0 to 1"),
    (
        "measured viscosity",
        "mPa·s and the method, parted by a semicolon",
    ),
    (
        "specification",
        "what is measured | wanted | lowest | highest | acceptable in words | method; a row for each, figures in the unit of the program",
    ),
    ("batch", "size of the batch, for example 500 g"),
    ("notes", "notes on the formula"),
    ("variant note", "note on the variant"),
    (
        "phase",
        "with its letter, as in `phase A`: kind; temperature; purpose",
    ),
    (
        "step",
        "with the letter of its phase, as in `step A`: what to do | temperature | minutes | tool | check",
    ),
];

/// Lower case, single blanks; a hyphen or underscore is a blank.
fn plain(text: &str) -> String {
    text.split_whitespace()
        .map(str::to_lowercase)
        .collect::<Vec<_>>()
        .join(" ")
}

fn key_of(key: &str) -> String {
    plain(key).replace(['-', '_'], " ")
}

/// Whether a key is that of the kind of product.
pub fn is_kind(key: &str) -> bool {
    matches!(key_of(key).as_str(), "kind" | "kinds")
}

/// Whether a word is one of the keys.
pub fn is_key(key: &str) -> bool {
    let key = key_of(key);
    let first = key.split(' ').next().unwrap_or_default();
    KEYS.iter().any(|(known, _)| *known == key)
        || matches!(
            key.as_str(),
            "kinds"
                | "markets"
                | "places"
                | "market date"
                | "batch size"
                | "batch in grams"
                | "under 3"
        )
        || matches!(first, "phase" | "step") && key.split(' ').count() == 2
}

/// What is told of a remark whose first word is nearly one of the keys by which checks go, so
/// that it may be misspelt: "undr three". `None` for a key, and for words that are none.
pub fn misspelt(key: &str) -> Option<String> {
    /// Remarks for people are headed so as well.
    const FOR_PEOPLE: [&str; 5] = ["name", "author", "notes", "variant", "variant note"];
    /// Shorter words are near too many others.
    const LEAST: usize = 4;
    let written = key_of(key);
    if is_key(key) || written.chars().count() < LEAST {
        return None;
    }
    let most = if written.chars().count() > 6 { 2 } else { 1 };
    let keys = KEYS.iter().map(|(known, _)| *known);
    let near = keys
        .filter(|known| !FOR_PEOPLE.contains(known) && known.len() >= LEAST)
        .map(|known| (strsim::osa_distance(&written, known), known))
        .filter(|(apart, _)| *apart <= most)
        .min()?;
    Some(format!(
        "“{}” says nothing to the program; did you mean “{}”?",
        key.trim(),
        near.1
    ))
}

/// What the maker's words for phases and steps ask for, applied once the lines stand, as is what
/// follows from the type of the product.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct PhaseWords {
    /// Letter and words of each phase.
    pub phases: Vec<(String, String)>,
    /// Letter and words of each step, in order.
    pub steps: Vec<(String, String)>,
    /// Whether it is said where the product is used; else its type tells.
    pub states_places: bool,
    /// Whether it is said that the product is washed off or left on.
    pub states_kinds: bool,
}

impl PhaseWords {
    /// Gives phases their kind, temperature, purpose and steps.
    pub fn apply(&self, formula: &mut Formula, variant: &mut Variant) -> Result<(), String> {
        if !self.states_places {
            let product_type = variant.product.product_type;
            variant.product.become_type(product_type);
        }
        for (letter, words) in &self.phases {
            let Some(phase) = phase_of(variant, letter) else {
                return Err(format!("no line stands in phase {letter}"));
            };
            read_phase(words, phase)?;
        }
        for (letter, words) in &self.steps {
            let id = ItemId(formula.take_id());
            let Some(phase) = phase_of(variant, letter) else {
                return Err(format!("no line stands in phase {letter}"));
            };
            phase.steps.push(read_step(words, id)?);
        }
        Ok(())
    }
}

fn phase_of<'v>(variant: &'v mut Variant, letter: &str) -> Option<&'v mut Phase> {
    variant
        .phases
        .iter_mut()
        .find(|p| p.letter.eq_ignore_ascii_case(letter.trim()))
        .map(Arc::make_mut)
}

/// Reads a `key: value` into formula, variant or the words on phases. `Ok(false)` if
/// the key is none of ours.
pub fn read_key(
    key: &str,
    value: &str,
    formula: &mut Formula,
    variant: &mut Variant,
    phases: &mut PhaseWords,
) -> Result<bool, String> {
    let key = key_of(key);
    let value = value.trim();
    let product = &mut variant.product;
    let list = || {
        value
            .split([',', ';', '/'])
            .map(str::trim)
            .filter(|v| !v.is_empty())
    };
    match key.as_str() {
        "name" => formula.name = unfold(value).into(),
        "author" => formula.author = unfold(value).into(),
        "notes" => formula.notes = unfold(value).into(),
        "variant" => variant.name = unfold(value).into(),
        "variant note" => variant.note = unfold(value).into(),
        "kind" | "kinds" => {
            phases.states_kinds = true;
            product.kinds = kinds_of(value)?;
        }
        "market" | "markets" => {
            product.markets.clear();
            for word in list() {
                if let Some(market) = market_of(word)?
                    && !product.markets.contains(&market)
                {
                    product.markets.push(market);
                }
            }
        }
        "place" | "places" => {
            phases.states_places = true;
            product.places.clear();
            for word in list().filter(|w| !w.eq_ignore_ascii_case("none")) {
                let place = BodySite::ALL
                    .into_iter()
                    .find(|p| {
                        // “Eye” and “intimate” will do for the eye area and the intimate area.
                        let label = p.label();
                        let short = label.strip_suffix(" area").unwrap_or(label);
                        label.eq_ignore_ascii_case(word) || short.eq_ignore_ascii_case(word)
                    })
                    .ok_or_else(|| {
                        let known: Vec<&str> = BodySite::ALL.iter().map(|p| p.label()).collect();
                        format!(
                            "the place “{word}” is not known; write one of: {}",
                            known.join(", ")
                        )
                    })?;
                product.places.push(place);
            }
        }
        "type" => product.product_type = Some(type_of(value)?),
        "placed" | "market date" | "date of placing on the market" => {
            product.market_date = Some(typed::day(value).map_err(|e| e.to_string())?);
        }
        "under three" | "under 3" => product.under_three = yes(&key, value)?,
        "spray" => product.spray = yes(&key, value)?,
        "professional" => product.professional = yes(&key, value)?,
        "wet use" => product.wet_use = yes(&key, value)?,
        "fragrance category" => product.fragrance_category = Some(value.into()),
        "measured ph" => variant.measured.ph = Some(ph(value)?),
        "target ph" => variant.target_ph = Some(ph(value)?),
        "measured density" => {
            let value = value.trim_end_matches("g/ml").trim();
            let density = figure(value, &Measure::DENSITY).map(typed::density_of);
            variant.measured.density = Some(match density {
                Ok(density) => density,
                Err(_) => typed::density(value).map_err(|e| e.to_string())?,
            });
        }
        "measured water activity" => {
            variant.measured.water_activity = Some(figure(value, &Measure::WATER_ACTIVITY)?);
        }
        "measured viscosity" => {
            let (amount, method) = value.split_once(';').unwrap_or((value, ""));
            let amount = figure(amount, &Measure::VISCOSITY)?;
            variant.measured.viscosity_mpa_s = Some((amount, unfold(method.trim()).into()));
        }
        "specification" => {
            let Some(read) = read_characteristic(value)? else {
                return Ok(false);
            };
            let specification = Arc::make_mut(&mut variant.specification);
            specification.characteristics.push(read);
        }
        "batch in grams" => variant.batch = grams(figure(value, &Measure::GRAMS)?),
        "batch" | "batch size" => {
            // Other tables write what they like here; only a mass is taken.
            match mass_in_grams(value) {
                Some(mass) => variant.batch = grams(mass),
                None => return Ok(false),
            }
        }
        key => {
            let mut words = key.split(' ');
            let (Some(first), Some(letter), None) = (words.next(), words.next(), words.next())
            else {
                return Ok(false);
            };
            let entry = (letter.to_owned(), value.to_owned());
            match first {
                "phase" if value.contains(';') => phases.phases.push(entry),
                "step" if !value.is_empty() => phases.steps.push(entry),
                _ => return Ok(false),
            }
        }
    }
    Ok(true)
}

/// The kinds that words name, several parted by commas or “and”.
pub fn kinds_of(value: &str) -> Result<Kinds, String> {
    let kind = |word: &str| {
        let known = ProductKind::ALL.into_iter();
        let mut fitting = known.filter(|k| key_of(k.label()) == key_of(word));
        fitting.next().ok_or_else(|| {
            format!("the kind “{word}” is not known; write `rinse-off`, `leave-on`, or both parted by a comma")
        })
    };
    let words = value.replace(" and ", ",");
    let words = words.split([',', ';', '/', '+']).map(str::trim);
    let kinds: Vec<ProductKind> =
        (words.filter(|w| !w.is_empty()).map(kind)).collect::<Result<_, _>>()?;
    Kinds::of(kinds).ok_or_else(|| {
        "no kind stands there; write `rinse-off`, `leave-on`, or both parted by a comma".to_owned()
    })
}

fn market_of(word: &str) -> Result<Option<Market>, String> {
    match plain(word).as_str() {
        "none" => Ok(None),
        "gb" => Ok(Some(Market::Uk)),
        "usa" => Ok(Some(Market::Us)),
        word => Market::ALL
            .into_iter()
            .find(|m| m.label().eq_ignore_ascii_case(word))
            .map(Some)
            .ok_or_else(|| format!("the market “{word}” is not known; write EU, UK, US or none")),
    }
}

/// The type that a word names.
pub fn type_of(value: &str) -> Result<ProductType, String> {
    ProductType::ALL
        .into_iter()
        .find(|t| {
            plain(t.label()) == plain(value)
                || t.word() == plain(value).replace(' ', "-")
                || format!("{t:?}").eq_ignore_ascii_case(value)
        })
        .ok_or_else(|| {
            let known: Vec<&str> = ProductType::ALL.iter().map(|t| t.word()).collect();
            format!(
                "the type “{value}” is not known; write one of: {}",
                known.join(", ")
            )
        })
}

fn yes(key: &str, value: &str) -> Result<bool, String> {
    match plain(value).as_str() {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        _ => Err(format!(
            "“{value}” does not answer “{key}”; write yes or no"
        )),
    }
}

fn figure(value: &str, measure: &Measure) -> Result<f64, String> {
    typed::plain_or_typed(value, measure).map_err(|e| e.to_string())
}

fn ph(value: &str) -> Result<Ph, String> {
    let number = figure(value, &Measure::PH)?;
    Ph::new(number).ok_or_else(|| format!("“{value}” is not a pH; write a number, for example 5.2"))
}

/// Grams of "500 g" or "1.5 kg".
fn mass_in_grams(value: &str) -> Option<f64> {
    let amount = number::amount(value, None).ok()?;
    let each = amount.unit?.grams()?;
    (amount.value * each).to_f64().filter(|g| *g >= 0.0)
}

/// The places in which a step differs from plain words.
const BAR: &str = " | ";

fn read_phase(words: &str, phase: &mut Phase) -> Result<(), String> {
    let mut parts = words.splitn(3, ';').map(str::trim);
    let kind = parts.next().unwrap_or_default();
    phase.kind = PhaseKind::ALL
        .into_iter()
        .find(|k| k.label().eq_ignore_ascii_case(kind))
        .ok_or_else(|| {
            let known: Vec<&str> = PhaseKind::ALL.iter().map(|k| k.label()).collect();
            format!(
                "the kind of phase “{kind}” is not known; write one of: {}",
                known.join(", ")
            )
        })?;
    phase.temperature = degrees(parts.next().unwrap_or_default())?;
    phase.purpose = unfold(parts.next().unwrap_or_default()).into();
    Ok(())
}

fn degrees(words: &str) -> Result<Option<quantity::Temperature>, String> {
    let words = words.trim();
    if words.is_empty() {
        return Ok(None);
    }
    let plain = words
        .trim_end_matches(['C', 'c'])
        .trim_end_matches(['°', ' ']);
    match number::plain(plain) {
        Some(degrees) => Ok(Some(celsius(number::to_double(degrees)))),
        None => typed::temperature(words)
            .map(Some)
            .map_err(|e| e.to_string()),
    }
}

/// One thing that a product must measure; none if the words are about something else.
fn read_characteristic(words: &str) -> Result<Option<Characteristic>, String> {
    let mut parts = words.split(BAR.trim()).map(str::trim);
    let name = plain(parts.next().unwrap_or_default());
    let Some(quality) = Quality::ALL.into_iter().find(|q| plain(q.label()) == name) else {
        return Ok(None);
    };
    let mut next = || parts.next().unwrap_or_default();
    let stated = |text: &str| match quality.measure() {
        _ if text.is_empty() => Ok(None),
        Some(measure) => figure(text, measure)
            .map(Some)
            .map_err(|e| format!("the specification of {name}: {e}")),
        None => Err(format!(
            "the specification of {name} is in words, “{text}” is a figure in a place where none belongs"
        )),
    };
    Ok(Some(Characteristic {
        quality,
        target: stated(next())?,
        low: stated(next())?,
        high: stated(next())?,
        accept: unfold(next()).into(),
        method: unfold(next()).into(),
    }))
}

fn read_step(words: &str, id: ItemId) -> Result<Step, String> {
    let mut parts = words.split(BAR.trim()).map(str::trim);
    let mut next = || unfold(parts.next().unwrap_or_default());
    let text = next();
    let temperature = degrees(&next())?;
    let minutes = next();
    let minutes = match minutes.trim_end_matches("min").trim() {
        "" => None,
        digits => Some(
            digits
                .parse()
                .map_err(|_error| format!("“{minutes}” is not a number of minutes"))?,
        ),
    };
    Ok(Step {
        id,
        text: text.into(),
        temperature,
        minutes,
        tool: next().into(),
        check: next().into(),
    })
}

/// Line breaks, and the marks that part fields, as one line can carry them.
fn fold(text: &str) -> String {
    let folded = text
        .replace('\\', "\\\\")
        .replace('\n', "\\n")
        .replace('\r', "")
        .replace('\t', "\\t")
        .replace('|', "\\p");
    // Whoever reads a cell leaves blanks at its ends out.
    let inner = folded.trim_matches(' ');
    let before = folded.len() - folded.trim_start_matches(' ').len();
    let after = folded.len() - before.min(folded.len()) - inner.len();
    ["\\s".repeat(before), inner.to_owned(), "\\s".repeat(after)].concat()
}

/// Words as they were before they were folded into one cell.
pub(crate) fn unfold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        if letter != '\\' {
            out.push(letter);
            continue;
        }
        match letters.next() {
            Some('n') => out.push('\n'),
            Some('p') => out.push('|'),
            Some('s') => out.push(' '),
            Some('t') => out.push('\t'),
            Some(other) => out.push(other),
            None => out.push('\\'),
        }
    }
    out
}

/// The lines that describe formula and variant, in the order of [`KEYS`]; what has its
/// usual value and would be read so again is left out, except what decides on rules.
pub fn lines(formula: &Formula, variant: &Variant) -> Vec<(String, String)> {
    let mut lines: Vec<(String, String)> = Vec::new();
    let mut say = |key: &str, value: String| {
        if !value.is_empty() {
            lines.push((key.to_owned(), value));
        }
    };
    let product = &variant.product;
    say("name", fold(&formula.name));
    say("author", fold(&formula.author));
    say("variant", fold(&variant.name));
    let kinds: Vec<&str> = product.kinds.iter().map(ProductKind::label).collect();
    say("kind", kinds.join(", "));
    let markets: Vec<&str> = product.markets.iter().map(|m| m.label()).collect();
    say(
        "market",
        if markets.is_empty() {
            "none".to_owned()
        } else {
            markets.join(", ")
        },
    );
    let places: Vec<&str> = product.places.iter().map(|p| p.label()).collect();
    say(
        "place",
        if places.is_empty() {
            "none".to_owned()
        } else {
            places.join(", ")
        },
    );
    say(
        "type",
        product
            .product_type
            .map(|t| t.word().to_owned())
            .unwrap_or_default(),
    );
    say(
        "placed",
        product
            .market_date
            .map(|d| d.to_string())
            .unwrap_or_default(),
    );
    for (key, said) in [
        ("under three", product.under_three),
        ("spray", product.spray),
        ("professional", product.professional),
        ("wet use", product.wet_use),
    ] {
        say(
            key,
            if said {
                "yes".to_owned()
            } else {
                String::new()
            },
        );
    }
    say(
        "fragrance category",
        product
            .fragrance_category
            .as_deref()
            .unwrap_or_default()
            .to_owned(),
    );
    let measured = &variant.measured;
    let ph = |ph: Option<Ph>| ph.map(|p| shortest(p.value())).unwrap_or_default();
    say("measured ph", ph(measured.ph));
    say("target ph", ph(variant.target_ph));
    say(
        "measured density",
        measured
            .density
            .map(|d| shortest(in_kg_per_m3(d) / 1000.0))
            .unwrap_or_default(),
    );
    say(
        "measured water activity",
        measured.water_activity.map(shortest).unwrap_or_default(),
    );
    say(
        "measured viscosity",
        measured
            .viscosity_mpa_s
            .as_ref()
            .map(|(v, method)| format!("{}; {}", shortest(*v), fold(method)))
            .unwrap_or_default(),
    );
    for one in &variant.specification.characteristics {
        let figure = |v: Option<f64>| v.map(shortest).unwrap_or_default();
        let fields = [
            one.quality.label().to_owned(),
            figure(one.target),
            figure(one.low),
            figure(one.high),
            fold(&one.accept),
            fold(&one.method),
        ];
        let words = fields.join(BAR);
        say(
            "specification",
            words.trim_end_matches([' ', '|']).to_owned(),
        );
    }
    say("batch", format!("{} g", shortest(in_grams(variant.batch))));
    say("notes", fold(&formula.notes));
    say("variant note", fold(&variant.note));
    lines.extend(phase_lines(variant));
    lines
}

/// The lines on phases and steps.
fn phase_lines(variant: &Variant) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for phase in &variant.phases {
        let temperature = |t: Option<quantity::Temperature>| {
            t.map(|t| format!("{} °C", shortest(in_celsius(t))))
                .unwrap_or_default()
        };
        lines.push((
            format!("phase {}", phase.letter),
            format!(
                "{}; {}; {}",
                phase.kind.label(),
                temperature(phase.temperature),
                fold(&phase.purpose)
            ),
        ));
        for step in &phase.steps {
            let fields = [
                fold(&step.text),
                temperature(step.temperature),
                step.minutes.map(|m| format!("{m} min")).unwrap_or_default(),
                fold(&step.tool),
                fold(&step.check),
            ];
            let words = fields.join(BAR);
            lines.push((
                format!("step {}", phase.letter),
                words.trim_end_matches([' ', '|']).to_owned(),
            ));
        }
    }
    lines
}

/// A number as short as it reads back, without binary tails of conversions.
fn shortest(value: f64) -> String {
    tidy(value, 9).to_string()
}

/// What of a formula no table carries, in words; empty if all is carried.
pub fn not_carried(formula: &Formula, variants: &[&Arc<Variant>]) -> Vec<String> {
    // Field by field, so that a new one does not compile until it is decided upon.
    let Formula {
        name: _,
        kept_as,
        notes: _,
        author: _,
        variants: all,
        active,
        materials: _,
        set_aside,
        history,
        next_id: _,
    } = formula;
    let mut left = Vec::new();
    if all.len() > variants.len() {
        left.push("variants no longer used or not chosen".to_owned());
    }
    if variants.len() > 1 && variants.first().is_some_and(|first| first.id != *active) {
        left.push("which variant is worked on; the first will be".to_owned());
    }
    if kept_as.as_ref().is_some_and(|kept| *kept != formula.name) {
        left.push("under which name batches of it are kept".to_owned());
    }
    for variant in variants {
        let Variant {
            id: _,
            name: _,
            note: _,
            parent,
            created,
            archived: _,
            product: _,
            phases: _,
            filler: _,
            target_ph: _,
            batch: _,
            measured: _,
            label,
            specification: _,
        } = &***variant;
        let usual = [
            (
                **label == crate::label_info::LabelInfo::default(),
                "what you state for the label",
            ),
            (
                parent.is_none() && created.is_none(),
                "the day a variant was made and what it was made from",
            ),
        ];
        for (is_usual, words) in usual {
            if !is_usual && !left.iter().any(|l| l == words) {
                left.push(words.to_owned());
            }
        }
    }
    if !set_aside.is_empty() {
        left.push("findings set aside".to_owned());
    }
    if !history.is_empty() {
        left.push("earlier states".to_owned());
    }
    let strange = |letter: &str| letter.chars().any(char::is_whitespace) || letter.is_empty();
    let doubled = |v: &Variant| {
        v.phases
            .iter()
            .enumerate()
            .any(|(n, p)| v.phases.iter().take(n).any(|q| q.letter == p.letter))
    };
    if variants.iter().any(|v| {
        doubled(v)
            || v.phases
                .iter()
                .any(|p| p.lines.is_empty() || strange(&p.letter))
    }) {
        left.push(
            "phases without lines, or with a letter that is no single word or stands twice"
                .to_owned(),
        );
    }
    left.push("the composition of materials, which is found on the shelf by name".to_owned());
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::specification::Specification;

    #[test]
    fn kinds_are_read_in_any_usual_spelling() {
        for text in [
            "rinse-off, leave-on",
            "Leave on and rinse off",
            "leave-on/Rinse-Off",
        ] {
            assert_eq!(kinds_of(text), Ok(Kinds::Both), "{text}");
        }
        assert_eq!(kinds_of("Rinse off"), Ok(ProductKind::RinseOff.into()));
        for wrong in ["", "washed", "rinse-off, stay-on"] {
            assert!(kinds_of(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn what_is_written_reads_back() {
        let mut formula = Formula::new("Heather | balm");
        formula.notes = "two\nlines \\ and a bar |".into();
        let mut variant = Variant::clone(formula.active());
        variant.product.kinds = Kinds::Both;
        variant.product.under_three = true;
        variant.product.wet_use = true;
        variant.product.markets = vec![Market::Eu, Market::Us];
        variant.product.places = vec![BodySite::Feet, BodySite::EyeArea];
        variant.product.product_type = Some(ProductType::FootCare);
        variant.measured.ph = Ph::new(5.2);
        variant.measured.viscosity_mpa_s = Some((12_000.0, "spindle 4; 20 rpm".into()));
        variant.target_ph = Ph::new(5.0);
        variant.batch = grams(512.5);
        variant.specification = Arc::new(Specification {
            characteristics: vec![
                Characteristic {
                    low: Some(3500.5),
                    high: Some(6000.0),
                    method: "spindle LV3 | 12 rpm".into(),
                    ..Characteristic::new(Quality::Viscosity)
                },
                Characteristic {
                    high: Some(5.4),
                    ..Characteristic::new(Quality::Ph)
                },
                Characteristic {
                    accept: "clear, straw\nyellow".into(),
                    ..Characteristic::new(Quality::Appearance)
                },
                Characteristic::new(Quality::Odour),
            ],
        });
        let mut back = Formula::new("x");
        let mut read = Variant::clone(back.active());
        let mut phases = PhaseWords::default();
        for (key, value) in lines(&formula, &variant) {
            assert!(is_key(&key), "{key}");
            assert!(
                read_key(&key, &value, &mut back, &mut read, &mut phases).unwrap(),
                "{key}"
            );
        }
        phases.phases.clear();
        assert_eq!(read, variant);
        assert_eq!((back.name, back.notes), (formula.name, formula.notes));
    }

    /// Where no place is said, the type tells; a place that is said stays, in any order.
    #[test]
    fn a_type_brings_its_place() {
        for (head, places) in [
            (&[("type", "toothpaste")][..], &[BodySite::Mouth][..]),
            (&[("type", "shampoo")], &[BodySite::Hair, BodySite::Scalp]),
            (&[("type", "shower-gel")], &[BodySite::Body]),
            (
                &[("place", "face"), ("type", "body-lotion")],
                &[BodySite::Face],
            ),
            (
                &[("type", "body-lotion"), ("place", "face")],
                &[BodySite::Face],
            ),
            (&[("kind", "leave-on")], &[BodySite::Body]),
        ] {
            let mut formula = Formula::new("x");
            let mut variant = Variant::clone(formula.active());
            let mut words = PhaseWords::default();
            for (key, value) in head {
                read_key(key, value, &mut formula, &mut variant, &mut words).unwrap();
            }
            words.apply(&mut formula, &mut variant).unwrap();
            assert_eq!(variant.product.places, places, "{head:?}");
        }
    }

    #[test]
    fn words_that_are_no_specification_are_left_to_people() {
        assert_eq!(read_characteristic("see the folder"), Ok(None));
        let wrong = read_characteristic("viscosity | | thick").unwrap_err();
        assert!(wrong.contains("viscosity"), "{wrong}");
        assert!(read_characteristic("odour | 5").is_err());
    }

    #[test]
    fn steps_read_back() {
        let step = read_step(
            "Heat and hold | 75 °C | 20 min | steel beaker | clear",
            ItemId(7),
        )
        .unwrap();
        assert_eq!(
            (step.minutes, &*step.tool, &*step.check),
            (Some(20), "steel beaker", "clear")
        );
        assert!((in_celsius(step.temperature.unwrap()) - 75.0).abs() < 1e-9);
        assert!(read_step("Stir || soon", ItemId(1)).is_err());
    }
}
