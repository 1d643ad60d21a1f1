//! Paper for trials: weigh sheets of a planned set, labels of samples, entry forms.

use super::pdf::{Align, Flow, PaperCell, PdfError, Printing, Style};
use crate::batch::rounding::largest_remainder;
use crate::formula::{Formula, Variant};
use crate::harmless;
use crate::mass::ExactMass;
use crate::quantity::Percent;
use crate::trial::plan::{CheckedTrial, Run, Varied, formula_of};
use crate::trial::reading::Quantity;
use crate::trial::stability::StabilityPlan;

const BODY: Style = Style::plain(9.5);
const SMALL: Style = Style::quiet(8.0);

/// Step of the scale for small beakers.
const STEP_FEMTOGRAMS: i128 = 10_000_000_000_000;
/// Digits that show it in grams.
const STEP_DIGITS: usize = 2;

/// Steps of the scale for each line of a beaker; they add up to the whole.
fn steps(variant: &Variant, mass: ExactMass) -> Option<Vec<u128>> {
    let weights: Vec<u128> = variant
        .lines()
        .map(|(_, l)| u128::try_from(l.percent.units()).unwrap_or(0))
        .collect();
    let whole = u128::try_from(mass.femtograms() / STEP_FEMTOGRAMS).ok()?;
    largest_remainder(&weights, whole)
}

/// Shares of the width: tick, phase, material, %, g, weighed.
const WEIGH: [f32; 6] = [0.05, 0.06, 0.43, 0.14, 0.14, 0.18];
const THIRDS: [f32; 3] = [1.0 / 3.0; 3];

/// The weigh sheets of a planned set in the order in which its beakers are made, several on
/// a page.
pub fn set_pdf<'p>(
    formula: &Formula,
    variant: &Variant,
    varied: &Varied,
    runs: &[Run],
    mass: ExactMass,
    on: impl Into<Printing<'p>>,
) -> Result<Vec<u8>, PdfError> {
    let mut flow = Flow::new(on)?;
    flow.paragraph("Weigh sheets of a planned set", SMALL, 0.0);
    flow.paragraph(&formula.name, Style::bold(17.0), 0.0);
    flow.paragraph(
        &format!(
            "{} · {} beakers of {:.STEP_DIGITS$} g, to be made in this order",
            variant.name,
            runs.len(),
            mass.as_grams()
        ),
        Style::quiet(10.0),
        0.0,
    );
    let mut ordered: Vec<&Run> = runs.iter().collect();
    ordered.sort_by_key(|r| r.order);
    for run in ordered {
        let made = formula_of(formula, variant, varied, run);
        let made = made.active();
        let lines = made.lines().count();
        // A beaker is not torn between two pages.
        flow.need(64.0 + 15.0 * lines as f32);
        flow.space(8.0);
        flow.rule(1.0);
        flow.heading(
            &format!(
                "Beaker {} of {} · mixture {}",
                run.order,
                runs.len(),
                run.mixture
            ),
            11.0,
        );
        let grams = steps(made, mass);
        for (i, (phase, line)) in made.lines().enumerate() {
            let name = formula
                .material(&line.material)
                .map_or_else(|| line.material.to_string(), |m| m.name.to_string());
            let varies = varied.lines().any(|id| id == line.id);
            let style = if varies { Style::bold(9.5) } else { BODY };
            let grams = grams
                .as_ref()
                .and_then(|g| g.get(i))
                .map_or_else(String::new, |g| {
                    format!(
                        "{:.STEP_DIGITS$} g",
                        *g as f64 / 10_f64.powi(STEP_DIGITS as i32)
                    )
                });
            flow.row(
                &[
                    PaperCell::Tick,
                    PaperCell::text(phase.letter.to_string(), BODY),
                    PaperCell::text(name, style),
                    PaperCell::number(format!("{} %", line.percent), style),
                    PaperCell::number(grams, style),
                    PaperCell::Field,
                ],
                &WEIGH,
                i % 2 == 1,
            );
        }
        flow.row(
            &["pH", "Viscosity, mPa·s, and how", "Remark"].map(|words| {
                PaperCell::Text(
                    vec![(words.to_owned(), SMALL), (" ".to_owned(), BODY)],
                    Align::Left,
                )
            }),
            &THIRDS,
            false,
        );
    }
    flow.finish(
        &format!("Weigh sheets: {}", formula.name),
        &format!("{} · planned set", formula.name),
    )
}

/// Labels of the samples of a stability plan, to be cut and stuck on: in order of time.
pub fn labels_pdf<'p>(
    name: &str,
    number: usize,
    plan: &StabilityPlan,
    on: impl Into<Printing<'p>>,
) -> Result<Vec<u8>, PdfError> {
    let mut flow = Flow::new(on)?;
    let mut labels = Vec::new();
    for (t, time) in plan.times.iter().enumerate() {
        for condition in &plan.conditions {
            let day = plan.day(t).map_or_else(String::new, |d| d.to_string());
            labels.push(PaperCell::Text(
                vec![
                    (name.to_owned(), Style::bold(9.5)),
                    (format!("Trial {} · plan {}", plan.trial, number + 1), SMALL),
                    (format!("{condition} · {}", time.name), Style::bold(12.0)),
                    (format!("read on {day}"), BODY),
                    (format!("made on {}", plan.start), SMALL),
                ],
                Align::Left,
            ));
        }
    }
    for three in labels.chunks(3) {
        let mut row = three.to_vec();
        row.resize(3, PaperCell::Empty);
        flow.need(84.0);
        flow.row(&row, &THIRDS, false);
        flow.rule(0.4);
    }
    flow.finish(&format!("Labels: {name}"), name)
}

/// A form to write the readings of a stability plan on: the quantities that have a limit, and
/// those that every sample is looked at for.
pub fn entry_form_pdf<'p>(
    name: &str,
    number: usize,
    plan: &StabilityPlan,
    on: impl Into<Printing<'p>>,
) -> Result<Vec<u8>, PdfError> {
    let mut quantities = vec![Quantity::Ph, Quantity::Viscosity];
    quantities.extend(plan.limits.iter().map(|l| l.quantity));
    quantities.extend([Quantity::Smell, Quantity::Separation]);
    let mut kept: Vec<Quantity> = Vec::new();
    for quantity in quantities {
        if !kept.contains(&quantity) {
            kept.push(quantity);
        }
    }
    kept.truncate(7);
    let mut flow = Flow::new(on)?;
    flow.paragraph("Entry form of a stability plan", SMALL, 0.0);
    flow.paragraph(name, Style::bold(17.0), 0.0);
    flow.paragraph(
        &format!(
            "Trial {} · plan {} · begun on {} · let samples come to the temperature of the reading first (common practice, no source)",
            plan.trial,
            number + 1,
            plan.start
        ),
        Style::quiet(9.0),
        0.0,
    );
    let columns = kept.len() + 1;
    let mut widths = vec![0.24];
    widths.extend(std::iter::repeat_n(0.76 / columns as f32, columns));
    for (t, time) in plan.times.iter().enumerate() {
        flow.need(40.0 + 18.0 * plan.conditions.len() as f32);
        let day = plan.day(t).map_or_else(String::new, |d| d.to_string());
        flow.heading(&format!("{} · {day}", time.name), 11.0);
        let mut head = vec![PaperCell::text("Condition", SMALL)];
        for quantity in &kept {
            let unit = quantity.unit();
            let words = if unit.is_empty() {
                quantity.label().to_owned()
            } else {
                format!("{}, {unit}", quantity.label())
            };
            head.push(PaperCell::text(words, SMALL));
        }
        head.push(PaperCell::text("Day, by", SMALL));
        flow.row(&head, &widths, true);
        for condition in &plan.conditions {
            let mut row = vec![PaperCell::text(condition.as_str(), BODY)];
            row.extend(std::iter::repeat_n(PaperCell::Field, columns));
            flow.row(&row, &widths, false);
        }
    }
    for limit in &plan.limits {
        flow.paragraph(&format!("Your limit: {}", limit.sentence()), SMALL, 0.0);
    }
    for quantity in kept.iter().filter(|q| !q.words().is_empty()) {
        flow.paragraph(
            &format!("{}: {}", quantity.label(), quantity.words().join(", ")),
            SMALL,
            0.0,
        );
    }
    flow.finish(&format!("Entry form: {name}"), name)
}

/// The table of a planned set, to be filled in: one row a beaker in the order of making.
pub fn set_csv(
    formula: &Formula,
    variant: &Variant,
    varied: &Varied,
    checked: &[CheckedTrial],
    mass: ExactMass,
) -> Result<String, csv::Error> {
    let name_of = |id| {
        variant
            .line(id)
            .and_then(|l| formula.material(&l.material))
            .map_or_else(|| "a line".to_owned(), |m| m.name.to_string())
    };
    let names: Vec<String> = varied.lines().map(name_of).collect();
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut head = vec!["order".to_owned(), "mixture".to_owned()];
    head.extend(
        names
            .iter()
            .flat_map(|name| [format!("{name} %"), format!("{name} g")]),
    );
    let rest = [
        "breaches",
        "first of them",
        "viscosity mPa·s",
        "pH",
        "remark",
    ];
    head.extend(rest.map(str::to_owned));
    writer.write_record(&head)?;
    for one in checked {
        let mut row = vec![one.run.order.to_string(), one.run.mixture.to_string()];
        for percent in &one.run.percents {
            let grams = mass
                .ratio(
                    i128::from(percent.units()),
                    i128::from(Percent::HUNDRED.units()),
                )
                .as_grams();
            row.extend([percent.to_string(), format!("{grams:.3}")]);
        }
        let first = one.breaches.first().cloned().unwrap_or_default();
        row.extend([one.breaches.len().to_string(), first]);
        // What is read stands in the last three.
        row.extend([const { String::new() }; 3]);
        writer.write_record(&row)?;
    }
    harmless::csv(writer)
}
