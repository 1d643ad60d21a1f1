//! Differences in words: one sentence each, and a note of the change for the
//! maker's notebook.

use std::fmt::Write as _;

use super::difference::PhaseHead;
use super::figures::ComparedFigure;
use super::texts::{self, TextChange};
use super::{
    Compared, Comparison, Difference, DifferenceSubject, LineRelation, Side, label_words,
    specification_words,
};
use crate::amount::measure::tidy;
use crate::amount::typed;
use crate::formula::{ItemId, Line, Measured, Product, Step};
use crate::material_change::material_changes;
use crate::purpose::Purpose;
use crate::quantity::{Percent, Ph, Temperature, in_celsius, in_grams};

/// What stands where nothing is stated.
const NOTHING: &str = "nothing";

/// A difference in words, from the left to the right; without a final stop.
pub fn words(difference: &Difference, left: Compared<'_>, right: Compared<'_>) -> String {
    let names = Names { left, right };
    match difference {
        Difference::Product(both) => product(&both.left, &both.right),
        Difference::TargetPh(both) => {
            format!("pH aimed at: {} → {}", ph(both.left), ph(both.right))
        }
        Difference::Batch(both) => format!(
            "Batch: {} g → {} g",
            tidy(in_grams(both.left), 6),
            tidy(in_grams(both.right), 6)
        ),
        Difference::Measured(both) => {
            format!(
                "Measured: {} → {}",
                measured(&both.left),
                measured(&both.right)
            )
        }
        Difference::Label(both) => {
            format!("Label: {}", label_words::words(&both.left, &both.right))
        }
        Difference::Specification(both) => {
            let said = specification_words::words(&both.left, &both.right);
            format!("Specification: {said}")
        }
        Difference::Filler(both) => format!(
            "Filler: {} → {}",
            names.line(Side::Left, both.left),
            names.line(Side::Right, both.right)
        ),
        Difference::PhaseOnly { side, head, .. } => match side {
            Side::Left => format!("Phase {} removed", head.letter),
            Side::Right => format!("Phase {} added", head.letter),
        },
        Difference::PhaseHead { head, .. } => {
            format!(
                "Phase {}: {}",
                head.left.letter,
                head_words(&head.left, &head.right)
            )
        }
        Difference::PhaseOrder { ids } => {
            format!(
                "Phase {} in another order",
                names.phase(Side::Left, ids.left)
            )
        }
        Difference::LineOnly {
            side,
            phase,
            line,
            relation,
        } => {
            let name = names.of(*side, line);
            let phase = names.phase(*side, *phase);
            alone_words(*side, *relation, (&name, &phase), line.percent)
        }
        Difference::LineMaterial { ids, relation, .. } => {
            let from = names.line(Side::Left, Some(ids.left));
            let to = names.line(Side::Right, Some(ids.right));
            match relation {
                LineRelation::Renamed => format!("{from} is now called {to}"),
                _ => format!("{from} swapped for {to}"),
            }
        }
        Difference::LinePercent { ids, percent } => {
            let name = names.line(Side::Right, Some(ids.right));
            let change = percent.right - percent.left;
            format!(
                "{name}: {} % → {} % ({})",
                percent.left,
                percent.right,
                signed(change)
            )
        }
        Difference::LinePlace { ids, phase } => {
            let name = names.line(Side::Right, Some(ids.right));
            let (from, to) = (
                names.phase(Side::Left, phase.left),
                names.phase(Side::Right, phase.right),
            );
            if from == to {
                format!("{name} in another order in phase {to}")
            } else {
                format!("{name} moved from phase {from} to phase {to}")
            }
        }
        Difference::LineWhy { ids, why } => format!(
            "{}: why it is here: “{}” → “{}”",
            names.line(Side::Right, Some(ids.right)),
            why.left,
            why.right
        ),
        Difference::LineHeld { ids, held } => format!(
            "{} {}",
            names.line(Side::Right, Some(ids.right)),
            if held.right { "held" } else { "no longer held" }
        ),
        Difference::LinePurpose { ids, purpose } => {
            let word = |p: Option<Purpose>| p.map_or("left open", Purpose::label);
            format!(
                "{}: purpose {} → {}",
                names.line(Side::Right, Some(ids.right)),
                word(purpose.left),
                word(purpose.right)
            )
        }
        Difference::LineRange { ids, range } => format!(
            "{}: own bounds {} → {}",
            names.line(Side::Right, Some(ids.right)),
            own_range_words(range.left),
            own_range_words(range.right)
        ),
        Difference::StepOnly { side, phase, step } => {
            let phase = names.phase(*side, *phase);
            let what = step_words(step);
            match side {
                Side::Left => format!("Step removed in phase {phase}: {what}"),
                Side::Right => format!("Step added in phase {phase}: {what}"),
            }
        }
        Difference::StepContent { step, .. } => {
            format!(
                "Step: {} → {}",
                step_words(&step.left),
                step_words(&step.right)
            )
        }
        Difference::StepPlace { ids, phase } => {
            let step = right.variant.phases.iter().flat_map(|p| &p.steps);
            let what = step
                .into_iter()
                .find(|s| s.id == ids.right)
                .map_or_else(String::new, step_words);
            format!(
                "Step in another place, now in phase {}: {what}",
                names.phase(Side::Right, phase.right)
            )
        }
        Difference::Material(both) => {
            let changes = material_changes(&both.left, &both.right).into_iter();
            let changes = changes.map(|c| format!("{} {} → {}", c.field, c.before, c.after));
            let changes: Vec<String> = changes.collect();
            let name = &both.right.name;
            // Between fields, because a source may follow a semicolon.
            let changes = changes.join(" · ");
            format!("The data of {name} differ between the two files: {changes}")
        }
    }
}

/// What differs in the heads of two phases.
fn head_words(a: &PhaseHead, b: &PhaseHead) -> String {
    let mut parts = Vec::new();
    if a.letter != b.letter {
        parts.push(format!("now called {}", b.letter));
    }
    if a.kind != b.kind {
        parts.push(format!("{} → {}", a.kind.label(), b.kind.label()));
    }
    if a.purpose != b.purpose {
        parts.push(format!("purpose “{}” → “{}”", a.purpose, b.purpose));
    }
    if a.temperature != b.temperature {
        parts.push(format!(
            "{} → {}",
            degrees(a.temperature),
            degrees(b.temperature)
        ));
    }
    parts.join(", ")
}

/// A line that stands on one side alone.
fn alone_words(
    side: Side,
    relation: LineRelation,
    (name, phase): (&str, &str),
    percent: Percent,
) -> String {
    match (side, relation) {
        (Side::Left, LineRelation::Split) => {
            format!("{name}: the part of {percent} % in phase {phase} removed")
        }
        (Side::Right, LineRelation::Split) => {
            format!("{name}: a further part of {percent} % in phase {phase}")
        }
        (Side::Left, _) => format!("{name} removed ({percent} % in phase {phase})"),
        (Side::Right, _) => format!("{name} added, {percent} % in phase {phase}"),
    }
}

/// A note of the change from the left to the right, in plain text, to be edited.
///
/// `figures` are those of both sides in the same order; the ones that differ are
/// listed at the end. Of notes it says only that they differ, so that it can be put into one
/// without saying it twice.
pub fn change_note(
    left: Compared<'_>,
    right: Compared<'_>,
    comparison: &Comparison,
    figures: (&[ComparedFigure], &[ComparedFigure]),
) -> String {
    let named = |text: &TextChange| format!("{} changed", text.what);
    told(left, right, comparison, figures, named)
}

/// The same with both texts of the notes that differ.
pub fn change_in_full(
    left: Compared<'_>,
    right: Compared<'_>,
    comparison: &Comparison,
    figures: (&[ComparedFigure], &[ComparedFigure]),
) -> String {
    told(left, right, comparison, figures, TextChange::words)
}

fn told(
    left: Compared<'_>,
    right: Compared<'_>,
    comparison: &Comparison,
    figures: (&[ComparedFigure], &[ComparedFigure]),
    text: impl Fn(&TextChange) -> String,
) -> String {
    let texts: Vec<String> = texts::of(left, right).iter().map(text).collect();
    let mut out = String::new();
    // Writing into a string does not fail.
    let _ = write_note(&mut out, (left, right), comparison, &texts, figures);
    out
}

fn write_note(
    out: &mut String,
    (left, right): (Compared<'_>, Compared<'_>),
    comparison: &Comparison,
    texts: &[String],
    (before, after): (&[ComparedFigure], &[ComparedFigure]),
) -> std::fmt::Result {
    let title = |side: Compared<'_>, other: Compared<'_>| {
        if side.formula.name == other.formula.name {
            side.variant.name.to_string()
        } else {
            format!("{}, {}", side.formula.name, side.variant.name)
        }
    };
    writeln!(
        out,
        "Change from “{}” to “{}”",
        title(left, right),
        title(right, left)
    )?;
    if comparison.is_empty() && texts.is_empty() {
        return writeln!(out, "\n- {NOTHING} differs");
    }
    type Belongs = fn(&DifferenceSubject) -> bool;
    let groups: [(&str, Belongs); 5] = [
        ("", |s| matches!(s, DifferenceSubject::Whole)),
        ("Phases", |s| matches!(s, DifferenceSubject::Phase(_))),
        ("Lines", |s| matches!(s, DifferenceSubject::Line(_))),
        ("Steps", |s| matches!(s, DifferenceSubject::Step(_))),
        ("Materials", |s| matches!(s, DifferenceSubject::Material(_))),
    ];
    for (heading, belongs) in groups {
        let mut of_group = comparison
            .differences
            .iter()
            .filter(|d| belongs(&d.subject()))
            .peekable();
        if of_group.peek().is_none() {
            continue;
        }
        writeln!(out)?;
        if !heading.is_empty() {
            writeln!(out, "{heading}")?;
        }
        for difference in of_group {
            writeln!(out, "- {}", words(difference, left, right))?;
        }
    }
    if !texts.is_empty() {
        writeln!(out, "\nNotes")?;
    }
    for text in texts {
        writeln!(out, "- {text}")?;
    }
    let mut changed = before
        .iter()
        .zip(after)
        .filter(|(a, b)| a.differs(b))
        .peekable();
    if changed.peek().is_some() {
        writeln!(out, "\nEffect")?;
    }
    for (a, b) in changed {
        let note = if b.ground == super::figures::Certainty::Estimated {
            ", estimated"
        } else {
            ""
        };
        writeln!(out, "- {}: {} → {}{note}", b.label, a.shown(), b.shown())?;
    }
    Ok(())
}

struct Names<'a> {
    left: Compared<'a>,
    right: Compared<'a>,
}

impl Names<'_> {
    fn side(&self, side: Side) -> Compared<'_> {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }
    fn of(&self, side: Side, line: &Line) -> String {
        self.side(side)
            .formula
            .material(&line.material)
            .map_or_else(|| line.material.to_string(), |m| m.name.to_string())
    }
    fn line(&self, side: Side, id: Option<ItemId>) -> String {
        id.and_then(|id| self.side(side).variant.line(id))
            .map_or_else(|| "none".to_owned(), |line| self.of(side, line))
    }
    fn phase(&self, side: Side, id: ItemId) -> String {
        self.side(side)
            .variant
            .phase(id)
            .map_or_else(String::new, |p| p.letter.to_string())
    }
}

fn product(a: &Product, b: &Product) -> String {
    let mut parts = Vec::new();
    let list = |labels: Vec<&str>| {
        if labels.is_empty() {
            "none".to_owned()
        } else {
            labels.join(", ")
        }
    };
    let mut say = |what: &str, a: String, b: String| {
        if a != b {
            parts.push(format!("{what} {a} → {b}"));
        }
    };
    say("kind", a.kinds.label().into(), b.kinds.label().into());
    let type_of = |p: &Product| {
        p.product_type
            .map_or("not stated", |t| t.label())
            .to_owned()
    };
    say("type", type_of(a), type_of(b));
    let places = |p: &Product| list(p.places.iter().map(|x| x.label()).collect());
    say("place of use", places(a), places(b));
    let markets = |p: &Product| list(p.markets.iter().map(|x| x.label()).collect());
    say("market", markets(a), markets(b));
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_owned();
    say(
        "for children under three",
        yes(a.under_three),
        yes(b.under_three),
    );
    say("spray", yes(a.spray), yes(b.spray));
    say("professional use", yes(a.professional), yes(b.professional));
    say("wet hands", yes(a.wet_use), yes(b.wet_use));
    let date = |p: &Product| {
        p.market_date
            .map_or_else(|| "not stated".into(), |d| d.to_string())
    };
    say("day of placing on the market", date(a), date(b));
    let category = |p: &Product| {
        let category = p.fragrance_category.as_deref();
        category.unwrap_or("not stated").to_owned()
    };
    say("fragrance category", category(a), category(b));
    format!("Product: {}", parts.join("; "))
}

fn measured(measured: &Measured) -> String {
    let mut parts = Vec::new();
    if let Some(ph) = measured.ph {
        parts.push(format!("pH {ph}"));
    }
    if let Some(density) = measured.density {
        parts.push(format!("density {}", typed::shown_density(density)));
    }
    if let Some(activity) = measured.water_activity {
        parts.push(format!("water activity {activity}"));
    }
    if let Some((viscosity, method)) = &measured.viscosity_mpa_s {
        let method = if method.is_empty() {
            String::new()
        } else {
            format!(" ({method})")
        };
        parts.push(format!("viscosity {viscosity} mPa·s{method}"));
    }
    if parts.is_empty() {
        return NOTHING.to_owned();
    }
    parts.join(", ")
}

fn step_words(step: &Step) -> String {
    let mut out = format!("“{}”", step.text);
    if let Some(temperature) = step.temperature {
        let _ = write!(out, ", {}", degrees(Some(temperature)));
    }
    if let Some(minutes) = step.minutes {
        let _ = write!(out, ", {minutes} min");
    }
    for (what, text) in [("with", &step.tool), ("check", &step.check)] {
        if !text.is_empty() {
            let _ = write!(out, ", {what}: {text}");
        }
    }
    out
}

fn degrees(temperature: Option<Temperature>) -> String {
    temperature.map_or_else(
        || "no temperature".to_owned(),
        |t| format!("{} °C", tidy(in_celsius(t), 6)),
    )
}

fn ph(ph: Option<Ph>) -> String {
    ph.map_or_else(|| "none".to_owned(), |p| p.to_string())
}

fn own_range_words((min, max): (Option<Percent>, Option<Percent>)) -> String {
    match (min, max) {
        (None, None) => "none".to_owned(),
        (Some(min), None) => format!("from {min} %"),
        (None, Some(max)) => format!("up to {max} %"),
        (Some(min), Some(max)) => format!("{min} to {max} %"),
    }
}

fn signed(change: Percent) -> String {
    if change > Percent::ZERO {
        format!("+{change}")
    } else {
        change.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::compare;
    use crate::random_formula;

    #[test]
    fn every_difference_has_words_of_its_own() {
        for seed in 0..300 {
            let (a, b) = (
                random_formula::formula(seed),
                random_formula::formula(seed + 1),
            );
            let (l, r) = (Compared::new(&a, a.active()), Compared::new(&b, b.active()));
            let comparison = compare(l, r);
            for difference in &comparison.differences {
                let said = words(difference, l, r);
                assert!(
                    !said.is_empty() && !said.ends_with(": "),
                    "{difference:?}: {said}"
                );
            }
            let note = change_note(l, r, &comparison, (&[], &[]));
            let listed = note.lines().filter(|l| l.starts_with("- ")).count();
            assert!(listed >= comparison.differences.len().min(1), "{note}");
        }
    }

    #[test]
    fn a_note_reads_as_a_maker_would_write_it() {
        let formula = random_formula::formula(4);
        let side = Compared::new(&formula, formula.active());
        let note = change_note(side, side, &compare(side, side), (&[], &[]));
        assert!(note.contains("nothing differs"), "{note}");
    }
}
